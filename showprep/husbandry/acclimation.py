"""Bringing a fish from one water to another: temperature and pH."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, log
from typing import Literal

from showprep.husbandry.figures import setting
from showprep.husbandry.plausible import more_than_nothing, water_temperature

How = Literal["direct", "float", "temper", "ramp"]
Own = Mapping[str, float] | None


@dataclass(frozen=True, slots=True)
class TemperatureStep:
    """How to take a change of `change_c` [°C, falling is negative], and for how long.

    One of: `direct`; `float` the closed bag for `minutes`; `temper` the vat or van over `hours`;
    `ramp` the holding water over `days` beforehand. `blocked`: the fish must not be moved until
    the ramp is done. `words` says it to the keeper.
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

    Directly up to 2 °C up or 1 °C down (a fall is harder than a rise), by floating the shut bag up
    to 4 °C, by tempering at 2 °C an hour below 6 °C, and from 6 °C only after a ramp of 1 °C a day
    (common practice; the stricter of the guides). Raises ValueError for impossible temperatures.
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
    if size <= direct:
        return TemperatureStep(change, "direct", 0, 0.0, 0, warn, False, "move the fish directly")
    if size <= setting("step_float", own):
        minutes = ceil(max(setting("float_bag", own), float_minutes(size, own=own)))
        words = f"float the shut bag for {minutes} minutes, then move the fish without its water"
        return TemperatureStep(change, "float", minutes, 0.0, 0, warn, False, words)
    hours = size / more_than_nothing(setting("temper_rate", own), "the rate", "°C/h")
    words = (
        f"{size:.1f} °C: let the vat or the van come to the fish's temperature over {hours:.1f}"
        " hours; a floating bag would change too fast"
    )
    return TemperatureStep(change, "temper", 0, hours, 0, warn, False, words)


def float_minutes(
    difference_c: float, left_c: float = 1.0, tau_min: float | None = None, own: Own = None
) -> float:
    """Minutes [min] a bag floats until `difference_c` [°C] has shrunk to `left_c` [°C].

    t = tau ln(difference/left), tau 15 min for a bag of 10 to 20 L (derived, 10 to 20); 0 if the
    difference is no greater. Raises ValueError unless `left_c` and tau are above 0.
    """
    tau = setting("bag_tau", own) if tau_min is None else tau_min
    more_than_nothing(tau, "the bag's time constant", "min")
    more_than_nothing(left_c, "the difference left", "°C")
    return tau * log(max(abs(difference_c), left_c) / left_c)


def ramp(from_c: float, to_c: float, own: Own = None) -> tuple[float, ...]:
    """Temperature [°C] of the holding water for each day of a ramp of at most 1 °C a day."""
    change = water_temperature(to_c) - water_temperature(from_c)
    rate = more_than_nothing(setting("temp_ramp", own), "the ramp", "°C a day")
    days = ceil(abs(change) / rate - 1e-9)
    return tuple(from_c + change * day / days for day in range(1, days + 1))


def ph_step_words(from_ph: float, to_ph: float, own: Own = None) -> str | None:
    """Say how to take a change of pH, or return None when it is no more than 0.2.

    At most 0.5 in all within 6 to 9 (Directive 2006/44/EC), by 0.3 in half an hour.
    """
    change = round(abs(to_ph - from_ph), 6)
    if change <= setting("ph_direct", own):
        return None
    if change <= setting("ph_total", own):
        return f"the pH differs by {change:.1f}: take an hour over it, with the bag water unfouled"
    return (
        f"the pH differs by {change:.1f}: match the holding water to the show's in the weeks before"
    )
