"""What the records expect at a place in a file: its keys, and the kind of value."""

from __future__ import annotations

import types
from collections.abc import Iterator, Sequence
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from showprep.season.unit_keys import metric_key
from showprep.season.wording import listed


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
