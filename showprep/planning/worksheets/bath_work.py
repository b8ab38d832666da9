"""What is done before, during and after a touch-up bath, and between fish."""

from __future__ import annotations

from showprep.husbandry.figures import setting
from showprep.husbandry.sedation import Minutes, days_between
from showprep.planning.words import counted, listed, spoken
from showprep.planning.worksheets.bath_records import BathSheet
from showprep.planning.worksheets.dose import by_hand, show_dose
from showprep.planning.worksheets.sheet import show_minutes
from showprep.season.quantities import show_number, show_weight


def before(sheet: BathSheet) -> tuple[str, ...]:
    """The fast, the fish's fitness, and who must be there."""
    ask = sheet.ask
    days = counted(sheet.fast_days, "day")
    since = f", from {spoken(sheet.unfed_from)}" if sheet.unfed_from is not None else ""
    spacing = _days_apart(sheet)
    moved, spawned = (setting(f"block_after_{what}", ask.own) for what in ("move", "spawn"))
    return (
        f"Unfed for {days}{since} [d]. Two people, a timer; never alone. "
        "Read PEOPLE, further down, first.",
        f"Eats and swims well; not sedated within {spacing} days [d], moved within {moved:g} [c] "
        f"or spawned within {spawned:g} [a], nor off to a show within "
        f"{setting('sedate_to_show_gap', ask.own):g} [d]. Else: not today.",
    )


def _days_apart(sheet: BathSheet) -> int:
    """Days to the next sedation; the longer of the two where the water's warmth is not known."""
    ask = sheet.ask
    return days_between(ask.water_c if ask.water_c is not None else 10.0, ask.own)


def kit(sheet: BathSheet) -> tuple[str, ...]:
    """Everything within reach before the first fish is netted."""
    measure = "scales" if sheet.ask.agent == "ms-222" else "mL syringe"
    return (
        "[ ] 2 tubs of the fish's water, airstones [ ] thermometer [ ] timer [ ] nets",
        f"[ ] labelled bottle, {measure}, jug [ ] wet cloth [ ] a sterile blade a fish",
        "[ ] gloves, goggles, own cuts covered [ ] 70 % ethanol, rinse [ ] sharps box",
    )


def second_person(sheet: BathSheet) -> tuple[str, ...]:
    """The check by somebody who reads jug and label afresh: a word, and two products by hand."""
    ask = sheet.ask
    strength, agent, read = "", "", "the strength off the label"
    if ask.agent == "ms-222":
        agent, read = " --agent ms-222", "the mg/L off the vet's note"
    elif ask.strength is not None:
        kind = "percent" if ask.strength.percent_v_v is not None else "mg-per-ml"
        strength = f" --strength-{kind} __"
    vet = " --vet-agreed" if ask.vet_agreed else ""
    return (
        f"Not who mixed it: read the litres off the jug and {read}, and type",
        f"showprep bath --confirm {sheet.check_word}{agent}{vet} --litres __{strength} "
        "--target-mg-per-l __",
        f"By hand: {by_hand(sheet)}. The two must be the same, or nearly.",
    )


def people(sheet: BathSheet) -> tuple[str, ...]:
    """What can hurt the people at the tub (common practice; the skin: safety data sheets)."""
    ask = sheet.ask
    assert ask.litres is not None
    weight = show_weight(ask.litres, ask.units)
    irritant = (
        "Clove oil (eugenol) burns eyes, irritates skin, and can make it allergic for good. On the "
        "skin: soap and water. In the eye: rinse 15 min, then a doctor."
        if ask.agent == "clove oil"
        else "MS-222 powder: do not breathe it, mask and goggles. In the eye: rinse 15 min, doctor."
    )
    return (
        "Ethanol burns with a flame that is hard to see: no flame, smoking, heater or spark near; "
        "in the open or with doors wide open. Spirit here is ethanol alone: never methylated or "
        "surgical spirit, white spirit or petrol.",
        irritant,
        "Mains pumps and lamps: on a residual-current device (30 mA), plugs high and dry, dry "
        "hands; heaters off and unplugged before a hand goes into the water.",
        f"The bath weighs {weight}: fill it where it stands, do not lift it; a large fish by two, "
        "in a sock.",
        "Blades: never passed from hand to hand, never re-capped, into the sharps box. Cut? Wash, "
        "cover, and tell a doctor it was fish.",
        "A fish from this bath is not for eating, by anyone, ever.",
    )


def steps(sheet: BathSheet) -> tuple[str, ...]:
    """The steps with the minutes to expect at this temperature."""
    ask = sheet.ask
    if ask.agent == "ms-222":
        mixed = "Dissolve powder and bicarbonate, stir in; pH 7.0 to 7.5 before any fish [a]"
    else:
        assert sheet.dose is not None
        amount = show_dose(sheet)
        mixed = f"Shake {amount} in a jug of the water, stir in, airstone on, wait 5 min [c]"
    out = setting("out_of_water", ask.own)
    longest = show_number(sheet.longest_minutes)
    return (
        f"1. {mixed}.",
        "2. One fish in, timer on; watch the gills all the time.",
        f"3. It rolls over {_expected(sheet.down)}. Out at once, on a wet cloth.",
        "4. Only the speck, on scales. If it bleeds or goes deeper: stop, ask a vet.",
        f"5. Out of the water {out:g} s at a stretch [a], gills wetted between.",
        f"6. Into clean water within {longest} min of step 2, head to the moving water.",
        f"7. Upright {_expected(sheet.up)}. Watch until it swims as before.",
    )


def _expected(minutes: Minutes | None) -> str:
    if minutes is None:
        return "after ___ min"
    return f"in about {round(minutes.typical)} min ({show_minutes(minutes.low, minutes.high)} [d])"


def between(sheet: BathSheet) -> tuple[str, ...]:
    """Hygiene, and when the bath is made afresh."""
    minutes = setting("bath_minutes", sheet.ask.own)
    each = counted(sheet.fish_per_bath, "fish", "fish")
    baths = f"; this session takes {counted(sheet.baths, 'bath')}" if sheet.baths > 1 else ""
    return (
        "New blade; tools 1 min in 70 % ethanol [p], rinsed; clean gloves, fresh cloth.",
        f"Fresh bath after {each} or {minutes:g} min [a]{baths}; none is topped up.",
    )


def after(sheet: BathSheet) -> tuple[str, ...]:
    """Aftercare, the look-backs, and the bath poured away."""
    days = listed(spoken(day) for day in sheet.look_backs)
    when = days or "one and two weeks later"
    spacing = _days_apart(sheet)
    return (
        "Quiet, clean, aerated water; no food until next day, nothing on the place [c].",
        f"Look {when} [c]. Red, fluffy or hollow: a vet.",
        f"Not sedated again within {spacing} days [d]. No bath water into pond or ditch.",
    )
