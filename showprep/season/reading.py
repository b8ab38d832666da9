"""A season folder read into a Season: every fault of every file at once, with its line."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from showprep.season.checked import Checked
from showprep.season.checks import findings
from showprep.season.folder import Files, files_of
from showprep.season.problems import Place, Problem, SeasonError, problem_at
from showprep.season.quantities import Units
from showprep.season.records import Keeper, Season
from showprep.season.typed import (
    Part,
    all_problems,
    fish_part,
    journal_part,
    keeper_part,
    shows_part,
)


@dataclass(frozen=True)
class Reading:
    """A season read without a fault, and what the keeper may want to look at all the same."""

    season: Season
    warnings: tuple[Problem, ...]
    _parts: dict[str, Part[Any]] = field(repr=False)

    def where(self, *path: object) -> Place:
        """The place of a value: `where("fish", "aoi", "merit")`, `where("journal", 3)`."""
        return _place(self._parts, path)


def read_season(folder: Path, on: date) -> Reading:
    """Read the season in `folder` as it stands on day `on`.

    Raises SeasonError, which holds the faults and warnings of all files; nothing else comes out,
    whatever the files hold.
    """
    with _collector_off():
        return _read(folder, on)


@contextmanager
def _collector_off() -> Iterator[None]:
    # Many small objects are made and none is dropped: looking for cycles would double the time.
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _read(folder: Path, on: date) -> Reading:
    files = files_of(folder)
    yard = keeper_part(files.keeper)
    shows = shows_part(files.shows, yard.units)
    fish = fish_part(files.fish_list, files.fish, yard.units)
    journal = journal_part(files.journal, yard.units)
    parts: dict[str, Part[Any]] = {
        "keeper": yard,
        "shows": shows,
        "fish": fish,
        "journal": journal,
    }
    problems = [*files.problems, *all_problems(parts.values())]
    season = Season.model_construct(
        keeper=yard.records.get("keeper") or _stand_in(yard.units),
        shows=shows.records,
        fish=fish.records,
        journal=tuple(journal.records.values()),
    )
    problems += _checked(season, on, folder, parts)
    problems = _in_order(problems, files)
    if any(problem.severity == "fault" for problem in problems):
        raise SeasonError(problems)
    return Reading(season, tuple(problems), parts)


def _checked(
    season: Season, on: date, folder: Path, parts: dict[str, Part[Any]]
) -> Iterator[Problem]:
    """What the records say against each other; names of faulty records are taken as known."""
    faulty = {noun: names for part in parts.values() for noun, names in part.faulty.items()}
    unread = frozenset(noun for part in parts.values() for noun in part.unread)
    sound = bool(parts["keeper"].records)
    checked = Checked(season, on, folder, faulty, sound, unread)
    entries = list(parts["journal"].records)
    for found in findings(checked):
        path = found.path
        if path[0] == "journal" and len(path) > 1 and isinstance(path[1], int):
            path = ("journal", entries[path[1]], *path[2:])
        place = _place(parts, path, of_key=found.of_key)
        yield problem_at(place, found.what, found.right, found.severity)


def _place(parts: dict[str, Part[Any]], path: tuple[object, ...], *, of_key: bool = False) -> Place:
    part, rest = parts[str(path[0])], path[1:]
    if path[0] == "keeper":
        rest = ("keeper", *rest)
    if not rest or rest[0] not in part.places:
        return Place(f"{path[0]}.yaml")
    document, prefix = part.places[rest[0]]
    return document.place((*prefix, *rest[1:]), of_key=of_key)


def _stand_in(units: Units | None) -> Keeper:
    """A yard to check the other files against when the keeper's own has faults."""
    return Keeper.model_construct(time_zone="UTC", waters={}, units=units or "metric")


def _in_order(problems: list[Problem], files: Files) -> list[Problem]:
    """By file, in the order they are read, then by line."""
    order = [file[1] for file in (files.keeper, files.shows, files.fish_list) if file]
    order += [name for _, name in files.fish]
    order += [files.journal[1]] if files.journal else []
    at = {name: number for number, name in enumerate(order)}
    return sorted(
        problems, key=lambda one: (at.get(one.file, -1), one.file, one.line, one.column, one.what)
    )
