"""One run of the choice: what is known so far, what effort is left, and what is told of it."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from showprep.planning.choice.highs import Heard, Outcome, maximise
from showprep.planning.choice.model import Model
from showprep.planning.choice.options import Options
from showprep.planning.choice.pick import Pick, merit_of, read, write
from showprep.planning.choice.problem import AimResult, Effort

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

    def seconds_left(self, share: float = 1.0) -> float:
        """Seconds left of a share of the effort; never quite none."""
        return max(self.effort.seconds * share - (time.monotonic() - self.began), 0.1)

    def run(
        self,
        model: Model,
        objective: Sequence[float],
        what: str,
        share: float = 1.0,
        thorough: bool = False,
        nodes: int | None = None,
    ) -> Outcome:
        """Maximise over a model, beginning from the best pick so far."""
        outcome = maximise(
            model.linear,
            objective,
            start=write(model, self.pick) if self.found else None,
            nodes=self.effort.nodes if nodes is None else nodes,
            seconds=self.seconds_left(share),
            threads=self.effort.threads,
            gap=0.99,
            thorough=thorough,
            heard=self._heard(what),
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

    def _heard(self, what: str) -> Heard | None:
        progress = self.progress
        if progress is None:
            return None

        def heard(best: float, bound: float, seconds: float) -> None:
            found = f" Best merit so far {self.merit / 100:g}." if self.found else ""
            if what == "merit" and best > -1e15 and bound < 1e15:
                found = f" Best merit so far {best / 100:g}, at most {bound / 100:g}."
            progress(f"{DOING[what]} ({seconds:.0f} s).{found}")

        return heard


DOING = {
    "merit": "Looking for the best entries",
    "days": "Looking for the fewest touch-up days",
    "late": "Looking for the latest days",
    "ties": "Settling ties",
}
