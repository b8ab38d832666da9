"""Files written whole or not at all, and folders in which one run at a time may write."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path

from showprep.outputs.failure import Failure
from showprep.season.own_files import (
    FOLDER,
    flush_folder,
    keep_before,
    mode_for,
    own_folder,
    refuse_foreign_lock,
    stage,
)

LOCK_NAME = ".showprep.lock"
PATIENCE_S = 120.0  # a calendar sent to a slow server takes longest
NAP_S = 0.02  # between two tries for the lock
HEAD_BYTES = 4096  # enough of a file to know whose it is
Own = Callable[[bytes], bool]


def is_own_calendar(head: bytes) -> bool:
    return head.startswith(b"BEGIN:VCALENDAR") and b"PRODID:-//showprep//" in head


def is_own_page(head: bytes) -> bool:
    return b'<meta name="generator" content="showprep">' in head


def is_own_plan(head: bytes) -> bool:
    """The first keys of plan.json, in the order in which they are written."""
    return re.match(rb'\{\s*"season":', head) is not None


def hidden_folder(season: Path) -> Path:
    """What the tool keeps of a season lies there; made if missing. Raises Failure."""
    try:
        return own_folder(season)
    except OSError as error:
        place = season / FOLDER
        raise Failure(f"Cannot make the folder {place}: {error.strerror}.") from error


def kept_before(season: Path, paths: Iterable[Path]) -> list[str]:
    """Keep these files as they are, before they are written anew, and say where.

    Raises Failure when there is no room to keep them: then nothing is written at all.
    """
    try:
        kept = [place for path in paths if (place := keep_before(season, path)) is not None]
    except OSError as error:
        raise _cannot(season / FOLDER, error) from error
    return [f"Kept as it was before: {', '.join(map(str, kept))}."] if kept else []


def refuse_unfit(path: Path, such_as: str, own: Own | None = None, *, replace: bool = True) -> None:
    """Raise Failure, before anything is made, when no output can be put at `path`.

    A folder, a device, a folder that is missing, or a file that a season may be read from; and,
    unless `replace`, a file that `own` does not know as one that showprep wrote.
    """
    if path.is_dir():
        raise Failure(f"{path} is a folder. Name a file in it, such as {path / such_as}.", 2)
    if path.suffix.lower() in (".yaml", ".yml"):
        raise Failure(f"{path} would be taken for a file of the season: name it {such_as}.", 2)
    if path.exists() and not path.is_file():
        raise Failure(f"{path} is no file that could be replaced.", 2)
    if not path.parent.is_dir():
        raise Failure(f"There is no folder {path.parent} to write to.", 2)
    if own is not None and not replace and path.exists() and not _is_own(path, own):
        raise Failure(
            f"{path} was not written by showprep, so it is left alone. Name another file, or say "
            "--replace to put this one in its place.",
            2,
        )


def _is_own(path: Path, own: Own) -> bool:
    """An empty file counts: a place may be made ready beforehand."""
    with path.open("rb") as file:
        head = file.read(HEAD_BYTES)
    return not head or own(head)


def write_whole(path: Path, data: bytes, *, follow: bool = False) -> None:
    """Put `data` in place of the file at `path`; a reader sees the old bytes or the new ones.

    A link is replaced, so that a folder from somebody else leads nowhere; with `follow`, for a
    place that the keeper named, what it points to is. Raises Failure when the folder cannot be
    written to, the disk is full, or something other than a file is there (a device, a folder).
    """
    write_together({path: data}, follow=follow)


def write_together(files: Mapping[Path, bytes], *, follow: bool = False) -> None:
    """Put several files in place: all of them, or none and a Failure.

    All are on the disk under other names before the first takes its place; if one cannot take its
    place, those before it are set back.
    """
    places = {path.resolve() if follow else path: data for path, data in files.items()}
    for path in places:
        if not path.is_symlink() and path.exists() and not path.is_file():
            raise Failure(f"{path} is no file that could be replaced.", 2)
    staged: dict[Path, Path] = {}
    try:
        for path, data in places.items():
            try:
                staged[path] = stage(path, data, mode_for(path))
            except OSError as error:
                raise _cannot(path, error) from error
        _take_places(staged)
    finally:
        for temporary in staged.values():
            temporary.unlink(missing_ok=True)


def _take_places(staged: Mapping[Path, Path]) -> None:
    before: dict[Path, bytes | None] = {}
    for path, temporary in staged.items():
        try:
            if len(staged) > 1:
                before[path] = path.read_bytes() if path.is_file() else None
            temporary.replace(path)
        except OSError as error:
            before.pop(path, None)
            _set_back(before)
            raise _cannot(path, error) from error
    for folder in {path.parent for path in staged}:
        flush_folder(folder)


def _set_back(before: Mapping[Path, bytes | None]) -> None:
    for path, data in before.items():
        with contextlib.suppress(OSError):
            if data is None:
                path.unlink()
            else:
                stage(path, data, mode_for(path)).replace(path)


def _cannot(path: Path, error: OSError) -> Failure:
    return Failure(f"Cannot write {path}: {error.strerror or error}. Nothing there was changed.")


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
    try:
        refuse_foreign_lock(path)
    except OSError as error:
        raise Failure(f"{path}: {error.strerror}. Nothing was written.") from error
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
