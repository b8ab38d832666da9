"""The bath worksheet in words, in the order of the work."""

from __future__ import annotations

from showprep.husbandry.figures import setting
from showprep.husbandry.sedation import Dose, Strength, carp_dead, stop_signs, strongest
from showprep.planning.cautions import LAW, NOT_STATED, SEDATION
from showprep.planning.words import spoken_with_year
from showprep.planning.worksheets.bath import TRADE_ML_PER_L, VETS_SHEET
from showprep.planning.worksheets.bath_records import BathAsk, BathFish, BathSheet
from showprep.planning.worksheets.bath_work import (
    after,
    before,
    between,
    kit,
    people,
    second_person,
    steps,
)
from showprep.planning.worksheets.dose import show_dose
from showprep.planning.worksheets.sheet import MARKS, Section, Sheet, sentence, show_millilitres
from showprep.season.quantities import (
    show_length,
    show_number,
    show_temperature,
    show_volume,
    show_warming,
    show_weight,
)

GILLS_STOPPED = "GILLS STOPPED? Out of the bath, clean aerated water over the gills, at once."
LAW_SHORT = "In some countries sedating or cutting a fish is for a vet alone."
GATES = {
    "keeper": "Law: checked, by your own statement. In some places this is a vet's work alone.",
    "vet": f"FOR THE VET: by your own files a vet does this. {LAW_SHORT}",
    "ask a vet": "ASK A VET: you have not said that you checked the law (law_checked). "
    f"{LAW_SHORT}",
    "law not known": f"CHECK THE LAW FIRST: figures are no permission. {LAW_SHORT}",
}
NAMES = {"clove oil": "clove oil", "ms-222": "MS-222, buffered"}
LOG_BLANKS = "in __:__ rolls ___ min, out __:__ (max {most} min), upright ___ min"


def bath_words(sheet: BathSheet) -> Sheet:
    """The whole sheet; for a bath that is refused, the reasons in place of dose and steps."""
    ask = sheet.ask
    day = f", {spoken_with_year(ask.day)}" if ask.day is not None else ""
    sections: list[Section] = [("Before", before(sheet))]
    if sheet.refused is not None:
        sections.append(("Refused: this bath must not be made", (sheet.refused,)))
    else:
        sections += _work(sheet)
    return Sheet(
        title=f"Touch-up bath: {NAMES[ask.agent]}{day}",
        sections=tuple(sections),
        always=GILLS_STOPPED,
        notices=_notices(sheet),
        foot=MARKS,
    )


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
        ("Second person, before any fish goes in", second_person(sheet)),
        ("Kit, laid out before the first net", kit(sheet)),
        ("Steps", steps(sheet)),
        ("Stop", stop_signs(show_number(sheet.longest_minutes), sheet.ask.own)),
        ("People", people(sheet)),
        ("Between fish, and after", (*between(sheet), *after(sheet))),
        ("Log", _log(sheet)),
    ]


def _water(sheet: BathSheet) -> str:
    ask = sheet.ask
    assert ask.litres is not None
    own = ask.own
    place = f"of the {ask.water}'s water" if ask.water else "of the fish's own water"
    warmth = f", {show_temperature(ask.water_c, ask.units)}" if ask.water_c is not None else ""
    difference = show_warming(setting("bath_difference", own), ask.units)
    cold, hot = (
        show_temperature(setting(f"sed_{end}_block", own), ask.units) for end in ("cold", "hot")
    )
    return (
        f"{_litres(ask, ask.litres)} {place}{warmth}; both tubs within {difference} of it [c], "
        f"oxygen {setting('bath_oxygen', own):g} mg/L [a]. Never below {cold} [c] or above "
        f"{hot} [d]."
    )


def _dose(sheet: BathSheet) -> tuple[str, ...]:
    if sheet.buffered is not None:
        made = sheet.buffered
        return (
            f"WEIGH {show_number(made.grams, 2)} g MS-222 ({sheet.target_mg_per_l:g} mg/L, the "
            f"vet's figure) and {show_number(made.bicarbonate_grams, 2)} g sodium bicarbonate [a].",
            *made.warnings,
            "How many carp die of MS-222 is not on this sheet: the vet knows. In this bath "
            f"{show_number(sheet.longest_minutes)} min at most [o].",
        )
    return _clove(sheet, sheet.ask)


def _clove(sheet: BathSheet, ask: BathAsk) -> tuple[str, ...]:
    made, strength = sheet.dose, ask.strength
    assert made is not None and strength is not None
    amount = show_dose(sheet)
    target = made.oil_mg_per_l
    lines = [
        f"Clove oil, {_stated(strength)}, by its label (neat oil 1.05 g/mL [p]).",
        f"MEASURE {amount} for {target:g} mg oil/L, {made.eugenol_mg_per_l:.0f} mg eugenol/L. "
        "30 to 50 mg/L was general anaesthesia of carp [p].",
        f"At {target:g} mg/L and ten minutes {carp_dead(made.share_dead)} would die [d]."
        + _if_undiluted(made, strength),
    ]
    by_trade = TRADE_ML_PER_L * strength.oil_mg_per_ml
    if by_trade > setting("clove_block", ask.own):
        lines.append(
            f"Not the trade's {TRADE_ML_PER_L:g} mL a litre [c]: with this bottle that is "
            f"{show_number(by_trade, 1)} mg/L, not for a keeper."
        )
    if len(sheet.trial) > 1:
        start, step = sheet.trial[0], setting("clove_trial_step", ask.own)
        more = show_millilitres(made.millilitres / target * step)
        lines.append(
            f"New bottle: start at {start[0]:g} mg/L ({show_millilitres(start[1])}), {more} more a "
            f"fish, to {amount} [c]."
        )
    return (*lines, _limits(sheet))


def _if_undiluted(made: Dose, strength: Strength) -> str:
    if strength.is_neat:
        return ""
    return (
        f" If the bottle is in fact undiluted it is {made.if_undiluted_mg_per_l:.0f} mg/L: "
        f"{carp_dead(made.if_undiluted_share_dead)} would die. Read the label again."
    )


def _limits(sheet: BathSheet) -> str:
    own = sheet.ask.own
    longest = show_number(sheet.longest_minutes)
    return (
        f"Above {setting('clove_block', own):g} mg/L only with a vet, above {strongest(own):.3g} "
        f"never, vet or not [o]. In this bath {longest} min at most, {_law(sheet)}."
    )


def _law(sheet: BathSheet) -> str:
    """Which rule sets the longest time."""
    own = sheet.ask.own
    if sheet.longest_by == "most":
        return "as in every bath [o]"
    if sheet.longest_by == "product":
        return f"by mg/L x minutes of {setting('clove_ct_warn', own):g} [d]"
    return (
        f"by the toxic load C^{setting('toxic_load_exponent', own):g} x t, stricter here than mg/L "
        f"x minutes of {setting('clove_ct_warn', own):g} [d]"
    )


def _stated(strength: Strength) -> str:
    mg = f"{show_number(strength.oil_mg_per_ml, 1)} mg/mL"
    if strength.percent_v_v is not None:
        return f"{show_number(strength.percent_v_v, 2)} % by volume, {mg}"
    return mg


def _litres(ask: BathAsk, litres: float) -> str:
    own = show_volume(litres, ask.units)
    return own if ask.units == "metric" else f"{own} ({show_volume(litres)})"


def _of_this_session(sheet: BathSheet) -> tuple[str, ...]:
    """Cautions of this session alone; those of every session are in the steps already."""
    said = {LAW, NOT_STATED, *SEDATION, VETS_SHEET}
    if sheet.dose is not None and sheet.ask.strength is not None:
        said |= {one for one in sheet.dose.warnings if "in fact undiluted" in one}
    if sheet.buffered is not None:
        said |= set(sheet.buffered.warnings)
    return tuple(caution for caution in sheet.cautions if caution not in said)


def _fish(sheet: BathSheet) -> tuple[str, ...]:
    if not sheet.fish:
        return ("Smallest first; a fish with an open mark last.",)
    return tuple(
        f"{number}. {_one(sheet.ask, fish)}" for number, fish in enumerate(sheet.fish, start=1)
    )


def _one(ask: BathAsk, fish: BathFish) -> str:
    facts = [fish.name or "fish"]
    if fish.length_cm is not None:
        facts.append(show_length(fish.length_cm, ask.units))
    if fish.kg is not None:
        about = "about " if fish.kg_estimated else ""
        facts.append(f"{about}{show_weight(fish.kg, ask.units)}")
    heals = f"; then {fish.heals_in}" if fish.heals_in else ""
    marks = f": {'; '.join(fish.marks)}" if fish.marks else ""
    return sentence(f"{', '.join(facts)}{marks}{heals}")


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
