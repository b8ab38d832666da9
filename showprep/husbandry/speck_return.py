"""How long a speck that was taken off stays away.

No published figure was found. Four, eight and sixteen weeks for the 5, 50 and 95 % points are an
assumption; of all figures it is the weakest, and it decides most. The days count from the
touch-up, and the return is taken as independent of the healing (assumption: if fish that heal
fast regrow pigment fast too, chances are lower).
"""

from __future__ import annotations

from collections.abc import Iterable

from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.yard_pace import Known, known_from

RETURN_WEEKS = SplitLogNormal(4.0, 8.0, 16.0)
"""Weeks until a speck is back, 5, 50 and 95 % points (assumption): a keeper may know better."""

DAYS_PER_WEEK = 7.0


def known_return(
    weeks: SplitLogNormal,
    looks_weeks: Iterable[tuple[float, float]] = (),
) -> Known:
    """What is known of the return of specks in one yard, `weeks` being what is taken at first.

    A look (above, at most) bounds the weeks of one speck: (5, infinity) was not back after five
    weeks; (5, 7) was seen clean at five and back at seven.
    """
    return known_from(weeks, looks_weeks)


def chance_not_back(known: Known, days: float, clean_at_days: float = 0.0) -> float:
    """The chance that a speck is not back `days` [d] after the touch-up, 0 to 1.

    `clean_at_days` [d] after the touch-up it was last seen not to be back.
    """
    return known.share_above(days / DAYS_PER_WEEK, clean_at_days / DAYS_PER_WEEK)
