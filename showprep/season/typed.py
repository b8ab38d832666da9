"""Documents of the season turned into records, part by part; each fault in words with its place."""

from __future__ import annotations

import difflib
import re
import types
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import (
    Annotated,
    Any,
    Generic,
    Literal,
    TypeVar,
    Union,
    get_args,
    get_origin,
    get_type_hints,
)

from pydantic import BaseModel, TypeAdapter, ValidationError, WithJsonSchema
from pydantic_core import ErrorDetails, PydanticCustomError

from showprep.season.journal_text import scalar
from showprep.season.problems import Place, Problem, problem_at
from showprep.season.record import Record
from showprep.season.records import Fish, JournalEntry, Keeper, Show
from showprep.season.values.fields import Day, valid_id
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


def keys_at(record: type[BaseModel], path: Sequence[object]) -> tuple[str, ...]:
    """The keys that a mapping at `path` may have, if it is a record."""
    names = (
        field.alias or name
        for shape in shapes_at(record, path)
        if _is_record(shape)
        for name, field in shape.model_fields.items()
    )
    return tuple(dict.fromkeys(names))


def shapes_at(record: Any, path: Sequence[object]) -> list[Any]:
    """The types that a value at `path` may have, unions taken apart."""
    shapes = list(_taken_apart(record))
    for element in path:
        shapes = [deeper for shape in shapes for deeper in _step(shape, element)]
    return shapes


def described(record: type[BaseModel], path: Sequence[object]) -> str:
    """What belongs at `path`, in a few words."""
    words = dict.fromkeys(_word(shape) for shape in shapes_at(record, path) if shape is not None)
    return " or ".join(words) or "another value"


def _word(shape: Any) -> str:
    if _is_record(shape):
        needed = [name for name, field in shape.model_fields.items() if field.is_required()]
        keys = needed or list(shape.model_fields)[:3]
        names = listed((shape.model_fields[key].alias or key for key in keys), "and")
        return f"a mapping with {names}"
    if shape is bool:
        return "yes or no"
    origin = get_origin(shape)
    if origin is dict:
        return "a mapping"
    if origin is tuple:
        return "a list, such as [one, another]"
    if origin is Literal:
        return listed(f"'{choice}'" for choice in get_args(shape))
    return "one value"


def _is_record(shape: Any) -> bool:
    return isinstance(shape, type) and issubclass(shape, BaseModel)


def _taken_apart(shape: Any) -> Iterator[Any]:
    origin = get_origin(shape)
    if origin is Annotated:
        yield from _taken_apart(get_args(shape)[0])
    elif origin in (Union, types.UnionType):
        for part in get_args(shape):
            if part is not type(None):
                yield from _taken_apart(part)
    else:
        yield shape


def _step(shape: Any, element: object) -> Iterator[Any]:
    if _is_record(shape):
        for name, field in shape.model_fields.items():
            if metric_key(element) in (name, field.alias):
                yield from _taken_apart(field.annotation)
    elif get_origin(shape) is dict:
        yield from _taken_apart(get_args(shape)[1])
    elif get_origin(shape) is tuple:
        yield from _taken_apart(get_args(shape)[0])


_MOST_SHOWN = 160  # characters of an example; a longer one is no help
_BETWEEN = re.compile(r"\s+(?:to|until|till|and|by|x)\s+|\s*[,;–]\s*|\s+-\s+", re.IGNORECASE)
_NAMES = ("id", "name", "kind")  # keys that say which one of several an item is


def right_shape(
    record: type[BaseModel], path: Sequence[object], value: object, units: Units | None
) -> str | None:
    """The advice to write the value at `path` in a shape that can be read there; None if none is.

    It is made of what was written; what that does not say is filled with an example, and told.
    """
    hint = _hint_at(record, path)
    if hint is None:
        return None
    made = next((one for one in _reshaped(hint, value, units) if _fits(hint, one, units)), None)
    if made is None or len(told := in_flow(made)) > _MOST_SHOWN:
        return None
    if _words_of(made) <= _words_of(value):
        return f"write {told}"
    return f"write it like this, with your own figures: {told}"


def _words_of(value: object) -> set[str]:
    """The single words of all values, and of keys that are days."""
    if isinstance(value, dict):
        days = (str(key) for key in value if str(key)[:1].isdigit())
        return set(days).union(*map(_words_of, value.values()))
    if isinstance(value, list):
        return set().union(*map(_words_of, value))
    return set(re.findall(r"[^\s,;:=]+", str(value)))


def in_flow(value: object) -> str:
    """Plain data as YAML on one line."""
    if isinstance(value, dict):
        inside = ", ".join(f"{in_flow(key)}: {in_flow(one)}" for key, one in value.items())
        return f"{{{inside}}}"
    if isinstance(value, list):
        return f"[{', '.join(map(in_flow, value))}]"
    text = str(value)
    return f'"{text}"' if "," in text and '"' not in text else scalar(text)


def example_of(hint: Any, key: str = "") -> Any:
    """An invented value of a type, as text, lists and mappings."""
    if get_origin(hint) is Annotated:
        for extra in get_args(hint)[1:]:
            if (given := _given_example(extra)) is not None:
                return given
        return example_of(get_args(hint)[0], key)
    shape = next(iter(_parts(hint)))
    if shape is not hint and get_origin(shape) is Annotated:
        return example_of(shape, key)
    if _is_record(shape):
        needed = [key for key, field in shape.model_fields.items() if field.is_required()]
        return _filled(shape, dict.fromkeys(needed or list(shape.model_fields)[:1]))
    origin, inside = get_origin(shape), get_args(shape)
    if origin is dict:
        return {example_of(inside[0]): example_of(inside[1])}
    if origin is tuple:
        return [example_of(inside[0])]
    if origin is Literal:
        return str(inside[0])
    return "3"


def _given_example(extra: object) -> Any:
    schema = extra.json_schema if isinstance(extra, WithJsonSchema) else None
    examples = (schema or {}).get("examples") or getattr(extra, "examples", None)
    return examples[0] if examples else None


def _filled(record: type[BaseModel], values: Mapping[str, object]) -> dict[str, object]:
    """`values` by the names of fields, as they are written; those that are None are invented."""
    hints = get_type_hints(record, include_extras=True)
    return {
        record.model_fields[key].alias or key: example_of(hints[key], key) if one is None else one
        for key, one in values.items()
    }


def _parts(hint: Any) -> Iterator[Any]:
    """The types of a union, each with what is said of it."""
    if get_origin(hint) in (Union, types.UnionType):
        for part in get_args(hint):
            if part is not type(None):
                yield from _parts(part)
    elif get_origin(hint) is Annotated and get_origin(get_args(hint)[0]) in (
        Union,
        types.UnionType,
    ):
        yield from _parts(get_args(hint)[0])
    else:
        yield hint


def _hint_at(record: type[BaseModel], path: Sequence[object]) -> Any:
    """The type of the value at `path`, with all that is said of it; None past the first fork."""
    hint: Any = record
    for element in path:
        steps = [one for part in _parts(hint) for one in _hint_step(part, element)]
        if not steps:
            return None
        hint = steps[0]
    return hint


def _hint_step(hint: Any, element: object) -> Iterator[Any]:
    shape = get_args(hint)[0] if get_origin(hint) is Annotated else hint
    if _is_record(shape):
        hints = get_type_hints(shape, include_extras=True)
        for name, field in shape.model_fields.items():
            if metric_key(element) in (name, field.alias):
                yield hints[name]
    elif get_origin(shape) is dict:
        yield get_args(shape)[1]
    elif get_origin(shape) is tuple:
        yield get_args(shape)[0]


def _fits(hint: Any, value: object, units: Units | None) -> bool:
    try:
        TypeAdapter(hint).validate_python(value, context={"units": units})
    except ValidationError:
        return False
    return True


def _reshaped(hint: Any, value: object, units: Units | None) -> Iterator[Any]:
    """The value in each shape it might be meant in, the likeliest first; some may not fit."""
    if isinstance(value, list) and len(value) == 1:
        yield value[0]
    if isinstance(value, dict):
        yield list(value.values())
    if isinstance(value, dict) and len(value) == 1:
        yield from value.values()
    for part in _parts(hint):
        shape = get_args(part)[0] if get_origin(part) is Annotated else part
        for inner in _parts(shape):
            if _is_record(inner):
                yield from _as_record(inner, value, units)
            elif get_origin(inner) is tuple:
                yield from _as_list(get_args(inner)[0], value, units)
            elif get_origin(inner) is dict:
                yield from _as_mapping(inner, value)


def _as_list(hint: Any, value: object, units: Units | None) -> Iterator[Any]:
    whole = _first_fit(hint, value, units)
    pieces = value if isinstance(value, list) else _pieces(value)
    parts = [_first_fit(hint, piece, units) for piece in pieces]
    if len(parts) > 1 and None not in parts and not any(_invented(hint, one) for one in pieces):
        yield parts
    if whole is not None:
        yield [whole]
    if parts and None not in parts:
        yield parts
    if isinstance(value, str) and len(parts) == 1:
        yield value.split()


def _invented(hint: Any, piece: object) -> bool:
    """Is a record needed where one word was written, so that part of it has to be made up?"""
    return isinstance(piece, str) and any(
        _is_record(get_args(part)[0] if get_origin(part) is Annotated else part)
        for part in _parts(hint)
    )


def _first_fit(hint: Any, value: object, units: Units | None) -> Any:
    if _fits(hint, value, units):
        return value
    return next((one for one in _reshaped(hint, value, units) if _fits(hint, one, units)), None)


def _as_mapping(hint: Any, value: object) -> Iterator[Any]:
    keys, values = get_args(hint)
    if isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
        merged = {key: one for item in value for key, one in item.items()}
        if len(merged) == sum(map(len, value)):
            yield merged
        named = {
            str(item[key]): {name: one for name, one in item.items() if name != key}
            for item in value
            for key in _NAMES
            if key in item
        }
        if len(named) == len(value):
            yield named
    elif isinstance(value, str):
        pieces = re.split(r"\s*[:=]\s*|\s+", value, maxsplit=1)
        if len(pieces) == 2:
            yield dict([pieces])
            yield {pieces[1]: pieces[0]}
        yield {example_of(keys): value}
        yield {value: example_of(values)}


def _as_record(record: type[BaseModel], value: object, units: Units | None) -> Iterator[Any]:
    if isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
        yield {key: one for item in value for key, one in item.items()}
    if str(value).casefold() in ("yes", "no", "true", "false"):
        return  # no answer to a question that was not read
    hints = get_type_hints(record, include_extras=True)
    fields = record.model_fields
    asked = [key for key in fields if fields[key].annotation is not bool]
    needed = [key for key in asked if fields[key].is_required()]
    if isinstance(value, list):
        whole = (key for key in needed if _fits(hints[key], value, units))
        yield from (_filled(record, {**dict.fromkeys(needed), key: value}) for key in whole)
    pieces = list(value) if isinstance(value, list) else _pieces(value)
    for order in (needed, asked) if isinstance(value, str) else (needed,):
        if (found := _in_turn(pieces, order, hints, units)) is not None:
            yield _filled(record, {**dict.fromkeys(needed), **found})
    if len(needed) == 2 and hints[needed[0]] == hints[needed[1]] == Day:
        yield _filled(record, dict.fromkeys(needed, value))
    for key in [*needed, *(key for key in asked if key not in needed)]:
        if isinstance(value, str | list) and _fits(hints[key], value, units):
            yield _filled(record, {**dict.fromkeys(needed), key: value})
            return


def _in_turn(
    pieces: Sequence[object], keys: Iterable[str], hints: Mapping[str, Any], units: Units | None
) -> dict[str, object] | None:
    """Each piece under the first key, in their order, that can hold it; None if one finds none."""
    found: dict[str, object] = {}
    left = iter(keys)
    for piece in pieces:
        key = next((one for one in left if _fits(hints[one], piece, units)), None)
        if key is None:
            return None
        found[key] = piece
    return found if len(found) > 1 else None


def _pieces(value: object) -> list[str]:
    """Words that stand beside each other: `a, b`, `a to b`, `a and b`."""
    if not isinstance(value, str):
        return []
    return [piece for piece in _BETWEEN.split(value.strip()) if piece]


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
            right = made or _with_example(right, record, fault.path)
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


def _with_example(right: str, record: type[BaseModel], path: Sequence[object]) -> str:
    """The advice with an invented example of what belongs at `path`, if that is no single value."""
    hint = _hint_at(record, path)
    example = example_of(hint) if hint is not None else ""
    told = in_flow(example)
    if not isinstance(example, dict | list) or len(told) > _MOST_SHOWN or "such as" in right:
        return right
    return f"{right}, such as {told}"


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


@dataclass
class DocumentPart(Generic[R]):
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
    named = next((data[0][key] for key in _NAMES if isinstance(data[0].get(key), str)), None)
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
