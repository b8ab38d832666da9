"""A model to search on, whole or cut down to some fish: its bounds, sharpened rows and solver runs.

Choices held are named by their columns in the whole model, so that one search can use two grounds.
"""

from __future__ import annotations

import threading
from dataclasses import dataclass, field
from functools import cached_property

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.pick import write
from showprep.planning.choice.relaxation import Held, Relaxation, narrowed
from showprep.planning.choice.screen import Screen
from showprep.planning.choice.settle import least_open, most_open, settled_in
from showprep.planning.choice.sharpen import Sharpener
from showprep.planning.choice.work import LARGE, Work


@dataclass
class Ground:
    """A model with a warm relaxation for each thread; `share` is its part of the effort."""

    work: Work
    screen: Screen
    share: float
    relaxations: dict[int, Relaxation] = field(default_factory=dict)

    @cached_property
    def earned(self) -> list[float]:
        return self.screen.cut(self.screen.model.merit())

    @cached_property
    def settled(self) -> list[int]:
        return settled_in(self.screen)

    @cached_property
    def sharpener(self) -> Sharpener:
        return Sharpener(self.work, self.screen)

    @property
    def large(self) -> bool:
        return self.screen.linear.columns > LARGE

    def bound(self, hand: int, held: Held, stop: threading.Event | None = None) -> Outcome:
        """The bound with choices held, reckoned by one thread's relaxation."""
        return self.work.bound(self._relaxation(hand), self._own(held), self.share, stop)

    def sharpened(self, held: Held, bound: Outcome, stop: threading.Event | None = None) -> Outcome:
        """The same bound, with rows added that sharpen it."""
        relaxation = self._relaxation(0)
        return self.sharpener.sharpen(relaxation, self._own(held), bound, self.share, stop)

    def top(self, bound: Outcome) -> float:
        """The bound for all fish, also those left aside."""
        return bound.bound + self.screen.added(bound)

    def most_open(self, bound: Outcome) -> int | None:
        place = most_open(bound, self.settled)
        return None if place is None else self.screen.columns[place]

    def least_open(self, bound: Outcome) -> tuple[int, float] | None:
        """The choice nearest to settled, and the way it is nearest to."""
        place = least_open(bound, self.settled)
        if place is None:
            return None
        return self.screen.columns[place], float((bound.values or ())[place] > 0.5)

    def solve(
        self,
        bound: Outcome,
        held: Held,
        spare: float,
        nodes: int,
        thorough: bool,
        stop: threading.Event | None,
    ) -> Outcome:
        """The best plan among columns that cost no more than `spare` to move from the bound."""
        work, own = self.work, self._own(held)
        start = self.screen.cut(write(self.screen.model, work.pick)) if work.found else None
        if start is not None and any(abs(start[at] - value) > 0.5 for at, value in own.items()):
            start = None
        return work.run_rows(
            narrowed(self.screen.linear, bound, own, max(spare, 0.0)),
            self.earned,
            "merit",
            start,
            self.share,
            nodes=nodes,
            thorough=thorough,
            stop=stop,
        )

    def _relaxation(self, hand: int) -> Relaxation:
        if hand not in self.relaxations:
            self.relaxations[hand] = Relaxation(self.screen.linear, self.earned)
        return self.relaxations[hand]

    def _own(self, held: Held) -> Held:
        return {self.screen.at[place]: value for place, value in held.items()}
