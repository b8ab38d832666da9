"""A worksheet as plain text that prints on A4 or Letter: 80 columns, 60 lines a page.

Both papers hold that much at ten characters and six lines to the inch, margins counted. What is
too long goes on over a further page, which begins and ends with the line that matters most.
"""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from showprep.outputs.words.sheet import KEPT, Sheet, with_its_word

COLUMNS = 80
LINES = 60
KEPT_WHOLE = 12  # lines of a section that is not torn
NEW_PAGE = "\f"


def paper_text(sheets: Iterable[Sheet], *, form_feed: bool = False) -> str:
    """The sheets as text; with `form_feed` a printer starts each page on a new leaf."""
    pages = [page for sheet in sheets for page in pages_of(sheet)]
    between = f"{NEW_PAGE if form_feed else ''}\n"
    return between.join("\n".join(page) + "\n" for page in pages)


def pages_of(sheet: Sheet) -> list[list[str]]:
    """The pages of one sheet, each at most 60 lines of at most 80 columns."""
    always = _wrapped(sheet.always)
    first = [line for notice in sheet.notices for line in _wrapped(notice)]
    foot = _wrapped(sheet.foot)
    room = LINES - 1 - 2 * len(always) - len(foot)
    bodies = _dealt(first, sheet, room)
    return [
        [_title(sheet.title, number, len(bodies)), *always, *body, *always, *foot]
        for number, body in enumerate(bodies, start=1)
    ]


def _title(title: str, number: int, count: int) -> str:
    right = f"page {number} of {count}" if count > 1 else ""
    room = COLUMNS - (len(right) + 2 if right else 0)
    left = title if len(title) <= room else f"{title[: room - 1]}…"
    return f"{left}{right:>{COLUMNS - len(left)}}" if right else left


def _dealt(first: list[str], sheet: Sheet, room: int) -> list[list[str]]:
    """Sections dealt out to pages.

    A short section is kept whole; a long one goes on over the page under its heading, at the end
    of one of its lines.
    """
    pages: list[list[str]] = []
    page = list(first)
    for heading, texts in sheet.sections:
        head = _wrapped(heading.upper())
        lines = [_wrapped(text, " ") for text in texts]
        height = len(head) + sum(map(len, lines))
        if page and height <= KEPT_WHOLE and len(page) + height > room:
            pages.append(page)
            page = []
        for number, line in enumerate(lines):
            above = head if number == 0 else []
            if page and len(page) + len(above) + len(line) > room:
                pages.append(page)
                page, above = [], head
            page += [*above, *line]
    return [*pages, page]


def _wrapped(text: str, indent: str = "") -> list[str]:
    if not text:
        return []
    found = wrap(
        with_its_word(text),
        COLUMNS,
        initial_indent=indent,
        subsequent_indent=indent + ("  " if indent else ""),
        break_on_hyphens=False,
    )
    return [line.replace(KEPT, " ") for line in found]
