"""The bath of a touch-up session, worked out: the dose, its limits, and what speaks against it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from math import ceil, floor

from msgspec.structs import replace

from showprep.husbandry.feeding import fast_days
from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.figures_handling import OF_BATHS
from showprep.husbandry.mortality import share_dead
from showprep.husbandry.reason import Celsius, Kilograms, Litres, Reason, Refusal, reason
from showprep.husbandry.sedation import (
    BufferedDose,
    Dose,
    TimeLimit,
    bath_fit,
    dose,
    fish_per_bath,
    ms222_dose,
    target_fit,
    time_limit,
    trial_steps,
)
from showprep.husbandry.sedation_course import (
    STRONGEST_TRIED,
    WEAKEST_TRIED,
    Minutes,
    minutes_to_loss_of_balance,
    minutes_to_recover,
)
from showprep.husbandry.sedation_fit import water_fit
from showprep.planning.own_figures import that_changed
from showprep.planning.verdicts.cautions import LAW, NOT_STATED, SEDATION
from showprep.planning.verdicts.touch_ups import LOOK_BACK_DAYS
from showprep.planning.worksheets.bath_records import BathAsk, BathFish, BathSheet
from showprep.planning.worksheets.check_word import check_word
from showprep.planning.worksheets.dose import measured_ml
from showprep.planning.worksheets.litres import litres_question
from showprep.planning.worksheets.tub import tub_fault

PRODUCT_SHARE_MOST = 0.02  # product in the bath, by volume (assumption): ethanol harms, too
PRODUCT_ML_LEAST = 1.0  # less than this cannot be measured well by a keeper (assumption)
PRODUCT_ML_NONE = 0.1  # less than this cannot be measured at all (assumption)
TIME_LEAST = 1.0  # minutes; a bath that must end sooner is none (our choice)
TRADE_ML_PER_L = 0.5  # of bottled product, a rule of the trade (common practice, no source)
WARM_C = 20.0  # where no temperature is given the fast is calculated for it


def bath_sheet(ask: BathAsk) -> BathSheet:
    """Work a session out; a bath that must not be made has its reasons in `refused`.

    The cautions end with the own figures that stand behind the sheet. Raises Refusal if the litres
    are missing, or the strength of clove oil, or the target of MS-222: nothing is guessed that
    could kill.
    """
    sheet = _worked_out(ask)
    own = that_changed(ask.figures, _facts(sheet), lambda one: _facts_under(ask, one), OF_BATHS)
    return replace(sheet, cautions=(*sheet.cautions, *own))


def _facts(sheet: BathSheet) -> object:
    """All that a sheet says, whatever figures it was asked with."""
    return replace(sheet, ask=replace(sheet.ask, figures=SHIPPED))


def _facts_under(ask: BathAsk, figures: FiguresInForce) -> object:
    """The same under other figures; under some there may be no sheet at all."""
    try:
        return _facts(_worked_out(replace(ask, figures=figures)))
    except Refusal as refusal:
        return refusal.told


def _worked_out(ask: BathAsk) -> BathSheet:
    litres, target = _needed(ask)
    against = list(_against(ask, litres, target))
    made = None if against else _dose(ask, litres, target)
    if isinstance(made, Reason):
        against, made = [made], None
    clove = made if isinstance(made, Dose) else None
    fish = tuple(sorted(ask.fish, key=_size))
    each = _per_bath(ask, litres)
    fast = _fast_days(ask)
    down, up = _minutes(ask, target)
    limit = _limit(ask, target)
    return BathSheet(
        ask=ask,
        refused=tuple(against),
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


def _fast_days(ask: BathAsk) -> int:
    """The calendar's, or by the water."""
    if ask.fast_days is not None:
        return ask.fast_days
    return fast_days(WARM_C if ask.water_c is None else ask.water_c, "sedation", ask.figures).days


def _needed(ask: BathAsk) -> tuple[float, float]:
    if ask.litres is None:
        raise Refusal(reason("litres-missing"))
    if ask.agent == "ms-222":
        if ask.target_mg_per_l is None:
            raise Refusal(reason("ms222-target-missing"))
        return ask.litres, ask.target_mg_per_l
    if ask.strength is None:
        raise Refusal(reason("strength-missing"))
    return ask.litres, ask.target_mg_per_l or ask.figures["clove_target"]


def _against(ask: BathAsk, litres: float, target: float) -> Iterator[Reason]:
    """Every reason why this bath must not be made."""
    question = litres_question(ask)
    if question is not None:
        yield question
    if ask.water_c is not None:
        water = water_fit(ask.water_c, ask.figures)
        if water.level == "block" and water.reason is not None:
            yield water.reason
    if ask.agent == "clove oil":
        fit = target_fit(target, ask.figures, vet_agreed=ask.vet_agreed)
        if fit.level == "block" and fit.reason is not None:
            yield fit.reason
            yield from _right_amount(ask)
    if _limit(ask, target).minutes < TIME_LEAST:
        yield reason("out-within-a-minute", target=target)
    for fish in ask.fish:
        if fish.kg is not None:
            fit = bath_fit(litres, fish.kg, ask.figures)
            if fit.level == "block" and fit.reason is not None:
                yield _of(fish, fit.reason)
        if fish.length_cm is not None:
            fault = tub_fault(litres, fish.length_cm, ask.tub_cm)
            if fault is not None:
                yield _of(fish, fault)


def _of(fish: BathFish, why: Reason) -> Reason:
    return reason("of-one-fish", name=fish.name, why=why) if fish.name else why


def _right_amount(ask: BathAsk) -> Iterator[Reason]:
    """The trade's rule where that is what was asked for, and what this bottle gives rightly.

    Nothing for a bath against which more speaks than its target.
    """
    assert ask.litres is not None and ask.strength is not None
    if ask.target_mg_per_l is None:
        return
    right = bath_sheet(replace(ask, target_mg_per_l=None, vet_agreed=False))
    if right.dose is None:
        return
    by_trade = TRADE_ML_PER_L * ask.strength.oil_mg_per_ml
    if by_trade > ask.figures["clove_block"]:
        yield reason("not-by-the-trade", rule=TRADE_ML_PER_L, by_trade=by_trade)
    yield reason(
        "right-amount",
        bath=Litres(ask.litres),
        millilitres=measured_ml(right),
        target=right.dose.oil_mg_per_l,
    )


def _dose(ask: BathAsk, litres: float, target: float) -> Dose | BufferedDose | Reason:
    """The dose, or the reason why there is none."""
    try:
        if ask.agent == "ms-222":
            return ms222_dose(litres, target, ask.figures, vet_agreed=ask.vet_agreed)
        assert ask.strength is not None
        made = dose(litres, target, ask.strength, ask.figures, vet_agreed=ask.vet_agreed)
    except Refusal as refusal:
        return refusal.told
    if made.millilitres > PRODUCT_SHARE_MOST * 1000 * litres:
        return reason("too-much-product", millilitres=made.millilitres)
    if made.millilitres < PRODUCT_ML_NONE:
        return reason("too-little-to-measure-at-all", millilitres=made.millilitres)
    return made


def _size(fish: BathFish) -> tuple[float, str]:
    """Smallest first: it is the soonest under, while the bath is fresh."""
    return fish.kg or (fish.length_cm or 0.0) ** 3 / 1e5, fish.name


def _per_bath(ask: BathAsk, litres: float) -> int:
    weights = [fish.kg for fish in ask.fish if fish.kg is not None]
    return fish_per_bath(litres, max(weights), ask.figures) if weights else 1


def _minutes(ask: BathAsk, target: float) -> tuple[Minutes | None, Minutes | None]:
    """Until balance is lost, and until upright again; for clove oil in water of known warmth."""
    if ask.water_c is None or ask.agent != "clove oil":
        return None, None
    tried = WEAKEST_TRIED <= target <= STRONGEST_TRIED
    down = minutes_to_loss_of_balance(target, ask.water_c, ask.figures) if tried else None
    return down, minutes_to_recover(ask.water_c, ask.figures)


def _limit(ask: BathAsk, target: float) -> TimeLimit:
    if ask.agent == "clove oil":
        return time_limit(target, ask.figures)
    return TimeLimit(ask.figures["bath_max"], "most")


def _tenths(minutes: float) -> float:
    """Rounded down, so that no rounding lengthens a bath."""
    return floor(minutes * 10 + 1e-9) / 10


def _share_dead(ask: BathAsk, target: float) -> float | None:
    return share_dead(target, ask.figures["clove_lc50"]) if ask.agent == "clove oil" else None


def _look_backs(ask: BathAsk) -> tuple[date, ...]:
    """The calendar's, or by the days the calendar counts."""
    if ask.look_backs or ask.day is None:
        return ask.look_backs
    return tuple(ask.day + timedelta(days=days) for days in LOOK_BACK_DAYS)


def _trial(ask: BathAsk, made: Dose | None) -> tuple[tuple[float, float], ...]:
    if made is None:
        return ()
    per_mg = made.millilitres / made.oil_mg_per_l
    return tuple((step, step * per_mg) for step in trial_steps(made.oil_mg_per_l, ask.figures))


def _cautions(
    ask: BathAsk, litres: float, target: float, made: Dose | None, down: Minutes | None
) -> Iterator[Reason]:
    if ask.gate == "ask a vet":
        yield NOT_STATED
    yield LAW
    if made is not None:
        yield from made.warnings
        yield from _measuring(ask, made)
    if ask.agent == "ms-222":
        yield reason("ms222-is-a-vets")
    elif ask.target_mg_per_l is None:
        yield reason("usual-target-taken", target=target)
    if ask.agent == "clove oil" and target < WEAKEST_TRIED:
        yield reason("weaker-than-tried", weakest=WEAKEST_TRIED)
    yield from _about_water(ask, down, _tenths(_limit(ask, target).minutes))
    yield from _about_fish(ask, litres)
    yield from SEDATION


def _measuring(ask: BathAsk, made: Dose) -> Iterator[Reason]:
    assert ask.strength is not None
    if ask.strength.is_neat:
        yield reason("neat-oil-mixes-badly")
    if made.millilitres < PRODUCT_ML_LEAST:
        yield reason("too-little-to-measure-well", millilitres=made.millilitres)


def _about_water(ask: BathAsk, down: Minutes | None, longest: float) -> Iterator[Reason]:
    if ask.water_c is None:
        yield reason(
            "water-not-given",
            coldest=Celsius(ask.figures["sed_cold_block"]),
            warmest=Celsius(ask.figures["sed_hot_block"]),
        )
        return
    fit = water_fit(ask.water_c, ask.figures)
    if fit.level == "warn" and fit.reason is not None:
        yield fit.reason
    if down is not None and down.typical > longest:
        yield reason("most-fish-outlast-it", usual=down.typical, longest=longest)
    if down is not None and down.high > longest:
        yield reason("still-upright", longest=longest)


def _about_fish(ask: BathAsk, litres: float) -> Iterator[Reason]:
    if not any(fish.kg is not None for fish in ask.fish):
        yield reason("no-weight-given", most=Kilograms(litres / ask.figures["bath_litres_per_kg"]))
    for fish in ask.fish:
        if fish.kg is None:
            continue
        fit = bath_fit(litres, fish.kg, ask.figures)
        if fit.level == "warn" and fit.reason is not None:
            yield _of(fish, fit.reason)
        if fish.length_cm is not None and not 15 <= fish.length_cm <= 70:
            yield _of(fish, reason("size-not-tried"))
