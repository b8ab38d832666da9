"""Whether a female may be heavy with eggs or spawn on the way, and how long after spawning.

Common practice, from memory: females of 45 cm or three years, water of 17 to 24 °C that is
warming. Spawning is set off at about 20 °C (koi breeders' and dealers' pages); April to July in
the north, October to January in the south.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature

GROWN_CM = 45.0
GROWN_YEARS = 3.0
SPAWNS_C = (17.0, 24.0)
NORTH = range(4, 8)  # April to July
SOUTH = (10, 11, 12, 1)
NOT_READY_DAYS = 14  # torn fins and lost scales of spawning are open still; as for a sedation
RECOVERS_DAYS = 42  # "4 to 6 weeks": the longer

AfterSpawning = Literal["not ready", "caution", "fit"]


def is_grown(length_cm: float | None, years: float | None = None) -> bool:
    """Is a female of this length [cm] or age [years] of spawning size? Either is enough.

    False where neither is known. Raises ValueError for a length or an age that cannot be.
    """
    if length_cm is not None and more_than_nothing(length_cm, "the length", "cm") >= GROWN_CM:
        return True
    return years is not None and not_negative(years, "the age", "years") >= GROWN_YEARS


def in_season(day: date, *, southern: bool = False) -> bool:
    """Does `day` lie in the months in which koi of garden ponds spawn?"""
    return day.month in (SOUTH if southern else NORTH)


def spawning_weather(water_c: float, two_weeks_before_c: float) -> bool:
    """Is the water [°C] as warm as koi spawn in, and warmer than two weeks before?"""
    low, high = SPAWNS_C
    return low <= water_temperature(water_c) <= high and water_c > water_temperature(
        two_weeks_before_c
    )


def after_spawning(days: int) -> AfterSpawning:
    """Judge a departure `days` [d] after spawning: `not ready` below 14, a `caution` below 42.

    From memory. A spawning after the departure says nothing: `fit`.
    """
    if not 0 <= days < RECOVERS_DAYS:
        return "fit"
    return "not ready" if days < NOT_READY_DAYS else "caution"
