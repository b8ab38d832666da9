"""A wound or a speck taken off, and what its milestones ask for, as the yard knows it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date

from msgspec import Struct

from showprep.husbandry.healing_base import ANCHOR_C
from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.yard_pace import Known, known_by_base, known_from


class Need(Struct, frozen=True):
    """What one milestone of a kind asks for, as the yard knows it: a case for each base [°C].

    `cases` are (base, share, known). A base of None counts days, not degree-days: then there is
    one case. `film`: they are days of the film of skin, which cold water makes count less. Before
    `least_days` [d] the milestone is never reached.
    """

    cases: tuple[tuple[float | None, float, Known], ...]
    least_days: int = 0
    film: bool = False


class Wound(Struct, frozen=True):
    """A wound of the day `start`, or a speck taken off or to be taken off that day.

    `closed` None has no figure to wait for. `returns` None never comes back. The days are looks:
    last seen not yet closed, not yet clean, first seen closed, first seen clean, and last seen so.
    """

    start: date
    closed: Need | None
    clean: Need
    returns: Known | None = None
    not_closed_on: date | None = None
    not_clean_on: date | None = None
    closed_on: date | None = None
    clean_on: date | None = None
    still_clean_on: date | None = None

    def seen_closed_by(self, day: date) -> bool:
        """Was it seen closed, or clean, on that day or before?"""
        return self.seen_clean_by(day) or (self.closed_on is not None and self.closed_on <= day)

    def seen_clean_by(self, day: date) -> bool:
        """Was it seen clean on that day or before?"""
        return self.clean_on is not None and self.clean_on <= day

    def days_away(self, day: date) -> tuple[float, float]:
        """Days [d] from the touch-up to a day, and to the last look that found it clean."""
        last = self.still_clean_on or self.clean_on
        clean_at = 0.0 if last is None else float((last - self.start).days)
        return float((day - self.start).days), max(clean_at, 0.0)


def need_in_degree_days(
    figures: SplitLogNormal,
    least_days: int = 0,
    anchor_c: float = ANCHOR_C,
    looks: Sequence[Callable[[float], tuple[float, float]]] = (),
) -> Need:
    """A need written in degree-days above 8 °C, seen at `anchor_c` [°C].

    A look tells, for a base [°C], between which degree-days the requirement of one wound of the
    yard lies: (above, at most).
    """
    return Need(known_by_base(figures, anchor_c, looks), least_days)


def need_in_days(
    figures: SplitLogNormal,
    least_days: int = 0,
    looks: Iterable[tuple[float, float]] = (),
    film: bool = False,
) -> Need:
    """A need written in days [d], or with `film` in days of the film over a shallow wound."""
    return Need(((None, 1.0, known_from(figures, looks)),), least_days, film)
