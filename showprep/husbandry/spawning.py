"""Whether a female may be heavy with eggs or spawn on the way, and how long after spawning.

Common practice, from memory: females of 45 cm or three years, water of 17 to 24 °C that is
warming. Spawning is set off at about 20 °C (koi breeders' and dealers' pages); April to July in
the north, October to January in the south.
"""

from __future__ import annotations

from typing import Literal

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature

AfterSpawning = Literal["not ready", "caution", "fit"]


def is_grown(length_cm: float | None, figures: FiguresInForce, years: float | None = None) -> bool:
    """Is a female of this length [cm] or age [years] of spawning size? Either is enough.

    False where neither is known. Raises ValueError for a length or an age that cannot be.
    """
    least_cm, least_years = figures["spawns_from_cm"], figures["spawns_from_years"]
    if length_cm is not None and more_than_nothing(length_cm, "the length", "cm") >= least_cm:
        return True
    return years is not None and not_negative(years, "the age", "years") >= least_years


def spawning_weather(water_c: float, two_weeks_before_c: float, figures: FiguresInForce) -> bool:
    """Is the water [°C] as warm as koi spawn in, and warmer than two weeks before?"""
    low, high = figures["spawns_from_c"], figures["spawns_to_c"]
    return low <= water_temperature(water_c) <= high and water_c > water_temperature(
        two_weeks_before_c
    )


def after_spawning(days: int, figures: FiguresInForce) -> AfterSpawning:
    """Judge a departure `days` [d] after spawning: `not ready` below 14, a `caution` below 42.

    From memory. A spawning after the departure says nothing: `fit`.
    """
    if not 0 <= days < figures["spawned_recovers"]:
        return "fit"
    return "not ready" if days < figures["spawned_not_ready"] else "caution"
