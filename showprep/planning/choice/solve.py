"""Choosing entries and touch-up days: one aim after another, each proven if it can be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import floor

from showprep.planning.choice.aims import later_aims
from showprep.planning.choice.at_ease import aims_at_ease, at_ease
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.options import arrange
from showprep.planning.choice.pick import Pick, is_clean
from showprep.planning.choice.problem import AimResult, Effort, Problem, Solution
from showprep.planning.choice.structure import best_merit
from showprep.planning.choice.why_not import why_not
from showprep.planning.choice.work import Work

FIRST_SHARE = 0.85  # of the seconds, for the first aim


def choose(
    problem: Problem,
    effort: Effort | None = None,
    progress: Callable[[str], None] | None = None,
) -> Solution:
    """The best entries and touch-up days within every limit.

    Aims, each kept while the next is sought:

    1. the greatest total merit, in hundredths of a mark;
    2. the fewest days on which anything is touched up;
    3. with so few days, the fewest touch-ups, so that no fish is sedated without need, and of
       those as few as can be that heal in the isolation vat;
    4. the latest days: the least sum, over the touch-ups, of days before the last day there is;
    5. of plans equal in all that, the one with the least sum of fixed numbers drawn from the ids
       of its entries and touch-ups (CRC-32), so that the answer is the same on every machine.

    Aims 2 and 3 are sought together. When the first aim is not proven within the effort, the
    others hold for the entries chosen, and say so. `progress` is told in words, once a second,
    how far the work has come. An interruption (KeyboardInterrupt) gives the best plan so far,
    marked `interrupted`.

    Raises ValueError for a problem that contradicts itself (see `arrange`).
    """
    work = Work(arrange(problem), effort or Effort(), progress)
    easy = None if work.options.impossible else at_ease(work.options)
    if easy is not None:
        work.pick, work.aims = easy, aims_at_ease(work.options, easy)
        return _solution(work)
    reason = _merit(work)
    if reason is not None:
        interrupted = work.interrupted
        return Solution(0, (), (), (), interrupted, feasible=False, why_not=reason)
    if not work.interrupted:
        later_aims(work, work.aims[0].proven)
        # With the entries held, a later aim may yet find some of them cleaner.
        merit = replace(work.aims[0], value=work.merit)
        work.aims[0] = replace(merit, proven=merit.value == merit.bound)
    return _solution(work)


def _merit(work: Work) -> str | None:
    """The first aim; returns why nothing is possible, or None."""
    if any(one.must for one in work.options.impossible):
        return why_not(work.options)
    model = build(work.options, sessions=False)
    outcome = best_merit(work, model, FIRST_SHARE)
    if outcome.infeasible:
        return why_not(work.options)
    if outcome.values is None and any(entry.option.must for entry in work.options.entries):
        return "No plan with every entry that must be made was found in the time given."
    work.take(model, outcome)
    if not work.found:  # entering nothing is within every limit
        work.pick, work.found = Pick(frozenset(), work.options.fixed), True
    most = sum(one for one in model.merit() if one > 0)
    least = floor(min(outcome.bound, most) + 1e-6)
    bound = work.merit if outcome.proven else max(least, work.merit)
    work.aims.append(AimResult("merit", work.merit, bound, bound == work.merit))
    return None


def _solution(work: Work) -> Solution:
    problem, options, pick = work.options.problem, work.options, work.pick
    touched = {options.touch_ups[place] for place in pick.touched}
    if work.interrupted:
        touched -= {options.touch_ups[place] for place in _idle(work)}
    cleaned = {
        (one.fish, show) for one in problem.touch_ups if one in touched for show in one.clean_for
    }
    entries = []
    for number in sorted(pick.entered):
        one = options.entries[number].option
        clean = not one.needs_touch_up or (one.fish, one.show) in cleaned
        entries.append((one.fish, one.show, clean and one.merit_clean is not None))
    return Solution(
        merit=work.merit,
        entries=tuple(entries),
        touch_ups=tuple(sorted((one.fish, one.day, one.water) for one in touched)),
        aims=tuple(work.aims),
        interrupted=work.interrupted,
    )


def _idle(work: Work) -> set[int]:
    """Touch-ups that nothing entered needs: later aims leave none, an interruption may."""
    options, pick = work.options, work.pick
    needed = set(options.fixed)
    for number in pick.entered:
        if is_clean(options, pick, number):
            needed |= set(options.entries[number].cleaned_by)
    return set(pick.touched) - needed
