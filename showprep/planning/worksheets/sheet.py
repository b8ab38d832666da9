"""A worksheet as text, in the order of the work, and the words both worksheets share."""

from __future__ import annotations

from dataclasses import dataclass

from showprep.season.quantities import show_number

Section = tuple[str, tuple[str, ...]]

MARKS = "[p] published [d] derived [c] practice [a] assumed [o] ours: docs/worksheets.md"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet to print: sections, each a heading and its lines.

    `always` is said at the top and again at the bottom of every page; `notices` come before all
    sections; `foot` closes the sheet.
    """

    title: str
    sections: tuple[Section, ...]
    always: str = ""
    notices: tuple[str, ...] = ()
    foot: str = ""

    @property
    def whole(self) -> tuple[Section, ...]:
        """Everything as sections, for a page that knows only those."""
        top = (self.always, *self.notices) if self.always else self.notices
        end = tuple(line for line in (self.always, self.foot) if line)
        first = (("First", top),) if top else ()
        last = (("Last", end),) if end else ()
        return (*first, *self.sections, *last)


def show_millilitres(millilitres: float) -> str:
    """A dose as a syringe reads it: two decimals below 10 mL, one above; always metric."""
    return f"{show_number(millilitres, 2 if millilitres < 10 else 1, trim=False)} mL"


def show_minutes(low: float, high: float) -> str:
    """A span of minutes in whole or half ones: `2 to 7.5`."""
    short, long = round(low * 2) / 2, round(high * 2) / 2
    return f"{short:g} to {long:g}"


def sentence(words: str) -> str:
    """Words as a sentence: begun large, ended with a full stop."""
    begun = words[:1].upper() + words[1:]
    return begun if begun.endswith((".", "!", "?")) else f"{begun}."
