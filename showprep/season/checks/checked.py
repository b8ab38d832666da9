"""What a check is given, and what it says."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Set
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from showprep.season.problems import Severity
from showprep.season.records import Season
from showprep.season.values.wording import choose, shown


@dataclass(frozen=True, slots=True)
class Finding:
    """Something the records say that cannot be, or is not likely.

    `path` begins with `keeper`, `shows`, `fish` or `journal` and goes on as in the files.
    """

    path: tuple[object, ...]
    what: str
    right: str
    severity: Severity = "fault"
    of_key: bool = False


@dataclass(frozen=True, slots=True)
class Checked:
    """The season to check as it stands on day `on`.

    `faulty` are, by noun, the names of things that could not be typed: they are known, but no
    more can be said of them. `keeper_sound`: the yard itself could be typed. `unread` are the
    nouns of things whose file could not be read, so that no name can be called unknown.
    """

    season: Season
    on: date
    folder: Path
    faulty: Mapping[str, Set[str]] = field(default_factory=dict)
    keeper_sound: bool = True
    unread: frozenset[str] = frozenset()

    def unknown(
        self,
        path: tuple[object, ...],
        noun: str,
        name: str | None,
        known: Collection[str],
        severity: Severity = "fault",
        *,
        of_key: bool = False,
        grave: Collection[str] = (),
    ) -> Finding | None:
        """The finding that `name` is not among the known ones; None when it is, or is not given.

        `grave` are those that no near miss is to be taken for.
        """
        if name is None or name in known or noun in self.unread:
            return None
        faulty = self.faulty.get(noun, frozenset())
        if name in faulty:
            return None
        what = f"there is no {noun} called {shown(name)}"
        return Finding(path, what, choose(name, {*known, *faulty}, grave=grave), severity, of_key)

    def future(self, path: tuple[object, ...], day: date | None) -> Finding | None:
        """The warning that something is dated after the day of the plan."""
        if day is None or day <= self.on:
            return None
        what = f"{day} lies after the day of this plan, {self.on}, so this is left out"
        return Finding(path, what, "if the date is a slip, put it right", "warning")
