"""Plain words for what was found in the keeper's files, and for what would be right."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Collection, Iterable
from typing import Any

from pydantic_core import PydanticCustomError

LONGEST_SHOWN = 60


def shown(value: object) -> str:
    """A value as a keeper would recognise it, short and on one line."""
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, int) and abs(value) > 10**20:
        return "a very large number"
    text = value if isinstance(value, str) else str(value)
    if len(text) > LONGEST_SHOWN:
        text = text[: LONGEST_SHOWN - 1] + "…"
    return f"'{harmless(text)}'"


def harmless(text: str) -> str:
    """The text without marks that would spoil a message or a terminal."""
    return text if text.isprintable() else "".join(m if _is_harmless(m) else "�" for m in text)


def _is_harmless(mark: str) -> bool:
    # A control character, or one that turns the direction of the text, would spoil the message.
    return mark.isprintable() or mark in "\u200d\ufe0f"


def listed(choices: Iterable[str], joint: str = "or") -> str:
    """`a, b or c`."""
    words = [harmless(one) for one in choices]  # some are a keeper's own ids
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {joint} {words[-1]}"


def slug(name: str) -> str:
    """A name as part of an id: `main pond` becomes `main-pond`."""
    return "-".join("".join(c if c.isalnum() else " " for c in name.casefold()).split())


def folded(name: str) -> str:
    """A name for comparing: no capitals, no accents, spaces for hyphens and underscores."""
    letters = unicodedata.normalize("NFKD", name.casefold())
    bare = unicodedata.normalize("NFC", _ACCENT.sub("", letters)).replace("’", "'")
    return " ".join(bare.replace("-", " ").replace("_", " ").split())


_ACCENT = re.compile("[\u0300-\u036f]")  # a Japanese voicing mark makes another letter, and stays
NEAR, THE_SAME = 0.6, 0.8  # how alike two words are, from 0 to 1


def nearest(word: str, choices: Iterable[str], grave: Collection[str] = ()) -> str | None:
    """The choice a keeper most likely meant by `word`, if one is near.

    One that is `grave`, as an illness is, is named only for what begins alike or is all but the
    same word: ulcer for ulcus, and not red spots for white ones.
    """
    if len(word) > LONGEST_SHOWN:
        return None
    by_folded = {choice.casefold(): choice for choice in choices if choice == harmless(choice)}
    folded = word.casefold()
    close = (
        by_folded[one]
        for one in difflib.get_close_matches(folded, by_folded, n=3, cutoff=NEAR)
        if by_folded[one] not in grave
        or one[:3] == folded[:3]
        or difflib.SequenceMatcher(None, folded, one).ratio() >= THE_SAME
    )
    return next(close, None)


def choose(word: str, choices: Iterable[str], most: int = 12, grave: Collection[str] = ()) -> str:
    """What would be right instead of `word`: the nearest choice, or the list when it is short."""
    known = sorted(choices)
    near = nearest(word, known, grave)
    if near is not None:
        return f"did you mean {near}?"
    if not known:
        return "there is none yet"
    if len(known) <= most:
        return f"there is {listed(known, 'and')}" if len(known) == 1 else f"write {listed(known)}"
    return f"there are {len(known)} to choose from, such as {listed(known[:4], 'and')}"


def wrong(what: str, right: str) -> PydanticCustomError:
    """A fault found while typing one value: what was found, and what would be right."""
    words: dict[str, Any] = {"what": what, "right": right}
    return PydanticCustomError("plain", "{what}; {right}", words)
