"""Files written whole or not at all, and folders in which one run at a time may write."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from showprep.outputs.failure import Failure

LOCK_NAME = ".showprep.lock"
PATIENCE_S = 120.0  # a calendar sent to a slow server takes longest
NAP_S = 0.02  # between two tries for the lock


def refuse_unfit(path: Path, such_as: str) -> None:
    """Raise Failure, before anything is made, when no output can be put at `path`.

    A folder, a device, a folder that is missing, or a file that a season may be read from.
    """
    if path.is_dir():
        raise Failure(f"{path} is a folder. Name a file in it, such as {path / such_as}.", 2)
    if path.suffix.lower() in (".yaml", ".yml"):
        raise Failure(f"{path} would be taken for a file of the season: name it {such_as}.", 2)
    if path.exists() and not path.is_file():
        raise Failure(f"{path} is no file that could be replaced.", 2)
    if not path.parent.is_dir():
        raise Failure(f"There is no folder {path.parent} to write to.", 2)


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` in place of the file at `path`; a reader sees the old bytes or the new ones.

    A link is followed: what it points to is replaced. Raises Failure when the folder cannot be
    written to, the disk is full, or something other than a file is there (a device, a folder).
    """
    path = path.resolve()
    if path.exists() and not path.is_file():
        raise Failure(f"{path} is no file that could be replaced.", 2)
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    except OSError as error:
        raise _cannot(path, error) from error
    temporary = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        temporary.chmod(_mode(path))
        temporary.replace(path)
        _sync_folder(path.parent)
    except OSError as error:
        raise _cannot(path, error) from error
    finally:
        temporary.unlink(missing_ok=True)


def _mode(path: Path) -> int:
    """The rights the file has already, or those of a new file (a temporary one is private)."""
    with contextlib.suppress(OSError):
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _cannot(path: Path, error: OSError) -> Failure:
    return Failure(f"Cannot write {path}: {error.strerror or error}. Nothing there was changed.")


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut; Windows has no way to do it, and no need."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextlib.contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Wait until no other run writes in this folder, and keep others out meanwhile.

    The lock is the system's own: a run that is killed leaves an empty file, but no lock. Raises
    Failure when there is no such folder, or another run does not finish.
    """
    from filelock import FileLock, Timeout

    if not folder.is_dir():
        raise Failure(f"There is no folder {folder} to write to.", status=2)
    path = folder / LOCK_NAME
    lock = FileLock(path, PATIENCE_S, poll_interval=NAP_S)
    try:
        lock.acquire()
    except Timeout as error:
        text = f"Another run is writing in {folder} and does not finish. Nothing was written."
        raise Failure(text) from error
    except OSError:
        # A file system that knows no locks must not stop the keeper from writing; whether the
        # folder can be written to at all is told by what is written next.
        pass
    try:
        yield
    finally:
        # Taken away while it is held: who waits sees that his file has no name, and makes another.
        # Windows keeps a file that is open.
        if lock.is_locked:
            with contextlib.suppress(OSError):
                path.unlink()
        lock.release()
