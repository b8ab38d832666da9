"""Does a calendar file keep every rule that phones rely on?

Readers forgive different things, and some faults none of them reports (line ends, missing time
zones, wrong onsets), so the bytes of every calendar that the tests have written are checked here.
Nothing of the writer is used: a fault there cannot hide itself here.
"""

from __future__ import annotations

import re

from tests.outputs.calendar.lint_calendar import calendar_faults
from tests.outputs.calendar.lint_parts import parts_of

LONGEST_LINE = 75  # octets, without the line end: RFC 5545 §3.1
_BAD_CHARACTERS = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufdd0-\ufdef\ufffe\uffff]"
)


def lint(data: bytes) -> list[str]:
    """Every rule that the bytes of a calendar break, in words, each with its line; empty when
    good. Lines are counted as they stand in the file, folded ones included."""
    faults = _byte_faults(data)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        return [*faults, f"line {line}: not UTF-8 (RFC 5545 §3.1.4)"]
    bad = _BAD_CHARACTERS.search(text)
    if bad:
        line = text.count("\n", 0, bad.start()) + 1
        faults.append(f"line {line}: the character U+{ord(bad[0]):04X} breaks readers")
    root, grammar = parts_of(text)
    faults.extend(grammar)
    if root is not None:
        faults.extend(calendar_faults(root))
    return faults


def _byte_faults(data: bytes) -> list[str]:
    faults = []
    if data.startswith(b"\xef\xbb\xbf"):
        faults.append("line 1: a byte order mark, which half of all readers refuse")
    whole = data.count(b"\r\n")
    if data.count(b"\n") != whole or data.count(b"\r") != whole:
        faults.append("line ends must be CR LF throughout (RFC 5545 §3.1)")
    if not data.endswith(b"\r\n"):
        faults.append("the last line has no end")
    lines = data.split(b"\r\n")
    if max(map(len, lines)) > LONGEST_LINE:
        number = next(n for n, line in enumerate(lines, 1) if len(line) > LONGEST_LINE)
        faults.append(f"line {number}: longer than {LONGEST_LINE} octets (RFC 5545 §3.1)")
    if not data.isascii():
        faults.extend(_fold_faults(lines))
    return faults


def _fold_faults(lines: list[bytes]) -> list[str]:
    for number, line in enumerate(lines, 1):
        if line.isascii():
            continue
        try:
            line.decode("utf-8")
        except UnicodeDecodeError:
            return [f"line {number}: not UTF-8, or folded inside a character (RFC 5545 §3.1)"]
    return []
