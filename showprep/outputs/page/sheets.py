"""The sheets to print, one page each; what is too much for a page is dealt out over several."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from showprep.outputs.page.paper import NORMAL
from showprep.planning.plan import FishLine, ShowLine, Task, Verdict
from showprep.planning.worksheets.sheet import Section, Sheet


@dataclass(frozen=True, slots=True)
class Entrant:
    """A fish on a sheet, with what was said of it."""

    fish: FishLine
    verdict: Verdict | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """One printed page: `kind` picks its layout; `number` of `count` when it is dealt out.

    `brief` leaves the notes of jobs out, `log` gives room to write day by day, `dense` is set
    in smaller type.
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
    cautions: tuple[str, ...] = ()
    sections: tuple[Section, ...] = ()
    verdicts: tuple[tuple[ShowLine, Verdict], ...] = ()
    brief: bool = False
    log: bool = False
    dense: bool = False

    @property
    def anchor(self) -> str:
        return f"sheet-{self.key}" + (f"-{self.number}" if self.number > 1 else "")


def numbered(pages: Sequence[Page]) -> Iterable[Page]:
    """Pages of one sheet, each saying which it is of how many."""
    for number, page in enumerate(pages, start=1):
        yield replace(page, number=number, count=len(pages))


def worksheet_pages(worksheets: Sequence[Sheet]) -> Iterable[Page]:
    """Worksheets as pages: a long one goes on over a second page, at a line's end."""
    for at, sheet in enumerate(worksheets):
        hands = list(_filled(sheet.whole, NORMAL.room(sheet.title)))
        pages = [Page("worksheet", f"work-{at}", sheet.title, sections=hand) for hand in hands]
        yield from numbered(pages)


def _filled(sections: Iterable[Section], room: float) -> Iterable[tuple[Section, ...]]:
    """Deal lines out to pages, repeating a heading where its lines go on."""
    page: list[Section] = []
    used = 0.0
    for heading, texts in sections:
        kept: list[str] = []
        used += NORMAL.heading
        for text in texts:
            height = NORMAL.text(text, 3) + 0.1
            if used + height > room and (page or kept):
                if kept:
                    page.append((heading, tuple(kept)))
                yield tuple(page)
                page, kept, used = [], [], NORMAL.heading
            kept.append(text)
            used += height
        page.append((heading, tuple(kept)))
    yield tuple(page)
