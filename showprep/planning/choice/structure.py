"""The greatest merit, settling first which shows are gone to and which cohorts come home.

The search branches on those few choices alone, best bound first, and hands what is left to the
solver, with every column held that the bound rules out.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from heapq import heappop, heappush
from math import floor, inf

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.model import Model
from showprep.planning.choice.pick import write
from showprep.planning.choice.relaxation import Held, Relaxation, narrowed
from showprep.planning.choice.settle import least_open, most_open, to_settle
from showprep.planning.choice.work import Work

FIRST_BRANCHES = 40  # looked into however few nodes are allowed, so that there is a plan
NARROW = 0.003  # share of the bound within which columns are kept while no plan is known
CLOSE = 0.99  # merits are whole hundredths: a bound nearer than this is reached


Branch = tuple[float, int, dict[int, float], int | None]


@dataclass(slots=True)
class _Search:
    """Branches still open, best bound first, and the best plan so far.

    A branch is its bound, its number, the choices held, and the one to settle next (None: all are
    settled, and the solver can have it).
    """

    work: Work
    model: Model
    share: float
    settled: Sequence[int]
    relaxation: Relaxation
    earned: Sequence[float]
    open_: list[Branch] = field(default_factory=list)
    best: Outcome | None = None
    unsettled: float = -inf  # bound of what was not finished
    branches: int = 0
    stopped: bool = False

    def worth(self, bound: float) -> bool:
        """Could anything under this bound be better than the best plan?"""
        return self.best is None or bound > self.best.value + CLOSE

    def take(self, outcome: Outcome) -> None:
        if outcome.values is not None and self.worth(outcome.value):
            self.best = outcome
            self.work.take(self.model, outcome)
        self.stopped = self.stopped or self.work.interrupted

    def bound(self, held: Held) -> Outcome | None:
        """The bound of a branch; None when the effort is spent, and then the search stops."""
        left = self.work.seconds_left(self.share)
        self.branches += 1
        if (
            left > 0.1
            and self.branches <= FIRST_BRANCHES + self.work.effort.nodes
            and not self.stopped
        ):
            bound = self.relaxation.solve(held, left, lambda: self.work.tell("merit"))
            self.work.interrupted = self.work.interrupted or bound.interrupted
            if not bound.interrupted and (bound.values is not None or bound.infeasible):
                return bound
        self.stopped = True
        return None


def best_merit(work: Work, model: Model, share: float) -> Outcome:
    """The greatest merit of a model, its bound, and whether it is proven."""
    settled, earned = to_settle(model), model.merit()
    search = _Search(work, model, share, settled, Relaxation(model.linear, earned), earned)
    _push(search, {}, inf)
    while search.open_ and not search.stopped:
        branch = heappop(search.open_)
        try:
            _look_into(search, branch)
        except KeyboardInterrupt:
            work.interrupted = search.stopped = True
            search.unsettled = max(search.unsettled, -branch[0])
    return _outcome(search)


def _look_into(search: _Search, branch: Branch) -> None:
    """Settle one choice more both ways, or let the solver have the branch."""
    negative, _, held, place = branch
    if not search.worth(-negative):
        search.open_.clear()
        return
    search.work.tell("merit", -negative)
    if place is None:
        _finish(search, held, -negative)
        return
    if search.best is None:
        _dive(search, held)
    for value in (1.0, 0.0):
        _push(search, {**held, place: value}, -negative)


def _push(search: _Search, held: dict[int, float], above: float) -> None:
    """Reckon the bound of a branch, and keep the branch if it is worth looking into."""
    bound = search.bound(held)
    if bound is None:
        search.unsettled = max(search.unsettled, above)
    elif bound.values is not None and search.worth(bound.bound):
        place = most_open(bound, search.settled)
        heappush(search.open_, (-bound.bound, search.branches, held, place))


def _dive(search: _Search, held: Held) -> None:
    """Settle the choices that are nearly settled one by one, and look for a first plan there."""
    held = dict(held)
    bound = search.bound(held)
    while bound is not None and bound.values is not None:
        place = least_open(bound, search.settled)
        if place is None:
            _solve(search, bound, held, NARROW * bound.bound)
            return
        bound = _better_side(search, bound, held, place)


def _better_side(
    search: _Search, bound: Outcome, held: dict[int, float], place: int
) -> Outcome | None:
    """Settle one choice the way it is nearest to, or the other way where that costs less."""
    nearest = float((bound.values or ())[place] > 0.5)
    held[place] = nearest
    first = search.bound(held)
    if first is None or first.bound >= bound.bound * (1 - NARROW):
        return first
    held[place] = 1.0 - nearest
    other = search.bound(held)
    if other is not None and other.bound > first.bound:
        return other
    held[place] = nearest
    return search.bound(held)


def _finish(search: _Search, held: Held, above: float) -> None:
    """All is settled: let the solver find the best plan of this branch."""
    bound = search.bound(held)
    if bound is None or bound.values is None:
        search.unsettled = max(search.unsettled, above if bound is None else -inf)
        return
    if search.best is None:
        _solve(search, bound, held, NARROW * bound.bound)
    if not search.worth(bound.bound):
        return
    spare = inf if search.best is None else bound.bound - search.best.value
    outcome = _solve(search, bound, held, spare)
    if not outcome.proven:
        search.unsettled = max(search.unsettled, min(outcome.bound, bound.bound))


def _solve(search: _Search, bound: Outcome, held: Held, spare: float) -> Outcome:
    """The best plan of a branch among columns that cost no more than `spare` to move."""
    work, model = search.work, search.model
    linear = narrowed(model.linear, bound, held, spare)
    start = write(model, work.pick) if work.found else None
    outcome = work.run_rows(linear, search.earned, "merit", start, search.share)
    search.take(outcome)
    return outcome


def _outcome(search: _Search) -> Outcome:
    bounds = [-branch[0] for branch in search.open_]
    bound = max([search.unsettled, *bounds])
    best = search.best
    if best is None:
        none = bound == -inf
        return Outcome(None, -inf, bound, none, none, search.work.interrupted)
    proven = bound <= best.value + CLOSE
    bound = best.value if proven else floor(bound + 1e-6)
    return replace(best, bound=bound, proven=proven, interrupted=search.work.interrupted)
