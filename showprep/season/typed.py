"""Documents of the season turned into records, part by part; each fault with its place."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Generic, TypeVar, get_args

from pydantic import ValidationError
from pydantic_core import PydanticCustomError

from showprep.season.faults import faults
from showprep.season.fields import slug
from showprep.season.nodes import Document, read_document
from showprep.season.problems import Place, Problem, problem_at
from showprep.season.quantities import Units
from showprep.season.record import Record
from showprep.season.records import Fish, JournalEntry, Keeper, Show

R = TypeVar("R", bound=Record)
Where = tuple[Document, tuple[object, ...]]
File = tuple[Path, str]
_UNITS: tuple[Units, ...] = get_args(Units)


@dataclass
class Part(Generic[R]):
    """One part of the season: its records by key, where each stands, what was wrong.

    `noun` is what a record of the part is called. `faulty` are, by noun, the names of things
    that could not be typed; of the nouns in `unread` there may be more names than could be read.
    `units` are those of the season, None when its yard could not be read.
    """

    noun: str
    units: Units | None = "metric"
    records: dict[Any, R] = field(default_factory=dict)
    places: dict[Any, Where] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    faulty: dict[str, set[str]] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)

    def type_one(self, key: str | int, data: Any, where: Where, record: type[R]) -> None:
        """Type one record and keep it, or its faults."""
        document, prefix = where
        self.places[key] = where
        try:
            self.records[key] = record.model_validate(data, context={"units": self.units})
        except ValidationError as error:
            self.problems += faults(error, record, document, data, prefix)
            self.mark_faulty(self.noun, [str(key)])

    def mark_faulty(self, noun: str, names: Iterable[str]) -> None:
        self.faulty.setdefault(noun, set()).update(names)

    def fault(self, place: Place, what: str, right: str) -> None:
        self.problems.append(problem_at(place, what, right))


def keeper_part(file: File | None) -> Part[Keeper]:
    """The yard, under the key `keeper`. Names of a faulty yard are kept, so as not to be missed."""
    part: Part[Keeper] = Part("yard", None)
    document = _open(file, part)
    if document is None or not _has(document, part, dict, "a mapping with time_zone and waters"):
        part.unread |= {"water", "size table"}
        return part
    part.units = _units_written(document.data.get("units", "metric"))
    part.type_one("keeper", document.data, (document, ()), Keeper)
    if part.faulty:
        for noun, key in (("water", "waters"), ("size table", "size_tables")):
            table = document.data.get(key)
            if isinstance(table, dict):
                part.mark_faulty(noun, table)
            else:
                part.unread.add(noun)
    return part


def shows_part(file: File | None, units: Units | None = "metric") -> Part[Show]:
    """The shows by id."""
    part: Part[Show] = Part("show", units)
    document = _open(file, part)
    if document is not None and _has(document, part, dict, "a mapping of shows by id", empty=True):
        for key, data in (document.data or {}).items():
            _with_id(part, key, data, (document, (key,)), Show)
    elif file is not None:
        part.unread.add("show")
    return part


def fish_part(
    listed: File | None, files: Iterable[File], units: Units | None = "metric"
) -> Part[Fish]:
    """The fish by id, from the list and from the files of single fish."""
    part: Part[Fish] = Part("fish", units)
    document = _open(listed, part)
    if document is not None and _has(document, part, dict, "a mapping of fish by id", empty=True):
        for key, data in (document.data or {}).items():
            _with_id(part, key, data, (document, (key,)), Fish)
    elif listed is not None:
        part.unread.add("fish")
    for path, name in files:
        single = _open((path, name), part)
        if single is None:
            part.mark_faulty("fish", [path.stem])
        elif _has(single, part, dict, "a mapping with name and variety"):
            _with_id(part, path.stem, single.data, (single, ()), Fish)
        else:
            part.mark_faulty("fish", [path.stem])
    return part


def journal_part(file: File | None, units: Units | None = "metric") -> Part[JournalEntry]:
    """The journal by the place of each entry, from 0."""
    part: Part[JournalEntry] = Part("entry", units)
    document = _open(file, part)
    if document is not None and _has(document, part, list, "a list of entries", empty=True):
        for at, data in enumerate(document.data or ()):
            part.type_one(at, data, (document, (at,)), JournalEntry)
    return part


def _units_written(word: object) -> Units | None:
    """The units meant, so that a slip in the word does not hide what is amiss with amounts."""
    written = word.strip().casefold() if isinstance(word, str) else ""
    meant = difflib.get_close_matches(written, _UNITS, n=1, cutoff=0.8)  # US, usa, imperal
    return next((units for units in _UNITS if units in meant), None)


def _open(file: File | None, part: Part[Any]) -> Document | None:
    if file is None:
        return None
    document = read_document(*file)
    part.problems += document.problems
    return document if document.root is not None or not document.problems else None


def _has(
    document: Document, part: Part[Any], kind: type, wanted: str, *, empty: bool = False
) -> bool:
    """Is the file's content of the kind wanted (or, where that is allowed, nothing at all)?"""
    data = document.data
    if isinstance(data, kind):
        return True
    if data is None or data == "":
        document.data = None
        if not empty:
            part.fault(
                Place(document.file, 1, 1), "there is nothing in this file", f"write {wanted}"
            )
        return empty
    part.fault(document.place(()), f"{_found(data)} stands here", f"{wanted} belongs here")
    return False


def _found(data: object) -> str:
    if isinstance(data, Mapping):
        return "a mapping"
    return "a list" if isinstance(data, list) else "plain text"


def _with_id(part: Part[R], key: str, data: Any, where: Where, record: type[R]) -> None:
    document, prefix = where
    place = document.place(prefix, of_key=True) if prefix else Place(document.file)
    try:
        slug(key)
    except PydanticCustomError as error:
        context: dict[str, Any] = error.context or {}
        part.fault(place, str(context["what"]), str(context["right"]))
        part.mark_faulty(part.noun, [key])
        return
    if key in part.places:
        first, first_prefix = part.places[key]
        earlier = first.place(first_prefix, of_key=True)
        line = f", line {earlier.line}" if first_prefix else ""
        part.fault(place, f"{key} is also in {first.file}{line}", "keep one of the two")
        return
    part.type_one(key, data, where, record)


def all_problems(parts: Iterable[Part[Any]]) -> Iterator[Problem]:
    """The problems of several parts, one part after the other."""
    for part in parts:
        yield from part.problems
