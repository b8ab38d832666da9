"""A season folder read into a Season: every fault of every file at once, with its line."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct

from showprep.season.checks.checked import Checked, Finding
from showprep.season.checks.fish import FISH_CHECKS
from showprep.season.checks.journal import JOURNAL_CHECKS
from showprep.season.checks.keeper import KEEPER_CHECKS
from showprep.season.checks.shows import SHOW_CHECKS
from showprep.season.checks.slips import OF_THE_YARD, SLIP_CHECKS
from showprep.season.problems import Place, Problem, SeasonError, problem_at
from showprep.season.records import JournalEntry, Keeper, Season
from showprep.season.typed import (
    DocumentPart,
    all_problems,
    fish_part,
    journal_part,
    keeper_part,
    shows_part,
)
from showprep.season.values.quantities import Units
from showprep.season.values.wording import nearest, shown
from showprep.season.values.zone_data import use_newest_zone_data
from showprep.season.yaml.nodes import Document

KEEPER, SHOWS, FISH, JOURNAL = "keeper.yaml", "shows.yaml", "fish.yaml", "journal.yaml"
FISH_FOLDER = "fish"
_READ = (KEEPER, SHOWS, FISH, JOURNAL)
_YAML_ENDINGS = (".yaml", ".yml")


class Files(Struct):
    """The files to read, each as (path, name inside the folder), and problems with names."""

    keeper: tuple[Path, str] | None = None
    shows: tuple[Path, str] | None = None
    fish_list: tuple[Path, str] | None = None
    journal: tuple[Path, str] | None = None
    fish: list[tuple[Path, str]] = []
    problems: list[Problem] = []

    def fault(self, name: str, what: str, right: str) -> None:
        self.problems.append(Problem(name, 0, 0, what, right))

    def warning(self, name: str, what: str, right: str) -> None:
        self.problems.append(Problem(name, 0, 0, what, right, "warning"))


def files_of(folder: Path) -> Files:
    """The files of a season folder. The folder is only looked at, never written to."""
    files = Files()
    names = _names(folder, files, str(folder))
    if names is None:
        return files
    present = {name: (folder / name, name) for name in _READ if name in names}
    files.keeper = present.get(KEEPER)
    files.shows = present.get(SHOWS)
    files.fish_list = present.get(FISH)
    files.journal = present.get(JOURNAL)
    if KEEPER not in names:
        right = "'showprep start' writes a folder with a worked example to begin from"
        files.fault(KEEPER, f"there is no {KEEPER} in {folder}", right)
    if SHOWS not in names:
        files.warning(SHOWS, f"there is no {SHOWS}", "without one there is nothing to plan for")
    _near_misses(names, files)
    if FISH_FOLDER in names:
        _fish_folder(folder, files)
    return files


def _names(folder: Path, files: Files, name: str) -> list[str] | None:
    try:
        return sorted(path.name for path in folder.iterdir())
    except NotADirectoryError:
        files.fault(name, "this is no folder", "give the folder that holds keeper.yaml")
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "it has no such name").lower()
        files.fault(name, f"the folder cannot be opened ({reason})", "give the season's folder")
    return None


def _near_misses(names: list[str], files: Files) -> None:
    for name in names:
        stem, dot, ending = name.rpartition(".")
        if name in _READ or name.startswith(".") or not dot:
            continue
        if f".{ending.casefold()}" not in _YAML_ENDINGS:
            continue
        near = nearest(stem, [wanted.removesuffix(".yaml") for wanted in _READ])
        if near is not None:
            files.warning(name, "this file is not read", f"did you mean {near}.yaml?")


def _fish_folder(folder: Path, files: Files) -> None:
    if (folder / FISH_FOLDER).is_file():
        right = f"a folder called fish holds one file for each fish; a list is {FISH}"
        files.fault(FISH_FOLDER, "this is a file", right)
        return
    for name in _names(folder / FISH_FOLDER, files, FISH_FOLDER) or ():
        inside = f"{FISH_FOLDER}/{name}"
        if name.startswith("."):
            continue
        if name.endswith(".yaml"):
            files.fish.append((folder / FISH_FOLDER / name, inside))
        elif name.casefold().endswith(_YAML_ENDINGS):
            right = f"call it {shown(name.rpartition('.')[0] + '.yaml')[1:-1]}"
            files.warning(inside, "this file is not read", right)


Check = Callable[[Checked], Iterator[Finding | None]]

YARD_CHECKS: tuple[Check, ...] = (*KEEPER_CHECKS, *OF_THE_YARD)
OTHER_CHECKS: tuple[Check, ...] = (*SHOW_CHECKS, *FISH_CHECKS, *JOURNAL_CHECKS, *SLIP_CHECKS)


def findings(checked: Checked) -> Iterator[Finding]:
    """Everything that the records say amiss."""
    for check in (*(YARD_CHECKS if checked.keeper_sound else ()), *OTHER_CHECKS):
        for finding in check(checked):
            if finding is not None:
                yield finding


class Reading(Struct, frozen=True):
    """A season read without a fault, and what the keeper may want to look at all the same."""

    season: Season
    warnings: tuple[Problem, ...]
    _parts: dict[str, DocumentPart[Any]]

    def where(self, *path: object) -> Place:
        """The place of a value: `where("fish", "aoi", "merit")`, `where("journal", 3)`."""
        return _place(self._parts, path)


def season_name(folder: Path) -> str:
    """The season's name is its folder's; bytes that are no UTF-8 are shown as such."""
    return os.fsencode(folder.resolve().name).decode("utf-8", "replace")


def read_season(folder: Path, on: date) -> Reading:
    """Read the season in `folder` as it stands on day `on`.

    Raises SeasonError, which holds the faults and warnings of all files; nothing else comes out,
    whatever the files hold.
    """
    use_newest_zone_data()
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
    parts: dict[str, DocumentPart[Any]] = {
        "keeper": yard,
        "shows": shows,
        "fish": fish,
        "journal": journal,
    }
    standing, taken_back = _standing(journal)
    problems = [*files.problems, *all_problems(parts.values())]
    season = Season.model_construct(
        keeper=yard.records.get("keeper") or _stand_in(yard.units),
        shows=shows.records,
        fish=fish.records,
        journal=tuple(journal.records[at] for at in standing),
        taken_back=taken_back,
    )
    problems += _checked(season, on, folder, parts, standing)
    problems = _in_order(problems, files)
    if any(problem.severity == "fault" for problem in problems):
        raise SeasonError(one for one in problems if one.severity != "question")
    return Reading(season, tuple(problems), parts)


def _standing(
    journal: DocumentPart[JournalEntry],
) -> tuple[list[int], tuple[JournalEntry, ...]]:
    """The places of the entries that count, and those that were taken back, by a later one.

    Of several alike the last is taken back. One that takes nothing back is a fault.
    """
    standing: dict[int, JournalEntry] = {}
    taken: list[JournalEntry] = []
    for at, entry in journal.records.items():
        if entry.undone is None:
            standing[at] = entry
            continue
        same = entry.model_copy(update={"undone": None})
        found = next((one for one in reversed(standing) if standing[one] == same), None)
        if found is None:
            document, prefix = journal.places[at]
            right = "copy the whole entry and add undone, or let 'showprep note --undo' do it"
            place = document.place((*prefix, "undone"))
            journal.fault(place, "no entry before this one says the same", right)
        else:
            del standing[found]
            taken.append(entry)
    return list(standing), tuple(taken)


def _checked(
    season: Season,
    on: date,
    folder: Path,
    parts: dict[str, DocumentPart[Any]],
    entries: Sequence[int],
) -> Iterator[Problem]:
    """What the records say against each other; names of faulty records are taken as known.

    `entries` are the places of the journal's entries among all that are written.
    """
    faulty = {noun: names for part in parts.values() for noun, names in part.faulty.items()}
    unread = frozenset(noun for part in parts.values() for noun in part.unread)
    sound = bool(parts["keeper"].records)

    def in_files(path: tuple[object, ...]) -> tuple[object, ...]:
        if path[0] == "journal" and len(path) > 1 and isinstance(path[1], int):
            return ("journal", entries[path[1]], *path[2:])
        return path

    def written(path: tuple[object, ...]) -> str | None:
        document, whole = _whole(parts, in_files(path))
        return document.written(whole) if document is not None else None

    checked = Checked(season, on, folder, faulty, sound, unread, written)
    for found in findings(checked):
        path = in_files(found.path)
        place = _place(parts, path, of_key=found.of_key)
        if found.severity == "question" and _is_sure(parts, path, place):
            continue
        yield problem_at(place, found.what, found.right, found.severity)


def _place(
    parts: dict[str, DocumentPart[Any]], path: tuple[object, ...], *, of_key: bool = False
) -> Place:
    document, whole = _whole(parts, path)
    if document is None:
        return Place(f"{path[0]}.yaml")
    return document.place(whole, of_key=of_key)


def _whole(
    parts: dict[str, DocumentPart[Any]], path: tuple[object, ...]
) -> tuple[Document | None, tuple[object, ...]]:
    """The file a path leads into, and the path inside it."""
    part, rest = parts[str(path[0])], path[1:]
    if path[0] == "keeper":
        rest = ("keeper", *rest)
    if not rest or rest[0] not in part.places:
        return None, ()
    document, prefix = part.places[rest[0]]
    return document, (*prefix, *rest[1:])


def _is_sure(parts: dict[str, DocumentPart[Any]], path: tuple[object, ...], place: Place) -> bool:
    part, first = parts[str(path[0])], "keeper" if path[0] == "keeper" else path[1]
    return first in part.places and part.places[first][0].is_sure(place.line)


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
