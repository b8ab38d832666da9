"""The kinds of defect by the words people use for them (`tables/kind_words.toml`)."""

from __future__ import annotations

import difflib
import importlib.resources
import re
import tomllib
from collections.abc import Collection, Mapping
from functools import cache

from showprep.season.values.fields import text
from showprep.season.values.wording import (
    LONGEST_SHOWN,
    THE_SAME,
    folded,
    listed,
    nearest,
    shown,
    wrong,
)

_ASIDE = re.compile(r"\([^()]*\)")


@cache
def kind_words() -> Mapping[str, tuple[str, ...]]:
    """What people call each kind, by its id."""
    path = importlib.resources.files("showprep.season").joinpath("tables", "kind_words.toml")
    rows = tomllib.loads(path.read_text("utf-8"))
    return {kind: tuple(row["aliases"]) for kind, row in rows.items()}


@cache
def _kinds_by_word() -> Mapping[str, tuple[str, ...]]:
    """The kinds that each word, folded, may mean; an id means itself alone."""
    found: dict[str, tuple[str, ...]] = {}
    for kind, words in kind_words().items():
        for word in words:
            key = folded(word)
            found[key] = (*found.get(key, ()), kind)
    return found | {folded(kind): (kind,) for kind in kind_words()}


def kind(value: object) -> str:
    """The id of the kind meant; a word that nobody knows is given back as a term.

    Raises the fault, in words, for what may be several kinds.
    """
    written = text(value)
    plain = " ".join(_ASIDE.sub(" ", written).split()) or written
    found = _kinds_by_word().get(folded(plain), ())
    if len(found) > 1:
        raise wrong(f"{shown(written)} may be several kinds", f"write {listed(found)}")
    return found[0] if found else re.sub(r"[\s_-]+", "-", plain.casefold()).strip("-") or written


def is_lay(written: str) -> bool:
    """Is this a word for a kind, and not its own name however spelled?"""
    return folded(written) != folded(kind(written))


def nearest_kind(word: str, grave: Collection[str]) -> str | None:
    """The kind most likely meant by a misspelt word, its own name or what people call it.

    None of `grave`, the illnesses, is named for a word that is not all but the same.
    """
    own = nearest(word, kind_words(), grave)
    if own is not None:
        return own
    by_word = _kinds_by_word()
    near = difflib.get_close_matches(folded(word)[:LONGEST_SHOWN], by_word, n=1, cutoff=THE_SAME)
    return by_word[near[0]][0] if near and len(by_word[near[0]]) == 1 else None
