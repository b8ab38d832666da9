"""An instance put in order: only options that can matter, sorted, with what each touch-up is for.

Sorting by id comes first of all, so that the order in which a keeper's files name things can
never reach the solver.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from functools import cached_property
from operator import attrgetter

from msgspec import Struct

from showprep.selection.problem import EntryOption, Instance, TouchUpOption


class MeritLevel(Struct, frozen=True):
    """A merit that an entry can have, by any of some touch-ups, or by none (`by` is empty).

    `value` is what it is worth as the best of its group, in hundredths of a point.
    """

    merit: int
    value: float
    by: tuple[int, ...]


class Entry(Struct, frozen=True):
    """One possible entry with its levels, best first; without a touch-up last, if it may so go."""

    option: EntryOption
    levels: tuple[MeritLevel, ...]
    barred_by: tuple[int, ...]

    @property
    def base(self) -> MeritLevel | None:
        """Going without a touch-up; None where it cannot."""
        return self.levels[-1] if not self.levels[-1].by else None

    @property
    def group(self) -> tuple[str, str] | None:
        """With whom it competes at its show."""
        return (self.option.show, self.option.group) if self.option.group else None

    def level(self, touched: frozenset[int] | set[int]) -> MeritLevel | None:
        """The best level it has with these touch-ups; None where it cannot go."""
        for level in self.levels:
            if not level.by or not touched.isdisjoint(level.by):
                return level
        return None


class Options(Struct, frozen=True, dict=True):
    """The options of a problem that can matter, by place."""

    problem: Instance
    touch_ups: tuple[TouchUpOption, ...]
    fixed: frozenset[int]
    entries: tuple[Entry, ...]
    impossible: tuple[EntryOption, ...]  # cannot be entered whatever else is chosen

    @cached_property
    def touch_ups_of(self) -> dict[str, list[int]]:
        """Places of the touch-ups of each fish, earliest first."""
        return _by(((one.fish, at) for at, one in enumerate(self.touch_ups)))

    @cached_property
    def musts(self) -> frozenset[int]:
        """Places of the entries that must be made."""
        return frozenset(at for at, one in enumerate(self.entries) if one.option.must)

    @cached_property
    def entries_of(self) -> dict[str, list[int]]:
        """Places of the entries of each fish."""
        return _by(((one.option.fish, at) for at, one in enumerate(self.entries)))

    @cached_property
    def entries_at(self) -> dict[str, list[int]]:
        """Places of the entries at each show, by show."""
        found = _by(((one.option.show, at) for at, one in enumerate(self.entries)))
        return {show: found[show] for show in sorted(found)}


def _by(pairs: Iterable[tuple[str, int]]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for key, at in pairs:
        found.setdefault(key, []).append(at)
    return found


def free_again(problem: Instance, one: TouchUpOption) -> date:
    """The first day after a touch-up on which its fish may be touched up again.

    Neither too near for a second sedation, nor while it heals in the isolation vat.
    """
    spacing = problem.spacing_days.get((one.fish, one.day), problem.spacing_default)
    after = one.day + timedelta(days=max(spacing, 1))
    return after if one.vat is None else max(after, one.vat[1] + timedelta(days=1))


def conflict(problem: Instance, one: TouchUpOption, other: TouchUpOption) -> bool:
    """May these two touch-ups of one fish not both be done?"""
    first, second = (one, other) if one.day <= other.day else (other, one)
    return second.day < free_again(problem, first)


def overlap(one: tuple[date, date], other: tuple[date, date]) -> bool:
    """Do two stays, first and last day included, share a day?"""
    return one[0] <= other[1] and other[0] <= one[1]


def arrange(problem: Instance) -> Options:
    """Put a problem in order.

    Raises ValueError when a fixed touch-up is not among the options, a show has no limits, or a
    share is not from 0 to 1.
    """
    known = {one.key for one in problem.touch_ups}
    if missing := sorted(problem.fixed - known):
        raise ValueError(f"a fixed touch-up is not among the options: {missing[0]}")
    if unknown := sorted({one.show for one in problem.entries} - set(problem.shows)):
        raise ValueError(f"{unknown[0]} has no limits")
    if not 0 <= problem.same_class_share <= 1:
        raise ValueError("same_class_share lies from 0 to 1")
    before = {one.key: one.merit for one in problem.entries}
    touch_ups = [
        one
        for one in sorted(problem.touch_ups, key=attrgetter("key"))
        if one.key in problem.fixed
        or any(
            _better(merit, before[one.fish, show])
            for show, merit in one.merits.items()
            if (one.fish, show) in before
        )
    ]
    places = _by(((one.fish, at) for at, one in enumerate(touch_ups)))
    entries: list[Entry] = []
    impossible: list[EntryOption] = []
    for option in sorted(problem.entries, key=attrgetter("key")):
        own = places.get(option.fish, [])
        levels = _levels(problem, option, own, touch_ups)
        if levels:
            barred = tuple(at for at in own if option.show in touch_ups[at].bars)
            entries.append(Entry(option, levels, barred))
        else:
            impossible.append(option)
    fixed = frozenset(at for at, one in enumerate(touch_ups) if one.key in problem.fixed)
    return Options(problem, tuple(touch_ups), fixed, tuple(entries), tuple(impossible))


def _better(merit: int, before: int | None) -> bool:
    return before is None or merit > before


def _levels(
    problem: Instance,
    option: EntryOption,
    own: Sequence[int],
    touch_ups: Sequence[TouchUpOption],
) -> tuple[MeritLevel, ...]:
    by: dict[int, list[int]] = {}
    for at in own:
        merit = touch_ups[at].merits.get(option.show)
        if merit is not None and _better(merit, option.merit):
            by.setdefault(merit, []).append(at)
    weight = problem.shows[option.show].weight

    def value(merit: int) -> float:
        return (merit - problem.worth_showing) * weight

    levels = [
        MeritLevel(merit, value(merit), tuple(by[merit])) for merit in sorted(by, reverse=True)
    ]
    if option.merit is not None:
        levels.append(MeritLevel(option.merit, value(option.merit), ()))
    return tuple(levels)
