"""One writer at a time: a lock that the system lets go of when its holder dies."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

PATIENCE_S = 60.0
_NAP_S = 0.003


class StillHeld(Exception):
    """Another program has held the lock for longer than anybody should wait."""


@contextmanager
def held(lock: Path, patience_s: float = PATIENCE_S) -> Iterator[None]:
    """Hold the lock file `lock`, made if missing and left lying: only the lock on it counts.

    Raises StillHeld after `patience_s` [s], OSError where the file cannot be made.
    """
    handle = os.open(lock, os.O_RDWR | os.O_CREAT, 0o666)
    try:
        give_up = time.monotonic() + patience_s
        while not _taken(handle):
            if time.monotonic() > give_up:
                raise StillHeld
            time.sleep(_NAP_S)
        try:
            yield
        finally:
            _let_go(handle)
    finally:
        os.close(handle)


if sys.platform == "win32":
    import msvcrt

    def _taken(handle: int) -> bool:
        os.lseek(handle, 0, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _let_go(handle: int) -> None:
        os.lseek(handle, 0, os.SEEK_SET)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _taken(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True

    def _let_go(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_UN)
