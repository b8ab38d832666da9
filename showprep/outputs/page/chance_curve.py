"""The chance that nothing shows, by the day of the touch-up: a small curve beside its words."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from showprep.planning.plan import PlannedTouchUp, TouchUpChance

WIDTH, HEIGHT = 120, 32
MOST_POINTS = 16


class ChanceCurve(Struct, frozen=True):
    """From the first day to the last; `marked` is the day planned, or else the best fit one."""

    first: date
    last: date
    points: str
    marked: TouchUpChance
    planned: bool
    x: float
    y: float


def chance_curve(touch_up: PlannedTouchUp) -> ChanceCurve | None:
    """The curve of one touch-up; None where it has no day to mark."""
    day = touch_up.day or touch_up.best
    at = next((n for n, one in enumerate(touch_up.curve) if one.day == day), None)
    if at is None or len(touch_up.curve) < 2:
        return None
    last = len(touch_up.curve) - 1
    step = -(-last // MOST_POINTS)
    drawn = sorted({*range(0, last, step), at, last})

    def place(number: int) -> tuple[float, float]:
        share = touch_up.curve[number].both
        return round(number / last * WIDTH, 1), round(HEIGHT * (1 - share), 1)

    x, y = place(at)
    return ChanceCurve(
        first=touch_up.curve[0].day,
        last=touch_up.curve[last].day,
        points=" ".join(f"{x:g},{y:g}" for x, y in map(place, drawn)),
        marked=touch_up.curve[at],
        planned=touch_up.day is not None,
        x=x,
        y=y,
    )
