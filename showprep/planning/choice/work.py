"""One run of the choice: what is known so far, what effort is left, and what is told of it."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import floor, inf
from threading import Event

from showprep.planning.choice.highs import Outcome, maximise
from showprep.planning.choice.linear import Linear
from showprep.planning.choice.model import Model
from showprep.planning.choice.options import Options
from showprep.planning.choice.pick import Pick, merit_of, read, write
from showprep.planning.choice.problem import AimResult, Effort
from showprep.planning.choice.relaxation import Held, Relaxation

LARGE = 2_000  # columns from which the solver's dearer heuristics pay
NOTHING = Pick(frozenset(), frozenset())


@dataclass(slots=True)
class Work:
    """The best pick so far, the aims reported, and how much of the effort is spent."""

    options: Options
    effort: Effort
    progress: Callable[[str], None] | None = None
    began: float = field(default_factory=time.monotonic)
    pick: Pick = NOTHING
    found: bool = False
    aims: list[AimResult] = field(default_factory=list)
    interrupted: bool = False
    at_most: float = inf  # no merit above this is possible
    told: float = field(default_factory=time.monotonic)

    def seconds_left(self, share: float = 1.0) -> float:
        """Seconds left of a share of the effort; never quite none."""
        return max(self.effort.seconds * share - (time.monotonic() - self.began), 0.1)

    def bound(
        self, relaxation: Relaxation, held: Held, share: float = 1.0, stop: Event | None = None
    ) -> Outcome:
        """The bound of a model with columns held, within a share of the effort."""
        left = self.seconds_left(share)
        bound = relaxation.solve(held, left, lambda: self.tell("merit"), stop)
        self.interrupted = self.interrupted or bound.interrupted
        return bound

    def run(self, model: Model, objective: Sequence[float], what: str) -> Outcome:
        """Maximise over a model, beginning from the best pick so far."""
        start = write(model, self.pick) if self.found else None
        return self.run_rows(model.linear, objective, what, start)

    def run_rows(
        self,
        linear: Linear,
        objective: Sequence[float],
        what: str,
        start: Sequence[float] | None,
        share: float = 1.0,
        nodes: int | None = None,
        thorough: bool = True,
        stop: Event | None = None,
    ) -> Outcome:
        """Maximise over rows, beginning from a start, within a share of the effort.

        `thorough` allows the solver's dearer heuristics, where the rows are many enough for them.
        """
        outcome = maximise(
            linear,
            objective,
            start=start,
            nodes=self.effort.nodes if nodes is None else min(nodes, self.effort.nodes),
            seconds=self.seconds_left(share),
            gap=0.99,
            thorough=thorough and linear.columns > LARGE,
            heard=lambda: self.tell(what),
            stop=stop,
        )
        self.interrupted = self.interrupted or outcome.interrupted
        return outcome

    def take(self, model: Model, outcome: Outcome) -> None:
        """Make what a run found the best pick."""
        if outcome.values is not None:
            self.pick, self.found = read(model, outcome.values), True

    @property
    def merit(self) -> int:
        return merit_of(self.options, self.pick)

    def tell(self, what: str, bound: float = inf) -> None:
        """Tell, at most once a second, what is being done and how far it has come."""
        self.at_most = min(self.at_most, bound)
        now = time.monotonic()
        if self.progress is None or now - self.told < 1:
            return
        self.told = now
        words = f"{DOING[what]} ({now - self.began:.0f} s)."
        if self.found:
            words += f" Best merit so far {self.merit / 100:g}"
            open_ = what == "merit" and self.at_most < inf
            words += f", at most {floor(self.at_most) / 100:g}." if open_ else "."
        self.progress(words)


DOING = {
    "merit": "Looking for the best entries",
    "days": "Looking for the fewest touch-up days",
    "late": "Looking for the latest days",
    "ties": "Settling ties",
}
