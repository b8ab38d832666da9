"""Groups of choices that exclude each other, so that one row says what many pairs would."""

from __future__ import annotations

from collections.abc import Callable, Sequence


def cliques(places: Sequence[int], clash: Callable[[int, int], bool]) -> list[list[int]]:
    """Groups, each of places that all clash with each other, which together cover every clash.

    The groups are as large as they can be made by adding places in order; a larger group says
    more in one row. `clash` need not be transitive. The answer depends on the order of `places`.
    """
    near = _neighbours(places, clash)
    uncovered = list(near)
    found = []
    for first in range(len(places)):
        while uncovered[first]:
            group = _grow(near, first, uncovered[first])
            for member in range(len(places)):
                if group >> member & 1:
                    uncovered[member] &= ~group
            found.append([place for at, place in enumerate(places) if group >> at & 1])
    return found


def _neighbours(places: Sequence[int], clash: Callable[[int, int], bool]) -> list[int]:
    """For each place, the places it clashes with, as bits."""
    near = [0] * len(places)
    for at, one in enumerate(places):
        for beside in range(at + 1, len(places)):
            if clash(one, places[beside]):
                near[at] |= 1 << beside
                near[beside] |= 1 << at
    return near


def _grow(near: Sequence[int], first: int, wanted: int) -> int:
    """A largest group around `first`, taking clashes not covered yet before others; as bits."""
    group, candidates = 1 << first, near[first]
    for choice in (wanted, -1):
        while candidates & choice:
            lowest = candidates & choice & -(candidates & choice)
            group |= lowest
            candidates &= near[lowest.bit_length() - 1]
    return group
