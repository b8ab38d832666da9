"""The sheets to print, one page each; what is too much for a page is dealt out over several."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from showprep.husbandry.reason import Reason
from showprep.outputs.words.sheet import Section
from showprep.planning.plan import FishLine, ShowLine, Task, Verdict


@dataclass(frozen=True, slots=True)
class Entrant:
    """A fish on a sheet, with what was said of it."""

    fish: FishLine
    verdict: Verdict | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """One printed page: `kind` picks its layout; `number` of `count` when it is dealt out.

    `brief` leaves the notes of jobs out, `log` gives room to write day by day, `style` is the
    size of its type, `columns` deals the sections out side by side. `always` stands at the top and
    at the bottom.
    """

    kind: str
    key: str
    title: str
    number: int = 1
    count: int = 1
    day: date | None = None
    show: ShowLine | None = None
    entrants: tuple[Entrant, ...] = ()
    tasks: tuple[Task, ...] = ()
    more_tasks: int = 0
    cautions: tuple[Reason, ...] = ()
    sections: tuple[Section, ...] = ()
    verdicts: tuple[tuple[ShowLine, Verdict], ...] = ()
    brief: bool = False
    log: bool = False
    style: str = ""
    columns: int = 1
    always: str = ""
    foot: str = ""

    @property
    def anchor(self) -> str:
        return f"sheet-{self.key}" + (f"-{self.number}" if self.number > 1 else "")


def numbered(pages: Sequence[Page]) -> Iterable[Page]:
    """Pages of one sheet, each saying which it is of how many."""
    for number, page in enumerate(pages, start=1):
        yield replace(page, number=number, count=len(pages))
