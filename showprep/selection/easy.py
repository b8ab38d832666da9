"""A season in which nothing stands in the way of anything: the answer needs no solver.

Most keepers' first season is so: a fish or two, one show, boxes to spare. Every fish goes
everywhere at its best, and that pays for every journey and touch-up. What is found here is what
the solver would find; it is only quicker than loading one.

Why it is the best: shares make a further fish worth less the more there are, never more. So what
an entry adds when all others are made is the least it ever adds. Where even that pays for its
place, its part of the journey and its part of the touch-up, giving anything up can only lose.
"""

from __future__ import annotations

from collections import defaultdict

from showprep.selection.model import Model
from showprep.selection.options import Options
from showprep.selection.plans import Pick, earned, levels_of
from showprep.selection.usage import Usage


def easy_plan(model: Model) -> Pick | None:
    """The plan in which every entry is made at its best; None when anything stands against it."""
    options, ledger = model.options, Usage(model)
    touched = _touch_ups(options)
    if touched is None:
        return None
    for at in sorted(touched):
        if not ledger.takes(at=at):
            return None
        ledger.touch(at)
    for number in range(len(options.entries)):
        if not ledger.takes(number):
            return None
        ledger.enter(number)
    return ledger.pick if not ledger.short() and _pays(options, ledger.pick) else None


def _touch_ups(options: Options) -> frozenset[int] | None:
    """The one touch-up there is to do, on the last day that serves best; empty if there is none."""
    wanted = [set(entry.levels[0].by) for entry in options.entries if entry.levels[0].by]
    fish = {entry.option.fish for entry in options.entries if entry.levels[0].by}
    if options.fixed or len(fish) > 1:
        return None
    if not wanted:
        return frozenset()
    serving = set.intersection(*wanted)
    serving = {at for at in serving if options.touch_ups[at].vat is None}
    last = max((options.touch_ups[at].day for at in serving), default=None)
    latest = frozenset(at for at in serving if options.touch_ups[at].day == last)
    return latest if len(latest) == 1 else None


def _pays(options: Options, pick: Pick) -> bool:
    problem = options.problem
    levels = levels_of(options, pick)
    whole = earned(options, levels)
    journeys: dict[str, float] = defaultdict(float)
    by_touch_ups = 0.0
    for number, level in levels.items():
        entry = options.entries[number]
        others = {n: one for n, one in levels.items() if n != number}
        alone = whole - earned(options, others)
        if level.by:
            if entry.base is None or entry.base.value <= 0:
                return False
            by_touch_up = whole - earned(options, {**levels, number: entry.base})
            by_touch_ups += by_touch_up
            alone -= by_touch_up
        if alone <= entry.option.price:
            return False
        journeys[entry.option.show] += alone - entry.option.price
    if pick.touched and by_touch_ups <= problem.touch_up_price + problem.session_price:
        return False
    return all(left > problem.shows[show].price for show, left in journeys.items())
