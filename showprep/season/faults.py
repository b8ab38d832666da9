"""Faults found while typing the records, in a keeper's words and with their place in the file."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from showprep.season.measures import NO_UNIT
from showprep.season.nodes import Document
from showprep.season.problems import Problem, problem_at
from showprep.season.shapes import described, keys_at
from showprep.season.unit_keys import OF_METRIC, OTHER, key_found, metric_key
from showprep.season.wording import listed, nearest, shown

_SHAPE_ERRORS = frozenset(("model_type", "dict_type", "tuple_type", "list_type"))
_UNIT_WORDS = {"F": "°F", "in": "inches", "lb": "pounds", "gal": "gallons"}
_SPARE_SUGGESTIONS = 50  # nearest keys are looked for this many times a file

_BOUNDS = {
    "greater_than": ("gt", "write more than {}"),
    "greater_than_equal": ("ge", "write {} or more"),
    "less_than": ("lt", "write less than {}"),
    "less_than_equal": ("le", "write {} or less"),
}


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
) -> Iterator[Problem]:
    """Every fault of one record, which stands at `prefix` in the document."""
    told = _told_once([_Fault(details, data) for details in error.errors(include_url=False)])
    told = _units_told_once(told)
    unknown = [fault for fault in told if fault.kind == "extra_forbidden"]
    for fault in unknown[:_SPARE_SUGGESTIONS]:
        fault.near = nearest(str(fault.last), _keys_written(record, fault.path[:-1]))
    meant = {(*fault.path[:-1], metric_key(fault.near)) for fault in unknown}
    for fault in told:
        if (*fault.path, fault.missing) in meant:
            continue  # the misspelt key has been told
        what, right = _words(fault, record)
        of_key = fault.of_key or fault.kind == "extra_forbidden"
        place = document.place((*prefix, *fault.path), of_key=of_key)
        yield problem_at(place, f"{_name((*prefix, *fault.path))}{what}", right)


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
