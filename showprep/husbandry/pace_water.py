"""Readings against the yearly curve of a water: how far off the curve seems to be, all year.

Readings of one week count as one: the same warm spell lies behind them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date
from statistics import fmean

from msgspec import Struct

START_SPREAD_C = 1.5  # how far off a keeper's monthly means may well be (assumption)
WEATHER_C = 1.5  # how far a week strays from a right curve (assumption)
ENOUGH_WEEKS = 8
ENOUGH_SPREAD_C = 0.6
MOST_C = 3.0  # further off, the monthly means want writing anew, not shifting (assumption)


class CurveOffset(Struct, frozen=True):
    """By how much a water is warmer than its curve [°C], its spread, and what it rests on."""

    offset_c: float
    spread_c: float
    readings: int
    weeks: int
    enough: bool


def curve_offset(differences: Iterable[tuple[date, float]]) -> CurveOffset:
    """The offset from (day, reading less curve [°C]).

    A normal mean under a normal prior around 0. Enough from eight different weeks on, with a
    spread of at most 0.6 °C, and an offset within 3 °C.
    """
    by_week: dict[int, list[float]] = {}
    count = 0
    for day, difference in differences:
        by_week.setdefault(day.toordinal() // 7, []).append(difference)
        count += 1
    weeks = [fmean(found) for found in by_week.values()]
    if not weeks:
        return CurveOffset(0.0, START_SPREAD_C, 0, 0, False)
    strays = math.sqrt(
        (WEATHER_C**2 + math.fsum((week - fmean(weeks)) ** 2 for week in weeks)) / len(weeks)
    )
    stray = max(strays, WEATHER_C / 3)
    told, before = len(weeks) / stray**2, 1 / START_SPREAD_C**2
    offset = told * fmean(weeks) / (told + before)
    spread = 1 / math.sqrt(told + before)
    enough = len(weeks) >= ENOUGH_WEEKS and spread <= ENOUGH_SPREAD_C and abs(offset) <= MOST_C
    return CurveOffset(offset, spread, count, len(weeks), enough)
