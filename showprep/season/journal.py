"""Appending to `journal.yaml`: every byte that stands there stays, and the new entry is whole.

The old text and the new entry are written to a second file, flushed to the disk, read back, and
put in place of the first in one step. Killed at any point, or on a full disk, the journal is the
old one or the new one. Writers take turns by a lock beside it. The journal as it was before is kept
in `.showprep/before`.
"""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from showprep.season.editors import file_of, first_line
from showprep.season.journal_text import as_written, blocks
from showprep.season.own_files import (
    FOLDER,
    flush_folder,
    keep_before,
    mode_for,
    refuse_foreign_lock,
    stage,
)
from showprep.season.records import JournalEntry
from showprep.season.values.quantities import Units

NAME = "journal.yaml"
LOCK_NAME = ".journal.lock"
PATIENCE_S = 60.0  # a note takes milliseconds: a lock held for longer is a program that hangs
NAP_S = 0.003  # between two tries for the lock
LARGEST_BYTES = 16_000_000  # the reader takes no larger file


class JournalError(Exception):
    """The note was not written; the journal is as it was. The text says why, in plain words."""


class JournalFaulty(JournalError):
    """What stands in the journal cannot be added to; the keeper has to put it right first."""


class Journal:
    """The journal of one season folder, to be appended to.

    What was once found to be in order is not read again: of a journal that only grew, the new
    part alone is checked, so that a note costs little more than its own bytes.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self.path = (self.folder / NAME).resolve()  # a link is followed, not replaced
        self.kept: Path | None = None  # where the journal before the last note lies
        self._in_order = b""
        self._column = 0

    def append(self, entries: Sequence[JournalEntry], units: Units = "metric") -> None:
        """Append entries in one step: all of them, or none and a JournalError.

        `units` are the season's: amounts are written in them.
        """
        from filelock import FileLock, Timeout

        written = [as_written(entry, units) for entry in entries]
        self._refuse_foreign()
        self._check(self._read())  # outside the lock: the first check is the slow one
        try:
            with FileLock(self.path.with_name(LOCK_NAME), PATIENCE_S, poll_interval=NAP_S):
                old = self._read()
                self._check(old)
                new = self._joined(old, written)
                self._check_new(old, new, written)
                self.kept = keep_before(self.folder, self.path)
                _put_in_place(self.path, new)
        except Timeout:
            raise JournalError(
                f"another program is writing to {NAME} and does not finish; nothing was noted"
            ) from None
        except OSError as error:
            raise JournalError(_told(error)) from error
        self._in_order = new

    def _refuse_foreign(self) -> None:
        """A season folder from somebody else must not make a note write outside it, nor wait."""
        if not self.path.is_relative_to(self.folder):
            raise JournalError(
                f"{NAME} is a link that leads out of the season's folder; put the journal itself "
                "there. Nothing was noted"
            )
        if self.path.exists() and not self.path.is_file():
            raise JournalFaulty(f"{NAME} is no ordinary file; nothing was noted")
        try:
            refuse_foreign_lock(self.path.with_name(LOCK_NAME))
        except OSError as error:
            raise JournalError(f"{error.filename}: {error.strerror}; nothing was noted") from error

    def _read(self) -> bytes:
        try:
            return self.path.read_bytes()
        except FileNotFoundError:
            has_schema = (self.folder / FOLDER / file_of("journal")).is_file()
            return first_line(NAME).encode("utf-8") if has_schema else b""
        except OSError as error:
            raise JournalError(_told(error)) from error

    def _check(self, text: bytes) -> None:
        """Raise JournalFaulty unless `text` is a list that an entry can be added to."""
        known = self._in_order
        if known and text.startswith(known) and known.endswith(b"\n"):
            added = text[len(known) :]
            with contextlib.suppress(JournalFaulty):
                if _list_column(added) in (None, self._column):
                    self._in_order = text
                    return
        column = _list_column(text)
        self._column = 0 if column is None else column
        self._in_order = text

    def _joined(self, old: bytes, written: Sequence[Mapping[str, str]]) -> bytes:
        line_end = "\r\n" if b"\r\n" in old else "\n"
        gap = "" if not old or old.endswith((b"\n", b"\r")) else line_end
        return old + (gap + blocks(written, self._column, line_end)).encode("utf-8")

    def _check_new(self, old: bytes, new: bytes, written: Sequence[Mapping[str, str]]) -> None:
        """The new part, read as a journal of its own, must give back what was to be written."""
        if len(new) > LARGEST_BYTES:
            raise JournalError(
                f"{NAME} would grow beyond {LARGEST_BYTES // 1_000_000} MB; "
                "begin a new season folder"
            )
        import yaml

        from showprep.season.yaml.complaints import BaseLoader, as_lines

        added = as_lines(new[len(old) :].decode("utf-8"))
        if yaml.load(added, Loader=BaseLoader) != [dict(values) for values in written]:
            raise JournalError("this cannot be written down so that it reads back the same")


def append(folder: Path, entries: Sequence[JournalEntry]) -> None:
    """Append `entries` to the journal of a season folder, as `Journal.append` does."""
    Journal(folder).append(entries)


def _list_column(text: bytes) -> int | None:
    """The column of the list's dashes; None when there is no entry yet.

    Raises JournalFaulty for anything but one open list in block style.
    """
    import yaml

    from showprep.season.yaml.complaints import BaseLoader, as_lines

    root: yaml.Event | None = None
    documents = 0
    try:
        for event in yaml.parse(as_lines(text.decode("utf-8")), Loader=BaseLoader):
            documents += isinstance(event, yaml.DocumentStartEvent)
            if documents > 1 or (isinstance(event, yaml.DocumentEndEvent) and event.explicit):
                raise JournalFaulty(f"{NAME}: one list belongs here; take '---' and '...' out")
            if root is None and isinstance(event, yaml.NodeEvent):
                root = event
    except (yaml.YAMLError, ValueError) as error:
        raise JournalFaulty(_where(error)) from error
    if root is None or (isinstance(root, yaml.ScalarEvent) and not root.value and not root.style):
        return None
    mark = root.start_mark
    assert mark is not None
    if not isinstance(root, yaml.SequenceStartEvent) or root.flow_style:
        raise JournalFaulty(_no_list(mark.line + 1))
    return mark.column


def _no_list(line: int) -> str:
    return f"{NAME}:{line}: a list belongs here, each entry on lines of its own after a dash"


def _where(error: Exception) -> str:
    mark = getattr(error, "problem_mark", None)
    problem = getattr(error, "problem", None) or "it cannot be read as text"
    place = f"{NAME}:{mark.line + 1}:{mark.column + 1}" if mark is not None else NAME
    return f"{place}: {problem}"


def _told(error: OSError) -> str:
    if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
        return f"there is no room left to write {NAME}; it is as it was"
    reason = error.strerror or str(error)
    return f"{NAME} cannot be written ({reason}); it is as it was"


def _put_in_place(path: Path, text: bytes) -> None:
    """Write `text` whole beside `path`, see that it is there, and let it take the place."""
    if path.exists() and not os.access(path, os.W_OK):
        raise PermissionError(errno.EACCES, "it may not be written to")
    staged = stage(path, text, mode_for(path))
    try:
        staged.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            staged.unlink()
        raise
    flush_folder(path.parent)
