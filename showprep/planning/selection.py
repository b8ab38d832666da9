"""The choice of entries over the whole season, and what it says about the fish left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

from showprep.husbandry.reason import FishId, ShowId, reason
from showprep.planning.choice.explain import cost_of, explain
from showprep.planning.choice.problem import Effort, Problem, Solution
from showprep.planning.choice.solve import choose
from showprep.planning.entries import problem_of
from showprep.planning.one_more_day import one_more_day
from showprep.planning.plan import Aim, Choice, LeftOut, Warning_
from showprep.planning.prospects import Prospect, prospects_of, touch_ups_of
from showprep.planning.touch_ups import TouchUps
from showprep.planning.yard import Yard


@dataclass(frozen=True, slots=True)
class Selection:
    """The entries and touch-up days chosen, what the plan says of them, and warnings."""

    problem: Problem
    solution: Solution
    choice: Choice
    warnings: tuple[Warning_, ...] = ()


def select(
    yard: Yard,
    prospects: Mapping[tuple[str, str], Prospect],
    touch_ups: Mapping[str, TouchUps],
    progress: Callable[[str], None] | None = None,
    asked: tuple[str, str] | None = None,
) -> Selection:
    """Choose entries and touch-up days; a must that cannot be kept is dropped, and said.

    `asked` is a fish and a show whose cost is wanted even in a season too large to reckon all.
    """
    effort = Effort(seconds=yard.keeper.preferences.choice_seconds)
    problem = problem_of(yard, prospects, touch_ups)
    solution = choose(problem, effort, progress)
    warnings = tuple(_musts_barred(prospects))
    if not solution.feasible:
        why = solution.why_not.rstrip(".")
        text = f"What you marked as must cannot all be: {why}. The plan ignores it."
        warnings = (*warnings, Warning_("stop", text))
        problem = replace(
            problem, entries=tuple(replace(entry, must=False) for entry in problem.entries)
        )
        solution = choose(problem, effort, progress)
    left_out, binding = explain(problem, solution, effort, _names(yard))
    if asked is not None and any((one.fish, one.show) == asked for one in left_out):
        told = cost_of(problem, solution, *asked, effort, _names(yard))
        left_out = tuple(
            told if told is not None and (one.fish, one.show) == asked else one for one in left_out
        )
    binding += one_more_day(yard, prospects, touch_ups, solution, _problem_again)
    choice = Choice(
        merit=solution.merit / 100,
        proven=all(aim.proven for aim in solution.aims[:1]),
        left_out=left_out + _cannot(prospects, solution),
        aims=tuple(Aim(a.name, a.value, a.bound, a.proven) for a in solution.aims),
        binding=binding,
        interrupted=solution.interrupted,
    )
    return Selection(problem, solution, choice, warnings)


def entries_alone(yard: Yard) -> tuple[tuple[str, str], ...]:
    """The fish and shows chosen, without what the plan says of the others."""
    problem = _problem_again(yard)
    effort = Effort(seconds=yard.keeper.preferences.choice_seconds)
    solution = choose(problem, effort)
    if not solution.feasible:
        free = tuple(replace(entry, must=False) for entry in problem.entries)
        solution = choose(replace(problem, entries=free), effort)
    return tuple((fish, show) for fish, show, _ in solution.entries)


def _problem_again(yard: Yard) -> Problem:
    """The problem of a yard that was changed in one thing."""
    touch_ups = touch_ups_of(yard)
    return problem_of(yard, prospects_of(yard, touch_ups), touch_ups)


def _names(yard: Yard) -> dict[str, str]:
    """What fish and shows are called in the texts."""
    fish = {one.id: one.record.name for one in yard.fish_here()}
    return fish | {events.show: events.record.name for events in yard.events.values()}


def _musts_barred(prospects: Mapping[tuple[str, str], Prospect]) -> Iterator[Warning_]:
    """What the keeper marked as must, or entered, and cannot be shown."""
    for (fish, show), one in sorted(prospects.items()):
        wanted = show in one.fish.record.must_show or show in one.fish.entered
        if wanted and one.merit_clean is None:
            why = one.reasons[0]
            if show in one.fish.entered:
                said = reason("entered-and-barred", fish=FishId(fish), show=ShowId(show), why=why)
            else:
                said = reason("must-and-barred", fish=FishId(fish), show=ShowId(show), why=why)
            yield Warning_("stop", said, fish=fish, show=show)


def _cannot(
    prospects: Mapping[tuple[str, str], Prospect], solution: Solution
) -> tuple[LeftOut, ...]:
    """Fish that cannot be entered at all, with the reason that stands against them."""
    entered = {(fish, show) for fish, show, _ in solution.entries}
    return tuple(
        LeftOut(fish, show, None, one.reasons[0])
        for (fish, show), one in sorted(prospects.items())
        if one.merit_clean is None and (fish, show) not in entered
    )
