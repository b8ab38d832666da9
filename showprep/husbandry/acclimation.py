"""Bringing a fish from one water to another: temperature and pH."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import Literal

from showprep.husbandry.figures import setting
from showprep.husbandry.plausible import more_than_nothing, water_temperature

How = Literal["direct", "temper", "ramp"]
Own = Mapping[str, float] | None


@dataclass(frozen=True, slots=True)
class TemperatureStep:
    """How to take a change of `change_c` [°C, falling is negative], and for how long.

    One of: `direct`, after the `minutes` afloat that shows ask for; `temper` the vat or van over
    `hours` first; `ramp` the holding water over `days` beforehand. `blocked`: the fish must not be
    moved until the ramp is done. `words` says it to the keeper.
    """

    change_c: float
    how: How
    minutes: int
    hours: float
    days: int
    warn: bool
    blocked: bool
    words: str


def temperature_step(from_c: float, to_c: float, own: Own = None) -> TemperatureStep:
    """Say how a fish goes from water of `from_c` to water of `to_c` [°C].

    One rule: up to 2 °C up or 1 °C down (a fall is harder than a rise) at once; all of a greater
    step at 2 °C an hour; from 6 °C only after a ramp of 1 °C a day (common practice; the stricter
    of the guides). Guides also float the bag over 4 °C and more. That is not done here: a bag of 10
    to 20 L nears the water by a time constant of about 15 minutes (derived), so 4 °C begin at 16 °C
    an hour. Raises ValueError for impossible temperatures.
    """
    change = water_temperature(to_c) - water_temperature(from_c)
    size = round(abs(change), 6)
    warn = size >= setting("step_warn", own)
    direct = setting("step_direct" if change >= 0 else "step_direct_falling", own)
    if size >= setting("step_block", own):
        days = len(ramp(from_c, to_c, own))
        words = (
            f"{size:.1f} °C is too great a change: bring the holding water to {to_c:.1f} °C over"
            f" {days} days first"
        )
        return TemperatureStep(change, "ramp", 0, 0.0, days, True, True, words)
    minutes = ceil(setting("float_bag", own))
    if size <= direct:
        words = f"float the shut bag for {minutes} minutes, then move the fish without its water"
        return TemperatureStep(change, "direct", minutes, 0.0, 0, warn, False, words)
    hours = size / more_than_nothing(setting("temper_rate", own), "the rate", "°C/h")
    words = (
        f"{size:.1f} °C: let the vat or the van come to the fish's temperature over {hours:.1f}"
        " hours; a floating bag would change too fast"
    )
    return TemperatureStep(change, "temper", minutes, hours, 0, warn, False, words)


def ramp(from_c: float, to_c: float, own: Own = None) -> tuple[float, ...]:
    """Temperature [°C] of the holding water for each day of a ramp of at most 1 °C a day."""
    change = water_temperature(to_c) - water_temperature(from_c)
    rate = more_than_nothing(setting("temp_ramp", own), "the ramp", "°C a day")
    days = ceil(abs(change) / rate - 1e-9)
    return tuple(from_c + change * day / days for day in range(1, days + 1))


def ph_step_words(from_ph: float, to_ph: float, own: Own = None) -> str | None:
    """Say how to take a change of pH, or return None when it is no more than 0.2.

    At most 0.5 in all within 6 to 9, a guideline: it stood in Directive 2006/44/EC, Annex I, which
    was repealed in December 2013; by 0.3 in half an hour.
    """
    change = round(abs(to_ph - from_ph), 6)
    if change <= setting("ph_direct", own):
        return None
    if change <= setting("ph_total", own):
        return f"the pH differs by {change:.1f}: take an hour over it, with the bag water unfouled"
    return (
        f"the pH differs by {change:.1f}: match the holding water to the show's in the weeks before"
    )
