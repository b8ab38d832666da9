"""The best plan of a small problem by trying every one.

Every fish has its own list of what could be done with it (any touch-ups, any shows); every
combination is tried but for those of which the part already put together is at fault for good.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from fractions import Fraction
from itertools import combinations
from math import prod
from typing import TypeVar

from msgspec.structs import replace

from showprep.selection.problem import Instance
from tests.selection.checker import Done, Going, best_merit, faults, score

T = TypeVar("T")
Part = tuple[tuple[Going, ...], tuple[Done, ...]]


def subsets(items: list[T], most: int) -> Iterator[tuple[T, ...]]:
    for size in range(most + 1):
        yield from combinations(items, size)


def alone(problem: Instance) -> Instance:
    """The same problem with only what concerns one fish by itself."""
    return Instance(
        touch_ups=problem.touch_ups,
        entries=tuple(problem.entries),
        shows={show: type(limits)(show) for show, limits in problem.shows.items()},
        apart=problem.apart,
        fish_per_day=len(problem.touch_ups),
        touch_ups_per_fish=problem.touch_ups_per_fish,
        spacing_default=problem.spacing_default,
        spacing_days=problem.spacing_days,
    )


def parts(problem: Instance, fish: str) -> list[Part]:
    """Everything that could be done with one fish."""
    loose = alone(problem)
    entries = [one for one in problem.entries if one.fish == fish]
    touch_ups = [one for one in problem.touch_ups if one.fish == fish]
    own = replace(
        loose,
        touch_ups=tuple(touch_ups),
        entries=tuple(entries),
        fixed=frozenset(one for one in problem.fixed if one[0] == fish),
    )
    found = []
    for done in subsets(touch_ups, len(touch_ups) if own.fixed else problem.touch_ups_per_fish):
        names = tuple((one.fish, one.day, one.water) for one in done)
        for going in subsets(entries, len(entries)):
            plan = tuple(
                (one.fish, one.show, best_merit(own, one, names) != one.merit) for one in going
            )
            if not faults(own, plan, names):
                found.append((plan, names))
    return found


def many(problem: Instance, most: int = 3_000) -> bool:
    """Are there more plans than it is sensible to try?"""
    fish = {one.fish for one in problem.entries} | {one.fish for one in problem.touch_ups}
    return prod(len(parts(problem, one)) for one in fish) > most


def best(
    problem: Instance, choices: list[list[Part]] | None = None
) -> tuple[Fraction, Part] | None:
    """The best plan; None when nothing is within every limit."""
    names = sorted({one.fish for one in problem.entries} | {one.fish for one in problem.touch_ups})
    every = choices if choices is not None else [parts(problem, fish) for fish in names]
    found: list[tuple[Fraction, Part]] = []
    too_much = _ceilings(problem)

    def extend(at: int, entries: tuple[Going, ...], touch_ups: tuple[Done, ...]) -> None:
        if too_much(entries, touch_ups):
            return
        if at < len(every):
            for more, done in every[at]:
                extend(at + 1, entries + more, touch_ups + done)
            return
        here = score(problem, entries, touch_ups)
        if (not found or here > found[0][0]) and not faults(problem, entries, touch_ups):
            found[:] = [(here, (tuple(sorted(entries)), tuple(sorted(touch_ups))))]

    extend(0, (), ())
    return found[0] if found else None


def _ceilings(problem: Instance) -> Callable[[tuple[Going, ...], tuple[Done, ...]], bool]:
    """A quick look at what only grows: fish and centimetres of a show, fish of a day."""
    options = {(one.fish, one.show): one for one in problem.entries}

    def too_much(entries: tuple[Going, ...], touch_ups: tuple[Done, ...]) -> bool:
        fish: dict[str, int] = {}
        days: dict[date, int] = {}
        cm: dict[str, float] = {}
        for name, show, _ in entries:
            fish[show] = fish.get(show, 0) + 1
            cm[show] = cm.get(show, 0.0) + options[name, show].length_cm
        for _, day, _ in touch_ups:
            days[day] = days.get(day, 0) + 1
        most_a_day = max(problem.fish_per_day, len(problem.fixed))
        if any(number > most_a_day for number in days.values()):
            return True
        for show, number in fish.items():
            limits = problem.shows[show]
            if limits.fish is not None and number > limits.fish:
                return True
            if limits.boxes is not None and number > limits.boxes:
                return True
            if limits.total_cm is not None and cm[show] > limits.total_cm + 0.01:
                return True
        return False

    return too_much
