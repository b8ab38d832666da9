"""One fish in its bag: the size of the bag, what the journey uses and fouls, and the step after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from showprep.husbandry.acclimation import TemperatureStep, ph_step, temperature_step
from showprep.husbandry.bag_size import BagSize, bag_size_for
from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.figures_handling import OF_JOURNEYS
from showprep.husbandry.reason import Celsius, Kelvin, Kilograms, Reason, Refusal, reason
from showprep.husbandry.sedation_fit import water_fit
from showprep.husbandry.transport import Bag, bag_after
from showprep.husbandry.weight import kg_from_length, length_from_weight, weight_fault
from showprep.planning.own_figures import that_changed
from showprep.planning.worksheets.bags_records import ALKALINITY, OPEN_PH, BagAsk, BagSheet

SALT_MOST_G_L = 5.0  # above it is a treatment and not a help on the way (common practice)


def bag_sheet(ask: BagAsk) -> BagSheet:
    """Work one bag out; what cannot be carried has its reasons in `refused`.

    The cautions end with the own figures that changed anything on the sheet. Raises Refusal
    when neither weight nor length is given.
    """
    sheet = _bagged(ask)
    own = that_changed(
        ask.figures,
        _facts(sheet),
        lambda one: _facts(_bagged(replace(ask, figures=one))),
        OF_JOURNEYS,
    )
    return replace(sheet, cautions=(*sheet.cautions, *own))


def _facts(sheet: BagSheet) -> BagSheet:
    """All that a sheet says, whatever figures it was asked with."""
    return replace(sheet, ask=replace(sheet.ask, figures=SHIPPED))


def _bagged(ask: BagAsk) -> BagSheet:
    kg, estimated = _weight(ask)
    try:
        return _worked_out(ask, kg, estimated)
    except Refusal as refusal:
        return BagSheet(ask, refusal.told, kg, estimated)


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
    size = _size(ask, kg)
    water_l, gas_l = _litres(ask, kg, size)
    bag = _bag(ask, kg, water_l, gas_l, ask.water_c)
    home = _bag(ask, kg, water_l, gas_l, ask.show_c) if ask.show_c is not None else None
    step = _step(ask)
    return BagSheet(
        ask=ask,
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
        cautions=tuple(dict.fromkeys(_cautions(ask, kg, water_l, bag, home, step))),
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


def _litres(ask: BagAsk, kg: float, size: BagSize) -> tuple[float, float]:
    """Water and oxygen [L]: the keeper's, or a bag large enough to pass no warning level."""
    share = ask.figures["bag_water_share"]
    ratio = (1 - share) / share
    if ask.water_l is not None:
        return ask.water_l, ask.gas_l if ask.gas_l is not None else ask.water_l * ratio
    water_l = _half_up(size.water_l)
    gas_l = ask.gas_l if ask.gas_l is not None else water_l * ratio
    bag = _bag(ask, kg, water_l, gas_l, _warmest(ask))
    wanted = _with_spare(ask)
    if 0 < bag.longest_hours < wanted and bag.limited_by != "time in the bag":
        # Water and gas together scale the time in proportion, so one step is enough.
        water_l = _half_up(water_l * wanted / bag.longest_hours)
    return water_l, ask.gas_l if ask.gas_l is not None else water_l * ratio


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
        open_ph=OPEN_PH if ask.open_ph is None else ask.open_ph,
    )


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
