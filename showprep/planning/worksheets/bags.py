"""One fish in its bag: the size of the bag, what the journey uses and fouls, and the step after."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from math import ceil, floor

from msgspec.structs import replace

from showprep.husbandry.acclimation import TemperatureStep, ph_step, temperature_step
from showprep.husbandry.bag_size import BagSize, bag_size_for, hours_of_load
from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.figures_handling import OF_JOURNEYS
from showprep.husbandry.reason import Celsius, Kelvin, Kilograms, Litres, Reason, Refusal, reason
from showprep.husbandry.sedation_fit import water_fit
from showprep.husbandry.tank import tank_for
from showprep.husbandry.transport import Bag, LimitedBy, bag_after
from showprep.husbandry.weight import kg_from_length, length_from_weight, weight_fault
from showprep.planning.own_figures import that_changed
from showprep.planning.worksheets.bags_records import (
    ALKALINITY,
    LEAST_FILLING_H,
    OPEN_PH,
    BagAsk,
    BagSheet,
    OnTheWay,
)

NO_ONE_BAG = frozenset({"journey-too-long-for-any-bag", "bag-too-heavy", "fish-too-heavy-for-bag"})
ROOMY_L_PER_KG = 10.0  # more water is no help on a way that no bag carries (assumption)
SALT_MOST_G_L = 5.0  # above it is a treatment and not a help on the way (common practice)


def bag_sheet(ask: BagAsk) -> BagSheet:
    """Work one bag out; what cannot be carried has its reasons in `refused`.

    The cautions end with the own figures that changed anything on the sheet. Raises Refusal
    when neither weight nor length is given.
    """
    sheet = bagged(ask)
    own = that_changed(
        ask.figures,
        _facts(sheet),
        lambda one: _facts(bagged(replace(ask, figures=one))),
        OF_JOURNEYS,
    )
    return replace(sheet, cautions=(*sheet.cautions, *own))


def longest_bag(ask: BagAsk) -> BagSheet:
    """The sheet of the longest journey that one bag is good for, with hours in hand for a jam.

    Whatever `ask.hours` says; the bag is the keeper's, or the largest that is any help and that two
    people still lift. Raises Refusal when neither weight nor length is given.
    """
    kg, _ = _weight(ask)
    water_l = ask.water_l
    if water_l is None:
        water_l = min(_heaviest(ask, kg), kg * ROOMY_L_PER_KG)
    ways = on_the_way(replace(ask, hours=LEAST_FILLING_H), kg, water_l)
    hours = floor(2 * ways.good_for_h / (1 + ask.figures["bag_hours_spare"] / 100)) / 2
    sheet = bag_sheet(replace(ask, hours=max(hours, LEAST_FILLING_H)))
    if sheet.bag is None or sheet.water_l is None or hours < LEAST_FILLING_H:
        return sheet
    lasts, own = sheet.bag.longest_hours, Litres(sheet.water_l)
    told = reason("bag-good-for", good_for=lasts, water=own, hours=hours)
    return replace(sheet, cautions=(told, *sheet.cautions))


def _facts(sheet: BagSheet) -> BagSheet:
    """All that a sheet says, whatever figures it was asked with."""
    return replace(sheet, ask=replace(sheet.ask, figures=SHIPPED))


def bagged(ask: BagAsk) -> BagSheet:
    """One bag without a word of own figures; raises Refusal as `bag_sheet` does."""
    kg, estimated = _weight(ask)
    try:
        return _worked_out(ask, kg, estimated)
    except Refusal as refusal:
        ways = None
        if refusal.told.code in NO_ONE_BAG:
            ways = on_the_way(ask, kg, min(_heaviest(ask, kg), kg * ROOMY_L_PER_KG))
        return BagSheet(ask, refusal.told, kg, estimated, ways=ways)


def _weight(ask: BagAsk) -> tuple[float, bool]:
    """Weight [kg] and whether it is estimated from the length (Bister et al. 2000)."""
    if ask.kg is not None:
        return ask.kg, ask.kg_estimated
    if ask.length_cm is None:
        raise Refusal(reason("measure-the-fish"))
    return kg_from_length(ask.length_cm), True


def _worked_out(ask: BagAsk, kg: float, estimated: bool) -> BagSheet:
    if ask.alkalinity_meq_l is not None and ask.alkalinity_meq_l <= 0:
        raise Refusal(reason("alkalinity-is-nothing"))
    asked, size = ask, _size(ask, kg)
    _liftable(ask, kg)
    water_l = _litres(ask, kg, size)
    gas_l = _gas(ask, water_l)
    ways = None
    if ask.water_l is None:
        ways = on_the_way(ask, kg, water_l)
        if ways.good_for_h >= ask.hours - 1e-9:
            ways = None
        else:
            ask = replace(ask, hours=_hours_of_filling(ways, ask.hours))
    bag = _bag(ask, kg, water_l, gas_l, ask.water_c)
    home = _bag(ask, kg, water_l, gas_l, ask.show_c) if ask.show_c is not None else None
    if ways is not None and ways.limited_by is not None:
        bag = replace(bag, longest_hours=ways.good_for_h, limited_by=ways.limited_by)
        if home is not None and home.longest_hours > ways.good_for_h:
            home = replace(home, longest_hours=ways.good_for_h, limited_by=ways.limited_by)
    step = _step(ask)
    return BagSheet(
        ask=asked,
        refused=None,
        kg=kg,
        kg_estimated=estimated,
        water_l=water_l,
        gas_l=gas_l,
        bag_length_cm=size.bag_length_cm,
        box_length_cm=size.box_length_cm,
        bags_each=size.bags_each,
        alone=size.alone,
        bag=bag,
        home=home,
        step=step,
        step_told=tuple(_step_told(ask, step)),
        salt_g=ask.salt_g_l * water_l if ask.salt_g_l else None,
        hours=ask.hours,
        ways=ways,
        cautions=tuple(
            dict.fromkeys(
                (
                    *_not_enough(asked, kg, ways),
                    *_cautions(ask, kg, water_l, bag, home, step),
                )
            )
        ),
    )


def on_the_way(ask: BagAsk, kg: float, water_l: float) -> OnTheWay:
    """The ways on for `kg` [kg] of fish whose bag of `water_l` [L] is not good for the journey.

    The bag is filled anew before its hours, less those to have in hand, are over: at the last stop
    within them, or after equal times where no stops are known.
    """
    warmest = _warmest(ask)
    ph = _open_ph(ask)
    tank = tank_for(kg, warmest, ask.hours, ask.figures, open_ph=ph, own_l=ask.tank_l)
    if water_l < kg * ask.figures["bag_litres_per_kg"]:
        return OnTheWay(None, 0.0, None, None, (), (), tank)
    bag = _bag(replace(ask, hours=LEAST_FILLING_H), kg, water_l, _gas(ask, water_l), warmest)
    by: LimitedBy
    good_for, by = min(
        (bag.longest_hours, bag.limited_by),
        (hours_of_load(kg / water_l, warmest), "crowding"),
    )
    after = _changes(ask, good_for / (1 + ask.figures["bag_hours_spare"] / 100))
    fillings = None if after is None else len(after) + 1
    moments = tuple(_moments(ask, after or ()))
    return OnTheWay(water_l, good_for, by, fillings, after or (), moments, tank)


def _changes(ask: BagAsk, lasts_h: float) -> tuple[float, ...] | None:
    """Hours after bagging at which the water is changed, each filling good for `lasts_h` [h]."""
    if lasts_h < LEAST_FILLING_H:
        return None
    if not ask.stops_h:
        fillings = ceil(ask.hours / lasts_h - 1e-9)
        return tuple(number * ask.hours / fillings for number in range(1, fillings))
    found: list[float] = []
    at = 0.0
    while ask.hours - at > lasts_h + 1e-9:
        within = [stop for stop in ask.stops_h if at < stop <= at + lasts_h + 1e-9]
        at = within[-1] if within else at + lasts_h
        found.append(at)
    return tuple(found)


def _moments(ask: BagAsk, after_h: tuple[float, ...]) -> Iterator[datetime]:
    """When that is, on the clock of the day; nothing where it is not known."""
    if ask.bagged_at is not None:
        start = ask.bagged_at.astimezone(UTC)
        for hours in after_h:
            at = start + timedelta(minutes=int(60 * hours + 1e-6))
            yield at.astimezone(ask.bagged_at.tzinfo)


def _hours_of_filling(ways: OnTheWay, hours: float) -> float:
    """The longest [h] that one filling of a bag has to last, as it is changed on the way."""
    if ways.fillings is None:
        return ways.good_for_h
    times = (0.0, *ways.change_after_h, hours)
    return max(end - start for start, end in pairwise(times))


def _heaviest(ask: BagAsk, kg: float) -> float:
    """Water [L] beside `kg` [kg] of fish in a bag that two people still lift, to the half litre."""
    return floor((ask.figures["lift_most"] - kg) * 2 + 1e-9) / 2


def _gas(ask: BagAsk, water_l: float) -> float:
    """Oxygen [L] over that water: the keeper's, or by the shares of water and gas."""
    share = ask.figures["bag_water_share"]
    return ask.gas_l if ask.gas_l is not None else water_l * (1 - share) / share


def _liftable(ask: BagAsk, kg: float) -> None:
    """Raise Refusal for a fish, or litres of the keeper's, that make a bag nobody should lift."""
    most = _heaviest(ask, kg)
    lift = Kilograms(ask.figures["lift_most"])
    if most < kg * ask.figures["bag_litres_per_kg"]:
        raise Refusal(reason("fish-too-heavy-for-bag", fish=Kilograms(kg), lift=lift))
    if ask.water_l is not None and ask.water_l + kg > ask.figures["lift_most"] + 1e-9:
        weight = Kilograms(ask.water_l + kg)
        raise Refusal(reason("bag-too-heavy", weight=weight, lift=lift, most=Litres(most)))


def _not_enough(ask: BagAsk, kg: float, ways: OnTheWay | None) -> Iterator[Reason]:
    if ways is not None and ways.water_l is not None:
        yield reason(
            "one-bag-is-not-enough",
            hours=ask.hours,
            water=Litres(ways.water_l),
            weight=Kilograms(ways.water_l + kg),
            longest=ways.good_for_h,
        )


def _size(ask: BagAsk, kg: float) -> BagSize:
    """The least bag and box; where the keeper says how much water, only their lengths count."""
    length = ask.length_cm
    if length is None:
        length = length_from_weight(1000 * kg)
    else:
        fault = weight_fault(1000 * kg, length)
        if fault is not None:
            raise Refusal(fault)
    hours = ask.hours if ask.water_l is None else 0.0
    bag = ask.bag_length_cm
    return bag_size_for(length, kg, _warmest(ask), hours, ask.figures, bag_length_cm=bag)


def _warmest(ask: BagAsk) -> float:
    """The warmer of the two waters [°C]: the same bag has to do for the way home."""
    return ask.water_c if ask.show_c is None else max(ask.water_c, ask.show_c)


def _litres(ask: BagAsk, kg: float, size: BagSize) -> float:
    """Water [L]: the keeper's, or as much as passes no warning level and can still be lifted."""
    if ask.water_l is not None:
        return ask.water_l
    water_l = _half_up(size.water_l)
    bag = _bag(ask, kg, water_l, _gas(ask, water_l), _warmest(ask))
    wanted = _with_spare(ask)
    if 0 < bag.longest_hours < wanted and bag.limited_by != "time in the bag":
        # Water and gas together scale the time in proportion, so one step is enough.
        water_l = _half_up(water_l * wanted / bag.longest_hours)
    return min(water_l, _heaviest(ask, kg))


def _with_spare(ask: BagAsk) -> float:
    """The hours [h] a bag is sized for: those of the journey, and some in hand for a jam."""
    return ask.hours * (1 + ask.figures["bag_hours_spare"] / 100)


def _half_up(litres: float) -> float:
    """Up to the next half litre, as a jug measures it."""
    return ceil(litres * 2 - 1e-9) / 2


def _bag(ask: BagAsk, kg: float, water_l: float, gas_l: float, water_c: float) -> Bag:
    return bag_after(
        kg,
        water_l,
        gas_l,
        water_c,
        ask.hours,
        ask.figures,
        alkalinity_meq_l=ALKALINITY if ask.alkalinity_meq_l is None else ask.alkalinity_meq_l,
        open_ph=_open_ph(ask),
    )


def _open_ph(ask: BagAsk) -> float:
    return OPEN_PH if ask.open_ph is None else ask.open_ph


def _step(ask: BagAsk) -> TemperatureStep | None:
    if ask.show_c is None:
        return None
    return temperature_step(ask.water_c, ask.show_c, ask.figures)


def _step_told(ask: BagAsk, step: TemperatureStep | None) -> Iterator[Reason]:
    """How the steps of temperature and pH are taken, where both waters are known."""
    if step is not None:
        yield _temperature_told(ask, step)
    if ask.show_ph is not None and ask.open_ph is not None:
        ph = ph_step(ask.open_ph, ask.show_ph, ask.figures)
        if ph is not None:
            yield ph


def _temperature_told(ask: BagAsk, step: TemperatureStep) -> Reason:
    change = Kelvin(abs(step.change_c))
    if step.how == "ramp":
        assert ask.show_c is not None
        return reason("step-ramp", change=change, there=Celsius(ask.show_c), days=step.days)
    if step.how == "temper":
        return reason("step-temper", change=change, hours=step.hours)
    return reason("step-direct", change=change, minutes=step.minutes)


def _cautions(
    ask: BagAsk, kg: float, water_l: float, bag: Bag, home: Bag | None, step: TemperatureStep | None
) -> Iterator[Reason]:
    yield from bag.stops
    if step is not None and step.blocked:
        yield _temperature_told(ask, step)
    yield from bag.warnings
    if ask.hours <= bag.longest_hours < _with_spare(ask) * (1 - 1e-9):
        spare = bag.longest_hours - ask.hours
        yield reason("few-hours-in-hand", spare=spare, longest=bag.longest_hours)
    if home is not None:
        if not bag.stops:
            yield from (reason("on-the-way-home", why=stop) for stop in home.stops)
        if home.longest_hours < ask.hours <= bag.longest_hours:
            yield reason("limit-on-the-way-home", by=home.limited_by, longest=home.longest_hours)
    if step is not None and step.warn and not step.blocked:
        yield reason("show-water-differs", why=_temperature_told(ask, step))
    if ask.alkalinity_meq_l is None:
        yield reason("alkalinity-not-given", meq_l=ALKALINITY)
    if water_l + kg >= ask.figures["lift_by_two"]:
        yield reason("lift-for-two", weight=Kilograms(water_l + kg))
    if ask.salt_g_l is not None and ask.salt_g_l > SALT_MOST_G_L:
        yield reason("salt-is-a-treatment", salt_g_l=ask.salt_g_l, most_g_l=SALT_MOST_G_L)
    fit = water_fit(ask.water_c, ask.figures)
    if fit.level == "block" and ask.water_c > 20:
        yield reason("cool-before-bagging")


def refused_for_want(ask: BagAsk, why: Reason) -> BagSheet:
    """A fish of which too little is known to bag it."""
    return BagSheet(ask, why, None, True)
