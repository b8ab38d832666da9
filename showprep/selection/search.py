"""From a plan to the best one, or to a bound on it: a model made small, and one call of HiGHS.

The relaxed model gives a bound and reduced costs. A column whose reduced cost shows that no plan
better than the one at hand can use it is fixed, and HiGHS solves what is left, begun from that
plan. (Reduced-cost fixing: G. L. Nemhauser and L. A. Wolsey, Integer and Combinatorial
Optimization, 1988, section II.5.) In a large model a first call looks near the bound alone.

Which fish goes where is what is hard: with entries, journeys and stays in the vat whole, touch-ups
mostly come out whole by themselves, and a call that does not demand it is several times quicker.
Where they do not, a small call mends them for the same entries; if that costs anything, one more
call demands everything.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, inf

from showprep.selection.model import Model
from showprep.selection.plans import HALF, Pick, worth_of
from showprep.selection.solver import Held, Meter, Relaxation, maximise

CLOSE = 1e-6
GUESS = 0.004  # share of the bound that a plan may first be below it
SMALL = 300  # columns; of so small a model one call demands everything
NEAR = HALF / 100  # hundredths of a point: closer two plans need not be told apart
MENDING = 500  # steps that touch-ups for given entries may take, whatever else is spent


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


@dataclass(slots=True)
class Search:
    """One model, searched as often as there are questions."""

    model: Model
    relaxation: Relaxation

    def best(self, held: Held, start: Pick | None, meter: Meter, near: float = NEAR) -> Incumbent:
        """The best plan with some columns held, beginning from one that keeps them.

        It ends when no plan can be better by more than `near`, the tie break counted in: with
        `HALF`, ties are left as they come.
        """
        model, found = self.model, Incumbent(None, -inf, inf)
        if start is not None:
            self.take(found, start)
        relaxed = self.relaxation.bound(held, meter)
        bound, every = relaxed.bound, range(model.linear.columns)
        calls = ((GUESS, model.deciding), (inf, model.deciding), (inf, every))
        for share, whole in calls if len(every) > SMALL else calls[2:]:
            if bound <= found.value + near or meter.spent or relaxed.values is None:
                break
            gap = relaxed.bound - found.value
            spare = min(gap, share * (abs(relaxed.bound) + 1))
            open_ = self._open(relaxed.values, spare, held, found.pick)
            start_ = None if found.pick is None else model.write(found.pick)
            outcome = maximise(model.linear, whole, open_, meter, start_)
            if outcome.values is not None:
                self.take(found, self._mended(outcome.values, meter))
            bound = min(bound, max(outcome.bound, relaxed.bound - spare))
        found.infeasible = found.pick is None and bound == -inf
        # The tie break takes less than half a hundredth off any plan.
        found.bound = found.worth if bound <= found.value + HALF else bound + HALF
        return found

    def _open(
        self, values: Sequence[float], spare: float, held: Held, start: Pick | None
    ) -> dict[int, tuple[float, float]]:
        """Bounds of the columns for plans worth at least the relaxed model's less `spare`.

        A column at its limit whose reduced cost is more than that cannot leave it there. An entry
        costs its own and the least of its levels', a level both; of an entry that is shut all
        levels are. What the plan at hand has stays open.
        """
        model, linear = self.model, self.model.linear
        costs = [abs(cost) for cost in self.relaxation.reduced]
        shut = {at: round(values[at]) for at, cost in enumerate(costs) if cost > spare}
        for number, levels in enumerate(model.levels):
            place, own = model.entered[number], [*levels.values()]
            if values[place] > CLOSE:
                continue
            least = min((costs[at] for at in own), default=0.0) if number in model.ranked else 0.0
            if not linear.col_lower[place] and costs[place] + least > spare:
                shut |= dict.fromkeys((place, *own), 0)
            shut |= {at: 0 for at in own if costs[at] + costs[place] > spare}
        bounds = {at: (float(value), float(value)) for at, value in shut.items()}
        if start is not None:
            for at, value in enumerate(model.write(start)):
                if at in shut and shut[at] != value:
                    bounds[at] = (0.0, 1.0)
        return bounds | {at: (value, value) for at, value in held.items()}

    def _mended(self, values: Sequence[float], meter: Meter) -> Pick | None:
        """The plan that values stand for; touch-ups that are not whole are chosen again."""
        model = self.model
        if any(CLOSE < values[at] < 1 - CLOSE for at in model.touched):
            going = {at: (float(round(values[at])),) * 2 for at in model.entered}
            own, every = Meter(MENDING, meter.stop), range(model.linear.columns)
            mended = maximise(model.linear, every, going, own)
            if mended.values is None:
                return None
            values = mended.values
        return model.read(values)

    def take(self, found: Incumbent, pick: Pick | None) -> None:
        """Keep a plan if it is better than the one at hand."""
        if pick is None:
            return
        worth = self.model.linear.worth
        value = fsum(one * each for one, each in zip(worth, self.model.write(pick), strict=True))
        if found.pick is None or value > found.value:
            found.pick, found.value = pick, value
            found.worth = worth_of(self.model.options, pick)
