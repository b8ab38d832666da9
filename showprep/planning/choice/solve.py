"""Choosing entries and touch-up days: one aim after another, each proven if it can be."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from math import floor, inf

from showprep.planning.choice import pick as picks
from showprep.planning.choice.highs import Heard, Outcome, maximise, relaxed
from showprep.planning.choice.model import Model
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.options import Options, arrange
from showprep.planning.choice.pick import Pick
from showprep.planning.choice.problem import AimResult, Effort, Problem, Solution
from showprep.planning.choice.why_not import why_not

EVERYTHING, ENTRIES, DAYS = "everything", "the entries chosen", "the touch-up days chosen"
FIRST_SHARE = 0.6  # of the seconds, for the first aim


@dataclass(slots=True)
class _Work:
    """One run of the aims: what is known so far."""

    options: Options
    effort: Effort
    progress: Callable[[str], None] | None
    began: float = field(default_factory=time.monotonic)
    pick: Pick = field(default_factory=lambda: Pick(frozenset(), frozenset()))
    aims: list[AimResult] = field(default_factory=list)
    interrupted: bool = False

    def seconds_left(self, share: float = 1.0) -> float:
        return max(self.effort.seconds * share - (time.monotonic() - self.began), 0.1)

    def tell(self, what: str, scale: float = 1.0) -> Heard | None:
        progress = self.progress
        if progress is None:
            return None

        def heard(best: float, bound: float) -> None:
            if best > -1e15 and bound < 1e15:
                progress(f"{what}: best so far {best / scale:g}, at most {bound / scale:g}")
            else:
                progress(f"{what}: still looking")

        return heard


def choose(
    problem: Problem,
    effort: Effort | None = None,
    progress: Callable[[str], None] | None = None,
) -> Solution:
    """The best entries and touch-up days within every limit.

    Aims, each kept while the next is sought:

    1. the greatest total merit, in hundredths of a mark;
    2. the fewest days on which anything is touched up;
    3. with so few days, the fewest touch-ups, so that no fish is sedated without need;
    4. the latest days: the least sum, over the touch-ups, of days before the last day there is;
    5. of plans equal in all that, the one with the least sum of fixed numbers drawn from the ids
       of its entries and touch-ups (CRC-32), so that the answer is the same on every machine.

    Aims 2 and 3 are sought together. When the first aim is not proven within the effort, the
    others hold for the entries chosen, and say so. `progress` is told in words, once a second,
    how far the work has come. An interruption (KeyboardInterrupt) gives the best plan so far,
    marked `interrupted`.

    Raises ValueError for a problem that contradicts itself (see `arrange`).
    """
    work = _Work(arrange(problem), effort or Effort(), progress)
    reason = _merit(work)
    if reason is not None:
        return Solution(0, (), (), (), feasible=False, why_not=reason)
    proven = work.aims[0].proven
    if not work.interrupted:
        _later_aims(work, proven)
    return _solution(work)


def _merit(work: _Work) -> str | None:
    """The first aim; returns why nothing is possible, or None."""
    blocked = [one for one in work.options.impossible if one.must]
    if blocked:
        return why_not(work.options)
    model = build(work.options, sessions=False)
    outcome = maximise(
        model.linear,
        model.merit(),
        nodes=work.effort.nodes,
        seconds=work.seconds_left(FIRST_SHARE),
        threads=work.effort.threads,
        gap=0.99,
        heard=work.tell("merit", 100),
    )
    work.interrupted = outcome.interrupted
    if outcome.infeasible:
        return why_not(work.options)
    if outcome.values is None:
        return "No plan that satisfies every must was found in the time given."
    work.pick = picks.read(model, outcome.values)
    merit = picks.merit_of(work.options, work.pick)
    bound = merit if outcome.proven else floor(outcome.bound + 1e-6)
    work.aims.append(AimResult("merit", merit, max(bound, merit), outcome.proven or bound <= merit))
    return None


def _later_aims(work: _Work, proven: bool) -> None:
    model = build(work.options, sessions=True)
    if proven:
        _keep_merit(work, model)
        within = EVERYTHING
    else:
        _keep_entries(work, model)
        within = ENTRIES
    touch_ups = model.touched
    many = len(touch_ups) + 1
    for name, objective in (
        ("touch-up days", _sessions(model, many)),
        ("days before the last", _earliness(model)),
        ("lots", _lots(model)),
    ):
        outcome = _aim(work, model, name, objective)
        if outcome.values is not None:
            work.pick = picks.read(model, outcome.values)
        if name == "touch-up days":
            _report_days(work, outcome, within, many)
            if not outcome.proven:
                within = DAYS
            days, count = picks.days_of(work.options, work.pick), len(work.pick.touched)
            model.linear.row([(p, 1.0) for p in model.session.values()], upper=days + 0.5)
            model.linear.row([(p, 1.0) for p in touch_ups], lower=count, upper=count)
        else:
            value = -round(outcome.value) if outcome.values is not None else 0
            _report(work, name, value, outcome, within)
            keep = [(place, value) for place, value in enumerate(objective)]
            model.linear.row(keep, lower=round(outcome.value) - 0.5)
        if work.interrupted:
            return


def _aim(work: _Work, model: Model, name: str, objective: Sequence[float]) -> Outcome:
    start = picks.write(model, work.pick)
    outcome = maximise(
        model.linear,
        objective,
        start=start,
        nodes=work.effort.nodes,
        seconds=work.seconds_left(),
        threads=work.effort.threads,
        gap=0.99,
        heard=work.tell(name),
    )
    work.interrupted = work.interrupted or outcome.interrupted
    return outcome


def _keep_merit(work: _Work, model: Model) -> None:
    """Hold the merit, and every column that the bound shows no plan of that merit can change."""
    merit = picks.merit_of(work.options, work.pick)
    earned = model.merit()
    bound = relaxed(model.linear, earned)
    if bound.values is not None and bound.reduced is not None:
        spare = bound.value - merit + 0.5
        for place, (value, cost) in enumerate(zip(bound.values, bound.reduced, strict=True)):
            if value < 1e-9 and -cost > spare:
                model.linear.col_upper[place] = 0.0
            elif value > 1 - 1e-9 and cost > spare:
                model.linear.col_lower[place] = 1.0
    model.linear.row(enumerate(earned), lower=merit - 0.5)


def _keep_entries(work: _Work, model: Model) -> None:
    """Hold the entries as they are, each at least as clean."""
    for number, place in enumerate(model.entered):
        value = 1.0 if number in work.pick.entered else 0.0
        model.linear.col_lower[place] = model.linear.col_upper[place] = value
        if number in model.cleaned and value:
            clean = picks.is_clean(work.options, work.pick, number)
            model.linear.col_lower[model.cleaned[number]] = float(clean)


def _sessions(model: Model, many: int) -> list[float]:
    objective = [0.0] * model.linear.columns
    for place in model.session.values():
        objective[place] = -float(many)
    for place in model.touched:
        objective[place] = -1.0
    return objective


def _earliness(model: Model) -> list[float]:
    objective = [0.0] * model.linear.columns
    touch_ups = model.options.touch_ups
    last = max((option.day for option in touch_ups), default=None)
    for option, place in zip(touch_ups, model.touched, strict=True):
        if last is not None:
            objective[place] = -float((last - option.day).days)
    return objective


def _lots(model: Model) -> list[float]:
    objective = [0.0] * model.linear.columns
    for option, place in zip(model.options.touch_ups, model.touched, strict=True):
        objective[place] = -float(picks.lot(option.fish, option.day.isoformat(), option.water))
    for entry, place in zip(model.options.entries, model.entered, strict=True):
        objective[place] = -float(picks.lot(*entry.key))
    return objective


def _report(work: _Work, name: str, value: int, outcome: Outcome, within: str) -> None:
    bound = value if outcome.proven or outcome.bound == inf else -floor(outcome.bound + 1e-6)
    work.aims.append(AimResult(name, value, bound, outcome.proven, within))


def _report_days(work: _Work, outcome: Outcome, within: str, many: int) -> None:
    days, count = picks.days_of(work.options, work.pick), len(work.pick.touched)
    least = days if outcome.proven else -(floor(outcome.bound + 1e-6) // many)
    fewest = count if outcome.proven else 0
    work.aims.append(AimResult("touch-up days", days, least, outcome.proven, within))
    work.aims.append(AimResult("touch-ups", count, fewest, outcome.proven, within))


def _solution(work: _Work) -> Solution:
    problem, options, pick = work.options.problem, work.options, work.pick
    touched = {options.touch_ups[place] for place in pick.touched}
    cleaned = {
        (one.fish, show) for one in problem.touch_ups if one in touched for show in one.clean_for
    }
    entries = sorted(options.entries[number].option for number in pick.entered)
    return Solution(
        merit=picks.merit_of(options, pick),
        entries=tuple(
            (
                one.fish,
                one.show,
                one.merit_clean is not None
                and (not one.needs_touch_up or (one.fish, one.show) in cleaned),
            )
            for one in entries
        ),
        touch_ups=tuple(sorted((one.fish, one.day, one.water) for one in touched)),
        aims=tuple(work.aims),
        interrupted=work.interrupted,
    )
