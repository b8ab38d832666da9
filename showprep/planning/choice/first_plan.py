"""The beginning of the search: a bound made sharp, and a first plan.

Where there are two threads, the plan is looked for beside the work on the bound.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf
from threading import Event

from showprep.planning.choice.highs import Outcome, abreast
from showprep.planning.choice.many import plan_of_many
from showprep.planning.choice.relaxation import Held
from showprep.planning.choice.search import NODES, Search

ROOMY = 0.003  # share of the bound that is little beside what a choice can cost


def begin_many(search: Search, bound: Outcome, explore: Callable[[Event, Event], None]) -> None:
    """A plan by windows of shows; beside it a sharper bound, then what `explore` makes of it.

    `explore` goes on until its first event tells that there is a plan, or its second that all is
    to stop.
    """
    work, tree, done, stop = search.work, search.tree, Event(), Event()
    own = replace(tree.screen, linear=tree.screen.linear.copy())
    found: list[Outcome | None] = []

    def plan() -> None:
        try:
            found.append(plan_of_many(work, own, tree.share, stop))
        finally:
            done.set()

    def bounds() -> None:
        search.push({}, tree.sharpened({}, bound, stop), inf)
        search.at_hand = []
        explore(done, stop)

    def one_by_one() -> None:
        plan()
        bounds()

    jobs = [plan, bounds] if work.effort.threads > 1 else [one_by_one]
    _, interrupted = abreast(jobs, lambda: work.tell("merit"), stop)
    work.interrupted = work.interrupted or interrupted
    for outcome in found:
        search.take(tree, outcome)


def dive(search: Search, held: Held) -> Outcome | None:
    """Settle the choices that are nearly settled one by one, and look for a first plan there."""
    held, tree = dict(held), search.tree
    bound = search.bound(tree, held)
    while bound is not None and bound.values is not None:
        nearest = tree.least_open(bound)
        if nearest is None:
            return tree.solve(bound, held, ROOMY * bound.bound, NODES[1], True, None)
        bound = _better_side(search, bound, held, *nearest)
    return None


def _better_side(
    search: Search,
    bound: Outcome,
    held: dict[int, float],
    place: int,
    nearest: float,
) -> Outcome | None:
    """Settle one choice the way it is nearest to, or the other way where that costs less."""
    held[place] = nearest
    first = search.bound(search.tree, held)
    if first is None or first.bound >= bound.bound * (1 - ROOMY):
        return first
    held[place] = 1.0 - nearest
    other = search.bound(search.tree, held)
    if other is not None and other.bound > first.bound:
        return other
    held[place] = nearest
    return search.bound(search.tree, held)
