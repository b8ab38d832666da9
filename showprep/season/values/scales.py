"""The units of lengths, volumes, weights, temperatures and times, by the names people use."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from showprep.season.values import quantities


class Scale(NamedTuple):
    """A unit, by its size in the metric one and by where its zero lies."""

    factor: Fraction
    zero: Fraction = Fraction(0)

    def metric(self, number: Fraction | str) -> Fraction:
        """The metric amount of a number of this unit."""
        return (Fraction(number) - self.zero) * self.factor

    def own(self, metric: Fraction) -> Fraction:
        """The number of this unit for a metric amount."""
        return metric / self.factor + self.zero


def _scales(*units: tuple[Fraction, str]) -> dict[str, Scale]:
    """The scale of each unit by its names, which stand apart by `|`."""
    return {name: Scale(factor) for factor, names in units for name in names.split("|")}


ONE = Fraction(1)
_LENGTHS = (
    (ONE, "cm|centimetre|centimetres|centimeter|centimeters"),
    (ONE / 10, "mm|millimetre|millimetres|millimeter|millimeters"),
    (ONE * 100, "m|metre|metres|meter|meters"),
    (quantities.CM_PER_INCH, "in|inch|inches|ins|\"|″|''"),
    (quantities.CM_PER_FOOT, "ft|foot|feet|'|′"),
)
LENGTH_CM = _scales(*_LENGTHS)
LENGTH_MM = _scales(*((factor * 10, names) for factor, names in _LENGTHS))
VOLUME_L = _scales(
    (ONE, "l|litre|litres|liter|liters"),
    (ONE / 1000, "ml|millilitre|millilitres|milliliter|milliliters"),
    (ONE * 1000, "m³|cubic metre|cubic metres|cubic meter|cubic meters"),
    (quantities.LITRES_PER_US_GALLON, "us gal|us gals|us gallon|us gallons"),
    (
        quantities.LITRES_PER_IMPERIAL_GALLON,
        "imp gal|imp gals|imp gallon|imp gallons|imperial gal|imperial gallon|imperial gallons|"
        "uk gal|uk gallon|uk gallons",
    ),
    (quantities.LITRES_PER_CUBIC_FOOT, "ft³|cubic foot|cubic feet"),
)
WEIGHT_KG = _scales(
    (ONE, "kg|kilogram|kilograms"),
    (ONE / 1000, "g|gram|grams"),
    (quantities.KG_PER_POUND, "lb|lbs|pound|pounds"),
    (quantities.KG_PER_OUNCE, "oz|ounce|ounces"),
)
TIME_H = _scales((ONE, "h|hr|hrs|hour|hours"), (ONE / 60, "min|mins|minute|minutes"))
_CELSIUS = ("c", "°c", "degc", "deg c", "celsius", "degrees celsius")
_FAHRENHEIT = ("f", "°f", "degf", "deg f", "fahrenheit", "degrees fahrenheit")
TEMPERATURE_C = {
    **dict.fromkeys(_CELSIUS, Scale(ONE)),
    **dict.fromkeys(_FAHRENHEIT, Scale(Fraction(5, 9), Fraction(32))),
}
WARMING_C = _scales((ONE, "|".join(_CELSIUS)), (Fraction(5, 9), "|".join(_FAHRENHEIT)))
