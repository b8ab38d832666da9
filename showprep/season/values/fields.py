"""The types of the values in a season's records.

Values from the files arrive as text; values that are already typed (a `date`, a number in metric
units, a `bool`) are taken as they are. Each reader says in plain words what is wrong.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from datetime import date, datetime
from typing import Annotated, Any

from pydantic import PlainValidator, ValidationInfo, WithJsonSchema

from showprep.season.values import days, measures, zones
from showprep.season.values.quantities import Units
from showprep.season.values.wording import shown, wrong

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
LONGEST_ID = 60
LONGEST_TEXT = 10_000
_TURNS = re.compile("[\u202a-\u202e\u2066-\u2069]")  # marks that print text in another order
ID_ADVICE = "write lower-case letters, digits and single hyphens, such as aoi or red-lass-2"


def text(value: object) -> str:
    """Words: outer and repeated spaces and line ends become one space; composed as in NFC."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return str(value)
    if not isinstance(value, str):
        raise wrong(f"{shown(value)} found where words belong", "write one value")
    words = " ".join(value.split())
    if not words:
        raise wrong("there is nothing written here", "write it, or leave the line out")
    if len(words) > LONGEST_TEXT:
        raise wrong(f"{len(words)} characters found", f"write at most {LONGEST_TEXT}")
    if words.isascii() and words.isprintable():
        return words
    if any(unicodedata.category(mark) in ("Cc", "Cs") for mark in words):
        raise wrong(f"{shown(words)} holds a character that cannot be printed", "take it out")
    if _TURNS.search(words):
        raise wrong(f"{shown(words)} holds a mark that turns text round", "take it out")
    if all(unicodedata.category(mark) == "Cf" for mark in words):
        raise wrong("there is nothing here that can be seen", "write it, or leave the line out")
    return unicodedata.normalize("NFC", words)


def valid_id(value: object) -> str:
    """The id of a fish or show: lower-case letters, digits and hyphens, not digits alone."""
    if not isinstance(value, str) or len(value) > LONGEST_ID or not _ID.fullmatch(value):
        raise wrong(f"{shown(value)} cannot be an id", _id_advice(value))
    if value.replace("-", "").isdigit():
        raise wrong(f"{shown(value)} cannot be an id", f"put a letter in it, such as fish-{value}")
    return value


def _id_advice(value: object) -> str:
    if not isinstance(value, str):
        return ID_ADVICE
    if len(value) > LONGEST_ID:
        return f"write at most {LONGEST_ID} characters"
    near = re.sub(r"[\s_-]+", "-", value.strip().casefold()).strip("-")
    if _ID.fullmatch(near) and not near.replace("-", "").isdigit():
        return f"write {near}"
    return ID_ADVICE


def term(value: object) -> str:
    """A word of the trade, such as a variety: `Split fin` and `split_fin` are `split-fin`."""
    words = re.sub(r"[\s_-]+", "-", text(value).casefold()).strip("-")
    if not words:
        raise wrong(f"{shown(value)} is no word", "write one such as kohaku")
    return words


def yes_no(value: object) -> bool:
    """`yes` or `no` (or `true` or `false`)."""
    if isinstance(value, bool):
        return value
    word = value.strip().casefold() if isinstance(value, str) else ""
    if word in ("yes", "true"):
        return True
    if word in ("no", "false"):
        return False
    raise wrong(f"{shown(value)} is neither yes nor no", "write yes or no")


def units_of(info: ValidationInfo) -> Units | None:
    """The units of the season that is being read; None when they are not known."""
    units: Units | None = (info.context or {}).get("units", "metric")
    return units


def _in_units(amount: measures.Amount) -> Callable[[object, ValidationInfo], float]:
    def read(value: object, info: ValidationInfo) -> float:
        return amount(value, units_of(info))

    return read


_Schema = dict[str, Any]
_SCALAR = ["string", "number", "boolean"]  # whatever an editor takes a bare word for
_DAY_FORM = "[0-9]{4}-[0-9]{2}-[0-9]{2}"
_TIME_FORM = _DAY_FORM + "[ Tt]+[0-9]{1,2}:[0-9]{2}(:[0-9]{2})?"


def _one(form: str, example: str, also: str = "") -> WithJsonSchema:
    """For editors: text of a form (a regular expression), or what they take for `also`."""
    schema: _Schema = {"type": "string", "pattern": rf"^\s*({form})\s*$", "examples": [example]}
    if also:
        schema = {"anyOf": [{"type": also}, schema], "examples": [example]}
    return WithJsonSchema(schema)


def amount_schema(example: str, low: float, high: float) -> WithJsonSchema:
    """For editors: a number within a plausible range, or text with a number and a unit."""
    number = {"type": "number", "minimum": low, "maximum": high}
    text = {"type": "string", "pattern": r"^[^A-Za-z]*[0-9].*$"}
    return WithJsonSchema({"anyOf": [number, text], "examples": [example]})


def _bare(amount: measures.Amount, example: str) -> WithJsonSchema:
    return amount_schema(example, amount.low, amount.high)


Text = Annotated[
    str, PlainValidator(text), WithJsonSchema({"type": _SCALAR, "examples": ["main pond"]})
]
Id = Annotated[
    str,
    PlainValidator(valid_id),
    WithJsonSchema(
        {
            "type": "string",
            "pattern": "^(?=.*[a-z])[a-z0-9]+(-[a-z0-9]+)*$",
            "maxLength": LONGEST_ID,
            "examples": ["larkfield"],
        }
    ),
]
Term = Annotated[
    str, PlainValidator(term), WithJsonSchema({"type": _SCALAR, "examples": ["kohaku"]})
]
YesNo = Annotated[
    bool,
    PlainValidator(yes_no),
    WithJsonSchema(
        {
            "anyOf": [
                {"enum": ["yes", "no"]},
                {"type": "boolean"},
                {
                    "type": "string",
                    "pattern": r"^\s*(Y|y)(E|e)(S|s)\s*$"
                    r"|^\s*(N|n)(O|o)\s*$"
                    r"|^\s*(T|t)(R|r)(U|u)(E|e)\s*$"
                    r"|^\s*(F|f)(A|a)(L|l)(S|s)(E|e)\s*$",
                },
            ],
            "examples": ["yes"],
        }
    ),
]
Number = Annotated[
    float, PlainValidator(measures.number), _one(measures.NUMBER_FORM, "3", "number")
]
Whole = Annotated[int, PlainValidator(measures.whole), _one("[+-]?[0-9]{1,15}", "3", "integer")]
Share = Annotated[float, PlainValidator(measures.share), amount_schema("0.2", 0, 1)]
LengthCm = Annotated[
    float, PlainValidator(_in_units(measures.length_cm)), _bare(measures.length_cm, "52 cm")
]
TotalCm = Annotated[
    float, PlainValidator(_in_units(measures.total_cm)), _bare(measures.total_cm, "60 cm")
]
Millimetres = Annotated[
    float, PlainValidator(_in_units(measures.size_mm)), _bare(measures.size_mm, "2 mm")
]
Litres = Annotated[
    float, PlainValidator(_in_units(measures.litres)), _bare(measures.litres, "2000 L")
]
Kilograms = Annotated[
    float, PlainValidator(_in_units(measures.kilograms)), _bare(measures.kilograms, "40 kg")
]
FishKilograms = Annotated[
    float,
    PlainValidator(_in_units(measures.fish_kilograms)),
    _bare(measures.fish_kilograms, "3.2 kg"),
]
Hours = Annotated[float, PlainValidator(_in_units(measures.hours)), _bare(measures.hours, "2.5")]
TemperatureC = Annotated[
    float,
    PlainValidator(_in_units(measures.temperature_c)),
    _bare(measures.temperature_c, "18 °C"),
]
WarmingC = Annotated[
    float, PlainValidator(_in_units(measures.warming_c)), _bare(measures.warming_c, "1 °C")
]
Day = Annotated[date, PlainValidator(days.day), _one(_DAY_FORM, "2027-06-12")]
DayOrTime = Annotated[
    date | datetime,
    PlainValidator(days.day_or_time),
    _one(f"{_DAY_FORM}|{_TIME_FORM}", "2027-06-12"),
]
WallTime = Annotated[datetime, PlainValidator(days.wall_time), _one(_TIME_FORM, "2027-06-12 10:00")]
Born = Annotated[
    date | int, PlainValidator(days.born), _one(f"[0-9]{{1,6}}|{_DAY_FORM}", "2022", "integer")
]
TimeZone = Annotated[
    str, PlainValidator(zones.time_zone), WithJsonSchema({"type": _SCALAR, "examples": ["UTC"]})
]
