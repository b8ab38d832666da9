"""From a plan to the best one, or to a bound on it: one model, made small before it is solved.

The relaxed model gives a bound and reduced costs. A column whose reduced cost shows that no plan
better than the one at hand can use it is fixed, and HiGHS solves what is left, begun from that
plan. (Reduced-cost fixing: G. L. Nemhauser and L. A. Wolsey, Integer and Combinatorial
Optimization, 1988, section II.5.) A first call looks among few columns. Where the relaxed model
goes to half a show, branching on whole shows comes before the second: it sharpens the bound most.
"""

from __future__ import annotations

from math import fsum, inf
from typing import Any

from msgspec import Struct

from showprep.selection.covers import covers
from showprep.selection.linear import CLOSE
from showprep.selection.model import Model
from showprep.selection.plans import HALF, Pick, worth_of
from showprep.selection.solver import Held, Meter, Outcome, Relaxation, maximise

GUESS = 0.004  # share of the bound that a plan may first be below it
FEW, MANY, LESS = 400, 2500, 0.6  # entries and touch-ups left open in a small model
ROUNDS = 12  # of looking for rows that the relaxed model breaks
NEAR = HALF / 100  # hundredths of a point: closer two plans need not be told apart


class Incumbent(Struct):
    """The best plan (None: none is known), its worth, and what no plan is worth more than.

    Worth and bound are in hundredths of a point.
    """

    pick: Pick | None
    worth: float
    bound: float
    value: float = -inf  # the worth less what the tie break takes off

    @property
    def proven(self) -> bool:
        return self.bound <= self.worth + HALF

    @property
    def infeasible(self) -> bool:
        """Can there be no plan at all?"""
        return self.bound == -inf


class Search(Struct):
    """One model, searched as often as there are questions."""

    model: Model
    relaxation: Relaxation
    _near: float = NEAR

    def tighten(self, meter: Meter) -> None:
        """Add rows that every plan keeps and the relaxed model breaks, as long as there are any."""
        for _ in range(ROUNDS):
            relaxed = self.relaxation.bound({}, meter)
            rows = [] if relaxed.values is None else covers(self.model.linear, relaxed.values)
            if not rows or meter.spent:
                return
            self.relaxation.add(rows)

    def best(self, held: Held, start: Pick | None, meter: Meter, near: float = NEAR) -> Incumbent:
        """The best plan with some columns held, beginning from one that keeps them.

        It ends when no plan can be better by more than `near`, the tie break counted in: with
        `HALF`, ties are left as they come.
        """
        self._near, found = near, Incumbent(None, -inf, inf)
        if start is not None:
            self.take(found, start)
        relaxed = self.relaxation.bound(held, meter)
        bound = relaxed.bound
        if bound > found.value + near and not meter.spent:
            bound = self._small(held, relaxed, found, meter, FEW)
        if bound > found.value + near and not meter.spent:
            bound = min(bound, self._settled(held, found, meter))
        # The tie break takes less than half a hundredth off any plan.
        found.bound = found.worth if bound <= found.value + HALF else bound + HALF
        return found

    def _settled(self, held: Held, found: Incumbent, meter: Meter) -> float:
        """Branch on shows half gone to, best bound first; returns a bound on all plans there."""
        waiting: list[tuple[float, Held]] = [(self.relaxation.bound(held, meter).bound, held)]
        solved = -inf
        while waiting:
            at = max(range(len(waiting)), key=lambda at: waiting[at][0])
            if waiting[at][0] <= found.value + self._near or meter.spent:
                return max(solved, waiting[at][0])
            bound, one = waiting.pop(at)
            relaxed = self.relaxation.bound(one, meter)
            open_ = self._open_show(one, relaxed)
            if open_ is None:
                solved = max(solved, min(bound, self._small(one, relaxed, found, meter, MANY)))
                continue
            for value in (0.0, 1.0):
                branch = {**one, open_: value}
                waiting.append((min(bound, self.relaxation.bound(branch, meter).bound), branch))
        return solved

    def _open_show(self, held: Held, relaxed: Outcome) -> int | None:
        """The journey, or cohort in the vat, that the relaxed model is most in two minds about."""
        if relaxed.values is None:
            return None
        values = relaxed.values
        parts = [
            (abs(values[place] - 0.5), place)
            for place in (*self.model.journey.values(), *self.model.stays.values())
            if place not in held and CLOSE < values[place] < 1 - CLOSE
        ]
        return min(parts)[1] if parts else None

    def _small(
        self, held: Held, relaxed: Outcome, found: Incumbent, meter: Meter, most: int
    ) -> float:
        """Solve with at most so many entries and touch-ups open; returns what is left of the bound.

        `relaxed` is what the relaxation was asked last.
        """
        if relaxed.values is None:
            return relaxed.bound
        spare = relaxed.bound - found.value
        lower, upper = self._narrowed(held, spare)
        if most == FEW and self._size(lower, upper) > FEW:
            spare = min(spare, GUESS * abs(relaxed.bound) + HALF)
            lower, upper = self._narrowed(held, spare)
        while self._size(lower, upper) > most and HALF < spare < inf:
            spare *= LESS
            lower, upper = self._narrowed(held, spare)
        start = self._start(found, lower, upper)
        outcome = maximise(self.relaxation, lower, upper, meter, start)
        if outcome.values is not None:
            self.take(found, self.model.read(outcome.values))
        return min(relaxed.bound, max(outcome.bound, relaxed.bound - spare))

    def _size(self, lower: Any, upper: Any) -> int:
        """How many entries and touch-ups are open."""
        own = [*self.model.entered, *self.model.touched]
        return int((lower[own] < upper[own]).sum())

    def _narrowed(self, held: Held, spare: float) -> tuple[Any, Any]:
        """Bounds of the columns for plans worth at least the last bound less `spare`.

        A column at its limit whose reduced cost is more than that cannot leave it there. An entry
        costs its own and the least of its levels', a level both; of an entry that is shut all
        levels are.
        """
        import numpy as np

        model, values = self.model, self.relaxation.values
        costs = np.abs(self.relaxation.reduced)
        lower, upper = np.array(model.linear.col_lower), np.array(model.linear.col_upper)
        for place, value in held.items():
            lower[place] = upper[place] = value
        fixed, at = costs > spare, np.where(values > 0.5, upper, lower)
        lower, upper = np.where(fixed, at, lower), np.where(fixed, at, upper)
        for number, levels in enumerate(model.levels):
            place, own = model.entered[number], [*levels.values()]
            at_zero = values[place] < CLOSE
            free = at_zero and not lower[place] and number in model.ranked
            if free and costs[place] + costs[own].min() > spare:
                upper[place] = 0.0
            for level in own:
                if not upper[place] or (at_zero and costs[level] + costs[place] > spare):
                    upper[level] = 0.0
        return lower, upper

    def _start(self, found: Incumbent, lower: Any, upper: Any) -> list[float] | None:
        """The plan at hand for the solver to begin from; its columns are opened where need be."""
        import numpy as np

        if found.pick is None:
            return None
        values, linear = np.array(self.model.write(found.pick)), self.model.linear
        shut = (lower == upper) & (values != lower)
        shut &= np.array(linear.col_lower) < np.array(linear.col_upper)
        lower[shut], upper[shut] = 0.0, 1.0
        return list(values)

    def _value(self, pick: Pick) -> float:
        """The worth of a plan less what the tie break takes off."""
        worth = self.model.linear.worth
        return fsum(one * each for one, each in zip(worth, self.model.write(pick), strict=True))

    def take(self, found: Incumbent, pick: Pick) -> None:
        """Keep a plan if it is better than the one at hand."""
        value = self._value(pick)
        if found.pick is None or value > found.value:
            found.pick, found.value = pick, value
            found.worth = worth_of(self.model.options, pick)
