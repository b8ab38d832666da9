"""The standard streams: the same bytes on any machine, and none that is missing."""

from __future__ import annotations

import io
import os
import re
import sys
from collections.abc import Callable

# Controls in a name could move the cursor, set the title or hide words of a terminal. Colours stay,
# and so does the form feed before a line's end that begins a sheet on new paper.
_CONTROLS = re.compile("(\x1b\\[[0-9;]*m)|(?!\f\n)[\x00-\x08\x0b-\x1f\x7f-\x9f]")
_quiet = False
NAMES = (("stdin", "r"), ("stdout", "w"), ("stderr", "w"))


def hush(wanted: bool) -> None:
    """From now on say nothing but the answer, or say again what goes beside it."""
    global _quiet
    _quiet = wanted


def say(text: str, *, err: bool = False) -> None:
    """A line beside the answer (a note, what was written where), unless --quiet was asked for."""
    if not _quiet:
        print(text, file=sys.stderr if err else sys.stdout)


def make_ready() -> None:
    """Open what was closed, and write UTF-8 whatever the machine's language.

    A stream that was closed when the program began would leave its number to the next file that
    is opened, and what is printed would end up in it. A terminal keeps its own encoding; what it
    has no character for is shown as a question mark.
    """
    for name, mode in NAMES:
        if getattr(sys, name) is None:
            nowhere = os.open(os.devnull, os.O_RDONLY if mode == "r" else os.O_WRONLY)
            setattr(sys, name, os.fdopen(nowhere, mode, encoding="utf-8"))
    for stream in (sys.stdout, sys.stderr):
        if not isinstance(stream, io.TextIOWrapper):
            continue
        if stream.isatty():
            stream.reconfigure(errors="replace")
        else:
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
        written = _printable(stream.write, colours=stream is sys.stdout)
        stream.write = written  # type: ignore[method-assign]


def _printable(write: Callable[[str], int], *, colours: bool) -> Callable[[str], int]:
    """Write with controls shown as they are spelled, `\\x1b`; line ends and tabs are kept."""

    def shown(found: re.Match[str]) -> str:
        if colours and found[1]:
            return found[1]
        return f"\\x{ord(found[0][0]):02x}{found[0][1:]}"

    def printed(text: str) -> int:
        write(_CONTROLS.sub(shown, text))
        return len(text)

    return printed
