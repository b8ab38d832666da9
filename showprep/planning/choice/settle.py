"""The few choices worth settling first: which shows are gone to, and which cohorts come home.

While they are open, a show half gone to pays half its fee and fills half the vat, and the bound
without whole numbers is worth little; once they are settled it lies a fraction of a per cent above
the best plan.
"""

from __future__ import annotations

from collections.abc import Sequence

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.model import Model
from showprep.planning.choice.screen import Screen

WHOLE = 0.5 - 1e-6  # how far from a half a settled choice is


def to_settle(model: Model) -> list[int]:
    """Columns for which shows are gone to, and which cohorts come home to the vat."""
    return sorted({*model.open_.values(), *model.returning.values()})


def settled_in(screen: Screen) -> list[int]:
    """The same, where they are in a model cut down."""
    return [screen.at[place] for place in to_settle(screen.model)]


def most_open(bound: Outcome, choices: Sequence[int]) -> int | None:
    """The choice furthest from settled; None when all are."""
    values = bound.values or ()
    distance, place = min(((abs(values[one] - 0.5), one) for one in choices), default=(WHOLE, -1))
    return None if distance >= WHOLE else place


def least_open(bound: Outcome, choices: Sequence[int]) -> int | None:
    """The choice nearest to settled of those that are not; None when all are."""
    values = bound.values or ()
    half = [(abs(values[one] - 0.5), one) for one in choices]
    half = [(distance, one) for distance, one in half if distance < WHOLE]
    return max(half)[1] if half else None
