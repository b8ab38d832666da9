"""A season in which nothing stands in the way of anything: the answer needs no solver.

Most keepers' first season is so: a fish or two, one show, boxes to spare. Every fish goes
everywhere, clean, and the one fish with a speck is touched up on the last day that serves. What
is found here is what the solver would find; it is only quicker than loading one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from showprep.planning.choice import pick as picks
from showprep.planning.choice.options import Entry, Options
from showprep.planning.choice.pick import Pick
from showprep.planning.choice.problem import AimResult, ShowLimits


def at_ease(options: Options) -> Pick | None:
    """The pick in which every entry is made clean; None when anything could stand against it."""
    entries, problem = options.entries, options.problem
    if options.fixed or problem.apart or len(options.by_fish) > 1:
        return None
    if any((entry.base or 0) <= 0 and (entry.clean or 0) <= 0 for entry in entries):
        return None
    if not _shows_have_room(options) or not _vat_has_room(options):
        return None
    touched = _one_touch_up(options)
    if touched is None:
        return None
    return Pick(frozenset(range(len(entries))), touched)


def aims_at_ease(options: Options, pick: Pick) -> list[AimResult]:
    """The aims of such a pick, every one of them proven."""
    values = {
        "merit": picks.merit_of(options, pick),
        "touch-up days": picks.days_of(options, pick),
        "touch-ups": len(pick.touched),
        "days before the last": picks.earliness_of(options, pick),
        "fixed rule": picks.lots_of(options, pick),
    }
    return [AimResult(name, value, value, True) for name, value in values.items()]


def _one_touch_up(options: Options) -> frozenset[int] | None:
    """The last day that cleans everything there is to clean and bars nothing; empty if none is."""
    wanted = [set(entry.cleaned_by) for entry in options.entries if _gains(entry)]
    if not wanted:
        return frozenset()
    barred = {place for entry in options.entries for place in entry.barred_by}
    serving = set.intersection(*wanted) - barred
    serving = {place for place in serving if options.touch_ups[place].vat is None}
    if not serving or options.problem.touch_ups_per_fish < 1 or options.problem.fish_per_day < 1:
        return None
    last = max(options.touch_ups[place].day for place in serving)
    latest = [place for place in serving if options.touch_ups[place].day == last]
    return frozenset(latest) if len(latest) == 1 else None


def _gains(entry: Entry) -> bool:
    return entry.clean is not None and (entry.base is None or entry.clean > entry.base)


def _shows_have_room(options: Options) -> bool:
    fees = 0.0
    for show, limits in options.problem.shows.items():
        own = [entry for entry in options.entries if entry.option.show == show]
        if own and not _has_room(limits, own):
            return False
        fees += sum(entry.option.fee for entry in own) + (limits.fee if own else 0.0)
    return options.problem.fees is None or fees <= options.problem.fees


def _has_room(limits: ShowLimits, own: Sequence[Entry]) -> bool:
    cm = sum(entry.option.length_cm for entry in own)
    most = (
        (len(own), limits.fish),
        (len(own), limits.boxes),
        (cm, limits.total_cm),
        (sum(entry.option.points for entry in own), limits.points),
        (sum(entry.option.kg for entry in own), limits.kg),
        (
            max(Counter(entry.option.size_class for entry in own).values()),
            limits.entries_per_class,
        ),
    )
    least = ((len(own), limits.fish_at_least), (cm, limits.total_cm_at_least))
    return all(limit is None or value <= limit for value, limit in most) and all(
        limit is None or value >= limit for value, limit in least
    )


def _vat_has_room(options: Options) -> bool:
    """Fish home from one show fit, and no two shows' fish would meet in the vat."""
    homes = Counter(
        (entry.option.vat, entry.option.show)
        for entry in options.entries
        if entry.option.vat is not None
    )
    places = options.problem.vat_holds
    if places is not None and any(number > places for number in homes.values()):
        return False
    stays = sorted((vat, show) for vat, show in homes if vat is not None)
    return all(one[0][1] < two[0][0] for one, two in pairwise(stays))
