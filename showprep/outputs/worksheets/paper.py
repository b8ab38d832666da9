"""A worksheet as plain text that prints on A4 or Letter: 80 columns, 60 lines a page.

Both papers hold that much at ten characters and six lines to the inch, margins counted. What is
too long goes on over a further page, which begins and ends with the line that matters most.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from showprep.planning.worksheets.sheet import Sheet

COLUMNS = 80
LINES = 60
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
    bodies = _dealt(first, list(_blocks(sheet)), room)
    return [
        [_title(sheet.title, number, len(bodies)), *always, *body, *always, *foot]
        for number, body in enumerate(bodies, start=1)
    ]


def _title(title: str, number: int, count: int) -> str:
    right = f"page {number} of {count}" if count > 1 else ""
    room = COLUMNS - (len(right) + 2 if right else 0)
    left = title if len(title) <= room else f"{title[: room - 1]}…"
    return f"{left}{right:>{COLUMNS - len(left)}}" if right else left


def _blocks(sheet: Sheet) -> Iterator[tuple[str, list[str]]]:
    """Each line of each section with its heading, wrapped."""
    for heading, lines in sheet.sections:
        for line in lines:
            yield heading, _wrapped(line, " ")


def _dealt(first: list[str], blocks: list[tuple[str, list[str]]], room: int) -> list[list[str]]:
    """Blocks dealt out to pages; none is torn, and a heading is said again where it goes on."""
    pages: list[list[str]] = []
    page, under = list(first), ""
    for heading, lines in blocks:
        head = [] if heading == under else [*_wrapped(heading.upper())]
        if page and len(page) + len(head) + len(lines) > room:
            pages.append(page)
            page, head = [], _wrapped(heading.upper())
        page += [*head, *lines]
        under = heading
    return [*pages, page]


def _wrapped(text: str, indent: str = "") -> list[str]:
    if not text:
        return []
    return wrap(
        text,
        COLUMNS,
        initial_indent=indent,
        subsequent_indent=indent + ("  " if indent else ""),
        break_on_hyphens=False,
    )
