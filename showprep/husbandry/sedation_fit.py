"""Whether a fish and its water are fit for sedation on a day, and how far apart sedations lie.

Each check answers `fit`, `warn` or `block` with the reason. All are asked again on the day: none
of them replaces a look at the fish. What happened after the day does not count against it.
"""

from __future__ import annotations

from datetime import date, timedelta
from math import ceil, isfinite
from typing import Literal, NamedTuple

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.reason import Celsius, Kelvin, Reason, reason
from showprep.husbandry.thermal_time import MeanOn

Level = Literal["fit", "warn", "block"]


class Fit(NamedTuple):
    """The answer of one check: `fit`, `warn` or `block`, and why (nothing when fit)."""

    level: Level
    reason: Reason | None = None


FIT = Fit("fit")


def water_fit(water_c: float, figures: FiguresInForce) -> Fit:
    """Judge water of `water_c` [°C]: blocked below 10 or above 28, a warning below 15, above 26.

    Clove oil mixes poorly below about 15 °C (Woody et al. 2002); warm water holds little oxygen
    (derived). Raises ValueError if the temperature is not a number.
    """
    if not isfinite(water_c):
        raise ValueError("the water temperature of the bath is not a number")
    water = Celsius(round(water_c, 1))
    if water_c < (limit := figures["sed_cold_block"]):
        return Fit("block", reason("water-too-cold", water=water, limit=Celsius(limit)))
    if water_c > (limit := figures["sed_hot_block"]):
        return Fit("block", reason("water-too-warm", water=water, limit=Celsius(limit)))
    if water_c < (limit := figures["sed_cold_warn"]):
        return Fit("warn", reason("water-cold", water=water, limit=Celsius(limit)))
    if water_c > (limit := figures["sed_hot_warn"]):
        return Fit("warn", reason("water-warm", water=water, limit=Celsius(limit)))
    return FIT


def days_between(water_c: float, figures: FiguresInForce) -> int:
    """Days [d] from one sedation of a fish to the next: 12, or 14 below 15 °C (derived).

    Five half-lives of eugenol in the liver of grass carp after 24 h at 10 mg/L (55.3 h) are 11.5
    days (Elimination kinetics of eugenol in grass carp, BMC Veterinary Research 2017); in carp
    after a short bath they are 18 to 47 h (Xu et al. 2023), in trout at 4 °C 61 h (Guénette et
    al. 2007). The longest is used; how often a fish may go through it has not been studied.
    """
    cold = water_c < figures["sed_cold_warn"]
    return ceil(figures["sedation_spacing_cold" if cold else "sedation_spacing"])


def since_last_sedation(last: date, day: date, water_c: float, figures: FiguresInForce) -> Fit:
    """Judge `day` by the sedation of the day `last`: blocked within `days_between` of it."""
    wanted = days_between(water_c, figures)
    if 0 <= (day - last).days < wanted:
        return Fit("block", reason("sedated-lately", on=last, days=wanted))
    return FIT


def before_departure(day: date, departure: date, figures: FiguresInForce) -> Fit:
    """Judge `day` by the day the fish travels: blocked within 7 days of it, a warning within 14.

    Derived from the 5.2 days after which carp were proposed to be free of eugenol (Xu et al.
    2023), with room for the fish to settle.
    """
    days = (departure - day).days
    if days < figures["sedate_to_show_gap"] - 1e-9:
        return Fit("block", reason("journey-too-near", days=days))
    if days < figures["sedate_to_show_warn"] - 1e-9:
        return Fit("warn", reason("journey-near", days=days))
    return FIT


def since_move(moved: date, day: date, figures: FiguresInForce) -> Fit:
    """Judge `day` by a move on the day `moved`: blocked within 14 days of it, a warning within 30.

    Common practice, no source.
    """
    days = (day - moved).days
    least, wanted = ceil(figures["block_after_move"]), ceil(figures["warn_after_move"])
    if 0 <= days < least:
        return Fit("block", reason("moved-lately", on=moved, days=least))
    if 0 <= days < wanted:
        return Fit("warn", reason("moved-not-long-ago", on=moved, days=wanted))
    return FIT


def since_spawning(spawned: date, day: date, figures: FiguresInForce) -> Fit:
    """Judge `day` by a spawning on the day `spawned`: blocked within 14 days of it (assumption)."""
    least = ceil(figures["block_after_spawn"])
    if 0 <= (day - spawned).days < least:
        return Fit("block", reason("spawned-lately", on=spawned, days=least))
    return FIT


def cold_drop_block(mean_on: MeanOn, day: date, figures: FiguresInForce) -> Reason | None:
    """Say why `day` is blocked by a fall of 8 °C or more in the 35 days up to it, or return None.

    A sudden cold spell weakens a carp's defences for weeks (after the work of Bly and Clem on
    catfish; the limit is derived). Any later day's mean is set against any earlier day's.
    """
    limit, span = figures["cold_drop"], ceil(figures["cold_drop_days"])
    warmest = mean_on(day - timedelta(days=span))
    worst = 0.0
    for back in range(span - 1, -1, -1):
        mean = mean_on(day - timedelta(days=back))
        worst = max(worst, warmest - mean)
        warmest = max(warmest, mean)
    if worst < limit - 1e-9:
        return None
    return reason("cold-drop", fall=Kelvin(round(worst, 1)), days=span, limit=Kelvin(limit))
