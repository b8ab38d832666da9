"""A console that reads the same at 80 columns, in a pipe and in any language."""

from __future__ import annotations

import re
import sys
from io import TextIOBase
from typing import IO, cast

from rich.console import Console

from showprep.season.values.quantities import Units, show_length

PIPE_COLUMNS = 80


class _Trimmed(TextIOBase):
    """Standard output without the spaces that fill a table's lines."""

    def write(self, text: str) -> int:
        sys.stdout.write(re.sub(r" +$", "", text, flags=re.MULTILINE))
        return len(text)

    def flush(self) -> None:
        sys.stdout.flush()


def plain_console() -> Console:
    """Colour and the terminal's width at a terminal; plain text of 80 columns in a pipe."""
    at_terminal = sys.stdout.isatty()
    return Console(
        highlight=False,
        markup=False,
        emoji=False,
        width=None if at_terminal else PIPE_COLUMNS,
        no_color=None if at_terminal else True,
        legacy_windows=False,
        file=None if at_terminal else cast(IO[str], _Trimmed()),
    )


def length_text(cm: float, units: Units) -> str:
    return show_length(cm, units)
