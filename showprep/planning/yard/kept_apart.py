"""The groups of fish that are kept apart in one vat: all in, all out.

Fish home from shows whose times apart overlap in one vat form one group, held to its last day.
Whoever joins a vat that is not cleared starts the count of all again, by the strictest of their
shows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.isolation import Vats


class Arrival(Struct, frozen=True):
    """Fish that come into the vat on one day: home from a show, new, or moved there (no show).

    `vats` is how the show kept its fish; fish of unknown health count as from shared vats.
    """

    day: date
    show: str | None
    fish: tuple[str, ...]
    vats: Vats


class KeptApart(Struct, frozen=True):
    """One group: its arrivals by day, and the first day it may join the others (None: never)."""

    arrivals: tuple[Arrival, ...]
    clear: date | None

    @property
    def first(self) -> date:
        """The day the first of them came."""
        return self.arrivals[0].day

    @property
    def counted_from(self) -> date:
        """The day from which the time apart of all counts: when the last of them came."""
        return self.arrivals[-1].day

    @property
    def fish(self) -> tuple[str, ...]:
        """All of them, by id."""
        return tuple(sorted({fish for one in self.arrivals for fish in one.fish}))

    @property
    def shows(self) -> tuple[str, ...]:
        """The shows they came home from, in that order."""
        return tuple(one.show for one in self.arrivals if one.show is not None)


def groups(
    arrivals: Iterable[Arrival], clear_on: Callable[[date, Vats], date | None]
) -> tuple[KeptApart, ...]:
    """The groups of one vat, in time order.

    `clear_on` gives the first day on which fish that came on a day, from vats of a kind, are
    cleared in this vat; None for never. Arrivals on the very day a group is cleared find the vat
    empty.
    """
    found: list[KeptApart] = []
    for one in sorted(arrivals, key=lambda each: (each.day, each.show or "", each.fish)):
        last = found[-1] if found else None
        if last is None or (last.clear is not None and last.clear <= one.day):
            found.append(KeptApart((one,), clear_on(one.day, one.vats)))
            continue
        joined = (*last.arrivals, one)
        vats = _strictest(each.vats for each in joined)
        found[-1] = replace(last, arrivals=joined, clear=clear_on(one.day, vats))
    return tuple(found)


def _strictest(vats: Iterable[Vats]) -> Vats:
    every = set(vats)
    return "shared" if "shared" in every else "bag" if "bag" in every else "own"
