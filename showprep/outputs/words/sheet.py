"""A worksheet as text, in the order of the work, before it is laid out on paper or on a page."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

Section = tuple[str, tuple[str, ...]]

MARKS = "[p] published [d] derived [c] practice [a] assumed [o] ours: docs/worksheets.md"


KEPT = "\u00a0"  # a space at which no line ends


def with_its_word(text: str) -> str:
    """The text with every box to tick kept in the line of its word."""
    return text.replace("[ ] ", f"[{KEPT}]{KEPT}")


class Sheet(Struct, frozen=True):
    """A sheet to print: sections, each a heading and its lines.

    `always` is said at the top and again at the bottom of every page; `notices` come before all
    sections; `foot` closes the sheet.
    """

    title: str
    sections: tuple[Section, ...]
    always: str = ""
    notices: tuple[str, ...] = ()
    foot: str = ""
    day: date | None = None  # of a session
    packs_for: str | None = None  # the show that it is the packing list of
    large: tuple[str, ...] = ()  # lines among those of the sections that stand alone, in large type

    @property
    def whole(self) -> tuple[Section, ...]:
        """Everything as sections, for a page that knows only those."""
        top = (self.always, *self.notices) if self.always else self.notices
        end = tuple(line for line in (self.always, self.foot) if line)
        first = (("First", top),) if top else ()
        last = (("Last", end),) if end else ()
        return (*first, *self.sections, *last)
