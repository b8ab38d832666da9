"""A model without whole numbers, kept warm: bounds change, and it goes on from where it was.

Rows added to the model in the meantime are taken up at the next solve.
"""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import inf
from typing import Any

from showprep.planning.choice.highs import Heard, Outcome, pass_model, run, solver
from showprep.planning.choice.linear import Linear

Held = Mapping[int, float]  # columns held at a value


class Relaxation:
    """The bound of a model, again and again, with some columns held at a value."""

    def __init__(self, linear: Linear, objective: Sequence[float]) -> None:
        self.linear = linear
        self.highs: Any = solver()
        self.held: dict[int, float] = {}
        self.rows = linear.rows
        pass_model(self.highs, linear, objective, whole=False)

    def solve(
        self,
        held: Held,
        seconds: float = inf,
        heard: Heard | None = None,
        stop: threading.Event | None = None,
    ) -> Outcome:
        """The bound with columns held; `values` is None when nothing fits, or time ran out."""
        import highspy

        self._take_up()
        for place in self.held.keys() - held.keys():
            lower, upper = self.linear.col_lower[place], self.linear.col_upper[place]
            self.highs.changeColBounds(place, lower, upper)
        for place, value in held.items():
            if self.held.get(place) != value:
                self.highs.changeColBounds(place, value, value)
        self.held = dict(held)
        if seconds < inf:
            self.highs.setOptionValue("time_limit", self.highs.getRunTime() + seconds)
        interrupted = run(self.highs, heard, stop)
        status, states = self.highs.getModelStatus(), highspy.HighsModelStatus
        if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
            return Outcome(None, -inf, -inf, True, infeasible=True, interrupted=interrupted)
        if status != states.kOptimal:
            return Outcome(None, -inf, inf, False, interrupted=interrupted)
        solution = self.highs.getSolution()
        value = float(self.highs.getInfo().objective_function_value)
        return Outcome(
            list(solution.col_value),
            value,
            value,
            True,
            interrupted=interrupted,
            reduced=list(solution.col_dual),
            duals=list(solution.row_dual),
        )

    def _take_up(self) -> None:
        import numpy as np

        linear = self.linear
        for row in range(self.rows, linear.rows):
            start, end = linear.starts[row], linear.starts[row + 1]
            places = np.array(linear.places[start:end], dtype=np.int32)
            values = np.array(linear.values[start:end], dtype=float)
            lower, upper = linear.row_lower[row], linear.row_upper[row]
            self.highs.addRow(lower, upper, end - start, places, values)
        self.rows = linear.rows


def narrowed(linear: Linear, bound: Outcome, held: Held, spare: float) -> Linear:
    """Hold each column that costs more than `spare` to move from where the bound has it.

    Sound for plans worth more than the bound less `spare`: none of them moves such a column.
    """
    lower, upper = list(linear.col_lower), list(linear.col_upper)
    for place, value in held.items():
        lower[place] = upper[place] = value
    for place, (value, cost) in enumerate(
        zip(bound.values or (), bound.reduced or (), strict=True)
    ):
        if value < 1e-9 and -cost > spare:
            upper[place] = lower[place]
        elif value > 1 - 1e-9 and cost > spare:
            lower[place] = upper[place]
    return replace(linear.unsharpened(), col_lower=lower, col_upper=upper)
