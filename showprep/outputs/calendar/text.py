"""Text that every calendar reads back as it was meant."""

from __future__ import annotations

import re
import unicodedata

SUMMARY_LONGEST = 72  # characters; a phone shows fewer in a list, an alarm more (own judgement)

_BREAKS = re.compile("\r\n|[\r\n\x0b\x0c\x85\u2028\u2029]")
# Controls are not allowed in TEXT (RFC 5545 §3.3.11). The byte order mark, lone surrogates and
# noncharacters cannot be carried by every reader, nor by the XML of a calendar server.
_DROPPED = re.compile(
    "[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\ufeff\ud800-\udfff\ufdd0-\ufdef"
    + "".join(chr(plane * 0x10000 + 0xFFFE) + chr(plane * 0x10000 + 0xFFFF) for plane in range(17))
    + "]"
)
_JOINER = "\u200d"


def clean(text: str) -> str:
    """`text` without what breaks calendars; lines end with a bare newline.

    A backslash becomes a slash: several readers take a backslash before an `n` for a new line,
    however well it is escaped. White space around the whole is dropped, since some readers do so.
    """
    if text.isascii() and text.isprintable() and "\\" not in text:
        return text.strip()
    text = _BREAKS.sub("\n", text).replace("\t", " ").replace("\\", "/")
    return _DROPPED.sub("", text).strip()


def clean_line(text: str) -> str:
    """`text` cleaned and put on one line, with single spaces between words."""
    return " ".join(clean(text).split())


def shorten(line: str, longest: int = SUMMARY_LONGEST) -> str:
    """`line` cut to at most `longest` characters, between words where that is possible.

    Never between a letter and its accent, nor inside a joined picture character.
    """
    if len(line) <= longest:
        return line
    cut = longest - 1
    while cut > 1 and _belongs_together(line, cut):
        cut -= 1
    space = line.rfind(" ", longest // 2, cut + 1)
    if space > 0:
        cut = space
    return line[:cut].rstrip(" ,;:.-") + "…"


def _belongs_together(line: str, cut: int) -> bool:
    after = line[cut]
    return (
        line[cut - 1] == _JOINER
        or after == _JOINER
        or unicodedata.combining(after) != 0
        or unicodedata.category(after) in ("Mn", "Me", "Mc")
        or "\U0001f3fb" <= after <= "\U0001f3ff"  # skin tones
    )
