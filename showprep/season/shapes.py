"""The types that may stand at a path of a file, taken from the records."""

from __future__ import annotations

import types
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel

from showprep.season.values.unit_keys import metric_key
from showprep.season.values.wording import listed


def is_record(shape: Any) -> bool:
    """Is a type one of a record's?"""
    return isinstance(shape, type) and issubclass(shape, BaseModel)


def alternatives(hint: Any) -> Iterator[Any]:
    """The types of a union but None, each with what is said of it."""
    origin = get_origin(bare(hint))
    if origin in (Union, types.UnionType):
        for part in get_args(bare(hint)):
            if part is not type(None):
                yield from alternatives(part)
    else:
        yield hint


def bare(hint: Any) -> Any:
    """A type without what is said of it."""
    return get_args(hint)[0] if get_origin(hint) is Annotated else hint


def hints_at(record: Any, path: Sequence[object]) -> list[Any]:
    """The types that a value at `path` may have, each with what is said of it."""
    hints = [record]
    for element in path:
        hints = [
            deeper
            for hint in hints
            for part in alternatives(hint)
            for deeper in _step(bare(part), element)
        ]
    return hints


def shapes_at(record: Any, path: Sequence[object]) -> list[Any]:
    """The same, unions taken apart, without what is said of them."""
    return [bare(part) for hint in hints_at(record, path) for part in alternatives(hint)]


def _step(shape: Any, element: object) -> Iterator[Any]:
    if is_record(shape):
        for name, field in shape.model_fields.items():
            if metric_key(element) in (name, field.alias):
                yield hints_of(shape)[name]
    elif get_origin(shape) is dict:
        yield get_args(shape)[1]
    elif get_origin(shape) is tuple:
        yield get_args(shape)[0]


@cache
def hints_of(record: type[BaseModel]) -> Mapping[str, Any]:
    """The types of a record's fields, each with what is said of it."""
    return get_type_hints(record, include_extras=True)


def keys_at(record: type[BaseModel], path: Sequence[object]) -> tuple[str, ...]:
    """The keys that a mapping at `path` may have, if it is a record."""
    names = (
        field.alias or name
        for shape in shapes_at(record, path)
        if is_record(shape)
        for name, field in shape.model_fields.items()
    )
    return tuple(dict.fromkeys(names))


def described(record: type[BaseModel], path: Sequence[object]) -> str:
    """What belongs at `path`, in a few words."""
    words = dict.fromkeys(_word(shape) for shape in shapes_at(record, path) if shape is not None)
    return " or ".join(words) or "another value"


def _word(shape: Any) -> str:
    if is_record(shape):
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
