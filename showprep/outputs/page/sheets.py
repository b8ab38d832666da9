"""The sheets to print, one page each, and how what is too much for a page is dealt out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from showprep.planning.plan import FishLine, ShowLine, Task, Verdict

LINES_A_SHEET = 46
LETTERS_A_LINE = 86

Section = tuple[str, tuple[str, ...]]
Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Sheet:
    """A worksheet as text: sections, each a heading and its lines, printed as they are."""

    title: str
    sections: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class Entrant:
    """A fish on a sheet, with what was said of it."""

    fish: FishLine
    verdict: Verdict | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """One printed page: `kind` picks its layout; `number` of `count` when it is dealt out."""

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

    @property
    def anchor(self) -> str:
        return f"sheet-{self.key}" + (f"-{self.number}" if self.number > 1 else "")


def dealt(items: Sequence[Item], most: int) -> list[tuple[Item, ...]]:
    """Items dealt out evenly, at most so many a hand; one empty hand when there are none."""
    hands = max(1, -(-len(items) // most))
    each = -(-len(items) // hands)
    return [tuple(items[n * each : (n + 1) * each]) for n in range(hands)]


def numbered(pages: Sequence[Page]) -> Iterable[Page]:
    """Pages of one sheet, each saying which it is of how many."""
    for number, page in enumerate(pages, start=1):
        yield replace(page, number=number, count=len(pages))


def worksheet_pages(worksheets: Sequence[Sheet]) -> Iterable[Page]:
    """Worksheets as pages: a long one goes on over a second page, at a line's end."""
    for at, sheet in enumerate(worksheets):
        hands = list(_filled(sheet.sections))
        pages = [Page("worksheet", f"work-{at}", sheet.title, sections=hand) for hand in hands]
        yield from numbered(pages)


def _filled(sections: Iterable[Section]) -> Iterable[tuple[Section, ...]]:
    """Deal lines out to pages by their length, repeating a heading where it goes on."""
    page: list[Section] = []
    used = 0
    for heading, lines in sections:
        kept: list[str] = []
        used += 3
        for line in lines:
            height = _height(line)
            if used + height > LINES_A_SHEET and (page or kept):
                if kept:
                    page.append((heading, tuple(kept)))
                yield tuple(page)
                page, kept, used = [], [], 3
            kept.append(line)
            used += height
        page.append((heading, tuple(kept)))
    yield tuple(page)


def _height(line: str) -> int:
    return max(1, -(-len(line) // LETTERS_A_LINE))
