"""A Problem put in order: only options that can matter, sorted, with what each touch-up is for.

Sorting by id comes first of all, so that the order in which a keeper's files name things can
never reach the solver.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from showprep.planning.choice.problem import EntryOption, Problem, TouchUpOption


@dataclass(frozen=True, slots=True)
class Entry:
    """One possible entry: what it earns at least, and what a touch-up adds to that.

    `base` is None when the fish may go only clean; then `clean` is what it earns. `cleaned_by`
    are places in `Options.touch_ups`.
    """

    option: EntryOption
    base: int | None
    clean: int | None
    cleaned_by: tuple[int, ...]
    barred_by: tuple[int, ...]

    @property
    def key(self) -> tuple[str, str]:
        return (self.option.fish, self.option.show)

    @property
    def bonus(self) -> int:
        """What a touch-up adds, in hundredths of a mark."""
        return 0 if self.clean is None or self.base is None else self.clean - self.base


@dataclass(frozen=True, slots=True)
class Options:
    """The options of a problem that can matter, by place."""

    problem: Problem
    touch_ups: tuple[TouchUpOption, ...]
    fixed: frozenset[int]
    entries: tuple[Entry, ...]
    impossible: tuple[EntryOption, ...]  # cannot be entered whatever else is chosen

    @property
    def by_fish(self) -> dict[str, list[int]]:
        """Places of the touch-ups of each fish, earliest first."""
        found: dict[str, list[int]] = {}
        for place, option in enumerate(self.touch_ups):
            found.setdefault(option.fish, []).append(place)
        return found

    @property
    def days(self) -> tuple[date, ...]:
        return tuple(sorted({option.day for option in self.touch_ups}))


def conflict(problem: Problem, one: TouchUpOption, other: TouchUpOption) -> bool:
    """May these two touch-ups of one fish not both be done?

    Too near each other for a second sedation, or the later one while the fish is still in the
    isolation vat healing from the earlier.
    """
    first, second = (one, other) if one.day <= other.day else (other, one)
    if first.day == second.day:
        return True
    spacing = problem.spacing_days.get((first.fish, first.day), problem.spacing_default)
    if (second.day - first.day).days < spacing:
        return True
    return first.vat is not None and second.day <= first.vat[1]


def _gains(entry: EntryOption) -> bool:
    """Would a touch-up help this entry at all?"""
    if not entry.needs_touch_up or entry.merit_clean is None:
        return False
    return entry.merit_marked is None or entry.merit_clean > entry.merit_marked


def _check(problem: Problem) -> None:
    known = {(one.fish, one.day, one.water) for one in problem.touch_ups}
    if missing := sorted(problem.fixed - known):
        raise ValueError(f"a fixed touch-up is not among the options: {missing[0]}")
    for entry in problem.entries:
        clean, marked = entry.merit_clean, entry.merit_marked
        if clean is not None and marked is not None and clean < marked:
            raise ValueError(f"{entry.fish} at {entry.show}: a blemish seen cannot add merit")
        if entry.show not in problem.shows:
            raise ValueError(f"{entry.show} has no limits")


def _without_idle_stays(options: Sequence[TouchUpOption], fixed: set[int]) -> list[TouchUpOption]:
    """Leave out a stay in the vat that does nothing healing at home does not do as well."""

    def served(option: TouchUpOption) -> bool:
        return option.vat is not None and any(
            other.vat is None
            and other.day == option.day
            and other.clean_for >= option.clean_for
            and other.bars <= option.bars
            for other in options
        )

    return [one for place, one in enumerate(options) if place in fixed or not served(one)]


def _useful(problem: Problem, wanted: dict[str, frozenset[str]]) -> list[TouchUpOption]:
    """Touch-ups that clean something worth cleaning, or are fixed; sorted by fish, day, water."""
    by_fish: dict[str, list[TouchUpOption]] = {}
    for option in sorted(problem.touch_ups):
        fixed = (option.fish, option.day, option.water) in problem.fixed
        clean_for = option.clean_for & wanted.get(option.fish, frozenset())
        if clean_for or fixed:
            full = option.clean_for if fixed else clean_for
            by_fish.setdefault(option.fish, []).append(replace(option, clean_for=full))
    kept = []
    for fish in sorted(by_fish):
        own = by_fish[fish]
        fixed_places = {
            place
            for place, one in enumerate(own)
            if (one.fish, one.day, one.water) in problem.fixed
        }
        kept += _without_idle_stays(own, fixed_places)
    return kept


def _entry(
    option: EntryOption, own: Sequence[int], touch_ups: Sequence[TouchUpOption]
) -> Entry | None:
    cleaned_by: tuple[int, ...] = ()
    base: int | None
    clean: int | None = None
    if option.merit_clean is not None and not option.needs_touch_up:
        base = option.merit_clean
    else:
        base = option.merit_marked
        if option.merit_clean is not None:
            cleaned_by = tuple(one for one in own if option.show in touch_ups[one].clean_for)
            clean = option.merit_clean if cleaned_by else None
    if base is None and clean is None:
        return None
    barred_by = tuple(one for one in own if option.show in touch_ups[one].bars)
    return Entry(option, base, clean, cleaned_by, barred_by)


def arrange(problem: Problem) -> Options:
    """Put a problem in order.

    Raises ValueError when a fixed touch-up is not among the options, a show has no limits, or a
    marked fish would earn more than a clean one.
    """
    _check(problem)
    wanted: dict[str, frozenset[str]] = {}
    for entry in problem.entries:
        if _gains(entry):
            wanted[entry.fish] = wanted.get(entry.fish, frozenset()) | {entry.show}
    touch_ups = _useful(problem, wanted)
    by_fish: dict[str, list[int]] = {}
    for place, option in enumerate(touch_ups):
        by_fish.setdefault(option.fish, []).append(place)
    entries: list[Entry] = []
    impossible: list[EntryOption] = []
    for one in sorted(problem.entries):
        possible = _entry(one, by_fish.get(one.fish, ()), touch_ups)
        if possible is None:
            impossible.append(one)
        else:
            entries.append(possible)
    fixed = frozenset(
        place
        for place, one in enumerate(touch_ups)
        if (one.fish, one.day, one.water) in problem.fixed
    )
    return Options(problem, tuple(touch_ups), fixed, tuple(entries), tuple(impossible))
