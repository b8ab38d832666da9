"""Whether a fish and its water are fit for sedation on a day, and how far apart sedations lie.

Each check answers `fit`, `warn` or `block` with the reason. All are asked again on the day: none
of them replaces a look at the fish.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from math import ceil, isfinite
from typing import Literal, NamedTuple

from showprep.husbandry.figures import setting
from showprep.husbandry.thermal_time import MeanOn

Level = Literal["fit", "warn", "block"]
Own = Mapping[str, float] | None


class Fit(NamedTuple):
    """The answer of one check: `fit`, `warn` or `block`, and why in words (empty when fit)."""

    level: Level
    reason: str


FIT = Fit("fit", "")


def water_fit(water_c: float, own: Own = None) -> Fit:
    """Judge water of `water_c` [°C]: blocked below 10 or above 28, a warning below 15, above 26.

    Clove oil mixes poorly below about 15 °C (Woody et al. 2002); warm water holds little oxygen
    (derived). Raises ValueError if the temperature is not a number.
    """
    if not isfinite(water_c):
        raise ValueError("the water temperature of the bath is not a number")
    if water_c < (limit := setting("sed_cold_block", own)):
        return Fit(
            "block", f"the water is {water_c:.1f} °C, below {limit:g} °C: too cold to sedate"
        )
    if water_c > (limit := setting("sed_hot_block", own)):
        return Fit(
            "block", f"the water is {water_c:.1f} °C, above {limit:g} °C: too warm to sedate"
        )
    if water_c < (limit := setting("sed_cold_warn", own)):
        return Fit(
            "warn",
            f"the water is {water_c:.1f} °C, below {limit:g} °C: the oil mixes badly, and the fish"
            " goes under and comes round slowly; do not raise the dose to hurry it",
        )
    if water_c > (limit := setting("sed_hot_warn", own)):
        return Fit(
            "warn",
            f"the water is {water_c:.1f} °C, above {limit:g} °C: it holds little oxygen,"
            " so aerate well and keep the time short",
        )
    return FIT


def days_between(water_c: float, own: Own = None) -> int:
    """Days [d] from one sedation of a fish to the next: 12, or 14 below 15 °C (derived).

    Five half-lives of eugenol in the liver of grass carp after 24 h at 10 mg/L (55.3 h) are 11.5
    days (Elimination kinetics of eugenol in grass carp, BMC Veterinary Research 2017); in carp
    after a short bath they are 18 to 47 h (Xu et al. 2023), in trout at 4 °C 61 h (Guénette et
    al. 2007). The longest is used; how often a fish may go through it has not been studied.
    """
    cold = water_c < setting("sed_cold_warn", own)
    return ceil(setting("sedation_spacing_cold" if cold else "sedation_spacing", own))


def since_last_sedation(days: int, water_c: float, own: Own = None) -> Fit:
    """Judge `days` [d] since the last sedation: blocked below `days_between`."""
    least = days_between(water_c, own)
    if days < least:
        return Fit("block", f"sedated {days} days ago; {least} must lie between")
    return FIT


def days_before_departure(days: int, own: Own = None) -> Fit:
    """Judge a sedation `days` [d] before the fish travels: blocked below 7, a warning below 14.

    Derived from the 5.2 days after which carp were proposed to be free of eugenol (Xu et al.
    2023), with room for the fish to settle.
    """
    least, wanted = setting("sedate_to_show_gap", own), setting("sedate_to_show_warn", own)
    if days < least:
        return Fit("block", f"only {days} days before departure; at least {least:g} are needed")
    if days < wanted:
        return Fit("warn", f"only {days} days before departure; {wanted:g} are better")
    return FIT


def days_after_move(days: int, own: Own = None) -> Fit:
    """Judge a sedation `days` [d] after the fish was moved: blocked below 14, a warning below 30.

    Common practice, no source.
    """
    least, wanted = setting("block_after_move", own), setting("warn_after_move", own)
    if days < least:
        return Fit("block", f"moved only {days} days before; it needs {least:g} to settle")
    if days < wanted:
        return Fit("warn", f"moved only {days} days before; {wanted:g} are better")
    return FIT


def days_after_spawning(days: int, own: Own = None) -> Fit:
    """Judge a sedation `days` [d] after spawning: blocked below 14 (assumption)."""
    least = setting("block_after_spawn", own)
    if days < least:
        return Fit("block", f"spawned only {days} days before; leave {least:g}")
    return FIT


def cold_drop_block(mean_on: MeanOn, day: date, own: Own = None) -> str | None:
    """Say why `day` is blocked by a fall of 8 °C or more in the 35 days up to it, or return None.

    A sudden cold spell weakens a carp's defences for weeks (after the work of Bly and Clem on
    catfish; the limit is derived). Any later day's mean is set against any earlier day's.
    """
    limit, span = setting("cold_drop", own), ceil(setting("cold_drop_days", own))
    warmest = mean_on(day - timedelta(days=span))
    worst = 0.0
    for back in range(span - 1, -1, -1):
        mean = mean_on(day - timedelta(days=back))
        worst = max(worst, warmest - mean)
        warmest = max(warmest, mean)
    if worst < limit - 1e-9:
        return None
    return (
        f"the water fell by {worst:.1f} °C within the last {span} days;"
        f" after a fall of {limit:g} °C a fish heals badly and is left alone"
    )
