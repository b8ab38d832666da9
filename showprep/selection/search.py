"""From a plan to the best one, or to a bound on it: a model made small, and one call of HiGHS.

The relaxed model gives a bound and reduced costs. A column whose reduced cost shows that no plan
better than the one at hand can use it is fixed, and HiGHS solves what is left, begun from that
plan. (Reduced-cost fixing: G. L. Nemhauser and L. A. Wolsey, Integer and Combinatorial
Optimization, 1988, section II.5.) In a large model a first call looks near the bound alone, and in
a very large one another comes before it, with every show settled.

Which fish goes where is what is hard: with entries, journeys and stays in the vat whole, touch-ups
mostly come out whole by themselves, and a call that does not demand it is most often quicker.
Where they do not, a small call mends them for the same entries; if that costs anything, one more
call demands everything.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import fsum, inf

from showprep.selection.linear import CLOSE
from showprep.selection.model import Model
from showprep.selection.plans import HALF, Pick, worth_of
from showprep.selection.solver import Held, Meter, Outcome, Relaxation, maximise

GUESS = 0.004  # share of the bound that a plan may first be below it
# Columns: of so small a model one call demands everything, in so large a one shows come first.
SMALL, LARGE = 300, 8_000
FEW, MANY, LESS = 400, 2_500, 0.6  # entries and touch-ups left open in a call
NEAR = HALF / 100  # hundredths of a point: closer two plans need not be told apart
MENDING = 10_000  # steps that touch-ups for given entries may take, whatever else is spent


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
        every = range(model.linear.columns)
        relaxed = self.relaxation.bound(held, meter)
        bound = relaxed.bound
        if len(every) > LARGE:
            self._dive(held, found, meter)
        calls = ((FEW, model.deciding), (MANY, model.deciding), (MANY, every))
        for most, whole in calls if len(every) > SMALL else calls[2:]:
            if bound <= found.value + near or meter.spent:
                break
            bound = min(bound, self._call(relaxed, held, found, meter, most, whole))
        found.infeasible = found.pick is None and bound == -inf
        # The tie break takes less than half a hundredth off any plan.
        found.bound = found.worth if bound <= found.value + HALF else bound + HALF
        return found

    def _dive(self, held: Held, found: Incumbent, meter: Meter) -> None:
        """A first call with shows settled: gone to, one by one, where the relaxed model half is."""
        held, model = dict(held), self.model
        shows = [*model.journey.values(), *model.returning.values()]
        while not meter.spent:
            relaxed = self.relaxation.bound(held, meter)
            values = relaxed.values or ()
            half = [(values[at], at) for at in shows if values and CLOSE < values[at] < 1 - CLOSE]
            if not half:
                self._call(relaxed, held, found, meter, FEW, model.deciding)
                break
            held[max(half)[1]] = 1.0

    def _call(
        self,
        relaxed: Outcome,
        held: Held,
        found: Incumbent,
        meter: Meter,
        most: int,
        whole: Iterable[int],
    ) -> float:
        """One call with at most so many entries and touch-ups open; returns a bound on plans."""
        model = self.model
        if relaxed.values is None:
            return relaxed.bound
        spare = relaxed.bound - found.value
        if most == FEW:
            spare = min(spare, GUESS * abs(relaxed.bound) + HALF)
        shut = self._shut(relaxed, spare)
        while self._left(shut) > most and HALF < spare < inf:
            spare *= LESS
            shut = self._shut(relaxed, spare)
        begun = None if found.pick is None else model.write(found.pick)
        for at, value in enumerate(begun or ()):  # what the plan at hand has stays open
            if shut.get(at, value) != value:
                del shut[at]
        outcome = maximise(model.linear, whole, {**shut, **held}, meter, begun)
        if outcome.values is not None:
            self.take(found, self._mended(outcome.values, meter))
        return min(relaxed.bound, max(outcome.bound, relaxed.bound - spare))

    def _shut(self, relaxed: Outcome, spare: float) -> dict[int, float]:
        """Columns that keep their value in plans worth at least the relaxed model's less `spare`.

        A column at its limit whose reduced cost is more than that cannot leave it there. An entry
        costs its own and the least of its levels', a level both; of an entry that is shut all
        levels are.
        """
        model, linear, values = self.model, self.model.linear, relaxed.values or ()
        costs = [abs(cost) for cost in relaxed.reduced]
        shut = {at: float(round(values[at])) for at, cost in enumerate(costs) if cost > spare}
        for number, levels in enumerate(model.levels):
            place, own = model.entered[number], [*levels.values()]
            if values[place] > CLOSE:
                continue
            least = min((costs[at] for at in own), default=0.0) if number in model.ranked else 0.0
            if not linear.col_lower[place] and costs[place] + least > spare:
                shut |= dict.fromkeys((place, *own), 0.0)
            shut |= {at: 0.0 for at in own if costs[at] + costs[place] > spare}
        return shut

    def _left(self, shut: Held) -> int:
        """How many entries and touch-ups are open."""
        return sum(at not in shut for at in (*self.model.entered, *self.model.touched))

    def _mended(self, values: Sequence[float], meter: Meter) -> Pick | None:
        """The plan that values stand for; touch-ups that are not whole are chosen again."""
        model = self.model
        if any(CLOSE < values[at] < 1 - CLOSE for at in model.touched):
            going = {at: float(round(values[at])) for at in model.entered}
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
