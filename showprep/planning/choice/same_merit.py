"""What all plans of the greatest merit have in common, so that the later aims need not ask."""

from __future__ import annotations

from showprep.planning.choice.model import Model
from showprep.planning.choice.relaxation import Relaxation, narrowed
from showprep.planning.choice.settle import most_open, to_settle
from showprep.planning.choice.work import Work

SHARE = 0.3  # of the time that is left
MOST_WAYS = 150  # to settle which shows are gone to, looked at one by one


def keep_merit(work: Work, model: Model) -> None:
    """Hold the merit reached, and every column that no plan of this merit can have otherwise.

    Every way to settle which shows are gone to, whose bound reaches the merit, is looked at; what
    is held alike in all of them is held.
    """
    settled, earned, merit = to_settle(model), model.merit(), work.merit
    relaxation = Relaxation(model.linear, earned)
    waiting: list[dict[int, float]] = [{}]
    lower, upper = [1.0] * model.linear.columns, [0.0] * model.linear.columns
    until = work.seconds_left() * (1 - SHARE)  # then it is left at the merit alone
    for looked in range(2 * MOST_WAYS):
        left = work.seconds_left() - until
        if not waiting or left <= 0:
            break
        held = waiting.pop()
        bound = relaxation.solve(held, left, lambda: work.tell("days"))
        work.interrupted = work.interrupted or bound.interrupted
        if bound.values is None and not bound.infeasible:
            waiting.append(held)
            break
        if bound.values is None or bound.bound < merit - 0.5:
            continue
        place = most_open(bound, settled)
        if place is not None and looked < MOST_WAYS - len(waiting):
            waiting += [{**held, place: 0.0}, {**held, place: 1.0}]
            continue
        kept = narrowed(model.linear, bound, held, bound.bound - merit + 0.5)
        lower = [min(one, other) for one, other in zip(lower, kept.col_lower, strict=True)]
        upper = [max(one, other) for one, other in zip(upper, kept.col_upper, strict=True)]
    if not waiting:
        model.linear.col_lower, model.linear.col_upper = lower, upper
    model.linear.row(enumerate(earned), lower=merit - 0.5)
