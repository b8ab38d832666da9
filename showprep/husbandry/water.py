"""The temperature of a water through the year, from monthly means and the keeper's readings."""

from __future__ import annotations

import math
from bisect import bisect_left
from calendar import isleap
from collections.abc import Sequence
from datetime import date, timedelta
from functools import cache
from itertools import pairwise

from msgspec import Struct

from showprep.husbandry.plausible import water_temperature
from showprep.husbandry.thermal_time import MeanOn

PLAUSIBLE_C = (-0.5, 40.0)
"""Water temperatures [°C] taken as real: half a degree below ice for a thermometer that
reads low, up to what no carp lives in (assumption)."""

HALF_LIFE_DAYS = 7.0
"""Days in which the difference between a reading and the year's curve fades to half (derived).

Tried on two open series: the sea surface temperature of buoy B01 in the Gulf of Maine, 2016-17
(in the package bokeh-sampledata), and Seattle's daily air temperature of 2012-15 (in
vega-datasets) through a lag of five days, as a pond follows the air. Root mean square error
[°C] 3, 7 and 14 days after a single reading:

- Gulf of Maine, a plain cosine year: 0.71, 0.96, 1.12 with it; 1.19, 1.20, 1.21 without.
- Seattle, monthly means of the other three years: 1.04, 1.57, 1.84; 1.99, 1.99, 2.00 without.
- Gulf of Maine, monthly means of the very same year, which no keeper has in advance: 0.67,
  0.83, 0.88; 0.82, 0.82, 0.82 without. So it does slight harm past a week if the curve is
  already right.

Half-lives of 5 to 14 days do about as well.
"""

BRIDGE_DAYS = 14
"""Readings at most this many days apart are joined by a straight line of differences (derived).

On the same series a straight line over 14 days is as good as any fading (0.74 °C against 0.73
in the Gulf of Maine, 1.07 against 1.07 in Seattle); over 42 days fading is better (1.03 against
1.10; 1.62 against 1.70).
"""

_MONTH_DAYS = (31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0)
_OVERSHOOT = 0.1
_SWEEPS = 60


class YearCurve(Struct, frozen=True):
    """A yearly curve of daily mean water temperature [°C] that keeps the monthly means.

    Within a month the temperature is a parabola fixed by its values at the month's two ends
    and its mean; the end values are those that leave no kink (a periodic mean-keeping quadratic
    spline, the derivative of the cubic spline through the running sum). A day's value is the
    parabola's mean over that day, so the days of a month average to the month's mean exactly,
    whether February has 28 days or 29.
    """

    monthly_c: tuple[float, ...]
    rows: tuple[tuple[float, ...], ...]
    leap_february: tuple[float, ...]

    @classmethod
    def from_monthly_means(cls, monthly_c: Sequence[float]) -> YearCurve:
        """The curve of twelve monthly means [°C], January first.

        It never falls below 0 °C unless a mean does, and strays beyond the coldest and the
        warmest month by at most a tenth of the year's range, as long as no two neighbouring
        months differ by more than two thirds of it. Raises ValueError unless there are twelve
        means within PLAUSIBLE_C.
        """
        if len(monthly_c) != 12:
            raise ValueError(f"a year needs twelve monthly means, not {len(monthly_c)}")
        means = tuple(water_temperature(mean, *PLAUSIBLE_C) for mean in monthly_c)
        ends = _month_ends(means)
        rows = tuple(
            _month_row(mean, ends[month], ends[(month + 1) % 12], int(_MONTH_DAYS[month]))
            for month, mean in enumerate(means)
        )
        return cls(means, rows, _month_row(means[1], ends[1], ends[2], 29))

    def on(self, day: date) -> float:
        """Daily mean water temperature [°C] on `day`, of any year."""
        if day.month == 2 and isleap(day.year):
            return self.leap_february[day.day - 1]
        return self.rows[day.month - 1][day.day - 1]


def steady(c: float) -> MeanOn:
    """Water held at `c` [°C] on every day. Raises ValueError outside PLAUSIBLE_C."""
    held = water_temperature(c, *PLAUSIBLE_C)
    return lambda day: held


def measured(
    curve_on: MeanOn,
    readings: Sequence[tuple[date, float]],
    half_life_days: float = HALF_LIFE_DAYS,
    bridge_days: int = BRIDGE_DAYS,
) -> MeanOn:
    """The curve drawn towards the keeper's `readings` (day, °C).

    On a day that was read, the reading (the mean of several). Elsewhere the curve plus a
    difference: between readings at most `bridge_days` apart the straight line between their
    differences; before the first and after the last a difference that halves every
    `half_life_days`; between readings further apart the mean of a first-order autoregressive
    process pinned at both (Uhlenbeck & Ornstein 1930), in which the two fade and blend.
    Differences are joined and not the readings, as over 14 days either does equally well
    (0.74 °C in the Gulf of Maine) and over longer gaps the curve knows the season (1.10
    against 1.13 over 42 days). Never below 0 °C unless the curve or a reading is, nor above the
    warmest of PLAUSIBLE_C unless the curve is.

    Raises ValueError for a reading outside PLAUSIBLE_C, a half-life not above 0 or a bridge
    below 0.
    """
    if not half_life_days > 0 or bridge_days < 0:
        raise ValueError("the half-life must be above 0 days and the bridge 0 days or more")
    read = _by_day(readings)
    days = sorted(read)
    apart = {day: read[day] - curve_on(day) for day in days}

    def fade(far: int) -> float:
        return float(0.5 ** (far / half_life_days))

    def difference(day: date) -> float:
        place = bisect_left(days, day)
        if place in (0, len(days)):
            nearest = days[0] if place == 0 else days[-1]
            return apart[nearest] * fade(abs((day - nearest).days))
        early, late = days[place - 1], days[place]
        since, to_come, gap = (day - early).days, (late - day).days, (late - early).days
        if gap <= bridge_days:
            return (apart[early] * to_come + apart[late] * since) / gap
        blend = apart[early] * (fade(since) - fade(gap) * fade(to_come))
        blend += apart[late] * (fade(to_come) - fade(gap) * fade(since))
        return float(blend / (1 - fade(gap) ** 2))

    @cache
    def on(day: date) -> float:
        curve = curve_on(day)
        if not days:
            return curve
        if day in read:
            return read[day]
        drawn = max(curve + difference(day), min(curve, 0.0))
        return min(drawn, max(curve, PLAUSIBLE_C[1]))

    return on


def moved_on(from_on: MeanOn, to_on: MeanOn, moved: date) -> MeanOn:
    """A fish moved on the day `moved` with no warming: the new water counts from that day."""
    return lambda day: to_on(day) if day >= moved else from_on(day)


def ramped(from_on: MeanOn, to_on: MeanOn, moved: date, c_per_day: float) -> MeanOn:
    """A fish moved on the day `moved` into a vat then brought gently to its own temperature.

    The vat is first matched to the water the fish leaves, so the day of the move has that
    water's temperature. From the next day it nears the new water's by at most `c_per_day`
    [°C/d], and once it has met it follows it. Raises ValueError unless `c_per_day` is above 0.
    """
    if not c_per_day > 0:
        raise ValueError(f"a vat must be warmed or cooled by more than 0 °C a day, not {c_per_day}")
    way = [from_on(moved)]
    met = False

    def go_on_to(day_number: int) -> None:
        nonlocal met
        while not met and len(way) <= day_number:
            here = way[-1]
            there = to_on(moved + timedelta(days=len(way)))
            met = abs(there - here) <= c_per_day
            way.append(there if met else here + math.copysign(c_per_day, there - here))

    def on(day: date) -> float:
        if day < moved:
            return from_on(day)
        day_number = (day - moved).days
        go_on_to(day_number)
        return way[day_number] if day_number < len(way) else to_on(day)

    return on


def _by_day(readings: Sequence[tuple[date, float]]) -> dict[date, float]:
    several: dict[date, list[float]] = {}
    for day, c in readings:
        several.setdefault(day, []).append(water_temperature(c, *PLAUSIBLE_C))
    return {day: math.fsum(read) / len(read) for day, read in several.items()}


def _month_ends(means: tuple[float, ...]) -> list[float]:
    """Temperatures [°C] at the start of each month, where the parabolas meet without a kink."""
    ends = [(means[month - 1] + means[month]) / 2 for month in range(12)]
    weight = [1 / days for days in _MONTH_DAYS]
    for _ in range(_SWEEPS):  # diagonally dominant: each sweep quarters the error or better
        for month in range(12):
            before, here = weight[month - 1], weight[month]
            pull = 3 * (means[month - 1] * before + means[month] * here)
            pull -= ends[month - 1] * before + ends[(month + 1) % 12] * here
            ends[month] = pull / (2 * (before + here))
    return _held_in(ends, means)


def _held_in(ends: list[float], means: tuple[float, ...]) -> list[float]:
    """Bring the month ends so near the means that no parabola leaves the allowed band.

    A parabola of mean m whose ends lie within [0, 3 m] is nowhere negative; the same holds
    measured up from the band's floor and down from its ceiling.
    """
    low, high = min(means), max(means)
    room = _OVERSHOOT * (high - low)
    floor, ceiling = max(low - room, min(low, 0.0)), high + room
    held = []
    for month, end in enumerate(ends):
        colder, warmer = sorted((means[month - 1], means[month]))
        top = min(ceiling, floor + 3 * (colder - floor))
        bottom = max(floor, ceiling - 3 * (ceiling - warmer))
        held.append(min(max(end, bottom), top))
    return held


def _month_row(mean: float, start: float, end: float, days: int) -> tuple[float, ...]:
    bulge = 6 * (mean - (start + end) / 2)

    def sum_to(share: float) -> float:
        slope = (end - start) / 2 * share**2
        return start * share + slope + bulge * (share**2 / 2 - share**3 / 3)

    sums = [sum_to(day / days) for day in range(days + 1)]
    return tuple(days * (late - early) for early, late in pairwise(sums))
