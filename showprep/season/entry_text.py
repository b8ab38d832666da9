"""A new show, fish or yard as the YAML a keeper would write: block style, short lists in a line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from showprep.season.journal_text import key_and_text, plain_text, scalar
from showprep.season.record import Record
from showprep.season.values.quantities import Units

IN_A_LINE = frozenset(
    (
        *("arrive", "readings_c", "readings_f", "lengths_cm", "lengths_in"),
        *("weights_kg", "weights_lb", "isolation", "carrying"),
    )
)


def values_of(record: Record, units: Units) -> dict[str, Any]:
    """What was said in a record, by the keys of its file, as a keeper with these `units` writes it.

    What was left out stays left out.
    """
    found: dict[str, Any] = {}
    for name, field in type(record).model_fields.items():
        value = getattr(record, name)
        if name not in record.model_fields_set or value is None:
            continue
        if isinstance(value, Record):
            found[field.alias or name] = values_of(value, units)
        elif isinstance(value, tuple):
            found[field.alias or name] = [plain_text(one) for one in value]
        else:
            key, text = key_and_text(name, value, units)
            found[field.alias if field.alias is not None and key == name else key] = text
    return found


def entry_text(values: Mapping[str, Any], column: int = 0) -> str:
    """The lines of a mapping, each key at `column`."""
    return "".join(f"{' ' * column}{line}\n" for line in _lines(values))


def _lines(values: Mapping[str, Any]) -> Iterator[str]:
    for key, value in values.items():
        if isinstance(value, Mapping) and value and key not in IN_A_LINE:
            yield f"{scalar(key)}:"
            yield from (f"  {line}" for line in _lines(value))
        else:
            yield f"{scalar(key)}: {_in_a_line(value)}"


def _in_a_line(value: Any) -> str:
    if isinstance(value, Mapping):
        inner = (f"{_inside(str(key))}: {_in_a_line(one)}" for key, one in value.items())
        return f"{{{', '.join(inner)}}}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(_inside(plain_text(one)) for one in value)}]"
    return scalar(plain_text(value))


def _inside(text: str) -> str:
    """A scalar within brackets, where commas and brackets part the items."""
    plain = scalar(text)
    if plain == text and set(text) & set(",[]{}"):
        return f'"{text}"'
    return plain
