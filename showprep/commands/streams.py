"""The standard streams: the same bytes on any machine, and none that is missing."""

from __future__ import annotations

import io
import os
import sys

NAMES = (("stdin", "r"), ("stdout", "w"), ("stderr", "w"))


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
