"""Worksheets as printed pages: one page in smaller type or two columns if it must, else more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from showprep.outputs.page.paper import DENSE, FINE, NORMAL, Paper, lines
from showprep.outputs.page.sheets import Page, numbered
from showprep.outputs.words.sheet import Section, Sheet

WAYS: tuple[tuple[Paper, int], ...] = ((NORMAL, 1), (DENSE, 1), (DENSE, 2), (FINE, 2))
TWO_COLUMNS = 0.96  # of the room of both is used, as no line is broken between them
HEADING = 1.8  # lines
WIDER = 1.08  # lines without a box to tick are this much longer


def worksheet_pages(worksheets: Sequence[Sheet]) -> Iterable[Page]:
    """Each worksheet's pages; a long one goes on over a second page, at a line's end."""
    for at, sheet in enumerate(worksheets):
        body = (("", sheet.notices), *sheet.sections) if sheet.notices else sheet.sections
        for paper, columns in WAYS:
            beside = 2 * (paper.text(sheet.always) + 0.8) if sheet.always else 0.0
            beside += paper.text(sheet.foot) if sheet.foot else 0.0
            room = (paper.room(sheet.title) - beside) * (2 * TWO_COLUMNS if columns == 2 else 1)
            hands = list(_filled(body, int(WIDER * paper.across / columns), room))
            if len(hands) == 1:
                break
        pages = [
            Page(
                kind="worksheet",
                key=f"work-{at}",
                title=sheet.title,
                sections=hand,
                style=paper.style,
                columns=columns,
                always=sheet.always,
                foot=sheet.foot,
            )
            for hand in hands
        ]
        yield from numbered(pages)


def _filled(sections: Iterable[Section], across: int, room: float) -> Iterable[tuple[Section, ...]]:
    """Deal lines out to pages, repeating a heading where its lines go on."""
    page: list[Section] = []
    used = 0.0
    for heading, texts in sections:
        kept: list[str] = []
        used += HEADING if heading else 0.5
        for text in texts:
            height = lines(text, across) + 0.1
            if used + height > room and (page or kept):
                if kept:
                    page.append((heading, tuple(kept)))
                yield tuple(page)
                page, kept, used = [], [], HEADING
            kept.append(text)
            used += height
        page.append((heading, tuple(kept)))
    yield tuple(page)
