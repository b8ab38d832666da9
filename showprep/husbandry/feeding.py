"""How much koi are fed: by temperature, before a show, and after one.

Fasting itself is in `fasting` and offered here too, since keepers think of it as feeding.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import exp, log

from showprep.husbandry.fasting import (
    Fast,
    Own,
    Purpose,
    fast_days,
    fast_loss_percent,
    fast_warning,
)
from showprep.husbandry.figures import setting
from showprep.husbandry.plausible import water_temperature

__all__ = [
    "Fast",
    "FeedCut",
    "Purpose",
    "Ration",
    "RationStep",
    "RefeedingStep",
    "colour_food_days_before",
    "colour_food_least_c",
    "fast_days",
    "fast_loss_percent",
    "fast_warning",
    "feed_cuts",
    "maintenance_percent",
    "ration",
    "refeeding_steps",
    "share_on",
]

# Goolish & Adelman 1984, Aquaculture 36:27-35, juvenile carp: °C, % of body weight a day.
_MAINTENANCE = ((12.0, 0.40), (18.0, 0.75), (24.0, 1.20), (30.0, 1.90))


@dataclass(frozen=True, slots=True)
class RationStep:
    """Daily feed [% of body weight] from `from_c` up to, not with, `below_c` [°C]."""

    from_c: float
    below_c: float
    low: float
    typical: float
    high: float
    feeds: str
    diet: str


@dataclass(frozen=True, slots=True)
class Ration:
    """Feed for one day [% of body weight]: low, typical, high; how often; and what."""

    low: float
    typical: float
    high: float
    feeds: str
    diet: str


@dataclass(frozen=True, slots=True)
class FeedCut:
    """From `days_before` [d] judging, only the share `share` of the full ration is fed."""

    days_before: int
    share: float


@dataclass(frozen=True, slots=True)
class RefeedingStep:
    """From `from_day` to `to_day` after coming home (day 0), both included; `share` of ration."""

    from_day: int
    to_day: int | None
    share: float


def ration(steps: Sequence[RationStep], water_c: float, share: float = 1.0) -> Ration:
    """Return the ration of the step that holds `water_c` [°C], cut to `share` of it.

    Colder than the first step or warmer than the last takes the nearer end. Raises ValueError
    for an empty table, steps out of order or with a gap, or an impossible temperature.
    """
    water_temperature(water_c)
    if not steps:
        raise ValueError("the feeding table has no steps")
    for one, two in pairwise(steps):
        if one.below_c != two.from_c:
            raise ValueError(
                f"the feeding table must go on where a step ends: after {one.below_c:g} °C"
                f" comes {two.from_c:g} °C"
            )
    if not 0 <= share <= 1:
        raise ValueError(f"a share of the ration must lie between 0 and 1; {share:g} was given")
    step = next((row for row in steps if water_c < row.below_c), steps[-1])
    return Ration(step.low * share, step.typical * share, step.high * share, step.feeds, step.diet)


def feed_cuts(own: Own = None) -> tuple[FeedCut, ...]:
    """Return the two cuts before a show: half from 60 days, a quarter from 30 (common practice).

    A quarter of a summer ration lies below what a young carp needs to hold its weight, so thin
    and young fish should be excused.
    """
    return (
        FeedCut(round(setting("feed_cut_first", own)), setting("feed_cut_first_share", own)),
        FeedCut(round(setting("feed_cut_second", own)), setting("feed_cut_second_share", own)),
    )


def share_on(days_before: int, own: Own = None) -> float:
    """Return the share of the full ration fed `days_before` judging, by `feed_cuts`."""
    return min((cut.share for cut in feed_cuts(own) if days_before <= cut.days_before), default=1.0)


def colour_food_days_before(own: Own = None) -> int:
    """Days before judging [d] on which colour food stops (60; guides say 30 to 90)."""
    return round(setting("colour_stop", own))


def colour_food_least_c(own: Own = None) -> float:
    """Coldest water [°C] in which colour food is worth feeding (20, common practice)."""
    return setting("colour_least_c", own)


def refeeding_steps(own: Own = None) -> tuple[RefeedingStep, ...]:
    """Return the way back to the full ration after coming home (common practice, assumption).

    Nothing on the day of return and the next, a third for three days, 60 % until day 7, then all.
    """
    wait = round(setting("refeed_wait", own))
    ramp = max(round(setting("refeed_ramp", own)), wait + 3)
    return (
        RefeedingStep(0, wait - 1, 0.0),
        RefeedingStep(wait, wait + 2, setting("refeed_share", own)),
        RefeedingStep(wait + 3, ramp, setting("refeed_share_later", own)),
        RefeedingStep(ramp + 1, None, 1.0),
    )


def maintenance_percent(water_c: float) -> float:
    """Feed that just holds a young carp's weight [% of body weight a day] at `water_c` [°C].

    Goolish & Adelman 1984: 0.40 at 12, 0.75 at 18, 1.20 at 24, 1.90 at 30 °C; between them on a
    logarithmic scale, and beyond them along the nearest pair (derived). Large koi need less.
    """
    water_temperature(water_c)
    pairs = tuple(pairwise(_MAINTENANCE))
    (low_c, low), (high_c, high) = next((p for p in pairs if water_c < p[1][0]), pairs[-1])
    return low * exp(log(high / low) * (water_c - low_c) / (high_c - low_c))
