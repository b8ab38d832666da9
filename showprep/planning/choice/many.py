"""The greatest merit where fish are very many: a good plan by windows, and a bound for it."""

from __future__ import annotations

from dataclasses import replace
from math import floor, inf

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.relaxation import Relaxation
from showprep.planning.choice.screen import Screen
from showprep.planning.choice.settle import least_open, to_settle
from showprep.planning.choice.windows import by_windows
from showprep.planning.choice.work import Work

SHARE_OF_WINDOWS = 0.6  # of the effort for merit
CLOSE = 0.99  # merits are whole hundredths: a bound nearer than this is reached


def best_of_many(work: Work, screen: Screen, share: float) -> Outcome:
    """A plan by windows of shows, then as good a bound as the effort left gives.

    `screen` is the model cut down to the fish that matter; the bound holds for all.
    """
    earned = screen.cut(screen.model.merit())
    relaxation = Relaxation(screen.linear, earned)
    bound = relaxation.solve({}, work.seconds_left(share), lambda: work.tell("merit"))
    work.interrupted = work.interrupted or bound.interrupted
    if bound.values is None or work.interrupted:
        return Outcome(None, -inf, inf, bound.infeasible, bound.infeasible, work.interrupted)
    most = bound.bound + screen.added(bound)
    settled = _settled_nearest(work, screen, relaxation, bound, share)
    best = by_windows(work, screen, settled, SHARE_OF_WINDOWS * share)
    if best is not None and not work.interrupted:
        best, most = _bounded(work, screen, best, most, share)
    if best is None:
        return Outcome(None, -inf, floor(most + 1e-6), False, interrupted=work.interrupted)
    proven = most <= best.value + CLOSE
    most = best.value if proven else floor(most + 1e-6)
    values = screen.lift(best.values or ())
    interrupted = work.interrupted
    return replace(best, values=values, bound=most, proven=proven, interrupted=interrupted)


def _bounded(
    work: Work, screen: Screen, best: Outcome, most: float, share: float
) -> tuple[Outcome, float]:
    """Let the solver work on the bound, and on the plan, for what is left of the effort."""
    values, aside = list(best.values or ()), screen.aside.merits
    objective = [*screen.cut(screen.model.merit()), *aside]
    start = [*values, *([0.0] * len(aside))]
    outcome = work.run_rows(screen.with_aside(), objective, "merit", start, share)
    reached = outcome.values or []
    if outcome.value > best.value + 0.5 and not any(reached[len(values) :]):
        best = replace(outcome, values=reached[: len(values)])
    return best, min(most, outcome.bound)


def _settled_nearest(
    work: Work, screen: Screen, relaxation: Relaxation, bound: Outcome, share: float
) -> Outcome:
    """The bound with the shows settled one by one, each the way it is nearest to."""
    at = {place: number for number, place in enumerate(screen.columns)}
    choices = [at[place] for place in to_settle(screen.model)]
    held: dict[int, float] = {}
    while (place := least_open(bound, choices)) is not None:
        held[place] = float((bound.values or ())[place] > 0.5)
        further = relaxation.solve(held, work.seconds_left(share), lambda: work.tell("merit"))
        work.interrupted = work.interrupted or further.interrupted
        if further.values is None or work.interrupted:
            break
        bound = further
    return bound
