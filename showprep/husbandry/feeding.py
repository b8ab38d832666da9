"""How much koi are fed: by temperature, before a show, and after one.

Fasting itself is in `fasting` and offered here too, since keepers think of it as feeding.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct

from showprep.husbandry.fasting import (
    Fast,
    Purpose,
    fast_days,
    fast_loss_percent,
    fast_warning,
)
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import water_temperature

__all__ = [
    "Fast",
    "FeedCut",
    "Purpose",
    "Ration",
    "RationStep",
    "RefeedingStep",
    "colour_food_days_before",
    "fast_days",
    "fast_loss_percent",
    "fast_warning",
    "feed_cuts",
    "ration",
    "refeeding_steps",
    "share_on",
]


class RationStep(Struct, frozen=True):
    """Daily feed [% of body weight] from `from_c` up to, not with, `below_c` [°C]."""

    from_c: float
    below_c: float
    low: float
    typical: float
    high: float
    feeds: str
    diet: str


class Ration(Struct, frozen=True):
    """Feed for one day [% of body weight]: low, typical, high; how often; and what."""

    low: float
    typical: float
    high: float
    feeds: str
    diet: str


class FeedCut(Struct, frozen=True):
    """From `days_before` [d] judging, only the share `share` of the full ration is fed."""

    days_before: int
    share: float


class RefeedingStep(Struct, frozen=True):
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


def feed_cuts(figures: FiguresInForce) -> tuple[FeedCut, ...]:
    """Return the two cuts before a show: half from 60 days, a quarter from 30 (common practice).

    A quarter of a summer ration lies below what a young carp needs to hold its weight, so thin
    and young fish should be excused.
    """
    return (
        FeedCut(round(figures["feed_cut_first"]), figures["feed_cut_first_share"]),
        FeedCut(round(figures["feed_cut_second"]), figures["feed_cut_second_share"]),
    )


def share_on(days_before: int, figures: FiguresInForce) -> float:
    """Return the share of the full ration fed `days_before` judging, by `feed_cuts`."""
    return min(
        (cut.share for cut in feed_cuts(figures) if days_before <= cut.days_before), default=1.0
    )


def colour_food_days_before(figures: FiguresInForce) -> int:
    """Days before judging [d] on which colour food stops (60; guides say 30 to 90)."""
    return round(figures["colour_stop"])


def refeeding_steps(figures: FiguresInForce) -> tuple[RefeedingStep, ...]:
    """Return the way back to the full ration after coming home (common practice, assumption).

    Nothing on the day of return and the next, a third for three days, 60 % until day 7, then all.
    """
    wait = round(figures["refeed_wait"])
    ramp = max(round(figures["refeed_ramp"]), wait + 3)
    return (
        RefeedingStep(0, wait - 1, 0.0),
        RefeedingStep(wait, wait + 2, figures["refeed_share"]),
        RefeedingStep(wait + 3, ramp, figures["refeed_share_later"]),
        RefeedingStep(ramp + 1, None, 1.0),
    )
