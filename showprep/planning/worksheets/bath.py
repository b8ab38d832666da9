"""The bath of a touch-up session, worked out: the dose, its limits, and what speaks against it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from math import ceil, floor

from showprep.husbandry.feeding import fast_days
from showprep.husbandry.figures import FiguresInForce, setting
from showprep.husbandry.sedation import (
    BufferedDose,
    Dose,
    Minutes,
    TimeLimit,
    bath_fit,
    dose,
    fish_per_bath,
    minutes_to_loss_of_balance,
    minutes_to_recover,
    ms222_dose,
    share_dead,
    target_fit,
    time_limit,
    trial_steps,
    water_fit,
)
from showprep.husbandry.sedation_course import STRONGEST_TRIED, WEAKEST_TRIED
from showprep.planning.cautions import LAW, NOT_STATED, SEDATION
from showprep.planning.jobs.of_touch_ups import LOOK_BACK_DAYS
from showprep.planning.worksheets.bath_records import BathAsk, BathFish, BathSheet
from showprep.planning.worksheets.check_word import check_word
from showprep.planning.worksheets.dose import show_dose
from showprep.planning.worksheets.fit_words import fit_text
from showprep.planning.worksheets.litres import litres_question
from showprep.planning.worksheets.sheet import sentence
from showprep.planning.worksheets.tub import tub_fault
from showprep.season.quantities import show_number, show_volume, show_weight

PRODUCT_SHARE_MOST = 0.02  # product in the bath, by volume (assumption): ethanol harms, too
PRODUCT_ML_LEAST = 1.0  # less than this cannot be measured well by a keeper (assumption)
PRODUCT_ML_NONE = 0.1  # less than this cannot be measured at all (assumption)
TIME_LEAST = 1.0  # minutes; a bath that must end sooner is none (our choice)
TRADE_ML_PER_L = 0.5  # of bottled product, a rule of the trade (common practice, no source)
WARM_C = 20.0  # where no temperature is given the fast is calculated for it
VETS_SHEET = "MS-222 is a prescription medicine in many countries: this is a vet's sheet."


def bath_sheet(ask: BathAsk) -> BathSheet:
    """Work a session out; a bath that must not be made has its reasons in `refused`.

    Raises ValueError if the litres are missing, or the strength of clove oil, or the target of
    MS-222: nothing is guessed that could kill.
    """
    litres, target = _needed(ask)
    against = [sentence(reason) for reason in _against(ask, litres, target)]
    made = None if against else _dose(ask, litres, target)
    if isinstance(made, str):
        against, made = [made], None
    clove = made if isinstance(made, Dose) else None
    fish = tuple(sorted(ask.fish, key=_size))
    each = _per_bath(ask, litres)
    fast = fast_days(
        WARM_C if ask.water_c is None else ask.water_c, "sedation", FiguresInForce(ask.own or {})
    ).days
    down, up = _minutes(ask, target)
    limit = _limit(ask, target)
    return BathSheet(
        ask=ask,
        refused=" ".join(against) or None,
        target_mg_per_l=target,
        dose=clove,
        buffered=made if isinstance(made, BufferedDose) else None,
        fish=fish,
        fish_per_bath=each,
        baths=max(1, ceil(len(fish) / each)),
        down=down,
        up=up,
        longest_minutes=_tenths(limit.minutes),
        longest_by=limit.law,
        share_dead=_share_dead(ask, target),
        check_word=check_word(ask, target),
        fast_days=fast,
        unfed_from=ask.day - timedelta(days=fast) if ask.day is not None else None,
        look_backs=_look_backs(ask),
        trial=_trial(ask, clove),
        cautions=tuple(dict.fromkeys(_cautions(ask, litres, target, clove, down))),
    )


def _needed(ask: BathAsk) -> tuple[float, float]:
    if ask.litres is None:
        raise ValueError("the litres of the bath are missing")
    if ask.agent == "ms-222":
        if ask.target_mg_per_l is None:
            raise ValueError("the mg/L of MS-222 are missing: the vet who agreed to it says them")
        return ask.litres, ask.target_mg_per_l
    if ask.strength is None:
        raise ValueError("the strength of the product is missing, and there is no safe guess")
    return ask.litres, ask.target_mg_per_l or setting("clove_target", ask.own)


def _against(ask: BathAsk, litres: float, target: float) -> Iterator[str]:
    """Every reason why this bath must not be made."""
    question = litres_question(ask)
    if question is not None:
        yield question
    if ask.water_c is not None:
        water = water_fit(ask.water_c, ask.own)
        if water.level == "block":
            yield fit_text(water.reason, ask.units)
    if ask.agent == "clove oil":
        fit = target_fit(target, ask.vet_agreed, ask.own)
        if fit.level == "block":
            yield f"{sentence(fit.reason)}{_right_amount(ask)}"
    if _limit(ask, target).minutes < TIME_LEAST:
        yield f"at {target:g} mg/L the fish would have to come out in less than a minute"
    for fish in ask.fish:
        name = f"{fish.name}: " if fish.name else ""
        if fish.kg is not None:
            fit = bath_fit(litres, fish.kg, ask.own)
            if fit.level == "block":
                yield name + _litres_a_kilogram(ask, litres, fish.kg, "bath_litres_per_kg_least")
        if fish.length_cm is not None:
            fault = tub_fault(litres, fish.length_cm, ask.tub_cm, ask.units)
            if fault is not None:
                yield name + fault


def _right_amount(ask: BathAsk) -> str:
    """The trade's rule where that is what was asked for, and what this bottle gives rightly.

    Nothing for a bath against which more speaks than its target.
    """
    assert ask.litres is not None and ask.strength is not None
    if ask.target_mg_per_l is None:
        return ""
    right = bath_sheet(replace(ask, target_mg_per_l=None, vet_agreed=False))
    if right.dose is None:
        return ""
    by_trade = TRADE_ML_PER_L * ask.strength.oil_mg_per_ml
    trade = ""
    if by_trade > setting("clove_block", ask.own):
        trade = (
            f" The trade's rule of {TRADE_ML_PER_L:g} mL of the bottle a litre is "
            f"{show_number(by_trade, 1)} mg/L with this bottle: not for a keeper."
        )
    amount = show_dose(right)
    bath = show_volume(ask.litres, ask.units)
    return f"{trade} Right for {bath} is {amount} of it: {right.dose.oil_mg_per_l:g} mg/L."


def _litres_a_kilogram(ask: BathAsk, litres: float, kg: float, figure: str) -> str:
    bath, fish = show_volume(litres, ask.units), show_weight(kg, ask.units)
    wanted = show_volume(kg * setting(figure, ask.own), ask.units)
    if figure == "bath_litres_per_kg_least":
        return f"{bath} is too little for a fish of {fish}; use {wanted} or more"
    return f"{bath} is tight for a fish of {fish}; {wanted} is better"


def _dose(ask: BathAsk, litres: float, target: float) -> Dose | BufferedDose | str:
    """The dose, or the reason why there is none."""
    try:
        if ask.agent == "ms-222":
            return ms222_dose(litres, target, ask.vet_agreed)
        assert ask.strength is not None
        made = dose(litres, target, ask.strength, ask.vet_agreed, ask.own)
    except ValueError as error:
        return sentence(str(error))
    if made.millilitres > PRODUCT_SHARE_MOST * 1000 * litres:
        return (
            f"At this strength it would take {made.millilitres:.0f} mL of the product, and what "
            "the oil is dissolved in would harm the fish. Read the label again."
        )
    if made.millilitres < PRODUCT_ML_NONE:
        return (
            f"{made.millilitres:.2g} mL of the product cannot be measured. Make a stock of 1 part "
            "oil and 9 parts ethanol (10 %), and ask again with that strength."
        )
    return made


def _size(fish: BathFish) -> tuple[float, str]:
    """Smallest first: it is the soonest under, while the bath is fresh."""
    return fish.kg or (fish.length_cm or 0.0) ** 3 / 1e5, fish.name


def _per_bath(ask: BathAsk, litres: float) -> int:
    weights = [fish.kg for fish in ask.fish if fish.kg is not None]
    return fish_per_bath(litres, max(weights), ask.own) if weights else 1


def _minutes(ask: BathAsk, target: float) -> tuple[Minutes | None, Minutes | None]:
    """Until balance is lost, and until upright again; for clove oil in water of known warmth."""
    if ask.water_c is None or ask.agent != "clove oil":
        return None, None
    tried = WEAKEST_TRIED <= target <= STRONGEST_TRIED
    down = minutes_to_loss_of_balance(target, ask.water_c) if tried else None
    return down, minutes_to_recover(ask.water_c)


def _limit(ask: BathAsk, target: float) -> TimeLimit:
    if ask.agent == "clove oil":
        return time_limit(target, ask.own)
    return TimeLimit(setting("bath_max", ask.own), "most")


def _tenths(minutes: float) -> float:
    """Rounded down, so that no rounding lengthens a bath."""
    return floor(minutes * 10 + 1e-9) / 10


def _share_dead(ask: BathAsk, target: float) -> float | None:
    return share_dead(target, setting("clove_lc50", ask.own)) if ask.agent == "clove oil" else None


def _look_backs(ask: BathAsk) -> tuple[date, ...]:
    if ask.day is None:
        return ()
    return tuple(ask.day + timedelta(days=days) for days in LOOK_BACK_DAYS)


def _trial(ask: BathAsk, made: Dose | None) -> tuple[tuple[float, float], ...]:
    if made is None:
        return ()
    per_mg = made.millilitres / made.oil_mg_per_l
    return tuple((step, step * per_mg) for step in trial_steps(made.oil_mg_per_l, ask.own))


def _cautions(
    ask: BathAsk, litres: float, target: float, made: Dose | None, down: Minutes | None
) -> Iterator[str]:
    if ask.gate == "ask a vet":
        yield NOT_STATED
    yield LAW
    if made is not None:
        yield from map(sentence, made.warnings)
        yield from _measuring(ask, made)
    if ask.agent == "ms-222":
        yield VETS_SHEET
    elif ask.target_mg_per_l is None:
        yield f"No target was given: the usual {target:g} mg oil/L is taken."
    if ask.agent == "clove oil" and target < WEAKEST_TRIED:
        yield (
            f"Nothing weaker than {WEAKEST_TRIED:g} mg/L was tried on koi: how long a fish takes "
            "to roll over, or whether it does, is not known."
        )
    yield from map(sentence, _about_water(ask, down, _tenths(_limit(ask, target).minutes)))
    yield from map(sentence, _about_fish(ask, litres))
    yield from SEDATION


def _measuring(ask: BathAsk, made: Dose) -> Iterator[str]:
    assert ask.strength is not None
    if ask.strength.is_neat:
        yield (
            "Undiluted oil mixes badly. Make a stock of 1 part oil and 9 parts ethanol first "
            "(10 %), away from any flame, and ask again with that strength."
        )
    if made.millilitres < PRODUCT_ML_LEAST:
        yield (
            f"{made.millilitres:.2f} mL is too little to measure well, and a slip doubles the "
            "dose: use a weaker stock."
        )


def _about_water(ask: BathAsk, down: Minutes | None, longest: float) -> Iterator[str]:
    if ask.water_c is None:
        yield (
            "the water's temperature was not given: below 10 °C and above 28 °C no fish is "
            "sedated, and the colder it is the slower all goes"
        )
        return
    fit = water_fit(ask.water_c, ask.own)
    if fit.level == "warn":
        yield fit_text(fit.reason, ask.units)
    if down is not None and down.typical > longest:
        yield (
            f"most fish need about {down.typical:.1f} min to roll over in this bath and may have "
            f"only {longest:g}: a weaker bath leaves more time"
        )
    if down is not None and down.high > longest:
        yield (
            f"still upright after {longest:g} min: back to clean water; "
            "the bath is not made stronger"
        )


def _about_fish(ask: BathAsk, litres: float) -> Iterator[str]:
    if not any(fish.kg is not None for fish in ask.fish):
        most = show_weight(litres / setting("bath_litres_per_kg", ask.own), ask.units)
        yield f"no weight was given: this bath is for one fish of {most} at most"
    for fish in ask.fish:
        if fish.kg is None:
            continue
        if bath_fit(litres, fish.kg, ask.own).level == "warn":
            name = f"{fish.name}: " if fish.name else ""
            yield name + _litres_a_kilogram(ask, litres, fish.kg, "bath_litres_per_kg")
        if fish.length_cm is not None and not 15 <= fish.length_cm <= 70:
            yield f"{fish.name or 'this fish'}: how such a small or large koi takes it is not known"
