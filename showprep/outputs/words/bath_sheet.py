"""The bath worksheet in words, in the order of the work."""

from __future__ import annotations

from showprep.husbandry.reason import Celsius, Kelvin, Kilograms, MilligramsPerLitre
from showprep.husbandry.sedation import Dose, strongest
from showprep.husbandry.sedation_course import Minutes
from showprep.husbandry.sedation_fit import days_between
from showprep.husbandry.strength import Strength
from showprep.outputs.words.bath import carp_dead, millilitres_text
from showprep.outputs.words.plain import counted, listed, spoken, spoken_with_year
from showprep.outputs.words.sheet import MARKS, Section, Sheet
from showprep.outputs.words.speaker import Speaker
from showprep.planning.verdicts.cautions import LAW, NOT_STATED, SEDATION
from showprep.planning.worksheets.bath import TRADE_ML_PER_L
from showprep.planning.worksheets.bath_records import BathAsk, BathFish, BathSheet, Gate
from showprep.planning.worksheets.dose import measured_ml
from showprep.season.values.agents import Agent
from showprep.season.values.quantities import (
    Units,
    show_length,
    show_number,
    show_volume,
    show_weight,
)

GILLS_STOPPED = "GILLS STOPPED? Out of the bath, clean aerated water over the gills, at once."
LAW_SHORT = "In some countries sedating or cutting a fish is for a vet alone."
GATES: dict[Gate, str] = {
    "keeper": "Law: checked, by your own statement. In some places this is a vet's work alone.",
    "vet": f"FOR THE VET: by your own files a vet does this. {LAW_SHORT}",
    "ask a vet": "ASK A VET: you have not said that you checked the law (law_checked). "
    f"{LAW_SHORT}",
    "law not known": f"CHECK THE LAW FIRST: figures are no permission. {LAW_SHORT}",
}
NAMES: dict[Agent, str] = {"clove oil": "clove oil", "ms-222": "MS-222, buffered"}
LOG_BLANKS = "in __:__ rolls ___ min, out __:__ (max {most} min), upright ___ min"
NOT_KNOWN_C = 10.0  # where no temperature is given, the longer wait of cold water
# Codes of cautions that stand in the steps already, or hold for every session.
SAID_ELSEWHERE = frozenset(
    {
        *(one.code for one in (LAW, NOT_STATED, *SEDATION)),
        *("ms222-is-a-vets", "if-undiluted"),
    }
)


def speaker_of(ask: BathAsk) -> Speaker:
    """Who speaks of a bath: in the keeper's units, of days as from the day of the bath."""
    return Speaker(units=ask.units, on=ask.day)


def bath_words(sheet: BathSheet) -> Sheet:
    """The whole sheet; for a bath that is refused, the reasons in place of dose and steps."""
    ask = sheet.ask
    day = f", {spoken_with_year(ask.day)}" if ask.day is not None else ""
    sections: list[Section] = [("Before", _before(sheet))]
    if sheet.refused:
        sections.append(("Refused: this bath must not be made", (refused_text(sheet),)))
    else:
        sections += _work(sheet)
    return Sheet(
        title=f"Touch-up bath: {NAMES[ask.agent]}{day}",
        sections=tuple(sections),
        always=GILLS_STOPPED,
        notices=_notices(sheet),
        foot=MARKS,
        day=ask.day,
        large=(_measure(sheet),) if sheet.dose is not None and not sheet.refused else (),
    )


def refused_text(sheet: BathSheet) -> str:
    """Every reason why the bath must not be made, in one paragraph; none: empty."""
    return " ".join(speaker_of(sheet.ask).texts(sheet.refused))


def _notices(sheet: BathSheet) -> tuple[str, ...]:
    ask = sheet.ask
    lines = [GATES[ask.gate]]
    if ask.agent == "ms-222":
        lines.insert(0, "A VET'S SHEET: MS-222 is a prescription medicine in many countries.")
    if ask.vet_agreed:
        lines.append("By your own statement a vet has agreed to this bath.")
    return tuple(lines)


def _work(sheet: BathSheet) -> list[Section]:
    sections: list[Section] = [("Water, dose, limits", (_water(sheet), *_dose(sheet)))]
    cautions = _of_this_session(sheet)
    if cautions:
        sections.append(("Cautions", cautions))
    return [
        *sections,
        ("Fish, in this order, one at a time", _fish(sheet)),
        ("Second person, before any fish goes in", _second_person(sheet)),
        ("Kit, laid out before the first net", _kit(sheet)),
        ("Steps", _steps(sheet)),
        ("Stop", stop_rules(sheet)),
        ("People", _people(sheet)),
        ("Between fish, and after", (*_between(sheet), *_after(sheet))),
        ("Log", _log(sheet)),
    ]


def _before(sheet: BathSheet) -> tuple[str, ...]:
    """The fast, the fish's fitness, and who must be there."""
    figures = sheet.ask.figures
    days = counted(sheet.fast_days, "day")
    since = f", from {spoken(sheet.unfed_from)}" if sheet.unfed_from is not None else ""
    return (
        f"Unfed for {days}{since} [d]. Two people, a timer; never alone. "
        "Read PEOPLE, further down, first.",
        f"Eats and swims well; not sedated within {_days_apart(sheet)} days [d], moved within "
        f"{figures['block_after_move']:g} [c] or spawned within "
        f"{figures['block_after_spawn']:g} [a], nor off to a show within "
        f"{figures['sedate_to_show_gap']:g} [d]. Else: not today.",
    )


def _days_apart(sheet: BathSheet) -> int:
    """Days to the next sedation; the longer of the two where the water's warmth is not known."""
    ask = sheet.ask
    return days_between(NOT_KNOWN_C if ask.water_c is None else ask.water_c, ask.figures)


def _water(sheet: BathSheet) -> str:
    ask, say = sheet.ask, speaker_of(sheet.ask).say
    assert ask.litres is not None
    figures = ask.figures
    place = f"of the {ask.water}'s water" if ask.water else "of the fish's own water"
    warmth = f", {say(Celsius(ask.water_c))}" if ask.water_c is not None else ""
    difference = say(Kelvin(figures["bath_difference"]))
    oxygen = say(MilligramsPerLitre(figures["bath_oxygen"]))
    cold, hot = (say(Celsius(figures[f"sed_{end}_block"])) for end in ("cold", "hot"))
    return (
        f"{bath_litres(ask.litres, ask.units)} {place}{warmth}; both tubs within {difference} of "
        f"it [c], oxygen {oxygen} [a]. Never below {cold} [c] or above {hot} [d]."
    )


def bath_litres(litres: float, units: Units) -> str:
    """The water of a bath, and the litres beside it: the dose is so many mg to each of them."""
    own = show_volume(litres, units)
    return own if units == "metric" else f"{own} ({show_volume(litres)})"


def _dose(sheet: BathSheet) -> tuple[str, ...]:
    if sheet.buffered is not None:
        made = sheet.buffered
        return (
            f"WEIGH {show_number(made.grams, 2)} g MS-222 ({sheet.target_mg_per_l:g} mg/L, the "
            f"vet's figure) and {show_number(made.bicarbonate_grams, 2)} g sodium bicarbonate [a].",
            *speaker_of(sheet.ask).texts(made.warnings),
            "How many carp die of MS-222 is not on this sheet: the vet knows. In this bath "
            f"{show_number(sheet.longest_minutes)} min at most [o].",
        )
    return _clove(sheet, sheet.ask)


def _measure(sheet: BathSheet) -> str:
    """The amount, in a line of its own."""
    return f"MEASURE {dose_text(sheet)}"


def _clove(sheet: BathSheet, ask: BathAsk) -> tuple[str, ...]:
    made, strength = sheet.dose, ask.strength
    assert made is not None and strength is not None
    amount = dose_text(sheet)
    target = made.oil_mg_per_l
    lines = [
        f"Clove oil, {_stated(strength)}, by its label (neat oil 1.05 g/mL [p]).",
        _measure(sheet),
        f"That is {target:g} mg oil/L, {made.eugenol_mg_per_l:.0f} mg eugenol/L. 30 to 50 mg/L was "
        "general anaesthesia of carp [p].",
        f"At {target:g} mg/L and ten minutes {carp_dead(made.share_dead)} would die [d]."
        + _if_undiluted(made, strength),
    ]
    by_trade = TRADE_ML_PER_L * strength.oil_mg_per_ml
    if by_trade > ask.figures["clove_block"]:
        lines.append(
            f"Not the trade's {TRADE_ML_PER_L:g} mL a litre [c]: with this bottle that is "
            f"{show_number(by_trade, 1)} mg/L, not for a keeper."
        )
    if len(sheet.trial) > 1:
        start, step = sheet.trial[0], ask.figures["clove_trial_step"]
        more = millilitres_text(made.millilitres / target * step)
        lines.append(
            f"New bottle: start at {start[0]:g} mg/L ({millilitres_text(start[1])}), {more} more a "
            f"fish, to {amount} [c]."
        )
    return (*lines, _limits(sheet))


def dose_text(sheet: BathSheet) -> str:
    """The dose as it is measured out."""
    return millilitres_text(measured_ml(sheet))


def _if_undiluted(made: Dose, strength: Strength) -> str:
    if strength.is_neat:
        return ""
    if strength.is_weak:
        return (
            " Few bottles are so weak: if it is ten times as strong this bath is "
            f"{made.if_tenfold_mg_per_l:.0f} mg/L: {carp_dead(made.if_tenfold_share_dead)} would "
            "die. Read the label again."
        )
    return (
        f" If the bottle is in fact undiluted it is {made.if_undiluted_mg_per_l:.0f} mg/L: "
        f"{carp_dead(made.if_undiluted_share_dead)} would die. Read the label again."
    )


def _limits(sheet: BathSheet) -> str:
    figures = sheet.ask.figures
    longest = show_number(sheet.longest_minutes)
    return (
        f"Above {figures['clove_block']:g} mg/L only with a vet, above {strongest(figures):.3g} "
        f"never, vet or not [o]. In this bath {longest} min at most, {_law(sheet)}."
    )


def _law(sheet: BathSheet) -> str:
    """Which rule sets the longest time."""
    figures = sheet.ask.figures
    if sheet.longest_by == "most":
        return "as in every bath [o]"
    if sheet.longest_by == "product":
        return f"by mg/L x minutes of {figures['clove_ct_warn']:g} [d]"
    return (
        f"by the toxic load C^{figures['toxic_load_exponent']:g} x t, stricter here than mg/L "
        f"x minutes of {figures['clove_ct_warn']:g} [d]"
    )


def _stated(strength: Strength) -> str:
    mg = f"{show_number(strength.oil_mg_per_ml, 1)} mg/mL"
    if strength.percent_v_v is not None:
        return f"{show_number(strength.percent_v_v, 2)} % by volume, {mg}"
    return mg


def _of_this_session(sheet: BathSheet) -> tuple[str, ...]:
    """Cautions of this session alone; those of every session are in the steps already."""
    here = [one for one in sheet.cautions if one.code not in SAID_ELSEWHERE]
    return speaker_of(sheet.ask).texts(here)


def _fish(sheet: BathSheet) -> tuple[str, ...]:
    if not sheet.fish:
        return ("Smallest first; a fish with an open wound last.",)
    return tuple(
        f"{number}. {_one(sheet.ask, fish)}" for number, fish in enumerate(sheet.fish, start=1)
    )


def _one(ask: BathAsk, fish: BathFish) -> str:
    facts = [fish.name or "Fish"]
    if fish.length_cm is not None:
        facts.append(show_length(fish.length_cm, ask.units))
    if fish.kg is not None:
        about = "about " if fish.kg_estimated else ""
        facts.append(f"{about}{show_weight(fish.kg, ask.units)}")
    heals = f"; then {fish.heals_in}" if fish.heals_in else ""
    blemishes = "; ".join(map(speaker_of(ask).say, fish.blemishes))
    return f"{', '.join(facts)}{f': {blemishes}' if blemishes else ''}{heals}."


def _second_person(sheet: BathSheet) -> tuple[str, ...]:
    """The check by somebody who reads jug and label afresh: a word, and two products by hand."""
    ask = sheet.ask
    strength, agent, read = "", "", "the strength off the label"
    if ask.agent == "ms-222":
        agent, read = " --agent ms-222", "the mg/L off the vet's note"
    elif ask.strength is not None:
        kind = "percent" if ask.strength.percent_v_v is not None else "mg-per-ml"
        strength = f" --strength-{kind} __"
    vet = " --vet-agreed" if ask.vet_agreed else ""
    jug, blank, units = "litres", "__", ""
    if ask.units != "metric":
        jug, blank, units = "gallons", "'__ gal'", f" --units {ask.units}"
    return (
        f"Not who mixed it: read the {jug} off the jug and {read}, and type",
        f"showprep bath --confirm {sheet.check_word}{units}{agent}{vet} --litres {blank}{strength} "
        "--target-mg-per-l __",
        f"By hand: {by_hand(sheet)}. The two must be the same, or nearly.",
    )


def by_hand(sheet: BathSheet) -> str:
    """The two products that must be the same: what the bath needs, and what is measured out."""
    ask, target = sheet.ask, sheet.target_mg_per_l
    assert ask.litres is not None and target is not None
    need = (
        f"{show_number(ask.litres, 1)} L x {show_number(target, 2)} mg/L = "
        f"{_milligrams(ask.litres * target)}"
    )
    if sheet.buffered is not None:
        grams = sheet.buffered.grams
        return f"{need}, and {show_number(grams, 2)} g x 1000 = {_milligrams(1000 * grams)}"
    assert ask.strength is not None
    strong = ask.strength.oil_mg_per_ml
    given = _milligrams(measured_ml(sheet) * strong)
    return f"{need}, and {dose_text(sheet)} x {show_number(strong, 1)} mg/mL = {given}"


def _milligrams(mg: float) -> str:
    return f"{show_number(mg, 0 if mg >= 100 else 1)} mg"


def _kit(sheet: BathSheet) -> tuple[str, ...]:
    """Everything within reach before the first fish is netted."""
    measure = "scales" if sheet.ask.agent == "ms-222" else "mL syringe"
    return (
        "[ ] 2 tubs of the fish's water, airstones [ ] thermometer [ ] timer [ ] nets",
        f"[ ] labelled bottle, {measure}, jug [ ] wet cloth [ ] a sterile blade a fish",
        "[ ] gloves, goggles, own cuts covered [ ] 70 % ethanol, rinse [ ] sharps box",
    )


def _steps(sheet: BathSheet) -> tuple[str, ...]:
    """The steps with the minutes to expect at this temperature."""
    ask = sheet.ask
    if ask.agent == "ms-222":
        mixed = "Dissolve powder and bicarbonate, stir in; pH 7.0 to 7.5 before any fish [a]"
    else:
        amount = dose_text(sheet)
        mixed = f"Shake {amount} in a jug of the water, stir in, airstone on, wait 5 min [c]"
    out = ask.figures["out_of_water"]
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
    short, long = (round(one * 2) / 2 for one in (minutes.low, minutes.high))
    return f"in about {round(minutes.typical)} min ({short:g} to {long:g} [d])"


def stop_rules(sheet: BathSheet) -> tuple[str, ...]:
    """The signs that mean stop, in the order in which they may come: too fast, gills, time in the
    bath, time out of the water, not upright, not upright for long."""
    figures = sheet.ask.figures
    fast, out = figures["induction_too_fast"], figures["out_of_water"]
    alarm, vet = figures["recovery_alarm"], figures["recovery_vet"]
    return (
        f"Balance lost in under {fast:g} minute{'' if fast == 1 else 's'}: too strong. Clean, "
        "aerated water now.",
        "Gills slow and uneven, or stopped: clean, aerated water over the gills at once.",
        f"{show_number(sheet.longest_minutes)} minutes in the bath, whatever stage is reached: "
        "out, into clean water.",
        f"{out:g} seconds out of the water: wet the gills again; 60 seconds is the limit.",
        f"Not upright {alarm:g} minutes after leaving the bath: keep clean water moving over the "
        "gills.",
        f"Not upright after {vet:g} minutes: call a vet. A carp that looks dead may not be dead.",
    )


def breaker(units: Units) -> str:
    """What cuts the mains off before they kill, as it is called where such units are used."""
    if units == "us":
        return "a ground-fault circuit interrupter (GFCI)"
    return "a residual-current device (30 mA)"


def _people(sheet: BathSheet) -> tuple[str, ...]:
    """What can hurt the people at the tub (common practice; the skin: safety data sheets)."""
    ask = sheet.ask
    assert ask.litres is not None
    weight = speaker_of(ask).say(Kilograms(ask.litres))
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
        f"Mains pumps and lamps: on {breaker(ask.units)}, plugs high and dry, dry hands; heaters "
        "off and unplugged before a hand goes into the water.",
        f"The bath weighs {weight}: fill it where it stands, do not lift it; a large fish by two, "
        "in a sock.",
        "Blades: never passed from hand to hand, never re-capped, into the sharps box. Cut? Wash, "
        "cover, and tell a doctor it was fish.",
        "A fish from this bath is not for eating, by anyone, ever.",
    )


def _between(sheet: BathSheet) -> tuple[str, ...]:
    """Hygiene, and when the bath is made afresh."""
    minutes = sheet.ask.figures["bath_minutes"]
    each = counted(sheet.fish_per_bath, "fish", "fish")
    baths = f"; this session takes {counted(sheet.baths, 'bath')}" if sheet.baths > 1 else ""
    return (
        "New blade; tools 1 min in 70 % ethanol [p], rinsed; clean gloves, fresh cloth.",
        f"Fresh bath after {each} or {minutes:g} min [a]{baths}; none is topped up.",
    )


def _after(sheet: BathSheet) -> tuple[str, ...]:
    """Aftercare, the look-backs, and the bath poured away."""
    days = listed(spoken(day) for day in sheet.look_backs)
    when = f"on {days}" if days else "one and two weeks later"
    return (
        "Quiet, clean, aerated water; no food until next day, nothing on the place [c].",
        f"Look {when} [c]. Red, fluffy or hollow: a vet.",
        f"Not sedated again within {_days_apart(sheet)} days [d]. No bath water into pond or "
        "ditch.",
    )


def _log(sheet: BathSheet) -> tuple[str, ...]:
    names = [fish.name or "fish" for fish in sheet.fish] or ["fish"]
    degree = "°F" if sheet.ask.units == "us" else "°C"
    widest = min(14, max(map(len, names)))
    blanks = LOG_BLANKS.format(most=show_number(sheet.longest_minutes))
    lines = [f"{name[:widest]:<{widest}}  {blanks}" for name in names]
    return (
        *lines,
        f"Water ____ {degree}, product and strength __________. Then: showprep note.",
    )
