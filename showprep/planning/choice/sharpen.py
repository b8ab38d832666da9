"""A sharper bound: rows that no fish and no show can break, found where the bound breaks them."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import cycle

from showprep.planning.choice.highs import Outcome, abreast
from showprep.planning.choice.parts import Part, fish_and_shows
from showprep.planning.choice.relaxation import Held, Relaxation
from showprep.planning.choice.screen import Screen
from showprep.planning.choice.work import Work

ROUNDS = 6
WORTH = 5e-5  # share of the bound that a round must take off to be followed by another
BROKEN = 1.0  # hundredths of a mark by which a row must be broken to be added

Cut = tuple[Part, list[float], float]  # prices of the part's columns, and the most they can earn


@dataclass(slots=True)
class Sharpener:
    """Adds rows to a model, fish and shows in turn, as long as it pays."""

    work: Work
    screen: Screen
    turns: tuple[list[Part], list[Part]] = field(init=False)

    def __post_init__(self) -> None:
        self.turns = fish_and_shows(self.screen)

    def sharpen(
        self,
        relaxation: Relaxation,
        held: Held,
        bound: Outcome,
        share: float,
        stop: threading.Event | None = None,
    ) -> Outcome:
        """The bound with rows added to the model of the relaxation; they hold for every plan.

        With `stop` it works in this thread alone, until that is set.
        """
        idle, turns = 0, cycle(self.turns)
        for _ in range(ROUNDS):
            if idle >= len(self.turns) or self.work.seconds_left(share) <= 0.1:
                break
            cuts = self._broken(next(turns), bound, stop)
            if self.work.interrupted or not cuts:
                idle += 1
                continue
            for part, prices, most in cuts:
                part.add(prices, most)
            sharper = self.work.bound(relaxation, held, share, stop)
            if sharper.values is None:
                return sharper if sharper.infeasible else bound
            idle = 0 if bound.bound - sharper.bound > WORTH * bound.bound else idle + 1
            bound = sharper
        return bound

    def _broken(
        self, parts: Sequence[Part], bound: Outcome, stop: threading.Event | None
    ) -> list[Cut]:
        """What the bound has of each part that no plan in whole numbers can earn."""
        parts = [part for part in parts if part.broken(bound)]
        hands = max(self.work.effort.threads, 1) if stop is None else 1
        stop = threading.Event() if stop is None else stop
        found: dict[int, Cut] = {}
        aside = self.screen.prices(bound)

        def look(mine: Sequence[int]) -> None:
            for number in mine:
                cut = None if stop.is_set() else _cut(parts[number], bound, aside)
                if cut is not None:
                    found[number] = cut

        shares = [range(at, len(parts), hands) for at in range(hands)]
        jobs = [lambda mine=mine: look(mine) for mine in shares]
        _, interrupted = abreast(jobs, lambda: self.work.tell("merit"), stop)
        self.work.interrupted = self.work.interrupted or interrupted
        return [found[number] for number in sorted(found)]


def _cut(part: Part, bound: Outcome, aside: Sequence[float]) -> Cut | None:
    prices, values = part.prices(bound, aside), bound.values or ()
    kept = prices[: len(part.columns)]
    earned = sum(price * values[at] for at, price in zip(part.columns, kept, strict=True))
    gone = 1.0 if part.opens is None else values[part.opens]
    if earned <= BROKEN:
        return None
    most = part.most(prices)
    return (part, prices, most) if earned > most * gone + BROKEN else None
