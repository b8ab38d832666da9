"""Thermal time: how much warmth a healing fish has had, in degree-days over a base.

A day whose mean water temperature is T gives ``max(0, min(T, cap) - base)`` degree-days
[°C d]. The day a wound is made counts for nothing: warmth is gathered on the days after it.

The linear law is that of Anderson & Roberts 1975, "A comparison of the effects of temperature
on wound healing in a tropical and a temperate teleost" (published). The base of 8 °C
(derived; plausible 5 to 10) rests on Knights & Lasee 1996, who saw almost no healing below the
skin in 56 days at 6 °C, and on Wishkovsky & Avtalion 1987, who saw no antibody response of
carp at 12 °C. The cap of 26 °C (derived; plausible 24 to 28) rests on Oyugi et al. 2012,
who found carp at their best from 20 to 24 °C and worse again at 28 °C.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta

MeanOn = Callable[[date], float]
"""Daily mean water temperature [°C] of the water a fish is in on a day."""

BASE_C = 8.0
CAP_C = 26.0
HORIZON_DAYS = 1100
"""How far ahead a healing day is looked for [d]: three years; later is as good as never."""

_TOLERANCE = 1e-9  # fifteen days of 4 degree-days must make 60 whatever the rounding
_DAY = timedelta(days=1)


def degree_days(mean_c: float, base_c: float = BASE_C, cap_c: float = CAP_C) -> float:
    """Degree-days [°C d] that one day of mean temperature `mean_c` [°C] gives.

    Never negative. `base_c` 0 and `cap_c` infinite give the degree-days of the withdrawal
    periods in Regulation (EU) 2019/6, article 115. Raises ValueError if the temperature is not
    a number or the cap is not above the base.
    """
    if math.isnan(mean_c):
        raise ValueError("the water temperature of a day is not a number")
    if not cap_c > base_c:
        raise ValueError(f"the cap ({cap_c} °C) must lie above the base ({base_c} °C)")
    return max(0.0, min(mean_c, cap_c) - base_c)


def thermal_sum(
    daily_means: Iterable[float], base_c: float = BASE_C, cap_c: float = CAP_C
) -> float:
    """Degree-days [°C d] of a run of daily means [°C]."""
    return math.fsum(degree_days(mean, base_c, cap_c) for mean in daily_means)


def gathered(
    after: date, until: date, mean_on: MeanOn, base_c: float = BASE_C, cap_c: float = CAP_C
) -> float:
    """Degree-days [°C d] over the days later than `after`, up to and with `until`.

    Zero when `until` is not later than `after`.
    """
    return thermal_sum((mean_on(day) for day in _days(after, until)), base_c, cap_c)


def first_day(
    after: date,
    requirement: float,
    least_days: int,
    mean_on: MeanOn,
    until: date | None = None,
    base_c: float = BASE_C,
    cap_c: float = CAP_C,
) -> date | None:
    """First day by which `requirement` [°C d] is gathered and `least_days` [d] have gone by.

    None if that day is not reached by `until` (HORIZON_DAYS after `after` when not given).
    Raises ValueError if the requirement or the least days are negative or not numbers.
    """
    _check(requirement, least_days)
    last = after + timedelta(days=HORIZON_DAYS) if until is None else until
    earliest = after + timedelta(days=least_days)
    need = requirement - _TOLERANCE
    total = 0.0
    if total >= need and after == earliest and after <= last:
        return after
    for day in _days(after, last):
        total += degree_days(mean_on(day), base_c, cap_c)
        if total >= need and day >= earliest:
            return day
    return None


def latest_start(
    finish_by: date,
    requirement: float,
    least_days: int,
    mean_on: MeanOn,
    not_before: date,
    base_c: float = BASE_C,
    cap_c: float = CAP_C,
) -> date | None:
    """Latest day whose `first_day` is not later than `finish_by`.

    Walks back from `finish_by`, adding up the warmth. None if that day would lie before
    `not_before`. Raises ValueError as `first_day` does.
    """
    _check(requirement, least_days)
    latest = finish_by - timedelta(days=least_days)
    need = requirement - _TOLERANCE
    total = 0.0
    start = finish_by
    while start >= not_before:
        if total >= need and start <= latest:
            return start
        total += degree_days(mean_on(start), base_c, cap_c)
        start -= _DAY
    return None


def _days(after: date, until: date) -> Iterator[date]:
    for number in range(after.toordinal() + 1, until.toordinal() + 1):
        yield date.fromordinal(number)


def _check(requirement: float, least_days: int) -> None:
    if not requirement >= 0:
        raise ValueError(f"a healing requirement must be 0 degree-days or more, not {requirement}")
    if least_days < 0:
        raise ValueError(f"the least number of days must be 0 or more, not {least_days}")
