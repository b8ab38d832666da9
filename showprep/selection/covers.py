"""Rows that say of a limit by size what its own row leaves open of half fish: lifted covers.

Of fish that do not all fit together (a cover) at least one stays at home; every other fish then
counts for as many of them as it takes the room of. (E. Balas, Facets of the knapsack polytope,
Mathematical Programming 8 (1975), 146-164.) No plan is lost by such a row, but much of what the
relaxed model gains by filling a show up with a part of a fish.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

from showprep.selection.linear import CLOSE, Linear
from showprep.selection.problem import Limit

BY_SIZE = ("total-cm", "points", "kg", "fees")
ENOUGH = 1e-3  # of its right side, by which a row must be broken to be worth adding


class Row(NamedTuple):
    """A row to be added: terms together at most `upper`."""

    terms: tuple[tuple[int, float], ...]
    upper: float
    limit: Limit


def covers(linear: Linear, values: Sequence[float]) -> list[Row]:
    """Rows that hold for every plan, and that these values of the relaxed model break."""
    found: dict[Row, None] = {}
    for row, limit in enumerate(linear.limits):
        if limit.kind not in BY_SIZE or linear.row_upper[row] == inf or linear.more[row] == inf:
            continue
        span = slice(linear.starts[row], linear.starts[row + 1])
        terms_of = dict(zip(linear.places[span], linear.values[span], strict=True))
        presence = {place: -value for place, value in terms_of.items() if value < 0}
        room = linear.row_upper[row] + sum(presence.values())
        there = min((values[place] for place in presence), default=1.0)
        own = {place: value for place, value in terms_of.items() if value > 0}
        used = sorted((p for p in own if values[p] > CLOSE), key=lambda p: (-terms_of[p], p))
        least_missing = {place: (there - values[place]) / own[place] for place in used}
        fullest = {place: -values[place] for place in used}
        for key in (least_missing, fullest):
            order = sorted(used, key=key.__getitem__)
            counts, most = _lifted(own, room, values, order)
            over = sum(count * values[place] for place, count in counts.items()) - most * there
            if over > ENOUGH * most > 0:
                terms = [(place, float(count)) for place, count in sorted(counts.items())]
                terms += [(place, -float(most)) for place in presence]
                found[Row(tuple(terms), 0.0 if presence else float(most), limit)] = None
    return list(found)


def _lifted(
    takes: Mapping[int, float], room: float, values: Sequence[float], order: Sequence[int]
) -> tuple[dict[int, int], int]:
    """How often each counts, and how many there can be together; nothing where no cover is."""
    cover: list[int] = []
    for place in order:
        if sum(takes[one] for one in cover) <= room:
            cover.append(place)
    total = sum(takes[place] for place in cover)
    if total <= room:
        return {}, 0
    for place in sorted(cover, key=lambda place: (values[place], -takes[place], place)):
        if total - takes[place] > room:
            cover.remove(place)
            total -= takes[place]
    most = len(cover) - 1
    least = [0.0] + [inf] * most  # least room taken by what counts so many together
    counts: dict[int, int] = {}
    others = sorted(takes.keys() - set(cover), key=lambda p: (-values[p], -takes[p], p))
    for place in (*cover, *others):
        left = room - takes[place]
        beside = max((many for many in range(most + 1) if least[many] <= left), default=0)
        count = 1 if place in cover else most - beside
        if count:
            counts[place] = count
            for many in range(most, 0, -1):
                least[many] = min(least[many], least[max(many - count, 0)] + takes[place])
    return counts, most
