"""Bringing a fish from one water to another: temperature and pH."""

from __future__ import annotations

from math import ceil
from typing import Literal

from msgspec import Struct

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import more_than_nothing, water_temperature
from showprep.husbandry.reason import Reason, reason

How = Literal["direct", "temper", "ramp"]


class TemperatureStep(Struct, frozen=True):
    """How to take a change of `change_c` [°C, falling is negative], and for how long.

    One of: `direct`, after the `minutes` afloat that shows ask for; `temper` the vat or van over
    `hours` first; `ramp` the holding water over `days` beforehand. `blocked`: the fish must not be
    moved until the ramp is done.
    """

    change_c: float
    how: How
    minutes: int
    hours: float
    days: int
    warn: bool
    blocked: bool


def temperature_step(from_c: float, to_c: float, figures: FiguresInForce) -> TemperatureStep:
    """Say how a fish goes from water of `from_c` to water of `to_c` [°C].

    One rule: up to 2 °C up or 1 °C down (a fall is harder than a rise) at once; all of a greater
    step at 2 °C an hour; from 6 °C only after a ramp of 1 °C a day (common practice; the stricter
    of the guides). Guides also float the bag over 4 °C and more. That is not done here: a bag of 10
    to 20 L nears the water by a time constant of about 15 minutes (derived), so 4 °C begin at 16 °C
    an hour. Raises ValueError for impossible temperatures.
    """
    change = water_temperature(to_c) - water_temperature(from_c)
    size = round(abs(change), 6)
    warn = size >= figures["step_warn"]
    direct = figures["step_direct" if change >= 0 else "step_direct_falling"]
    if size >= figures["step_block"]:
        days = len(ramp(from_c, to_c, figures))
        return TemperatureStep(change, "ramp", 0, 0.0, days, True, True)
    minutes = ceil(figures["float_bag"])
    if size <= direct:
        return TemperatureStep(change, "direct", minutes, 0.0, 0, warn, False)
    hours = size / more_than_nothing(figures["temper_rate"], "rate", "°C/h")
    return TemperatureStep(change, "temper", minutes, hours, 0, warn, False)


def ramp(from_c: float, to_c: float, figures: FiguresInForce) -> tuple[float, ...]:
    """Temperature [°C] of the holding water for each day of a ramp, `temp_ramp` a day at most."""
    change = water_temperature(to_c) - water_temperature(from_c)
    rate = more_than_nothing(figures["temp_ramp"], "ramp", "°C a day")
    days = ceil(abs(change) / rate - 1e-9)
    return tuple(from_c + change * day / days for day in range(1, days + 1))


def ph_step(from_ph: float, to_ph: float, figures: FiguresInForce) -> Reason | None:
    """Say how to take a change of pH, or return None when it is no more than `ph_direct`.

    At most 0.5 in all within 6 to 9, a guideline: it stood in Directive 2006/44/EC, Annex I, which
    was repealed in December 2013; by 0.3 in half an hour.
    """
    change = round(abs(to_ph - from_ph), 6)
    if change <= figures["ph_direct"]:
        return None
    if change <= figures["ph_total"]:
        return reason("ph-over-an-hour", change=change)
    return reason("ph-over-weeks", change=change)
