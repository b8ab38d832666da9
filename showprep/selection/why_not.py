"""Why nothing satisfies what must be: the limits that, lifted, would let a plan through."""

from __future__ import annotations

from itertools import combinations

from showprep.selection.model import build
from showprep.selection.options import Options
from showprep.selection.problem import Limit
from showprep.selection.solver import Meter, Relaxation, maximise

# Kinds in the order in which a keeper would look for the fault.
KINDS = (
    "fish",
    "boxes",
    "kg",
    "total-cm",
    "points",
    "entries-per-class",
    "fish-at-least",
    "total-cm-at-least",
    "rest",
    "fees",
    "fish-per-day",
    "touch-ups-per-fish",
    "spacing",
    "bars",
    "vat-places",
    "vat-cohorts",
)


def why_not(options: Options, meter: Meter) -> tuple[Limit, ...]:
    """One limit, or two together, that stand in the way; empty where there are more."""
    for number in (1, 2):
        for kinds in combinations(KINDS, number):
            if _possible(options, frozenset(Limit(kind) for kind in kinds), meter):
                return tuple(_single(options, kind, kinds, meter) for kind in kinds)
    return ()


def _possible(options: Options, lifted: frozenset[Limit], meter: Meter) -> bool:
    import numpy as np

    linear = build(options, lifted).linear
    linear.worth = [0.0] * linear.columns
    lower, upper = np.array(linear.col_lower), np.array(linear.col_upper)
    return maximise(Relaxation(linear), lower, upper, meter).values is not None


def _single(options: Options, kind: str, kinds: tuple[str, ...], meter: Meter) -> Limit:
    """The one limit of a kind whose lifting is enough; else the kind."""
    others = {Limit(other) for other in kinds if other != kind}
    for limit in sorted({limit for limit in build(options).linear.limits if limit.kind == kind}):
        if limit.of and _possible(options, frozenset({limit, *others}), meter):
            return limit
    return Limit(kind)
