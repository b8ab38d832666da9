"""A season in which nothing stands in the way of anything: the answer needs no solver.

Most keepers' first season is so: a fish or two, one show, boxes to spare. Made by hand, every fish
goes everywhere at its best, and that pays for every journey and touch-up. It is what the solver
would find; it is only quicker than loading one.

Why it is the best: shares make a further fish worth less the more there are, never more. So what
an entry adds when all others are made is the least it ever adds. Where even that pays for its
place, its part of the journey and its part of the touch-up, giving anything up can only lose.
"""

from __future__ import annotations

from collections import defaultdict

from showprep.selection.options import Options
from showprep.selection.plans import Pick, earned, levels_of


def is_easy(options: Options, pick: Pick) -> bool:
    """Is a plan made by hand the best for sure: every entry at its best, one touch-up at most?"""
    levels = levels_of(options, pick)
    everyone = (levels.get(number) is one.levels[0] for number, one in enumerate(options.entries))
    at_home = all(options.touch_ups[at].vat is None for at in pick.touched)
    few = at_home and len(pick.touched) <= 1 and not options.fixed
    return few and all(everyone) and _pays(options, pick)


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
