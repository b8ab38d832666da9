"""The bounds of size classes: lengths in the unit that their table names."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Annotated, Literal

from pydantic import BeforeValidator, PlainValidator, ValidationInfo

from showprep.season.fields import units_of
from showprep.season.measures import Amount, is_bare
from showprep.season.quantities import CM_PER_INCH
from showprep.season.scales import LENGTH_CM
from showprep.season.wording import wrong

_LENGTH = Amount("bound of a size class", "cm", LENGTH_CM, -math.inf, math.inf, {})


def _unit(value: object, info: ValidationInfo) -> object:
    """The unit as written; cm in a metric season that does not say."""
    if value is not None:
        return value
    units = units_of(info)
    if units in ("us", "imperial"):
        right = f"with units: {units} add unit: in or unit: cm, as the show has it"
        raise wrong("it is not said whether the classes are in inches or in cm", right)
    return "cm"


def _bound(value: object, info: ValidationInfo) -> float:
    """A length in the table's unit; one that carries its own unit is brought to it."""
    found = _LENGTH(value)
    if isinstance(value, str) and not is_bare(value) and info.data.get("unit") == "in":
        return float(Fraction(repr(found)) / CM_PER_INCH)
    return found


SizeUnit = Annotated[Literal["cm", "in"], BeforeValidator(_unit)]
Bound = Annotated[float, PlainValidator(_bound)]
