"""Journal entries as the YAML a keeper would write: block style, one line a value."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from fractions import Fraction

from showprep.season.records import JournalEntry
from showprep.season.values.quantities import Units, show_number
from showprep.season.values.unit_keys import OF_METRIC, key_in

_PLAIN = re.compile(r"[^\W_](?:[\w ,;./()%°+'!?=<>*&@$€£–—…-]|:(?=[^\s])|(?<=\S)#)*")
_SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def as_written(entry: JournalEntry, units: Units = "metric") -> dict[str, str]:
    """The values of an entry as text, in the order of the record, without the empty ones.

    Amounts are written as a keeper with these `units` would, and read back under any units.
    """
    values = ((name, getattr(entry, name)) for name in JournalEntry.model_fields)
    return dict(key_and_text(name, value, units) for name, value in values if value is not None)


def key_and_text(name: str, value: object, units: Units) -> tuple[str, str]:
    """A key of the record and its value as a keeper with these `units` writes them."""
    if units == "metric" or name not in OF_METRIC or not isinstance(value, float):
        return name, plain_text(value)
    other = OF_METRIC[name]
    metric = plain_text(value)
    if key_in(name, units) == other.name:
        gallon = {"us": "US gal", "imperial": "imp gal"}[units]
        unit = gallon if other.unit == "gal" else other.unit
        scale = other.amount.scales[unit.casefold()]
        own = scale.own(Fraction(metric))
        shortened = (show_number(own, places) for places in range(9))
        text = next((one for one in shortened if float(scale.metric(one)) == value), "")
        # A round number in the keeper's own unit is what was meant; else the shorter one.
        if text and (len(text.partition(".")[2]) < 2 or len(text) <= len(metric)):
            return other.name, f"{text} {unit}" if unit == gallon else text
    return name, f"{metric} {other.amount.unit.strip('°')}"


def block(values: Mapping[str, str], column: int = 0, line_end: str = "\n") -> str:
    """One item of a sequence at `column`, its first key beside the dash."""
    lines = [f"{name}: {scalar(value)}" for name, value in values.items()]
    margin = " " * column
    first, *rest = lines
    return "".join(
        [
            f"{margin}- {first}{line_end}",
            *(f"{margin}  {line}{line_end}" for line in rest),
        ]
    )


def blocks(entries: Sequence[Mapping[str, str]], column: int, line_end: str) -> str:
    return "".join(block(values, column, line_end) for values in entries)


def scalar(text: str) -> str:
    """`text` as a plain scalar where YAML 1.2 lets it stand so, else in double quotes."""
    if _PLAIN.fullmatch(text) and text[-1] not in " :" and text.isprintable():
        return text
    return '"' + "".join(_escaped(mark) for mark in text) + '"'


def _escaped(mark: str) -> str:
    if mark in _SHORT:
        return _SHORT[mark]
    if mark.isprintable():
        return mark
    code = ord(mark)
    return f"\\u{code:04X}" if code <= 0xFFFF else f"\\U{code:08X}"


def plain_text(value: object) -> str:
    """A value as it stands in the files, without quotation marks."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%d %H:%M")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return f"{value:.10g}"
    return str(value)
