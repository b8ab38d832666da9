"""The greatest merit, settling first which shows are gone to and which cohorts come home.

The search branches on those few choices alone, best bound first, and hands what is left to the
solver, with every column held that the bound rules out. Bounds are made sharper at the root and
wherever all is settled.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from heapq import heappop
from math import floor, inf

from showprep.planning.choice.first_plan import begin_many, dive
from showprep.planning.choice.ground import Ground
from showprep.planning.choice.highs import Outcome, abreast
from showprep.planning.choice.model import Model
from showprep.planning.choice.screen import screened, uncut
from showprep.planning.choice.search import (
    CLOSE,
    LAST,
    NARROW,
    NARROW_IN_SMALL,
    NODES,
    SHARPEN,
    THOROUGH_FIRST,
    Branch,
    Search,
)
from showprep.planning.choice.work import Work

MANY = 6_000  # columns from which a first plan is made by windows of shows


def best_merit(work: Work, model: Model, share: float) -> Outcome:
    """The greatest merit of a model, its bound, and whether it is proven."""
    whole, screen = Ground(work, uncut(model), share), screened(model)
    tree = Ground(work, screen, share) if screen.cut_down else whole
    search = Search(work, tree, whole)
    try:
        _begin(search)
        while search.open_ and not search.stopped:
            _next(search)
            _look_into(search)
    except KeyboardInterrupt:
        work.interrupted = True
    return _outcome(search)


def _begin(search: Search) -> None:
    tree = search.tree
    search.at_hand = [Branch(-inf, 0, {}, None, SHARPEN)]
    bound = search.bound(tree, {})
    if bound is None:
        return
    if bound.values is not None and tree.screen.linear.columns > MANY:
        begin_many(search, bound, partial(_explore, search))
        return
    if bound.values is not None and tree.large:
        bound = tree.sharpened({}, bound)
    search.push({}, bound, inf)
    search.at_hand = []


def _explore(search: Search, done: threading.Event, stop: threading.Event) -> None:
    """Settle choices, best bound first, until `done`, or until all are settled somewhere."""
    while search.open_ and not done.is_set() and not stop.is_set():
        if search.open_[0].place is None or search.spent(2):
            return
        search.at_hand = [heappop(search.open_)]
        _job(search, 0, search.at_hand[0], stop)()
        if not stop.is_set():
            search.at_hand = []


def _next(search: Search) -> None:
    """Take in hand the best branches, one for each thread; what is to be sharpened comes alone."""
    search.at_hand = []
    while search.open_ and len(search.at_hand) < search.hands:
        branch = search.open_[0]
        alone = branch.place is None and branch.turn == SHARPEN
        if alone and search.at_hand:
            break
        heappop(search.open_)
        if not search.worth(-branch.negative):
            search.open_.clear()
            break
        search.at_hand.append(branch)
        if alone:
            break


def _look_into(search: Search) -> None:
    """Settle one choice more both ways, sharpen a bound, or let the solver have a branch."""
    if not search.at_hand or search.spent(2 * len(search.at_hand)):
        return
    first = search.at_hand[0]
    search.work.tell("merit", -first.negative)
    if first.place is not None and search.plan_is_due():
        search.take(search.tree, dive(search, first.held))
    if first.place is None and first.turn == SHARPEN:
        _sharpen(search, first)
    else:
        stop = threading.Event()
        jobs = [
            lambda hand=hand, branch=branch: _job(search, hand, branch, stop)
            for hand, branch in enumerate(search.at_hand)
        ]
        ends, interrupted = abreast(jobs, lambda: search.work.tell("merit"), stop)
        search.work.interrupted = search.work.interrupted or interrupted
        for end in ends:
            end()
    search.at_hand = []


def _job(search: Search, hand: int, branch: Branch, stop: threading.Event) -> Callable[[], None]:
    """Look into a branch, beside others; what is returned makes the outcome known, in its turn."""
    if branch.place is None:
        return _finish(search, hand, branch, stop)
    above, place = -branch.negative, branch.place
    both = [{**branch.held, place: value} for value in (1.0, 0.0)]
    bounds = [search.tree.bound(hand, held, stop) for held in both]

    def end() -> None:
        for held, bound in zip(both, bounds, strict=True):
            search.push(held, bound, above)

    return end


def _sharpen(search: Search, branch: Branch) -> None:
    bound = search.bound(search.whole, branch.held)
    if bound is None:
        search.unsettled = max(search.unsettled, -branch.negative)
        return
    if bound.values is not None:
        bound = search.whole.sharpened(branch.held, bound)
    if not bound.infeasible:
        search.keep(min(bound.bound, -branch.negative), branch.held, None, SHARPEN + 1)


def _finish(search: Search, hand: int, branch: Branch, stop: threading.Event) -> Callable[[], None]:
    """All is settled: let the solver look for the best plan of this branch."""
    above, turn, held = -branch.negative, branch.turn, branch.held
    bound = search.whole.bound(hand, held, stop)
    if bound.values is None:
        return lambda: None if bound.infeasible else search.keep(above, held, None, LAST + 1)
    if search.best is not None:
        spare = bound.bound - search.best.value
    else:
        spare = (NARROW if search.tree.large else NARROW_IN_SMALL)[turn] * bound.bound
    thorough = turn > 1 or search.finished < THOROUGH_FIRST
    outcome = search.whole.solve(bound, held, spare, NODES[turn], thorough, stop)
    left = max(min(outcome.bound, bound.bound), bound.bound - spare)

    def end() -> None:
        search.finished += 1
        search.take(search.whole, outcome)
        if search.worth(left):
            search.keep(min(left, above), held, None, turn + 1)

    return end


def _outcome(search: Search) -> Outcome:
    bounds = [-branch.negative for branch in (*search.open_, *search.at_hand)]
    bound = max([search.unsettled, *bounds])
    best = search.best
    if best is None:
        none = bound == -inf
        return Outcome(None, -inf, bound, none, none, search.work.interrupted)
    proven = bound <= best.value + CLOSE
    bound = best.value if proven else floor(bound + 1e-6)
    return replace(best, bound=bound, proven=proven, interrupted=search.work.interrupted)
