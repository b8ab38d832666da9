"""The search for the greatest merit: its open branches, and what is known while it goes on."""

from __future__ import annotations

import threading
from dataclasses import dataclass, field, replace
from heapq import heappush
from math import inf
from typing import NamedTuple

from showprep.planning.choice.ground import Ground
from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.relaxation import Held
from showprep.planning.choice.work import Work

FIRST_BRANCHES = 40  # looked into however few nodes are allowed, so that there is a plan
SURE = 0.75  # share of the time after which a large model must have a plan
CLOSE = 0.99  # merits are whole hundredths: a bound nearer than this is reached
# Turns at a settled branch: its bound is made sharper, then the solver has it. A small model is not
# worth sharpening and begins with LITTLE: some columns, some nodes.
SHARPEN, LITTLE, LAST = 0, 2, 3
NODES = {1: 1, LITTLE: 200, LAST: 10**9}  # a little first, then all it takes
# Share of the bound a column may cost, with no plan yet; in a small model a little more.
NARROW = {1: 0.001, LITTLE: 0.003, LAST: inf}
NARROW_IN_SMALL = {**NARROW, LITTLE: 0.005}
THOROUGH_FIRST = 2  # settled branches in which the solver looks for a plan by all its means


class Branch(NamedTuple):
    """A branch still open: its bound, less first; the choices held, and the one to settle next.

    With no choice left (None) the solver can have it, and `turn` says how hard it is to try.
    """

    negative: float
    number: int
    held: dict[int, float]
    place: int | None
    turn: int


@dataclass(slots=True)
class Search:
    """Branches still open, best bound first, and the best plan so far.

    Choices are settled on the ground `tree`, where fish may be left aside; a branch with all of
    them settled is finished on the ground `whole`. `at_hand` are the branches being looked into,
    `unsettled` the bound of what was given up.
    """

    work: Work
    tree: Ground
    whole: Ground
    open_: list[Branch] = field(default_factory=list)
    at_hand: list[Branch] = field(default_factory=list)
    best: Outcome | None = None
    unsettled: float = -inf
    branches: int = 0
    kept: int = 0
    finished: int = 0
    stopped: bool = False

    @property
    def hands(self) -> int:
        return max(self.work.effort.threads, 1)

    def worth(self, bound: float) -> bool:
        """Could anything under this bound be better than the best plan?"""
        return self.best is None or bound > self.best.value + CLOSE

    def take(self, ground: Ground, outcome: Outcome | None) -> None:
        if outcome is not None and outcome.values is not None and self.worth(outcome.value):
            self.best = replace(outcome, values=ground.screen.lift(outcome.values))
            self.work.take(ground.screen.model, self.best)

    def spent(self, branches: int) -> bool:
        """Is the effort at an end? If not, so many branches more are looked into."""
        self.branches += branches
        most = FIRST_BRANCHES + self.work.effort.nodes
        late = self.work.seconds_left(self.tree.share) <= 0.1
        self.stopped = self.stopped or self.work.interrupted or late or self.branches > most
        return self.stopped

    def plan_is_due(self) -> bool:
        """Is there no plan yet, and is it time to look for one before all is settled anywhere?"""
        if self.best is not None:
            return False
        late = self.work.seconds_left(self.tree.share * SURE) <= 0.1
        many = 2 * self.branches > FIRST_BRANCHES + self.work.effort.nodes
        return not self.tree.large or late or many

    def bound(
        self, ground: Ground, held: Held, stop: threading.Event | None = None
    ) -> Outcome | None:
        """The bound of a branch; None when the effort is spent, and then the search stops."""
        if not self.spent(1):
            bound = ground.bound(0, held, stop)
            if known(bound):
                return bound
        self.stopped = True
        return None

    def push(self, held: dict[int, float], bound: Outcome, above: float) -> None:
        """Keep a branch with a bound that was reckoned, if it is worth looking into."""
        if not known(bound):
            self.stopped, self.unsettled = True, max(self.unsettled, above)
        elif bound.values is not None:
            turn = SHARPEN if self.tree.large else LITTLE
            self.keep(min(self.tree.top(bound), above), held, self.tree.most_open(bound), turn)

    def keep(self, bound: float, held: dict[int, float], place: int | None, turn: int) -> None:
        if turn > LAST:
            self.unsettled = max(self.unsettled, bound)
        elif self.worth(bound):
            self.kept += 1
            heappush(self.open_, Branch(-bound, self.kept, held, place, turn))


def known(bound: Outcome) -> bool:
    """Was a bound reckoned, or was there no time?"""
    return not bound.interrupted and (bound.values is not None or bound.infeasible)
