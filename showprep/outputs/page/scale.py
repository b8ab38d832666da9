"""Days to places on a drawing: nothing here is a date of the plan, only where one is drawn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from showprep.season.days import MONTHS

NAME_ROOM = 84.0
LOOK_BACK_DAYS = 35  # how much of the past is drawn
LONGEST = 500  # days drawn at most
WIDTH = 1150.0
LEAST_A_DAY, MOST_A_DAY = 3.0, 12.0


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on the axis; `name` is empty for a week's mark."""

    x: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class Scale:
    """Weeks across: `origin` is the ordinal of the first day drawn, `a_day` units wide."""

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
        """The first of each month by name, the other Mondays bare."""
        made = []
        first = date.fromordinal(self.origin)
        if first.day < 20 and first.day != 1:
            made.append(Tick(0.0, MONTHS[first.month - 1]))
        for number in range(self.days):
            day = date.fromordinal(self.origin + number)
            x = round(number * self.a_day, 1)
            if day.day == 1 and x < self.width - NAME_ROOM:
                year = f" {day.year}" if day.month == 1 else ""
                made.append(Tick(x, MONTHS[day.month - 1] + year))
            elif day.weekday() == 0:
                made.append(Tick(x))
        return tuple(made)


def scale_for(today: date, days: Iterable[date]) -> Scale:
    """A scale that shows every day given, from at most five weeks ago."""
    numbers = sorted(day.toordinal() for day in days)
    now = today.toordinal()
    first = max(min([*numbers, now]), now - LOOK_BACK_DAYS)
    first -= date.fromordinal(first).weekday()
    last = max([*numbers, now + 60]) + 10
    count = min(last - first, LONGEST)
    return Scale(first, count, min(max(WIDTH / count, LEAST_A_DAY), MOST_A_DAY))
