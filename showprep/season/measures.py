"""Amounts as a keeper writes them, with or without a unit, as plain metric numbers.

Each reader takes text (or a number that is already typed, which is metric), returns a float and
raises the fault in plain words. What is outside the plausible range is taken for a slip.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from fractions import Fraction

from showprep.season import quantities
from showprep.season.wording import choose, shown, wrong

ONE = Fraction(1)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_PART = re.compile(rf"\s*({_NUMBER.pattern})\s*([^0-9\s.+-][^0-9+-]*?)?\s*(?=$|\.?[0-9])")
_LONGEST = 40  # characters; no amount a keeper means is longer

LENGTH_CM = {
    **dict.fromkeys(("cm", "centimetre", "centimetres"), ONE),
    **dict.fromkeys(("mm", "millimetre", "millimetres"), ONE / 10),
    **dict.fromkeys(("m", "metre", "metres"), ONE * 100),
    **dict.fromkeys(("in", "inch", "inches", '"', "″"), quantities.CM_PER_INCH),
    **dict.fromkeys(("ft", "foot", "feet", "'", "′"), quantities.CM_PER_FOOT),
}
LENGTH_MM = {unit: factor * 10 for unit, factor in LENGTH_CM.items()}
VOLUME_L = {
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), ONE),
    **dict.fromkeys(("ml", "millilitre", "millilitres"), ONE / 1000),
    **dict.fromkeys(("m³", "cubic metre", "cubic metres"), ONE * 1000),
    **dict.fromkeys(("us gal", "us gallon", "us gallons"), quantities.LITRES_PER_US_GALLON),
    **dict.fromkeys(
        ("imp gal", "imp gallon", "imp gallons", "imperial gallon", "imperial gallons", "uk gal"),
        quantities.LITRES_PER_IMPERIAL_GALLON,
    ),
    **dict.fromkeys(("ft³", "cubic feet"), quantities.LITRES_PER_CUBIC_FOOT),
}
WEIGHT_KG = {
    **dict.fromkeys(("kg", "kilogram", "kilograms"), ONE),
    **dict.fromkeys(("g", "gram", "grams"), ONE / 1000),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), quantities.KG_PER_POUND),
    **dict.fromkeys(("oz", "ounce", "ounces"), quantities.KG_PER_OUNCE),
}
TIME_H = {
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), ONE),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), ONE / 60),
}
CELSIUS = frozenset(("c", "°c", "degc", "deg c", "celsius"))
FAHRENHEIT = frozenset(("f", "°f", "degf", "deg f", "fahrenheit"))


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


def _amount(value: object, units: Mapping[str, Fraction], noun: str) -> float:
    """The amount in the metric unit; parts such as `2 ft 3 in` are added up."""
    if not isinstance(value, str):
        return _typed_number(value)
    text = value.strip()
    if len(text) <= _LONGEST and _NUMBER.fullmatch(text):
        return _finite(float(text), text)
    parts = _parts(text)
    if not parts:
        raise wrong(f"{shown(value)} found where a {noun} belongs", _number_advice(text))
    total = Fraction(0)
    for written, unit in parts:
        total += Fraction(written) * _factor(unit, units, value, noun)
    return _finite(float(total), text)


def _parts(text: str) -> list[tuple[str, str]]:
    """`2 ft 3 in` as [("2", "ft"), ("3", "in")]; empty when the text is nothing of the kind."""
    text = re.sub(r"(?<![a-z])(m|ft)3$", r"\1³", text) if text.endswith("3") else text
    found: list[tuple[str, str]] = []
    at = 0
    while at < len(text) and len(text) <= _LONGEST:
        part = _PART.match(text, at)
        if part is None:
            return []
        found.append((part[1], " ".join((part[2] or "").casefold().replace(".", "").split())))
        at = part.end()
    several = len(found) > 1
    if several and any(not unit or written[0] in "+-" for written, unit in found):
        return []
    return found


def _factor(unit: str, units: Mapping[str, Fraction], value: object, noun: str) -> Fraction:
    if unit in units:
        return units[unit]
    if unit in ("gal", "gallon", "gallons") and "us gal" in units:
        raise wrong(f"{shown(value)} could be two volumes", "write US gal or imp gal")
    raise wrong(f"{shown(value)} is in a unit that no {noun} has", choose(unit, units, most=0))


def _within(value: float, low: float, high: float, noun: str, unit: str, written: object) -> float:
    if low <= value <= high:
        return value
    metric = quantities.show_number(value, 3) if abs(value) < 1e9 else f"{value:g}"
    found = shown(written)
    if str(written).strip() != metric:
        found += f" ({metric} {unit})"
    raise wrong(f"{found} is not a likely {noun}", f"{low:g} to {high:.10g} {unit} is plausible")


def _reader(
    units: Mapping[str, Fraction], noun: str, unit: str, low: float, high: float
) -> Callable[[object], float]:
    def read(value: object) -> float:
        return _within(_amount(value, units, noun), low, high, noun, unit, value)

    return read


length_cm = _reader(LENGTH_CM, "length of a koi", "cm", 1, 120)
total_cm = _reader(LENGTH_CM, "total length", "cm", 1, 10_000)
size_mm = _reader(LENGTH_MM, "size of a mark", "mm", 0.1, 500)
litres = _reader(VOLUME_L, "volume", "L", 0.1, 5_000_000)
kilograms = _reader(WEIGHT_KG, "load of fish", "kg", 0, 5_000)
fish_kilograms = _reader(WEIGHT_KG, "weight of a koi", "kg", 0.001, 50)
hours = _reader(TIME_H, "travel time", "h", 0, 100)


def temperature_c(value: object) -> float:
    """A water temperature [°C], from degrees Celsius or, with its unit, Fahrenheit."""
    degrees = _celsius(value)
    return _within(degrees, 0, 40, "water temperature", "°C", value)


def _celsius(value: object) -> float:
    if not isinstance(value, str):
        return _typed_number(value)
    text = value.strip()
    if len(text) <= _LONGEST and _NUMBER.fullmatch(text):
        return _finite(float(text), text)
    parts = _parts(text)
    if len(parts) != 1:
        raise wrong(f"{shown(value)} found where a temperature belongs", _number_advice(text))
    written, unit = parts[0]
    if unit in CELSIUS:
        return _finite(float(written), text)
    if unit in FAHRENHEIT:
        return _finite(float(quantities.celsius_of_fahrenheit(Fraction(written))), text)
    raise wrong(f"{shown(value)} is in a unit that no temperature has", "write °C or °F")


def share(value: object) -> float:
    """A share of the whole, 0 to 1; `20 %` is 0.2."""
    text = value.strip() if isinstance(value, str) else ""
    found = number(text[:-1]) / 100 if text.endswith("%") else number(value)
    if 0 <= found <= 1:
        return found
    right = f"write {found:g} %, or {found / 100:g}" if 1 < found <= 100 else "write 0 to 1"
    raise wrong(f"{shown(value)} is not a share of the whole", right)
