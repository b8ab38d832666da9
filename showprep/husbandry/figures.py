"""The figures that a keeper may change by name, each with its spread, its source and its mark.

Where two sources differ the figure that is safer for the fish is the typical one, and `source`
says so. A figure that guards a fish may be changed to the safer side only (`safe`).
"""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from showprep.husbandry.figure_record import Figure
from showprep.husbandry.figures_handling import HANDLING
from showprep.husbandry.figures_preparing import PREPARING

FIGURES: dict[str, Figure] = {row.name: row for row in (*HANDLING, *PREPARING)}


def figure(name: str) -> Figure:
    """Return the figure called `name`; raise KeyError when there is none."""
    return FIGURES[name]


def setting(name: str, own: Mapping[str, float] | None = None) -> float:
    """Return the keeper's own value of figure `name` if there is one, else its typical value.

    Where the figure guards the fish, an own value on the unsafe side is passed over.
    """
    known = FIGURES[name]
    mine = known.typical if own is None else own.get(name, known.typical)
    if known.safe == "lower":
        return min(mine, known.typical)
    return max(mine, known.typical) if known.safe == "higher" else mine


def fault_in_own_value(name: str, value: float) -> str | None:
    """Say in a sentence what is wrong with a keeper's own value of a figure, or return None."""
    known = FIGURES.get(name)
    if known is None:
        return f"there is no figure called {name}"
    if not isfinite(value) or value < 0:
        return f"{name} must be a number of 0 or more; {value:g} was given"
    if known.safe == "lower" and value > known.typical:
        return (
            f"{name} guards the fish and can only be made stricter:"
            f" {known.typical:g} {known.unit} or less, not {value:g}"
        )
    if known.safe == "higher" and value < known.typical:
        return (
            f"{name} guards the fish and can only be made stricter:"
            f" {known.typical:g} {known.unit} or more, not {value:g}"
        )
    return None
