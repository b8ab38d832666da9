"""What a check is given, and what it says."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Set
from datetime import date
from pathlib import Path

from msgspec import Struct, field

from showprep.season.facts import grave_kinds, shipped_facts
from showprep.season.problems import Severity
from showprep.season.records import Season
from showprep.season.values.kinds import is_lay, nearest_kind
from showprep.season.values.wording import choose, shown


class Finding(Struct, frozen=True):
    """Something the records say that cannot be, or is not likely.

    `path` begins with `keeper`, `shows`, `fish` or `journal` and goes on as in the files.
    """

    path: tuple[object, ...]
    what: str
    right: str
    severity: Severity = "fault"
    of_key: bool = False


class Checked(Struct, frozen=True):
    """The season to check as it stands on day `on`.

    `faulty` are, by noun, the names of things that could not be typed: they are known, but no
    more can be said of them. `keeper_sound`: the yard itself could be typed. `unread` are the
    nouns of things whose file could not be read, so that no name can be called unknown. `written`
    gives the text in the files at a path, None where there is none.
    """

    season: Season
    on: date
    folder: Path
    faulty: Mapping[str, Set[str]] = field(default_factory=dict)
    keeper_sound: bool = True
    unread: frozenset[str] = frozenset()
    written: Callable[[tuple[object, ...]], object] = lambda path: None

    def unknown(
        self,
        path: tuple[object, ...],
        noun: str,
        name: str | None,
        known: Collection[str],
        severity: Severity = "fault",
        *,
        of_key: bool = False,
    ) -> Finding | None:
        """The finding that `name` is not among the known ones; None when it is, or is not given."""
        if name is None or name in known or noun in self.unread:
            return None
        faulty = self.faulty.get(noun, frozenset())
        if name in faulty:
            return None
        what = f"there is no {noun} called {shown(name)}"
        return Finding(path, what, choose(name, {*known, *faulty}), severity, of_key)

    def kind(
        self, path: tuple[object, ...], name: str | None, *, of_key: bool = False
    ) -> Finding | None:
        """The finding that a kind of defect is unknown, or which one a lay word was taken for."""
        kinds = shipped_facts().kinds
        if name is None:
            return None
        written = self.written(path) if not of_key else None
        if name not in kinds:
            near = nearest_kind(name, grave_kinds())
            right = f"did you mean {near}?" if near else choose("", kinds)
            return Finding(
                path, f"there is no kind of defect called {shown(name)}", right, of_key=of_key
            )
        if isinstance(written, str) and is_lay(written):
            what = f"{' '.join(written.split())}: {name}"
            right = f"it is read as {name}; write that if it is right, or the kind that is meant"
            return Finding(path, what, right, "warning")
        return None

    def future(self, path: tuple[object, ...], day: date | None) -> Finding | None:
        """The warning that something is dated after the day of the plan."""
        if day is None or day <= self.on:
            return None
        what = f"{day} lies after the day of this plan, {self.on}, so this is left out"
        return Finding(path, what, "if the date is a slip, put it right", "warning")
