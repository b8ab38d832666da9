"""What the shell offers for a word that is being typed: fish, shows and waters of the season.

A name is offered with hyphens for its spaces, as commands take it, and only letters, digits and
hyphens are: what stands in a file is never handed to a shell as more than a word.
"""

from __future__ import annotations

import os
import re
import shlex
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from typer import Context

Offered = list[tuple[str, str]]
Complete = Callable[[Context, Sequence[str], str], Offered]
MOST_FILES = 2000
_WORD = re.compile(r"[\w-]+")


def of_fish(ctx: Context, args: Sequence[str], incomplete: str) -> Offered:
    """The season's fish."""
    return _offered(_fish(_season(ctx, args)), incomplete)


def of_shows(ctx: Context, args: Sequence[str], incomplete: str) -> Offered:
    """The season's shows."""
    return _offered(_mapping(_season(ctx, args), "shows.yaml"), incomplete)


def of_waters(ctx: Context, args: Sequence[str], incomplete: str) -> Offered:
    """The yard's waters."""
    waters = _data(_season(ctx, args), "keeper.yaml").get("waters")
    names = waters if isinstance(waters, dict) else {}
    return _offered(((name, name) for name in names), incomplete)


def of_kinds(ctx: Context, args: Sequence[str], incomplete: str) -> Offered:
    """The kinds of defect."""
    from showprep.season.values.kinds import kind_words

    return _offered(((kind, words[0]) for kind, words in kind_words().items()), incomplete)


def of_words(noun: str) -> Complete:
    """The journal's own words: `did`, `saw` or `parasite`."""

    def offer(ctx: Context, args: Sequence[str], incomplete: str) -> Offered:
        from typing import get_args

        from showprep.season import records

        words = {"did": records.Did, "saw": records.Saw, "parasite": records.ParasiteFound}
        return _offered(((word, "") for word in get_args(words[noun])), incomplete)

    return offer


def _offered(names: Iterator[tuple[str, str]], incomplete: str) -> Offered:
    """What begins as typed: the id, or the name in its place, each with the other beside it."""
    found = []
    for one, name in names:
        for word, beside in ((one, name), (name, one)):
            fit = "-".join(word.split())
            if fit.startswith(incomplete) and _WORD.fullmatch(fit):
                found.append((fit, " ".join(_WORD.findall(beside))))
                break
    return found


def _season(ctx: Context, args: Sequence[str]) -> Path:
    """The season's folder, from the words typed so far; a folder that is none, if there is none.

    An option without its value ends the reading of the words before it was understood which of
    them is the folder: then they are taken from what the shell hands over.
    """
    given = ctx.params.get("season")
    if given is not None:
        return Path(given)
    typed = os.environ.get("COMP_WORDS") or os.environ.get("_TYPER_COMPLETE_ARGS") or ""
    try:
        words = [*args, *shlex.split(typed)]
    except ValueError:  # a quotation mark still open
        words = [*args, *typed.split()]
    folders = (Path(word).expanduser() for word in words if word)
    return next((one for one in folders if (one / "keeper.yaml").is_file()), Path("no season"))


def _fish(folder: Path) -> Iterator[tuple[str, str]]:
    yield from _mapping(folder, "fish.yaml")
    files = sorted((folder / "fish").glob("*.yaml")) if (folder / "fish").is_dir() else []
    for path in files[:MOST_FILES]:
        yield path.stem, str(_data(folder / "fish", path.name).get("name", path.stem))


def _mapping(folder: Path, file: str) -> Iterator[tuple[str, str]]:
    for one, record in _data(folder, file).items():
        name = record.get("name", one) if isinstance(record, dict) else one
        yield one, name if isinstance(name, str) else one


def _data(folder: Path, file: str) -> dict[str, Any]:
    """What a file holds, as far as it can be read; its faults are for `check`."""
    from showprep.season.yaml.nodes import read_document

    if not (folder / file).is_file():
        return {}
    data = read_document(folder / file, file).data
    return data if isinstance(data, dict) else {}
