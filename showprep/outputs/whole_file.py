"""Files written whole or not at all, and folders in which one run at a time may write."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from showprep.outputs.failure import Failure


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


if sys.platform == "win32":
    import msvcrt

    def _sync_folder(folder: Path) -> None:
        """Windows has no way to sync a folder, and no need of one."""

    @contextlib.contextmanager
    def alone_in(folder: Path) -> Iterator[None]:
        """Wait until no other run writes in this folder, and keep others out meanwhile."""
        with (folder / ".showprep.lock").open("a+b") as file:
            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_LOCK, 1)
            try:
                yield
            finally:
                file.seek(0)
                msvcrt.locking(file.fileno(), msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _sync_folder(folder: Path) -> None:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

    @contextlib.contextmanager
    def alone_in(folder: Path) -> Iterator[None]:
        """Wait until no other run writes in this folder, and keep others out meanwhile.

        The lock is the system's own: a run that is killed leaves none behind.
        """
        try:
            handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        except OSError as error:
            raise Failure(f"There is no folder {folder} to write to.", status=2) from error
        try:
            # A file system that knows no locks must not stop the keeper from writing.
            with contextlib.suppress(OSError):
                fcntl.flock(handle, fcntl.LOCK_EX)
            yield
        finally:
            os.close(handle)
