"""One fish in its bag: the size of the bag, what the journey uses and fouls, and the step after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil

from showprep.husbandry.acclimation import TemperatureStep, ph_step_words, temperature_step
from showprep.husbandry.figures import setting
from showprep.husbandry.sedation import water_fit
from showprep.husbandry.transport import Bag, BagSize, bag_size_for, reckon
from showprep.husbandry.weight import kg_from_length, length_from_weight, weight_fault
from showprep.planning.worksheets.bags_records import ALKALINITY, OPEN_PH, BagAsk, BagSheet
from showprep.planning.worksheets.sheet import sentence
from showprep.season.quantities import show_temperature, show_volume, show_warming

LIFT_L = 25.0  # more water than this in one bag is a lift for two people (assumption)
SALT_MOST_G_L = 5.0  # above it is a treatment and not a help on the way (common practice)


def bag_sheet(ask: BagAsk) -> BagSheet:
    """Work one bag out; what cannot be carried has its reasons in `refused`.

    Raises ValueError when neither weight nor length is given.
    """
    kg, estimated = _weight(ask)
    try:
        return _worked_out(ask, kg, estimated)
    except ValueError as error:
        return BagSheet(ask, sentence(str(error)), kg, estimated)


def _weight(ask: BagAsk) -> tuple[float, bool]:
    """Weight [kg] and whether it is estimated from the length (Bister et al. 2000)."""
    if ask.kg is not None:
        return ask.kg, ask.kg_estimated
    if ask.length_cm is None:
        raise ValueError("neither weight nor length of the fish is known: measure it")
    return kg_from_length(ask.length_cm), True


def _worked_out(ask: BagAsk, kg: float, estimated: bool) -> BagSheet:
    size = _size(ask, kg)
    water_l, gas_l = _litres(ask, kg, size)
    bag = _bag(ask, kg, water_l, gas_l, ask.water_c)
    home = _bag(ask, kg, water_l, gas_l, ask.show_c) if ask.show_c is not None else None
    step = temperature_step(ask.water_c, ask.show_c, ask.own) if ask.show_c is not None else None
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
        step_words=_step_words(ask, step),
        salt_g=ask.salt_g_l * water_l if ask.salt_g_l else None,
        cautions=tuple(dict.fromkeys(map(sentence, _cautions(ask, water_l, bag, home, step)))),
    )


def _size(ask: BagAsk, kg: float) -> BagSize:
    """The least bag and box; where the keeper says how much water, only their lengths count."""
    length = ask.length_cm
    if length is None:
        length = length_from_weight(1000 * kg)
    else:
        fault = weight_fault(1000 * kg, length)
        if fault is not None:
            raise ValueError(fault)
    hours = ask.hours if ask.water_l is None else 0.0
    return bag_size_for(length, kg, _warmest(ask), hours, ask.bag_length_cm, ask.own)


def _warmest(ask: BagAsk) -> float:
    """The warmer of the two waters [°C]: the same bag has to do for the way home."""
    return ask.water_c if ask.show_c is None else max(ask.water_c, ask.show_c)


def _litres(ask: BagAsk, kg: float, size: BagSize) -> tuple[float, float]:
    """Water and oxygen [L]: the keeper's, or a bag large enough to pass no warning level."""
    share = setting("bag_water_share", ask.own)
    ratio = (1 - share) / share
    if ask.water_l is not None:
        return ask.water_l, ask.gas_l if ask.gas_l is not None else ask.water_l * ratio
    water_l = _half_up(size.water_l)
    gas_l = ask.gas_l if ask.gas_l is not None else water_l * ratio
    bag = _bag(ask, kg, water_l, gas_l, _warmest(ask))
    if bag.longest_hours < ask.hours and bag.limited_by != "time in the bag":
        # Water and gas together scale the time in proportion, so one step is enough.
        water_l = _half_up(water_l * ask.hours / bag.longest_hours)
    return water_l, ask.gas_l if ask.gas_l is not None else water_l * ratio


def _half_up(litres: float) -> float:
    """Up to the next half litre, as a jug measures it."""
    return ceil(litres * 2 - 1e-9) / 2


def _bag(ask: BagAsk, kg: float, water_l: float, gas_l: float, water_c: float) -> Bag:
    return reckon(
        kg,
        water_l,
        gas_l,
        water_c,
        ask.hours,
        alkalinity_meq_l=ALKALINITY if ask.alkalinity_meq_l is None else ask.alkalinity_meq_l,
        open_ph=OPEN_PH if ask.open_ph is None else ask.open_ph,
        own=ask.own,
    )


def _step_words(ask: BagAsk, step: TemperatureStep | None) -> tuple[str, ...]:
    words = [] if step is None else [_temperature_words(ask, step)]
    if ask.show_ph is not None and ask.open_ph is not None:
        ph = ph_step_words(ask.open_ph, ask.show_ph, ask.own)
        words += [] if ph is None else [ph]
    return tuple(sentence(word) for word in words)


def _temperature_words(ask: BagAsk, step: TemperatureStep) -> str:
    """How the step is taken, in the keeper's units."""
    change = show_warming(abs(step.change_c), ask.units)
    if step.how == "ramp":
        assert ask.show_c is not None
        there = show_temperature(ask.show_c, ask.units)
        return (
            f"{change} is too great a change: before leaving bring the holding water to {there} "
            f"over {step.days} days, or leave the fish at home"
        )
    if step.how == "temper":
        return (
            f"a change of {change}: let the van or the vat come to it over {step.hours:.1f} h; a "
            "floating bag would change too fast"
        )
    return f"a change of {change}: the usual float of {step.minutes} minutes will do"


def _cautions(
    ask: BagAsk, water_l: float, bag: Bag, home: Bag | None, step: TemperatureStep | None
) -> Iterator[str]:
    yield from bag.stops
    if step is not None and step.blocked:
        yield _temperature_words(ask, step)
    yield from bag.warnings
    if home is not None:
        if not bag.stops:
            yield from (f"on the way home: {stop}" for stop in home.stops)
        if home.longest_hours < ask.hours <= bag.longest_hours:
            limit = f"{home.limited_by} is at its limit after {home.longest_hours:.1f} h"
            yield f"on the way home {limit}"
    if step is not None and step.warn and not step.blocked:
        yield f"the show's water differs: {_temperature_words(ask, step)}"
    if ask.alkalinity_meq_l is None:
        yield f"no alkalinity was given: {ALKALINITY:g} meq/L, soft water, is taken"
    if water_l > LIFT_L:
        yield f"{show_volume(water_l, ask.units)} of water in a bag is a lift for two people"
    if ask.salt_g_l is not None and ask.salt_g_l > SALT_MOST_G_L:
        yield f"{ask.salt_g_l:g} g/L of salt is a treatment: at most {SALT_MOST_G_L:g} on the way"
    fit = water_fit(ask.water_c, ask.own)
    if fit.level == "block" and ask.water_c > 20:
        yield "water this warm holds little oxygen: cool it slowly before the fish is bagged"


def refused_for_want(ask: BagAsk, reason: str) -> BagSheet:
    """A fish of which too little is known to bag it."""
    return replace(BagSheet(ask, sentence(reason), None, True))
