"""What a keeper may have meant where a number or a date is a slip of the pen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import Literal

import yaml
from msgspec import Struct

from showprep.season.values.scales import LENGTH_CM, VOLUME_L, WEIGHT_KG
from showprep.season.yaml.complaints import BaseLoader, as_lines

How = Literal["digits turned round", "one digit", "decimal point", "day and month", "month", "unit"]

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?=$|\s*[^\d.:-])")
_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})(?=$|[ T])")
# Keys whose bare numbers are in a unit that is taken for another: what one of it is in the other.
_LENGTHS = ("lengths_cm", "measured_cm", "longest_cm", "shortest_cm")
_UNITS = {
    **dict.fromkeys(_LENGTHS, LENGTH_CM["in"].factor),
    **dict.fromkeys(("litres", "bath_litres"), VOLUME_L["us gal"].factor),
    **dict.fromkeys(("weights_kg", "weighed_kg"), WEIGHT_KG["lb"].factor),
}


class Slip(Struct, frozen=True):
    """One value as written and as it may have been meant; lines and columns count from 1."""

    line: int
    column: int
    key: str
    written: str
    meant: str
    how: How
    text: str  # the whole file with the value as it may have been meant


def slips_of(text: str) -> Iterator[Slip]:
    """Every likely slip of a number or a date in a file, in the order of the file.

    A slip is two neighbouring digits turned round, the first digit one off, the decimal point one
    place off, day and month turned round, the month one off, or another unit than the key's. Raises
    yaml.YAMLError for a file that cannot be read.
    """
    root = yaml.compose(as_lines(text), Loader=BaseLoader)
    for key, node in _scalars(root, ""):
        start, end = node.start_mark.index, node.end_mark.index
        written = text[start:end]
        for meant, how in dict(_meant(key, written)).items():
            if meant != written:
                mark = node.start_mark
                changed = text[:start] + meant + text[end:]
                yield Slip(mark.line + 1, mark.column + 1, key, written, meant, how, changed)


def _scalars(node: yaml.Node | None, key: str) -> Iterator[tuple[str, yaml.ScalarNode]]:
    """Values, and keys that are days, each with the name it stands under."""
    if isinstance(node, yaml.ScalarNode):
        yield key, node
    elif isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _scalars(item, key)
    elif isinstance(node, yaml.MappingNode):
        for name, value in node.value:
            is_day = isinstance(name, yaml.ScalarNode) and _DAY.fullmatch(name.value)
            if is_day:
                yield key, name
            yield from _scalars(value, key if is_day else str(name.value))


def _meant(key: str, written: str) -> Iterator[tuple[str, How]]:
    if day := _DAY.match(written):
        year, month, of_month = day.groups()
        rest = written[day.end() :]
        yield from _if_a_day(year, of_month, month, rest, "day and month")
        for near in (int(month) - 1, int(month) + 1):
            yield from _if_a_day(year, f"{near:02d}", of_month, rest, "month")
        yield from _if_a_day(year, month, of_month[::-1], rest, "digits turned round")
    elif number := _NUMBER.match(written):
        digits, rest = number.group(), written[number.end() :]
        for meant, how in _numbers(digits):
            yield meant + rest, how
        factor = _UNITS.get(key)
        if factor is not None and not rest:
            for value in (float(digits) * float(factor), float(digits) / float(factor)):
                yield f"{value:.4g}", "unit"


def _if_a_day(
    year: str, month: str, of_month: str, rest: str, how: How
) -> Iterator[tuple[str, How]]:
    try:
        date(int(year), int(month), int(of_month))
    except ValueError:
        return
    yield f"{year}-{month}-{of_month}{rest}", how


def _numbers(digits: str) -> Iterator[tuple[str, How]]:
    for at in range(len(digits) - 1):
        one, two = digits[at], digits[at + 1]
        if one.isdigit() and two.isdigit():
            if at == 0 and two == "0":
                continue  # nobody writes a number that begins with 0, as 07
            yield f"{digits[:at]}{two}{one}{digits[at + 2 :]}", "digits turned round"
        elif two == "." and at + 2 < len(digits):
            turned = f"{digits[:at]}{digits[at + 2]}.{one}{digits[at + 3 :]}"
            yield turned, "digits turned round"
    for near in (int(digits[0]) - 1, int(digits[0]) + 1):
        if 0 <= near <= 9 and (near or not digits[1:2].isdigit()):
            yield f"{near}{digits[1:]}", "one digit"
    for value in (float(digits) * 10, float(digits) / 10):
        yield f"{value:.6g}", "decimal point"
