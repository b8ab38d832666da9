"""The best day for a touch-up: between too late to heal and so early that the speck is back."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from msgspec import Struct

BETTER_BY = 0.02
"""A planned day moves only for a chance better by this much (a rule of this program): moves fall
by almost half, and as many fish are clean."""


class TouchUpDay(Struct, frozen=True):
    """A day and the chance, 0 to 1, that a judge sees nothing after a touch-up on it."""

    day: date
    chance: float


def best_touch_up_day(
    days: Iterable[date],
    chance_on: Callable[[date], float],
    planned: date | None = None,
    better_by: float = BETTER_BY,
) -> TouchUpDay | None:
    """The day of the highest chance among `days`; of equal ones the earliest. None without days.

    The day already `planned`, if it is among them, stays unless another is better by `better_by`.
    """
    tried = [TouchUpDay(day, chance_on(day)) for day in sorted(set(days))]
    if not tried:
        return None
    best = max(tried, key=lambda one: one.chance)
    stands = next((one for one in tried if one.day == planned), None)
    if stands is not None and best.chance < stands.chance + better_by:
        return stands
    return best
