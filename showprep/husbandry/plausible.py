"""Refusals, in a keeper's words, of numbers that cannot be meant."""

from __future__ import annotations

from math import isfinite


def water_temperature(water_c: float, lowest: float = -2.0, highest: float = 40.0) -> float:
    """Return `water_c` [°C] if koi water can have that temperature; raise ValueError if not."""
    if not isfinite(water_c) or not lowest <= water_c <= highest:
        raise ValueError(
            f"a water temperature of {water_c:g} °C cannot be right here;"
            f" it should lie between {lowest:g} and {highest:g} °C"
        )
    return water_c


def more_than_nothing(value: float, what: str, unit: str) -> float:
    """Return `value` if it is a finite number above zero; raise ValueError naming `what`."""
    if not isfinite(value) or value <= 0:
        raise ValueError(f"{what} must be more than 0 {unit}; {value:g} was given")
    return value


def not_negative(value: float, what: str, unit: str) -> float:
    """Return `value` if it is a finite number of zero or more; raise ValueError naming `what`."""
    if not isfinite(value) or value < 0:
        raise ValueError(f"{what} cannot be less than 0 {unit}; {value:g} was given")
    return value
