"""A plan: what has been picked, and what it is worth."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from math import fsum

from msgspec import Struct

from showprep.selection.options import MeritLevel, Options
from showprep.selection.problem import ScoredEntry

HALF = 0.5  # hundredths of a point: less than that is no difference


class Pick(Struct, frozen=True):
    """Places of the entries and touch-ups that are chosen."""

    entered: frozenset[int]
    touched: frozenset[int]


def ranks(options: Options, levels: Mapping[int, MeritLevel]) -> dict[int, int | None]:
    """The place of each entry in its group, the best 0; None where it competes with nobody."""
    groups: dict[tuple[str, str], list[int]] = defaultdict(list)
    for number, level in levels.items():
        group = options.entries[number].group
        if group is not None and level.value > 0:
            groups[group].append(number)
    found: dict[int, int | None] = dict.fromkeys(levels)
    for own in groups.values():
        own.sort(key=lambda number: (-levels[number].value, number))
        found.update((number, rank) for rank, number in enumerate(own))
    return found


def shares(options: Options, levels: Mapping[int, MeritLevel]) -> dict[int, float]:
    """The share of its worth that each entry keeps in its group."""
    share = options.problem.share
    return {number: share(rank or 0) for number, rank in ranks(options, levels).items()}


def levels_of(options: Options, pick: Pick) -> dict[int, MeritLevel]:
    """The level each entry has; one that cannot go so is left out."""
    levels = {n: options.entries[n].level(pick.touched) for n in sorted(pick.entered)}
    return {number: level for number, level in levels.items() if level is not None}


def worth_of(options: Options, pick: Pick) -> float:
    """What a plan is worth, in hundredths of a point, all prices taken off."""
    problem = options.problem
    levels = levels_of(options, pick)
    paid = [options.entries[number].option.price for number in levels]
    paid += [problem.shows[show].price for show in shows_of(options, pick)]
    days = {options.touch_ups[at].day for at in pick.touched}
    paid.append(problem.touch_up_price * len(pick.touched) + problem.session_price * len(days))
    return fsum([earned(options, levels), *(-price for price in paid)])


def shows_of(options: Options, pick: Pick) -> list[str]:
    """The shows gone to."""
    return sorted({options.entries[number].option.show for number in pick.entered})


def tidied(options: Options, pick: Pick) -> Pick:
    """A plan without entries that cannot go so and touch-ups that no entry rests on."""
    levels = levels_of(options, pick)
    used = {at for level in levels.values() for at in _last_of(options, pick, level)}
    return Pick(frozenset(levels), pick.touched & (used | options.fixed))


def _last_of(options: Options, pick: Pick, level: MeritLevel) -> list[int]:
    """The touch-up a level rests on: of several the one that is last in order."""
    return sorted(pick.touched.intersection(level.by))[-1:]


def parts_of(options: Options, pick: Pick) -> tuple[ScoredEntry, ...]:
    """What each entry of a plan is worth, in its parts."""
    levels = levels_of(options, pick)
    share = shares(options, levels)
    found = []
    for number, level in levels.items():
        entry = options.entries[number]
        touch_up, gain = None, 0.0
        if level.by:
            touch_up = options.touch_ups[_last_of(options, pick, level)[0]].key
            plain = {n: one for n, one in levels.items() if n != number}
            if entry.base is not None:
                plain[number] = entry.base
            gain = earned(options, levels) - earned(options, plain)
        (fish, show), own = entry.option.key, share[number]
        worth, weight = level.value * own, options.problem.shows[show].weight
        found.append(ScoredEntry(fish, show, touch_up, level.merit, own, weight, worth, gain))
    return tuple(found)


def earned(options: Options, levels: Mapping[int, MeritLevel]) -> float:
    """What entries at these levels earn together, before any price."""
    share = shares(options, levels)
    return fsum(level.value * share[number] for number, level in levels.items())
