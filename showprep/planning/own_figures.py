"""Which of the keeper's own figures stand behind an answer.

A figure that is written down as it is shipped, or on the side that guards nobody and so is passed
over, is none.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from showprep.husbandry.figures import FIGURES, FiguresInForce
from showprep.husbandry.reason import Celsius, Centimetres, Kelvin, Litres, Reason, Value, reason
from showprep.season.records import KindFigures
from showprep.season.values.figure_values import TEMPERATURES

Answer = TypeVar("Answer")


def own_figures(figures: FiguresInForce) -> tuple[str, ...]:
    """The names of the figures that are not as shipped, by name."""
    return tuple(
        name
        for name in sorted(figures.own)
        if name in FIGURES and figures[name] != FIGURES[name].typical
    )


def told(figures: FiguresInForce, kinds: Mapping[str, KindFigures]) -> Iterator[Reason]:
    """A word on every own figure, and on every kind of defect with requirements of its own."""
    for name in own_figures(figures):
        yield of_figure(figures, name)
    for kind, own in sorted(kinds.items()):
        if own.closed is not None or own.clean is not None:
            yield reason("own-requirement", kind=kind)


def of_figure(figures: FiguresInForce, name: str) -> Reason:
    """One own figure beside the shipped one."""
    row = FIGURES[name]
    mine, shipped = (_amount(name, value) for value in (figures[name], row.typical))
    return reason("own-figure", name=name, own=mine, shipped=shipped, unit=_rest(row.unit))


def that_changed(
    figures: FiguresInForce,
    answer: Answer,
    again: Callable[[FiguresInForce], Answer],
    always: frozenset[str],
) -> tuple[Reason, ...]:
    """The own figures without which `again` gives another answer, and those of a kind that `always`
    stands on the sheet in words."""
    found = []
    for name in own_figures(figures):
        if name in always:
            found.append(of_figure(figures, name))
            continue
        others = FiguresInForce({key: one for key, one in figures.own.items() if key != name})
        if again(others) != answer:
            found.append(of_figure(figures, name))
    return tuple(found)


def _amount(name: str, value: float) -> Value:
    unit = FIGURES[name].unit
    if unit == "cm":
        return Centimetres(value)
    if unit == "L":
        return Litres(value)
    if unit.startswith("°C"):
        return Celsius(value) if name in TEMPERATURES else Kelvin(value)
    return value


def _rest(unit: str) -> str:
    """What of a unit is not told with the amount."""
    if unit.startswith("°C/"):
        return {"d": "a day", "h": "an hour"}[unit[-1]]
    return "" if unit in ("cm", "L", "°C") else unit
