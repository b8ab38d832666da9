"""What was written in a wrong shape, put into the right one: the advice beside a fault."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal, get_args, get_origin

from pydantic import BaseModel, TypeAdapter, ValidationError, WithJsonSchema

from showprep.season.journal_text import scalar
from showprep.season.shapes import alternatives, bare, hints_at, hints_of, is_record
from showprep.season.values.fields import Day
from showprep.season.values.quantities import Units

_MOST_SHOWN = 160  # characters of an example; a longer one is no help
_BETWEEN = re.compile(r"\s+(?:to|until|till|and|by|x)\s+|\s*[,;–]\s*|\s+-\s+", re.IGNORECASE)
NAMES = ("id", "name", "kind")  # keys that say which one of several an item is


def right_shape(
    record: type[BaseModel], path: Sequence[object], value: object, units: Units | None
) -> str | None:
    """The advice to write the value at `path` in a shape that can be read there; None if none is.

    It is made of what was written; what that does not say is filled with an example, and told.
    """
    hint = next(iter(hints_at(record, path)), None)
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
    shape = next(iter(alternatives(hint)))
    if shape is not hint and get_origin(shape) is Annotated:
        return example_of(shape, key)
    if is_record(shape):
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
    hints = hints_of(record)
    return {
        record.model_fields[key].alias or key: example_of(hints[key], key) if one is None else one
        for key, one in values.items()
    }


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
    for part in alternatives(hint):
        shape = bare(part)
        for inner in alternatives(shape):
            if is_record(inner):
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
    return isinstance(piece, str) and any(is_record(bare(part)) for part in alternatives(hint))


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
            for key in NAMES
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
    hints = hints_of(record)
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


def with_example(right: str, record: type[BaseModel], path: Sequence[object]) -> str:
    """The advice with an invented example of what belongs at `path`, if that is no single value."""
    hint = next(iter(hints_at(record, path)), None)
    example = example_of(hint) if hint is not None else ""
    told = in_flow(example)
    if not isinstance(example, dict | list) or len(told) > _MOST_SHOWN or "such as" in right:
        return right
    return f"{right}, such as {told}"
