"""Documents of the season turned into records, part by part; each fault in words with its place."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import (
    Any,
    Generic,
    TypeVar,
    get_args,
)

from msgspec import Struct, field
from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails, PydanticCustomError

from showprep.season.problems import Place, Problem, problem_at
from showprep.season.record import Record
from showprep.season.records import Fish, JournalEntry, Keeper, Show, ShowCard
from showprep.season.right_shape import NAMES, right_shape, with_example
from showprep.season.shapes import described, keys_at
from showprep.season.values.fields import valid_id
from showprep.season.values.measures import NO_UNIT
from showprep.season.values.quantities import Units
from showprep.season.values.unit_keys import OF_METRIC, OTHER, key_found, metric_key
from showprep.season.values.wording import listed, nearest, shown, slug
from showprep.season.yaml.nodes import Document, read_document

_UNIT_WORDS = {"F": "°F", "in": "inches", "lb": "pounds", "gal": "gallons"}
_SPARE_SUGGESTIONS = 50  # nearest keys are looked for this many times a file
_BOUNDS = {
    "greater_than": ("gt", "write more than {}"),
    "greater_than_equal": ("ge", "write {} or more"),
    "less_than": ("lt", "write less than {}"),
    "less_than_equal": ("le", "write {} or less"),
}


_BY_CHANCE = "a touch-up is planned by its chance: write least_chance"
_GONE: Mapping[str, tuple[str, str]] = {
    "accept_tight": (
        "this key is gone",
        f"{_BY_CHANCE}, the chance below which none is planned, such as 0.7, and sure_enough, "
        "from which a fish is called ready, such as 0.8; with yes here take a lower least_chance",
    ),
    "spare_days": (
        "this key is gone",
        f"{_BY_CHANCE}, the chance below which none is planned, such as 0.7, and sure_enough, "
        "from which a fish is called ready, such as 0.8; no days are added on top",
    ),
}
"""Keys that earlier editions knew, and what to write in their place."""

_SHAPE_ERRORS = frozenset(("model_type", "dict_type", "tuple_type", "list_type"))


class _Fault:
    """One error of the typing, its place resolved against what was read."""

    def __init__(self, error: ErrorDetails, data: Any) -> None:
        self.kind = error["type"]
        self.input = error["input"]
        self.context: dict[str, Any] = error.get("ctx", {})
        self.path: list[object] = []
        self.value = data
        self.of_key = False
        self.last: object = None
        self.near: str | None = None
        self.depth = len(error["loc"])
        self.others = 0  # faults of the same list that are told with this one
        for element in error["loc"]:
            self._take(element)
        self.missing = str(self.last) if self.kind == "missing" else ""

    def _take(self, element: int | str) -> None:
        self.last = element
        if element == "[key]":
            self.of_key = True
        elif isinstance(self.value, dict) and (key := key_found(self.value, element)) is not None:
            self.path.append(key)
            self.value = self.value[str(key)]
        elif (
            isinstance(self.value, list) and isinstance(element, int) and element < len(self.value)
        ):
            self.path.append(element)
            self.value = self.value[element]
        # anything else names a branch of a union, or a key that is missing


def faults(
    error: ValidationError,
    record: type[BaseModel],
    document: Document,
    data: Any,
    prefix: tuple[object, ...] = (),
    units: Units | None = "metric",
) -> Iterator[Problem]:
    """Every fault of one record, which stands at `prefix` in the document."""
    spare = _SPARE_SUGGESTIONS
    told = _told_once([_Fault(details, data) for details in error.errors(include_url=False)])
    told = _units_told_once(told)
    unknown = [fault for fault in told if fault.kind == "extra_forbidden"]
    for fault in unknown[:_SPARE_SUGGESTIONS]:
        fault.near = nearest(str(fault.last), _keys_written(record, fault.path[:-1]))
    meant = {(*fault.path[:-1], metric_key(fault.near)) for fault in unknown}
    whole = _wholly_misshapen(told, record, data, units)
    for fault in told:
        if (*fault.path, fault.missing) in meant:
            continue  # the misspelt key has been told
        where = tuple(fault.path[:-1])
        if where in whole:
            if fault.path[-1] == 0:
                name = _name((*prefix, *where))
                what = f"{name}its items are not what belongs here"
                yield problem_at(document.place((*prefix, *where)), what, whole[where])
            continue
        what, right = _words(fault, record)
        if spare and not fault.of_key and _is_misshapen(fault, record):
            spare -= 1
            made = right_shape(record, fault.path, fault.input, units)
            right = made or with_example(right, record, fault.path)
        of_key = fault.of_key or fault.kind == "extra_forbidden"
        place = document.place((*prefix, *fault.path), of_key=of_key)
        yield problem_at(place, f"{_name((*prefix, *fault.path))}{what}", right)


def _is_misshapen(fault: _Fault, record: type[BaseModel]) -> bool:
    """Is it the shape that is wrong, one value or several, and not what is in it?"""
    if fault.kind == "plain":
        return isinstance(fault.input, dict | list)
    return fault.kind == "shape" or fault.kind in _SHAPE_ERRORS


def _wholly_misshapen(
    found: list[_Fault], record: type[BaseModel], data: Any, units: Units | None
) -> dict[tuple[object, ...], str]:
    """What is right for lists of several items of which none has its shape: told as a whole."""
    items: dict[tuple[object, ...], int] = {}
    for fault in found:
        if fault.path and isinstance(fault.path[-1], int) and _is_misshapen(fault, record):
            where = tuple(fault.path[:-1])
            items[where] = items.get(where, 0) + 1
    right = {}
    for where, count in list(items.items())[:_SPARE_SUGGESTIONS]:
        value = data
        for step in where:
            value = value[step]
        if 1 < count == len(value) <= _SPARE_SUGGESTIONS:
            right[where] = right_shape(record, where, value, units)
    return {where: advice for where, advice in right.items() if advice is not None}


def _told_once(found: list[_Fault]) -> list[_Fault]:
    """Where a value may have several shapes, keep only what is said of the shape it has."""
    deeper = {
        tuple(fault.path[:length])
        for fault in found
        for length in range(len(fault.path) + (fault.kind == "missing"))
    }
    kept: dict[tuple[object, ...], _Fault] = {}
    for fault in found:
        path = tuple(fault.path)
        inside = isinstance(fault.value, dict | list) and path in deeper
        if inside and fault.kind not in ("missing", "extra_forbidden") and not _miscounted(fault):
            continue
        key = (*path, fault.missing, fault.of_key)
        earlier = kept.get(key)
        if earlier is None:
            kept[key] = fault
        elif {earlier.kind, fault.kind} & _SHAPE_ERRORS or "literal_error" in (
            earlier.kind,
            fault.kind,
        ):
            earlier.kind = "shape"
        elif fault.kind == earlier.kind == "plain" and fault.depth > earlier.depth:
            kept[key] = fault  # of a value with several shapes: what is said of its inside
    return list(kept.values())


def _units_told_once(found: list[_Fault]) -> list[_Fault]:
    """Of the amounts without a unit in one list or mapping, the first, told for all of them."""
    kept: list[_Fault] = []
    by_list: dict[tuple[object, ...], _Fault] = {}
    for fault in found:
        inside = fault.path[-2:-1]
        if fault.kind != NO_UNIT or not inside or inside[0] not in OF_METRIC:
            kept.append(fault)
            continue
        first = by_list.setdefault(tuple(fault.path[:-1]), fault)
        if first is fault:
            kept.append(fault)
            continue
        first.others += 1
        likely, also = first.context["likely"], fault.context["likely"]
        first.context["likely"] = tuple(unit for unit in likely if unit in also) or likely
    return kept


def _keys_written(record: type[BaseModel], path: list[object]) -> list[str]:
    """The keys that may stand in a mapping, those that name another unit among them."""
    keys = keys_at(record, path)
    return [*keys, *(OF_METRIC[key].name for key in keys if key in OF_METRIC)]


def said_of(record: type[BaseModel], name: str, value: object, units: Units) -> str | None:
    """What is wrong with one value of a record, and what would be right; None where nothing is."""
    data = {name: value}
    try:
        record.model_validate(data, context={"units": units})
    except ValidationError as error:
        for one in error.errors(include_url=False):
            fault = _Fault(one, data)
            if fault.path and fault.path[0] == name:
                return "; ".join(_words(fault, record))
    return None


def card_part(file: File, units: Units | None = None) -> DocumentPart[ShowCard]:
    """The card of a show, under the key `card`, in the units that it says."""
    part: DocumentPart[ShowCard] = DocumentPart("card", units)
    document = _open(file, part)
    if document is not None and _has(document, part, dict, "a mapping with name and judging"):
        part.units = _units_written(document.data.get("units", "metric"))
        part.type_one("card", document.data, (document, ()), ShowCard)
    return part


def _miscounted(fault: _Fault) -> bool:
    """Are there too few or too many, whatever is wrong with single ones?"""
    count = len(fault.value)
    if fault.kind == "too_short":
        return count < int(fault.context["min_length"])
    return fault.kind == "too_long" and count > int(fault.context["max_length"])


def _name(path: tuple[object, ...]) -> str:
    words = [f"item {at + 1}" if isinstance(at, int) else shown(at)[1:-1] for at in path]
    return f"{', '.join(words)}: " if words else ""


def _words(fault: _Fault, record: type[BaseModel]) -> tuple[str, str]:
    kind, value = fault.kind, shown(fault.input)
    if kind == "missing":
        return f"{fault.missing} is missing", f"add a line '{fault.missing}: ...'"
    if kind == "extra_forbidden":
        return _unknown_key(fault, record)
    if fault.input == "" and not fault.of_key:
        return "there is nothing written here", "write it, or leave the line out"
    if kind == NO_UNIT:
        return _without_unit(fault)
    if kind == "plain":
        return str(fault.context["what"]), str(fault.context["right"])
    if kind in _BOUNDS:
        name, advice = _BOUNDS[kind]
        return f"{value} cannot be right", advice.format(f"{fault.context[name]:g}")
    if kind in ("too_short", "too_long"):
        return _wrong_count(fault)
    if kind == "literal_error":
        return _wrong_choice(fault)
    return f"{value} is not what belongs here", f"write {described(record, fault.path)}"


def _unknown_key(fault: _Fault, record: type[BaseModel]) -> tuple[str, str]:
    what = "no such key is known here"
    if ":" in str(fault.last):
        return what, "write a space after the colon"
    if (gone := _GONE.get(str(fault.last))) is not None:
        return gone
    other = OTHER.get(str(fault.last))
    if other is not None and other.metric in keys_at(record, fault.path[:-1]):
        return f"{other.metric} is given too", "keep one of the two"
    if fault.near is not None:
        return what, f"did you mean {fault.near}?"
    return what, f"the keys here are {listed(keys_at(record, fault.path[:-1]), 'and')}"


def _without_unit(fault: _Fault) -> tuple[str, str]:
    """A number could be in several units: write the unit, or a key that names it."""
    written, likely = fault.context["written"], fault.context["likely"]
    what = f"{shown(written)} has no unit"
    if fault.others:
        what += f", and {fault.others} more here have none"
    ways = listed(f"{written} {unit}" for unit in likely)
    right = f"with units: {fault.context['units']} write {ways}"
    key = next(
        (
            OF_METRIC[step]
            for step in reversed(fault.path)
            if isinstance(step, str) and step in OF_METRIC
        ),
        None,
    )
    if key is None:
        return what, right
    return what, f"{right}, or use the key {key.name} for numbers in {_UNIT_WORDS[key.unit]}"


def _wrong_count(fault: _Fault) -> tuple[str, str]:
    least, most = fault.context.get("min_length"), fault.context.get("max_length")
    needed = least if least is not None else most
    found = len(fault.value) if isinstance(fault.value, dict | list) else "another number"
    if metric_key(fault.path[-1]) == "monthly_c":
        what = f"12 monthly means are needed, {found} found"
        return what, "write one for each month, January first"
    return f"{found} found", f"write at {'least' if least is not None else 'most'} {needed}"


def _wrong_choice(fault: _Fault) -> tuple[str, str]:
    choices = [word.strip("'") for word in _choices(str(fault.context["expected"]))]
    near = nearest(str(fault.input), choices) if isinstance(fault.input, str) else None
    right = f"did you mean {near}? The choices are " if near else "the choices are "
    return f"{shown(fault.input)} is not one of the choices", right + listed(choices)


def _choices(expected: str) -> list[str]:
    return expected.replace(" or ", ", ").split(", ")


R = TypeVar("R", bound=Record)
Where = tuple[Document, tuple[object, ...]]
File = tuple[Path, str]
_UNITS: tuple[Units, ...] = get_args(Units)


class DocumentPart(Struct, Generic[R]):
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
        self.places[key] = where
        found = self.only_faults(data, where, record)
        if found is None:
            self.mark_faulty(self.noun, [str(key)])
        else:
            self.records[key] = found

    def only_faults(self, data: Any, where: Where, record: type[R]) -> R | None:
        """The record, which is not kept; None, and its faults told, if it cannot be typed."""
        document, prefix = where
        try:
            return record.model_validate(data, context={"units": self.units})
        except ValidationError as error:
            self.problems += faults(error, record, document, data, prefix, self.units)
            return None

    def mark_faulty(self, noun: str, names: Iterable[str]) -> None:
        self.faulty.setdefault(noun, set()).update(names)

    def fault(self, place: Place, what: str, right: str) -> None:
        self.problems.append(problem_at(place, what, right))


def keeper_part(file: File | None) -> DocumentPart[Keeper]:
    """The yard, under the key `keeper`. Names of a faulty yard are kept, so as not to be missed."""
    part: DocumentPart[Keeper] = DocumentPart("yard", None)
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


def shows_part(file: File | None, units: Units | None = "metric") -> DocumentPart[Show]:
    """The shows by id."""
    part: DocumentPart[Show] = DocumentPart("show", units)
    document = _open(file, part)
    if document is not None and _has(document, part, dict, "a mapping of shows by id", empty=True):
        for key, data in (document.data or {}).items():
            _with_id(part, key, data, (document, (key,)), Show)
    elif file is not None:
        part.unread.add("show")
    return part


def fish_part(
    listed: File | None, files: Iterable[File], units: Units | None = "metric"
) -> DocumentPart[Fish]:
    """The fish by id, from the list and from the files of single fish."""
    part: DocumentPart[Fish] = DocumentPart("fish", units)
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


def journal_part(file: File | None, units: Units | None = "metric") -> DocumentPart[JournalEntry]:
    """The journal by the place of each entry, from 0."""
    part: DocumentPart[JournalEntry] = DocumentPart("entry", units)
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


def _open(file: File | None, part: DocumentPart[Any]) -> Document | None:
    if file is None:
        return None
    document = read_document(*file)
    part.problems += document.problems
    return document if document.root is not None or not document.problems else None


def _has(
    document: Document, part: DocumentPart[Any], kind: type, wanted: str, *, empty: bool = False
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
    right = f"{wanted} belongs here{_turned_round(data, kind, by_id=empty)}"
    part.fault(document.place(()), f"{_found(data)} stands here", right)
    return False


def _turned_round(data: object, kind: type, *, by_id: bool) -> str:
    """How what was written becomes what belongs there, made of its first item."""
    if kind is list and isinstance(data, dict):
        return f": begin each entry with a dash, '- {next(iter(data), 'on')}: ...'"
    if kind is not dict or not isinstance(data, list) or not data or not isinstance(data[0], dict):
        return ""
    named = next((data[0][key] for key in NAMES if isinstance(data[0].get(key), str)), None)
    if not by_id or named is None or not slug(named).isascii():
        return ": take the dash away" if len(data) == 1 else ""
    return f": '{slug(named)}:' in place of the dash, and its keys below it"


def _found(data: object) -> str:
    if isinstance(data, Mapping):
        return "a mapping"
    return "a list" if isinstance(data, list) else "plain text"


def _with_id(part: DocumentPart[R], key: str, data: Any, where: Where, record: type[R]) -> None:
    document, prefix = where
    place = document.place(prefix, of_key=True) if prefix else Place(document.file)
    try:
        valid_id(key)
    except PydanticCustomError as error:
        context: dict[str, Any] = error.context or {}
        part.fault(place, str(context["what"]), str(context["right"]))
        part.mark_faulty(part.noun, [key])
    if key in part.places:
        first, first_prefix = part.places[key]
        earlier = first.place(first_prefix, of_key=True)
        line = f", line {earlier.line}" if first_prefix else ""
        part.fault(place, f"{key} is also in {first.file}{line}", "keep one of the two")
        part.only_faults(data, where, record)
        return
    part.type_one(key, data, where, record)


def all_problems(parts: Iterable[DocumentPart[Any]]) -> Iterator[Problem]:
    """The problems of several parts, one part after the other."""
    for part in parts:
        yield from part.problems
