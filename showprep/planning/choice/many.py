"""A first plan of very many fish: shows settled as the bound has them, then by windows."""

from __future__ import annotations

from threading import Event

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.relaxation import Relaxation
from showprep.planning.choice.screen import Screen
from showprep.planning.choice.settle import least_open, settled_in
from showprep.planning.choice.windows import by_windows
from showprep.planning.choice.work import Work


def plan_of_many(work: Work, screen: Screen, share: float, stop: Event) -> Outcome | None:
    """A good plan; None when there is none in the time."""
    relaxation = Relaxation(screen.linear, screen.cut(screen.model.merit()))
    bound = work.bound(relaxation, {}, share, stop)
    if bound.values is None or work.interrupted:
        return None
    choices, held = settled_in(screen), dict[int, float]()
    while (place := least_open(bound, choices)) is not None:
        held[place] = float((bound.values or ())[place] > 0.5)
        further = work.bound(relaxation, held, share, stop)
        if further.values is None or work.interrupted:
            break
        bound = further
    return by_windows(work, screen, bound, share, stop)
