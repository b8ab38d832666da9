"""The random id of one season, made once, that goes into the name of every job of it.

It lies in `.showprep/identity` inside the season's folder, and goes where the folder is copied to.
A season whose calendars were written before there was one keeps the names its phones know.
"""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterable
from pathlib import Path

from showprep.outputs.failure import Failure
from showprep.outputs.whole_file import alone_in, hidden_folder, write_whole
from showprep.season.own_files import FOLDER, read_own

FIRST = "first"  # of seasons whose calendars are older than their identity
_MADE = re.compile(r"[0-9a-f]{32}\Z")


def identity_of(season: Path, ledgers: Iterable[Path] = (), *, new: bool = False) -> str:
    """The season's identity; made and written down if there is none yet, or if `new`.

    `ledgers` are those of calendars about to be written: if one is there already, or any in the
    season's folder, the jobs keep the names they have had (the empty text). Two runs at one time
    get the same. Raises Failure where the folder cannot be written to or the file is damaged.
    """
    folder = hidden_folder(season)
    path = folder / "identity"
    with alone_in(folder):
        found = None if new else _read(path)
        if found is None:
            taken_over = not new and _older(folder, ledgers)
            found = FIRST if taken_over else uuid.uuid4().hex
            write_whole(path, f"{found}\n".encode())
    return "" if found == FIRST else found


def known_identity(season: Path, *, new: bool = False) -> str:
    """The same without writing anything: only to show what would be written."""
    found = None if new else _read(season / FOLDER / "identity")
    if found is None:
        return "" if not new and _older(season / FOLDER, ()) else uuid.uuid4().hex
    return "" if found == FIRST else found


def _read(path: Path) -> str | None:
    try:
        text = read_own(path).decode("ascii").strip()
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError):
        text = ""
    if text == FIRST or _MADE.match(text):
        return text
    raise Failure(
        f"{path} is damaged: it names the season in every calendar. Put back a copy, or take it "
        "away and say --new-identity; phones then see every job as a new one."
    )


def _older(folder: Path, ledgers: Iterable[Path]) -> bool:
    """Was a calendar of this season written before?"""
    return any(path.exists() for path in ledgers) or any(folder.glob("*.ledger.json"))
