"""How much room things take on a printed page, in lines of its text.

Estimates, on the wide side: a page is as wide as A4 and as high as Letter, the typeface a wide
one. The tests print the sheets and count the pages.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from showprep.husbandry.reason import Reason, Value
from showprep.planning.plan import Task

POINT = 25.4 / 72  # mm
HEIGHT = 279.4 - 24 - 9  # mm of a Letter page, less its margins and the foot of the sheet
TITLE = 10.0  # mm a line of a sheet's title
TITLE_ACROSS = 42  # letters in it
LOG_DAYS = 9  # rows

Item = TypeVar("Item")
Say = Callable[[Value], str]  # puts what is told into words


@dataclass(frozen=True, slots=True)
class Paper:
    """A page set in type of a given size [pt], its lines `leading` times as high."""

    style: str  # the sheet's class
    size: float
    leading: float = 1.35

    def mm(self, height: float) -> float:
        """Lines that a height [mm] takes."""
        return height / (self.size * POINT * self.leading)

    def room(self, title: str) -> float:
        """Lines below a sheet's title."""
        return self.mm(HEIGHT - 6 - TITLE * lines(title, TITLE_ACROSS))

    @property
    def across(self) -> int:
        """Letters in a line."""
        return round(80 * 12.5 / self.size)

    @property
    def heading(self) -> float:
        """Lines of a heading within a sheet."""
        return 1.4 + self.mm(5)

    @property
    def log_days(self) -> float:
        """Lines of the table that is filled in day by day."""
        return self.heading + self.mm(9.2) * LOG_DAYS + 1

    def text(self, text: str, indent: int = 0) -> float:
        return lines(text, self.across - indent)

    def job(self, say: Say, task: Task, *, brief: bool, cautions: bool = False) -> float:
        """Lines of a job with its day, and its note unless `brief`."""
        height = self.text(written(say, task), 5) + self.mm(1.7)
        if task.note and not brief:
            height += 0.9 * lines(say(task.note), self.across + 6)
        if cautions:
            height += sum(0.9 * lines(say(one), self.across + 4) for one in task.cautions[:2])
        return height

    def cautions(self, say: Say, cautions: Iterable[Reason]) -> float:
        return sum(self.text(say(caution), 4) + 0.3 for caution in cautions)


NORMAL, DENSE, FINE = Paper("", 12.5), Paper("dense", 10.5), Paper("fine", 9.6, 1.25)


def written(say: Say, task: Task) -> str:
    """A job's title with as many letters before it as its day and time take."""
    days = 14 if task.all_day else 21
    if task.start != task.end:
        days += 17 if task.all_day else 9
    return f"{'.' * days}{say(task.title)}"


def lines(text: str, across: int) -> float:
    """Lines that a text takes; the letters of some scripts are twice as wide as Latin ones."""
    wide = sum(2 if ord(letter) > 0x2E7F else 1 for letter in text)
    return float(max(1, -(-wide // across)))


def dealt(
    items: Sequence[Item], height: Callable[[Item], float], first: float, others: float
) -> list[tuple[Item, ...]]:
    """Deal items out to pages in order: so much room on the first page, so much on the others.

    The first page may stay without an item; every other page gets one at least.
    """
    pages: list[tuple[Item, ...]] = []
    hand: list[Item] = []
    room = first
    for item in items:
        need = height(item)
        if need > room and (hand or not pages):
            pages.append(tuple(hand))
            hand, room = [], others
        hand.append(item)
        room -= need
    pages.append(tuple(hand))
    return pages
