"""The keeper's own figures: each a number in the unit of its row, or an amount with a unit."""

from __future__ import annotations

import math
from typing import Annotated, Any

from pydantic import (
    BeforeValidator,
    GetCoreSchemaHandler,
    GetPydanticSchema,
    PlainValidator,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic_core.core_schema import CoreSchema, no_info_after_validator_function

from showprep.husbandry.figures import FIGURES, FiguresInForce
from showprep.season.values import measures
from showprep.season.values.fields import Text, units_of
from showprep.season.values.measures import Amount, length_cm, litres, temperature_c, warming_c
from showprep.season.values.scales import LENGTH_CM, TEMPERATURE_C, VOLUME_L, WARMING_C

TEMPERATURES = frozenset(
    (
        *("sed_cold_warn", "sed_cold_block", "sed_hot_warn", "sed_hot_block", "stitched_warm"),
        *("apart_least_c", "apart_most_c"),
        *("khv_window_low", "khv_window_high", "feed_stop_c", "spawns_from_c", "spawns_to_c"),
    )
)
"""The figures in °C that are temperatures of water; all others are differences of two."""

_ANY = (-math.inf, math.inf)  # the figure's own row says what can be
_LENGTH = Amount("length", "cm", LENGTH_CM, *_ANY, length_cm.asked)
_VOLUME = Amount("volume", "L", VOLUME_L, *_ANY, litres.asked)
_TEMPERATURE = Amount("temperature", "°C", TEMPERATURE_C, *_ANY, temperature_c.asked)
_WARMING = Amount("change of temperature", "°C", WARMING_C, *_ANY, warming_c.asked)


class _OfFigure(str):
    """What is written for one figure."""

    figure: str


def amount_of(figure: str) -> Amount | None:
    """How the value of a figure is read, where it is an amount that can carry a unit."""
    unit = FIGURES[figure].unit if figure in FIGURES else ""
    if unit == "°C":
        return _TEMPERATURE if figure in TEMPERATURES else _WARMING
    return {"cm": _LENGTH, "L": _VOLUME, "°C/d": _WARMING, "°C/h": _WARMING}.get(unit)


def _named(value: Any) -> Any:
    """Each text with the name of its figure, which decides how it is read."""
    if not isinstance(value, dict):
        return value
    found: dict[Any, Any] = {}
    for name, one in value.items():
        found[name] = one
        if isinstance(one, str):
            found[name] = _OfFigure(one)
            found[name].figure = str(name)
    return found


def _value(value: object, info: ValidationInfo) -> float:
    amount = amount_of(value.figure) if isinstance(value, _OfFigure) else None
    return measures.number(value) if amount is None else amount(value, units_of(info))


_Value = Annotated[float, PlainValidator(_value), WithJsonSchema({"type": ["number", "string"]})]
_Written = Annotated[dict[Text, _Value], BeforeValidator(_named)]


def _in_force(_: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
    return no_info_after_validator_function(FiguresInForce, handler(_Written))


OwnFigures = Annotated[FiguresInForce, GetPydanticSchema(_in_force)]
"""The figures in force by what the keeper writes under `figures:`."""
