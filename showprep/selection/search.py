"""Branch and bound: whole shows first, then few columns at a time.

Which shows are gone to, and who comes home to the vat, is settled first, best bound first: with
that settled the bound is sharp. Then a column whose reduced cost shows that no plan better than
the one at hand can use it is fixed, and HiGHS solves the small model that is left. (Reduced-cost
fixing: G. L. Nemhauser and L. A. Wolsey, Integer and Combinatorial Optimization, 1988, section
II.5.)
"""

from __future__ import annotations

from dataclasses import dataclass, field
from heapq import heappop, heappush
from math import fsum, inf
from typing import Any

from showprep.selection.model import Model
from showprep.selection.plans import HALF, Pick, worth_of
from showprep.selection.solver import Held, Meter, Relaxation, maximise

GUESS = 0.004  # share of the bound that a plan may first be below it
FEW, MANY, LESS = 400, 2500, 0.6  # entries and touch-ups left open in a small model
CLOSE = 1e-6
NEAR = HALF / 100  # hundredths of a point: closer two plans need not be told apart


@dataclass(slots=True)
class Incumbent:
    """The best plan (None: none is known), its worth, and what no plan is worth more than.

    `infeasible`: no plan there can be. Worth and bound are in hundredths of a point.
    """

    pick: Pick | None
    worth: float
    bound: float
    infeasible: bool = False
    value: float = -inf  # the worth less what the tie break takes off

    @property
    def proven(self) -> bool:
        return self.bound <= self.worth + HALF


@dataclass(frozen=True, slots=True, order=True)
class Question:
    """Some columns held, with the bound on all plans that keep them (less than 0: best first).

    `open_` is the column to settle next; None where only a small model can tell more.
    """

    less: float
    number: int
    held: dict[int, float] = field(compare=False)
    open_: int | None = field(compare=False)

    @property
    def bound(self) -> float:
        return -self.less


@dataclass(slots=True)
class Search:
    """One model, searched as often as there are questions."""

    model: Model
    relaxation: Relaxation
    nodes: int  # for one small model
    _number: int = 0
    _near: float = 0.0

    def best(self, held: Held, start: Pick | None, meter: Meter, near: float = NEAR) -> Incumbent:
        """The best plan with some columns held, beginning from one that keeps them.

        It ends when no plan can be better by more than `near`, the tie break counted in: with
        `HALF`, ties are left as they come.
        """
        self._near = near
        found = Incumbent(start, -inf, inf)
        if start is not None:
            found.value, found.worth = self._value(start), worth_of(self.model.options, start)
        waiting: list[Question] = []
        self._put(waiting, dict(held), meter)
        unsettled = -inf
        asks = start is None or near == NEAR
        if asks and waiting and waiting[0].open_ is not None and not meter.spent:
            self._small(waiting[0].held, found, meter, few=True)
        while waiting and waiting[0].bound > found.value + near and not meter.spent:
            one = heappop(waiting)
            if one.open_ is None:
                unsettled = max(unsettled, self._small(one.held, found, meter))
                continue
            for value in (0.0, 1.0):
                self._put(waiting, {**one.held, one.open_: value}, meter, one.bound)
        left = max((one.bound for one in waiting), default=-inf)
        bound = max(unsettled, left)
        found.infeasible = found.pick is None and bound == -inf
        # The tie break takes less than half a hundredth off any plan.
        found.bound = found.worth if bound <= found.value + HALF else bound + HALF
        return found

    def _put(
        self, waiting: list[Question], held: dict[int, float], meter: Meter, above: float = inf
    ) -> None:
        """Put a question with its bound among those that wait."""
        relaxed = self.relaxation.bound(held, meter)
        if relaxed.infeasible:
            return
        open_ = None
        if relaxed.values is not None:
            settles = [*self.model.journey.values(), *self.model.returning.values()]
            parts = [
                (abs(relaxed.values[place] - 0.5), place)
                for place in settles
                if place not in held and CLOSE < relaxed.values[place] < 1 - CLOSE
            ]
            open_ = min(parts)[1] if parts else None
        self._number += 1
        question = Question(-min(above, relaxed.bound), self._number, held, open_)
        heappush(waiting, question)

    def _small(self, held: Held, found: Incumbent, meter: Meter, few: bool = False) -> float:
        """Look for a plan among few columns, then more; returns what is left of the bound.

        With `few` it is left at that.
        """
        relaxed = self.relaxation.bound(held, meter)
        bound, spare, most = relaxed.bound, GUESS * abs(relaxed.bound) + HALF, FEW
        if relaxed.values is None:
            return bound
        if self._is_whole(relaxed.values):
            self.take(found, self.model.read(relaxed.values))
            return min(bound, found.value) if found.value >= bound - self._near else bound
        gap = bound - found.value
        if gap < inf and self._size(*self._narrowed(held, gap)) <= FEW:
            spare, most = gap, MANY
        while True:
            spare = min(spare, bound - found.value)
            lower, upper = self._narrowed(held, spare)
            while self._size(lower, upper) > most and spare > HALF:
                spare *= LESS
                lower, upper = self._narrowed(held, spare)
            start = self._start(found, lower, upper, open_too=most == FEW)
            outcome = maximise(self.model.linear, lower, upper, meter, self.nodes, start)
            if outcome.values is not None:
                self.take(found, self.model.read(outcome.values))
            least = min(bound, max(outcome.bound, bound - spare))
            if meter.spent:
                return bound
            if few or most == MANY or least <= found.value + self._near:
                return least
            spare, most = bound - found.value, MANY

    def _is_whole(self, values: Any) -> bool:
        """Is the relaxed answer a plan already?"""
        import numpy as np

        model = self.model
        settled = (*model.session.values(), *model.journey.values(), *model.returning.values())
        own = np.array(values)[[*model.entered, *model.touched, *settled]]
        return bool((np.abs(own - own.round()) < CLOSE).all())

    def _size(self, lower: Any, upper: Any) -> int:
        """How many entries and touch-ups are open."""
        model = self.model
        return sum(1 for place in (*model.entered, *model.touched) if lower[place] < upper[place])

    def _narrowed(self, held: Held, spare: float) -> tuple[Any, Any]:
        """Bounds of the columns for plans worth at least the last bound less `spare`.

        An entry costs its own reduced cost and the least of its levels', a level both; a touch-up
        is only done for an entry.
        """
        import numpy as np

        model, costs = self.model, np.abs(self.relaxation.reduced)
        lower, upper = self.relaxation.narrowed(held, spare)
        for number, levels in enumerate(model.levels):
            place = model.entered[number]
            own = np.fromiter(levels.values(), dtype=int)
            at_zero = self.relaxation.values[place] < CLOSE
            if upper[place] and not lower[place] and at_zero and len(own):
                least = costs[own].min() if model.whole_by_levels(number) else 0.0
                if costs[place] + least > spare:
                    upper[place] = 0.0
            if not upper[place]:
                upper[own] = 0.0
            elif at_zero:
                upper[own[costs[own] + costs[place] > spare]] = 0.0
        return lower, upper

    def _start(
        self, found: Incumbent, lower: Any, upper: Any, open_too: bool
    ) -> list[float] | None:
        """The plan at hand for the solver to begin from; its columns are opened if need be."""
        import numpy as np

        if found.pick is None:
            return None
        values = np.array(self.model.write(found.pick))
        held = lower == upper
        own_lower, own_upper = self.model.linear.col_lower, self.model.linear.col_upper
        shut = held & (values != lower) & (np.array(own_lower) < np.array(own_upper))
        if shut.any() and not open_too:
            return None
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
