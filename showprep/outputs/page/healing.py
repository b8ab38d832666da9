"""Healing curves: the warmth a wound has gathered, against what it needs, up to each show.

All are drawn over the same days and to the same scale, the usual need at one height, so that one
can be held against another.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date

from msgspec import Struct

from showprep.planning.plan import (
    VERDICT_ORDER,
    FishLine,
    HealingLine,
    Plan,
    ShowLine,
    Verdict,
    VerdictWord,
    worst,
)
from showprep.season.values.days import MONTHS

WIDTH, HEIGHT = 480, 216
LEFT, RIGHT, TOP, BOTTOM = 24, 116, 30, 26
MOST_POINTS = 40
MOST_MONTHS = 7  # named below a curve
APART = 15  # units between two labels
MOST_SHOWS = 4
NAME_ROOM = 84.0  # units the name of a month needs


class Tick(Struct, frozen=True):
    """The first of a month on the axis; `name` is empty where there is no room for it."""

    x: float
    name: str = ""


class TimeAxis(Struct, frozen=True):
    """Days across: `origin` is the ordinal of the first day drawn, `a_day` units wide."""

    origin: int
    days: int
    a_day: float

    @property
    def width(self) -> float:
        return round(self.days * self.a_day, 1)

    def x(self, day: date) -> float:
        """Where the start of `day` is drawn, kept inside the drawing."""
        number = min(max(day.toordinal() - self.origin, 0), self.days)
        return round(number * self.a_day, 1)

    def shows(self, day: date) -> bool:
        return 0 <= day.toordinal() - self.origin <= self.days

    def ticks(self) -> tuple[Tick, ...]:
        """The first of each month by name; a part of one at the start has its name too."""
        made = []
        first = date.fromordinal(self.origin)
        if first.day < 20 and first.day != 1:
            made.append(Tick(0.0, MONTHS[first.month - 1]))
        for number in range(self.days):
            day = date.fromordinal(self.origin + number)
            x = round(number * self.a_day, 1)
            if day.day == 1 and x < self.width - NAME_ROOM:
                made.append(Tick(x, MONTHS[day.month - 1]))
        return tuple(made)


class NeedLine(Struct, frozen=True):
    """A requirement: a line across with its name."""

    name: str
    amount: float
    y: float
    label_y: float


class Deadline(Struct, frozen=True):
    """A show the wound should be healed for."""

    show: ShowLine
    healing: HealingLine
    x: float
    number: int


class Curve(Struct, frozen=True):
    """One wound and milestone; `of` is the healing all its deadlines share."""

    fish: FishLine
    of: HealingLine
    points: str
    needs: tuple[NeedLine, ...]
    deadlines: tuple[Deadline, ...]
    crossings: tuple[tuple[float, float], ...]
    today_x: float | None
    planned: bool  # a wound there is, or a touch-up that is planned
    outcome: VerdictWord  # for the shows it is entered in, or else for all of them
    months: tuple[Tick, ...]


class Frame(Struct, frozen=True):
    """What every curve is drawn in: days across, shares of the usual need up to `most`."""

    days: TimeAxis
    most: float

    def x(self, day: date) -> float:
        return round(LEFT + self.days.x(day), 1)

    def y(self, share: float) -> float:
        return round(HEIGHT - BOTTOM - min(share / self.most, 1.0) * (HEIGHT - TOP - BOTTOM), 1)

    @property
    def months(self) -> tuple[Tick, ...]:
        """The first of each month, of many only every second or third by name."""
        named = [tick for tick in self.days.ticks() if tick.name]
        every = -(-len(named) // MOST_MONTHS)
        return tuple(
            Tick(round(LEFT + tick.x, 1), tick.name[:3] if number % every == 0 else "")
            for number, tick in enumerate(named)
        )


def frame_of(healings: Sequence[HealingLine]) -> Frame:
    """The frame that holds all of these."""
    first = min(one.curve[0][0].toordinal() for one in healings)
    last = max(one.curve[-1][0].toordinal() for one in healings)
    days = max(last - first, 1)
    most = max(max(one.high, one.usual) / _usual(one) for one in healings)
    return Frame(TimeAxis(first, days, (WIDTH - LEFT - RIGHT) / days), most * 1.08)


def _usual(healing: HealingLine) -> float:
    return max(healing.usual, 1.0)


def healing_curves(plan: Plan) -> tuple[Curve, ...]:
    """A curve for each wound; a milestone that is safely in time for every show has none.

    The wounds that are not in time come first.
    """
    fish = {one.id: one for one in plan.fish}
    shows = {one.id: one for one in plan.shows}
    groups: dict[tuple[object, ...], list[tuple[Verdict, HealingLine]]] = {}
    for verdict in plan.verdicts:
        for healing in verdict.healing:
            key = (
                verdict.fish,
                healing.defect,
                healing.where,
                healing.start,
                healing.water,
                healing.milestone,
            )
            groups.setdefault(key, []).append((verdict, healing))
    drawn = {
        key: some
        for key, some in groups.items()
        if key[0] in fish and any(one.curve for _, one in some)
    }
    if not drawn:
        return ()
    frame = frame_of([one for some in drawn.values() for _, one in some if one.curve])
    curves = [
        _curve(fish[str(key[0])], some, shows, plan.planned_on, frame)
        for key, some in drawn.items()
    ]
    planned = {_wound(curve) for curve in curves if curve.planned}
    kept = [
        curve
        for curve in curves
        if not _goes_without_saying(curve) and (curve.planned or _wound(curve) not in planned)
    ]

    def worst_first(one: Curve) -> tuple[bool, int]:
        return not one.planned, -VERDICT_ORDER.index(one.outcome)

    return tuple(sorted(kept, key=worst_first))


def _wound(curve: Curve) -> tuple[str, str, str]:
    return curve.fish.id, curve.of.defect, curve.of.where


def _goes_without_saying(curve: Curve) -> bool:
    """A wound that is closed in time for every show: the curve until it is clean says more."""
    return curve.of.milestone == "closed" and curve.outcome == "ready"


def _curve(
    fish: FishLine,
    some: Sequence[tuple[Verdict, HealingLine]],
    shows: dict[str, ShowLine],
    today: date,
    frame: Frame,
) -> Curve:
    longest = max((one for _, one in some), key=lambda one: len(one.curve))
    known = [(verdict, one) for verdict, one in some if verdict.show in shows]
    top, x = frame.most * _usual(longest), frame.x

    def y(amount: float) -> float:
        return frame.y(amount / _usual(longest))

    known.sort(key=lambda pair: (pair[1].deadline, pair[0].show))
    shown = _told(known)
    deadlines = tuple(
        Deadline(shows[verdict.show], one, x(one.deadline), number)
        for number, (verdict, one) in enumerate(shown, start=1)
    )
    crossed = [(longest.usual_on, longest.usual), (longest.high_on, longest.high)]
    return Curve(
        fish=fish,
        of=longest,
        points=" ".join(
            f"{x(day):g},{y(amount):g}" for day, amount in _thinned(longest.curve, top)
        ),
        needs=tuple(_needs(longest, y)),
        deadlines=deadlines,
        crossings=tuple((x(day), y(amount)) for day, amount in crossed if day is not None),
        today_x=x(today) if frame.days.shows(today) else None,
        planned=any(verdict.is_planned(one) for verdict, one in some),
        outcome=worst(one.verdict for verdict, one in known if verdict.entered)
        or worst(one.verdict for _, one in known)
        or "tight",
        months=frame.months,
    )


def _told(known: list[tuple[Verdict, HealingLine]]) -> list[tuple[Verdict, HealingLine]]:
    """Where there are many shows, those it is entered in, or else the first ones."""
    if len(known) <= MOST_SHOWS:
        return known
    entered = [pair for pair in known if pair[0].entered]
    return entered or known[:MOST_SHOWS]


def _thinned(curve: Sequence[tuple[date, float]], top: float) -> list[tuple[date, float]]:
    """Few enough points to stay small, ending where the curve leaves the picture."""
    inside = [point for point in curve if point[1] <= top]
    stride = max(1, len(inside) // MOST_POINTS)
    return [point for n, point in enumerate(inside) if n % stride == 0 or n == len(inside) - 1]


def _needs(healing: HealingLine, y: Callable[[float], float]) -> Iterable[NeedLine]:
    rows = (("quick", healing.low), ("usual", healing.usual), ("slow case", healing.high))
    label = float(HEIGHT - BOTTOM + APART)
    for name, amount in rows:
        at = y(amount)
        label = min(at, label - APART)
        yield NeedLine(name, amount, at, label)
