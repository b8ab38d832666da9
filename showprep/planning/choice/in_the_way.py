"""Which limits stand in the way of one more entry beside a plan as it is."""

from __future__ import annotations

from showprep.planning.choice import pick as picks
from showprep.planning.choice.linear import STRUCTURE, Limit, Linear
from showprep.planning.choice.model import Model
from showprep.planning.choice.pick import Pick

TOLERANCE = 1e-6


Rows = list[list[int]]  # by column: the rows it stands in


def in_the_way(model: Model, pick: Pick, number: int, rows: Rows) -> tuple[Limit, ...]:
    """Limits broken by adding an entry to a plan, with the touch-up that breaks the fewest.

    An entry already in the plan but with its blemish seen is taken as asking to go clean. Empty
    when nothing is broken. Sorted.
    """
    entry = model.options.entries[number]
    plans = []
    if number not in pick.entered and entry.base is not None:
        plans.append(Pick(pick.entered | {number}, pick.touched))
    if not plans:
        plans = [
            Pick(pick.entered | {number}, pick.touched | {place})
            for place in entry.cleaned_by
            if place not in pick.touched
        ] or [Pick(pick.entered | {number}, pick.touched)]
    broken = [_broken(model, plan, rows) for plan in plans]
    return min(broken, key=lambda limits: (len(limits), limits))


def _broken(model: Model, plan: Pick, rows: Rows) -> tuple[Limit, ...]:
    values = picks.write(model, plan)
    linear = model.linear
    found = set()
    for row in {row for place, value in enumerate(values) if value for row in rows[place]}:
        start, end = linear.starts[row], linear.starts[row + 1]
        total = sum(linear.values[at] * values[linear.places[at]] for at in range(start, end))
        if total > linear.row_upper[row] + TOLERANCE or total < linear.row_lower[row] - TOLERANCE:
            found.add(linear.limits[row])
    return tuple(sorted(found - {STRUCTURE}))


def rows_by_column(linear: Linear) -> Rows:
    """The rows in which each column stands; worked out once for many questions."""
    rows: Rows = [[] for _ in range(linear.columns)]
    for row in range(linear.rows):
        for at in range(linear.starts[row], linear.starts[row + 1]):
            rows[linear.places[at]].append(row)
    return rows
