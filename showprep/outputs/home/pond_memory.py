"""What is kept of the page beside the pond: its address, and which taps were written down."""

from __future__ import annotations

import json
import re
import secrets
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from showprep.outputs.failure import Failure
from showprep.outputs.whole_file import hidden_folder, write_whole
from showprep.season.own_files import read_own, refuse_foreign_lock, take_away_all_left_over

NAME, LOCK = "pondside.json", ".pondside.lock"
MOST_TAPS = 2_000  # the latest: a phone sends again what it sent last
_TOKEN = re.compile(r"[A-Za-z0-9_-]{22}")


class PondMemory:
    """The random part of the address and its port, so that a phone finds the page again; and the
    taps by their ids, each begun or done, so that none is written twice.

    A tap is begun on the disk before the journal is written, and done after it: when the program is
    killed between the two, the journal itself says which of the two it was.
    """

    def __init__(self, season: Path, *, new_address: bool = False) -> None:
        self.path = hidden_folder(season) / NAME
        found = _read(self.path)
        token, port, taps = found.get("token"), found.get("port"), found.get("taps")
        self.token = secrets.token_urlsafe(16)
        if isinstance(token, str) and _TOKEN.fullmatch(token) and not new_address:
            self.token = token
        self.port: int = port if isinstance(port, int) and 0 < port < 65536 else 0
        self._one_at_a_time = threading.Lock()  # an older state must not be written over a newer
        self._taps: dict[str, str] = {}
        if isinstance(taps, dict):
            self._taps = {str(name): str(how) for name, how in taps.items()}

    def sweep(self) -> None:
        """Remove what a killed run left of this file. Only for who holds the lock of the page."""
        take_away_all_left_over(self.path)

    def how(self, tap: str) -> str | None:
        """`begun`, `done`, or None for a tap that was never seen."""
        return self._taps.get(tap)

    def keep(self, tap: str, how: str) -> None:
        """Remember this of a tap. Raises Failure where it cannot be written."""
        with self._one_at_a_time:
            self._taps.pop(tap, None)
            self._taps[tap] = how
            self._write()

    def forget(self, tap: str) -> None:
        """A tap that was refused may come again, when something has changed."""
        with self._one_at_a_time:
            self._taps.pop(tap, None)
            self._write()

    def keep_port(self, port: int) -> None:
        """Remember where the page is served, while taps may come already. Raises Failure."""
        with self._one_at_a_time:
            self.port = port
            self._write()

    def _write(self) -> None:
        self._taps = dict(list(self._taps.items())[-MOST_TAPS:])
        kept = {"token": self.token, "port": self.port, "taps": self._taps}
        write_whole(self.path, (json.dumps(kept, indent=0) + "\n").encode())


def _read(path: Path) -> dict[str, Any]:
    """What stands there; nothing where it is missing or damaged."""
    try:
        found = json.loads(read_own(path).decode("utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


@contextmanager
def only_one(season: Path) -> Iterator[None]:
    """Keep a second page of the same season from being served meanwhile. Raises Failure."""
    from filelock import FileLock, Timeout

    path = hidden_folder(season) / LOCK
    try:
        refuse_foreign_lock(path)
    except OSError as error:
        raise Failure(f"{path}: {error.strerror}.") from error
    lock = FileLock(path, timeout=0)
    try:
        lock.acquire()
    except Timeout as error:
        raise Failure("The page of this season is served already; stop that one first.") from error
    try:
        yield
    finally:
        lock.release()
