"""The tool's own files inside a season folder, which may have come from somebody else.

Temporary files get a random name and are made afresh; a link, a pipe or a folder in the place of
a lock, of the hidden folder or of what lies in it is never opened, waited for or written through.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import stat
import tempfile
from pathlib import Path

FOLDER = ".showprep"  # what the tool keeps of a season, inside the season's folder
STILL_WRITTEN_S = 3600  # no writing takes that long
BEFORE = "before"  # in it: each file as it was before it was last written


def own_folder(season: Path, name: str = FOLDER) -> Path:
    """The hidden folder of a season, or another of it, made if it is missing. Raises OSError where
    it is none.

    A link in its place is refused: what is kept there must stay inside the season.
    """
    folder = season / name
    _make(folder)
    return folder


def _make(folder: Path) -> None:
    with contextlib.suppress(FileExistsError):
        folder.mkdir()
    if not stat.S_ISDIR(folder.lstat().st_mode):
        raise NotADirectoryError(errno.ENOTDIR, "it is no folder of its own", str(folder))


def refuse_foreign_lock(lock: Path) -> None:
    """Raises OSError when something but an ordinary file lies where a lock is to be."""
    with contextlib.suppress(FileNotFoundError):
        if not stat.S_ISREG(lock.lstat().st_mode):
            raise OSError(errno.EINVAL, "it is no file of showprep: take it away", str(lock))


def read_own(path: Path) -> bytes:
    """The bytes of an ordinary file. Raises FileNotFoundError where there is none, OSError for
    anything else: a link may lead outside, and a pipe would be waited for."""
    if not stat.S_ISREG(path.lstat().st_mode):
        raise OSError(errno.EINVAL, "it is no ordinary file", str(path))
    return path.read_bytes()


def stage(path: Path, data: bytes, mode: int) -> Path:
    """Write `data` to a new file beside `path` and see that the disk has it; give its place.

    Its name is drawn at random, so that nothing can lie there already. What a run that was killed
    left of the same file is taken away. Raises OSError, and leaves nothing behind.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=temporary_name(path))
    staged = Path(name)
    take_away_left_over(path, staged)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if staged.read_bytes() != data:
            raise OSError(errno.EIO, "the disk did not keep what was written")
        staged.chmod(mode)
    except BaseException:
        with contextlib.suppress(OSError):
            staged.unlink()
        raise
    return staged


def temporary_name(path: Path) -> str:
    """How the name of everything temporary for `path` begins; eight random characters follow."""
    return f".{path.name[:100]}.showprep-"


def take_away_left_over(path: Path, newest: Path) -> None:
    """Remove what killed runs left for `path`: a file or a folder of ours, no link.

    Only what is an hour older than `newest`, the one just made: a run beside this one may still
    write into a younger one. Both times are the file system's own.
    """
    begin = temporary_name(path)
    with contextlib.suppress(OSError):
        made = newest.lstat().st_mtime
        for left in newest.parent.iterdir():
            if not left.name.startswith(begin) or made - left.lstat().st_mtime < STILL_WRITTEN_S:
                continue
            if stat.S_ISREG(left.lstat().st_mode):
                left.unlink()
            elif stat.S_ISDIR(left.lstat().st_mode):
                shutil.rmtree(left, ignore_errors=True)


def take_away_all_left_over(path: Path) -> None:
    """Remove what killed runs left for `path`, however young: for who holds the one lock under
    which it is written, so that nobody else can be at it."""
    begin = temporary_name(path)
    with contextlib.suppress(OSError):
        if stat.S_ISDIR(path.parent.lstat().st_mode):
            for left in path.parent.iterdir():
                if left.name.startswith(begin) and stat.S_ISREG(left.lstat().st_mode):
                    left.unlink()


def mode_for(path: Path) -> int:
    """The rights the file has already, or those of a new file (a temporary one is private)."""
    with contextlib.suppress(OSError):
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def flush_folder(folder: Path) -> None:
    """Make a new name last through a power cut, where the system can do that."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def keep_before(season: Path, path: Path) -> Path | None:
    """Keep the file at `path` as it is, before it is written anew; where, or None without one.

    A copy, since a program that edits in place would change a second name of the same file.
    Raises OSError.
    """
    try:
        data = path.read_bytes() if path.is_file() else None
    except FileNotFoundError:
        data = None
    if data is None:
        return None
    folder = own_folder(season) / BEFORE
    _make(folder)
    kept = folder / path.name
    stage(kept, data, mode_for(path)).replace(kept)
    return kept
