"""Amounts as a keeper writes them, with or without a unit, as plain metric numbers.

Each reader takes text (or a number that is already typed, which is metric), returns a float and
raises the fault in plain words. What is outside the plausible range is taken for a slip. A number
without a unit is metric in a metric season and a fault in any other; `gal` is the gallon of the
season's units.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from msgspec import Struct
from pydantic_core import PydanticCustomError

from showprep.season.values.quantities import Units, show_number
from showprep.season.values.scales import (
    LENGTH_CM,
    LENGTH_MM,
    ONE,
    TEMPERATURE_C,
    TIME_H,
    VOLUME_L,
    WARMING_C,
    WEIGHT_KG,
    Scale,
)
from showprep.season.values.wording import choose, listed, shown, wrong

NUMBER_FORM = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_NUMBER = re.compile(NUMBER_FORM)
_FRACTION = re.compile(r"(?P<sign>[+-]?)(?:(?P<whole>[0-9]+)(?: +|-))?(?P<part>[0-9]+/[0-9]+)")
_PART = re.compile(
    r"\s*(?P<number>[+-]?(?:[0-9]+(?: +|-))?[0-9]+/[0-9]+|"
    + _NUMBER.pattern
    + r")\s*(?P<unit>[^0-9\s.,/+-][^0-9,/+-]*?)?\s*(?=$|\.?[0-9])"
)
_WITH_COMMAS = re.compile(r"([+-]?[0-9]+(?:,[0-9]+)+(?:\.[0-9]+)?)\s*[^0-9\s,.].*")
_MARKS = str.maketrans("’‘”“⁄º", "''\"\"/°")  # as word processors and phones write them
_LONGEST = 40  # characters; no amount a keeper means is longer
_GALLONS = ("gal", "gals", "gallon", "gallons")
_GALLON: dict[Units, str] = {"us": "us gal", "imperial": "imp gal"}
_ENGLISH: dict[Units, tuple[str, ...]] = {"us": ("F", "C"), "imperial": ("C", "F")}
NO_UNIT = "no_unit"  # the kind of fault


class Amount(Struct, frozen=True, eq=False):
    """A reader of one kind of amount: text with a unit, or a typed number in `unit`.

    `low` to `high` [`unit`] is plausible. `asked` are the units, most likely first, of which a
    bare number could be in a season that is not metric; without any a bare number is in `unit`.
    Calling it raises the fault for anything else.
    """

    noun: str
    unit: str
    scales: Mapping[str, Scale]
    low: float
    high: float
    asked: Mapping[Units, tuple[str, ...]]

    def __call__(self, value: object, units: Units | None = "metric") -> float:
        """The amount in `unit`. `units` None: not known, so whatever can be read is taken."""
        if not isinstance(value, str):
            return self._within(_typed_number(value), value, units)
        if units not in self.asked and is_plain_number(value):
            return self._within(_finite(float(value.strip()), value), value, units)
        parts = _parts(value)
        if not parts or (len(parts) > 1 and any(scale.zero for scale in self.scales.values())):
            raise wrong(f"{shown(value)} found where a {self.noun} belongs", _amount_advice(value))
        if not parts[0][1] and units is not None and units in self.asked:
            raise self._no_unit(parts[0][0], value, units)
        total = Fraction(0)
        for number_, unit in parts:
            scale = self._scale(unit, value, units) if unit else Scale(ONE)
            total += scale.metric(number_)
        return self._within(_as_float(total, value), value, units)

    def _scale(self, unit: str, value: str, units: Units | None) -> Scale:
        if unit in self.scales:
            return self.scales[unit]
        if unit in _GALLONS and "us gal" in self.scales:
            if units == "metric":
                raise wrong(f"{shown(value)} could be two volumes", "write US gal or imp gal")
            return self.scales[_GALLON[units or "us"]]
        what = f"{shown(value)} is in a unit that no {self.noun} has"
        if self.unit == "°C":
            raise wrong(what, "write °C or °F")
        raise wrong(what, choose(unit, self.scales, most=0))

    def _no_unit(self, number_: Fraction, value: str, units: Units) -> PydanticCustomError:
        """The fault that a number has no unit, with each unit that would make it likely."""
        asked = self.asked[units]
        likely = tuple(unit for unit in asked if self._is_likely(number_, unit, units))
        return no_unit(value.strip(), units, likely or asked[:1])

    def _is_likely(self, number_: Fraction, unit: str, units: Units) -> bool:
        scale = self._scale(unit.casefold(), unit, units)
        return self.low <= scale.metric(number_) <= self.high

    def _within(self, found: float, written: object, units: Units | None) -> float:
        if self.low <= found <= self.high:
            return found
        asked = self.asked.get(units, ()) if units is not None else ()
        unit = asked[0] if asked else self.unit
        scale = self._scale(unit.casefold(), unit, units) if asked else Scale(ONE)
        unit = {"F": "°F", "C": "°C"}.get(unit, unit)

        def own(metric: float, places: int) -> str:
            return show_number(scale.own(Fraction(metric)), places)

        told = shown(written)
        amount = own(found, 3) if abs(found) < 1e9 else f"{found:g}"
        bare = str(written).strip()
        if bare not in (amount, f"{amount} {unit}", f"{amount} {unit.strip('°')}"):
            told += f" ({amount} {unit})"
        low, high = (
            own(bound, 1 if abs(bound / float(scale.factor)) >= 1 else 3)
            for bound in (self.low, self.high)
        )
        raise wrong(f"{told} is not a likely {self.noun}", f"{low} to {high} {unit} is plausible")


def no_unit(written: str, units: Units, likely: tuple[str, ...]) -> PydanticCustomError:
    """The fault that `written` has no unit, though it may be in one of those that are `likely`."""
    words: dict[str, Any] = {
        "what": f"{shown(written)} has no unit",
        "right": f"with units: {units} write {listed(f'{written} {unit}' for unit in likely)}",
        "written": written,
        "units": units,
        "likely": likely,
    }
    return PydanticCustomError(NO_UNIT, "{what}; {right}", words)


def is_plain_number(text: str) -> bool:
    """Is this a number without a unit?"""
    return len(text) <= _LONGEST and _NUMBER.fullmatch(text.strip()) is not None


def number(value: object) -> float:
    """A finite number; a decimal point, no separators."""
    if isinstance(value, str):
        text = value.strip()
        if len(text) <= _LONGEST and _NUMBER.fullmatch(text):
            return _finite(float(text), text)
        raise wrong(f"{shown(value)} found where a number belongs", _number_advice(text))
    return _typed_number(value)


def _typed_number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise wrong(f"{shown(value)} found where a number belongs", "write one number")
    try:
        return _finite(float(value), value)
    except OverflowError:
        raise wrong("the number is too large", "write one that can be true") from None


def _finite(value: float, written: object) -> float:
    if not math.isfinite(value):
        raise wrong(f"{shown(written)} is no finite number", "write one that can be true")
    return value + 0.0  # minus zero becomes zero


def _number_advice(text: str) -> str:
    if not text:
        return "write a number"
    if len(text) > _LONGEST:
        return "write a shorter one"
    if re.fullmatch(r"[+-]?[0-9]+,[0-9]+", text):
        whole, _, part = text.partition(",")
        if len(part) == 3:
            return f"write {whole}{part}, or {whole}.{part} with a decimal point"
        return f"write a decimal point: {whole}.{part}"
    if re.fullmatch(r"[+-]?[0-9]+([ ,_'’][0-9]+)+(\.[0-9]+)?", text):
        return f"write it without separators: {re.sub(r'[ ,_’]|' + chr(39), '', text)}"
    if "\N{MINUS SIGN}" in text or "–" in text:
        return "write a plain hyphen for minus"
    if any(mark.isdigit() and not mark.isascii() for mark in text):
        return "write the digits 0 to 9"
    return "write a number such as 12 or 2.5"


def whole(value: object) -> int:
    """A whole number, up to fifteen digits."""
    if isinstance(value, int) and not isinstance(value, bool):
        if abs(value) < 10**15:
            return value
        raise wrong("the number is too large", "write one that can be true")
    if isinstance(value, str):
        text = value.strip()
        if re.fullmatch(r"[+-]?[0-9]{1,15}", text):
            return int(text)
        if re.fullmatch(r"[+-]?[0-9]{16,}", text):
            raise wrong(f"{shown(text)} is too large", "write one that can be true")
    elif isinstance(value, float) and value.is_integer() and abs(value) < 10**15:
        return int(value)
    raise wrong(f"{shown(value)} found where a whole number belongs", "write one such as 3")


def is_bare(text: str) -> bool:
    """Is this an amount without a unit, in figures or with a fraction: `21`, `1 1/2`?"""
    try:
        parts = _parts(text)
    except PydanticCustomError:
        return False
    return len(parts) == 1 and not parts[0][1]


def _parts(written: str) -> list[tuple[Fraction, str]]:
    """`2 ft 3 in` as [(2, "ft"), (3, "in")]; empty when the text is nothing of the kind."""
    if len(written) > _LONGEST:
        return []
    text = _plain(written)
    found: list[tuple[Fraction, str]] = []
    several = False
    at = 0
    while at < len(text):
        part = _PART.match(text, at)
        if part is None:
            return []
        unit = " ".join((part["unit"] or "").casefold().replace(".", "").split())
        several = several or part.end() < len(text)
        if several and (not unit or part["number"][0] in "+-"):
            return []
        found.append((_fraction(part["number"], written), unit))
        at = part.end()
    return found


def _plain(text: str) -> str:
    """Fractions, primes and cubes in the plain characters of a keyboard."""
    text = " ".join(text.translate(_MARKS).split())
    if not text.isascii():
        text = "".join(
            " " + unicodedata.normalize("NFKC", mark).translate(_MARKS)
            if unicodedata.category(mark) == "No" and "⁄" in unicodedata.normalize("NFKC", mark)
            else mark
            for mark in text
        ).strip()
    return re.sub(r"(?<![a-z])(m|ft)3$", r"\1³", text) if text.endswith("3") else text


def _fraction(number_: str, written: str) -> Fraction:
    found = _FRACTION.fullmatch(number_)
    if found is None:
        return Fraction(number_)
    try:
        amount = int(found["whole"] or 0) + Fraction(found["part"])
    except ZeroDivisionError:
        raise wrong(f"{shown(written)} divides by nothing", "write one such as 1/2 in") from None
    return -amount if found["sign"] == "-" else amount


def _as_float(amount: Fraction, written: str) -> float:
    try:
        return _finite(float(amount), written)
    except OverflowError:
        raise wrong(f"{shown(written)} is no finite number", "write one that can be true") from None


def _amount_advice(text: str) -> str:
    text = text.strip()
    with_commas = _WITH_COMMAS.fullmatch(text) if len(text) <= _LONGEST else None
    return _number_advice(text if with_commas is None else with_commas[1])


_LENGTH_UNITS: dict[Units, tuple[str, ...]] = {"us": ("in", "cm"), "imperial": ("in", "cm")}
_VOLUME_UNITS: dict[Units, tuple[str, ...]] = {"us": ("gal", "L"), "imperial": ("gal", "L")}
_WEIGHT_UNITS: dict[Units, tuple[str, ...]] = {"us": ("lb", "kg"), "imperial": ("lb", "kg")}
_MARK_UNITS: dict[Units, tuple[str, ...]] = {"us": ("in", "mm"), "imperial": ("in", "mm")}

length_cm = Amount("length of a koi", "cm", LENGTH_CM, 1, 120, _LENGTH_UNITS)
total_cm = Amount("total length", "cm", LENGTH_CM, 1, 10_000, _LENGTH_UNITS)
size_mm = Amount("size of a blemish", "mm", LENGTH_MM, 0.1, 500, _MARK_UNITS)
litres = Amount("volume", "L", VOLUME_L, 0.1, 5_000_000, _VOLUME_UNITS)
kilograms = Amount("load of fish", "kg", WEIGHT_KG, 0, 5_000, _WEIGHT_UNITS)
fish_kilograms = Amount("weight of a koi", "kg", WEIGHT_KG, 0.001, 50, _WEIGHT_UNITS)
temperature_c = Amount("water temperature", "°C", TEMPERATURE_C, 0, 40, _ENGLISH)
warming_c = Amount("change of temperature", "°C", WARMING_C, 0.01, 40, _ENGLISH)
hours = Amount("travel time", "h", TIME_H, 0, 100, {})


def share(value: object) -> float:
    """A share of the whole, 0 to 1; `20 %` is 0.2."""
    text = value.strip() if isinstance(value, str) else ""
    found = number(text[:-1]) / 100 if text.endswith("%") else number(value)
    if 0 <= found <= 1:
        return found
    right = f"write {found:g} %, or {found / 100:g}" if 1 < found <= 100 else "write 0 to 1"
    raise wrong(f"{shown(value)} is not a share of the whole", right)
