"""Units: exact factors to metric, and amounts printed as metric, US or imperial.

Factors are those of NIST Special Publication 811 (2008), appendix B, where they are exact:
inch, foot, pound and ounce from the international yard and pound of 1959, the US liquid gallon
as 231 cubic inches, the imperial gallon as 4.546 09 litres.

In both `us` and `imperial`, lengths are inches and weights pounds. Temperature is Fahrenheit in
`us` alone: keepers who buy imperial gallons read their thermometers in Celsius (common practice,
no source).
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import Literal

_EXACT = Context(prec=400, rounding=ROUND_HALF_UP)  # room for the largest float

Units = Literal["metric", "us", "imperial"]

# What degree-days are printed in: those in Fahrenheit are 1.8 times as many.
DEGREE_DAYS: Mapping[Units, str] = {"metric": "°C·d", "us": "°F·d", "imperial": "°C·d"}

CM_PER_INCH = Fraction("2.54")
CM_PER_FOOT = 12 * CM_PER_INCH
KG_PER_POUND = Fraction("0.45359237")
KG_PER_OUNCE = KG_PER_POUND / 16
LITRES_PER_US_GALLON = 231 * CM_PER_INCH**3 / 1000
LITRES_PER_IMPERIAL_GALLON = Fraction("4.54609")
LITRES_PER_CUBIC_FOOT = CM_PER_FOOT**3 / 1000


def fahrenheit_of_celsius(degrees: Fraction) -> Fraction:
    """Temperature [°F] of a temperature [°C]."""
    return degrees * Fraction(9, 5) + 32


def show_number(value: float | Fraction, places: int = 1, *, trim: bool = True) -> str:
    """`value` with at most `places` decimals, halves rounded away from zero, never minus zero.

    The shortest decimal that names the float is what is rounded, so 2.675 to two places is 2.68,
    as on paper. With `trim`, zeros at the end are left out.
    """
    exact = (
        _EXACT.divide(Decimal(value.numerator), Decimal(value.denominator))
        if isinstance(value, Fraction)
        else Decimal(repr(float(value)))
    )
    rounded = exact.quantize(Decimal(1).scaleb(-places), context=_EXACT)
    if rounded.is_zero():
        rounded = abs(rounded)
    text = f"{rounded:f}"
    return text.rstrip("0").rstrip(".") if trim and "." in text else text


def _exact(value: float) -> Fraction:
    return Fraction(repr(float(value)))


def show_length(cm: float, units: Units = "metric") -> str:
    """A length [cm] to 0.5 mm's worth: one decimal of a centimetre or of an inch."""
    if units == "metric":
        return f"{show_number(cm)} cm"
    return f"{show_number(_exact(cm) / CM_PER_INCH)} in"


def show_temperature(celsius: float, units: Units = "metric") -> str:
    """A temperature [°C] to one decimal."""
    if units == "us":
        return f"{show_number(fahrenheit_of_celsius(_exact(celsius)))} °F"
    return f"{show_number(celsius)} °C"


def show_warming(kelvin: float, units: Units = "metric") -> str:
    """A difference or daily change of temperature [K]: no offset, unlike a temperature."""
    if units == "us":
        return f"{show_number(_exact(kelvin) * Fraction(9, 5))} °F"
    return f"{show_number(kelvin)} °C"


def show_degree_days(degree_days: float, units: Units = "metric", places: int = 1) -> str:
    """Degree-days [°C·d] in the keeper's degrees, without their unit (`DEGREE_DAYS`)."""
    factor = Fraction(9, 5) if units == "us" else 1
    return show_number(_exact(degree_days) * factor, places)


def show_volume(litres: float, units: Units = "metric") -> str:
    """A volume [L]: one decimal below 100 units, none above."""
    if units == "us":
        return _show_bulk(_exact(litres) / LITRES_PER_US_GALLON, "US gal")
    if units == "imperial":
        return _show_bulk(_exact(litres) / LITRES_PER_IMPERIAL_GALLON, "imp gal")
    return _show_bulk(_exact(litres), "L")


def _show_bulk(amount: Fraction, unit: str) -> str:
    return f"{show_number(amount, 1 if abs(amount) < 100 else 0)} {unit}"


def show_grams(grams: float, units: Units = "metric") -> str:
    """A small weight [g] that is no dose: whole grams, or tenths of an ounce."""
    if units == "metric":
        return f"{show_number(grams, 0)} g"
    return f"{show_number(_exact(grams) / 1000 / KG_PER_OUNCE)} oz"


def show_dissolved(mg_per_l: float, units: Units = "metric", places: int = 0) -> str:
    """What is dissolved in water [mg/L]; outside metric as the same number of parts a million."""
    return f"{show_number(mg_per_l, places)} {'mg/L' if units == 'metric' else 'ppm'}"


def show_load(kg_per_l: float, units: Units = "metric") -> str:
    """Fish to water [kg/L]: two decimals, or one of pounds to the keeper's gallon."""
    if units == "metric":
        return f"{show_number(kg_per_l, 2, trim=False)} kg/L"
    gallon = LITRES_PER_US_GALLON if units == "us" else LITRES_PER_IMPERIAL_GALLON
    name = "US gal" if units == "us" else "imp gal"
    return f"{show_number(_exact(kg_per_l) * gallon / KG_PER_POUND)} lb/{name}"


def show_weight(kg: float, units: Units = "metric") -> str:
    """A weight [kg]: two decimals of a kilogram, one of a pound."""
    if units == "metric":
        return f"{show_number(kg, 2)} kg"
    return f"{show_number(_exact(kg) / KG_PER_POUND)} lb"
