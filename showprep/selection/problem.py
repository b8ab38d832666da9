"""The choice of entries and touch-up days, as plain data that knows no solver.

Everything that depends on water, healing and rules is worked out before: here are only options,
and limits between them. Points, prices and `worth_showing` are whole hundredths of a point; what
is told of a plan is exact to half of that.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from msgspec import Struct

Pair = tuple[str, str]  # fish, show
Done = tuple[str, date, str]  # fish, day, water


class TouchUpOption(Struct, frozen=True):
    """One fish touched up on one day, healing in one water.

    `merits`: what it may expect at each show that this touch-up serves, after chance. `bars`:
    shows it cannot go to when touched up on this day. `vat`: the days the isolation vat is taken
    while it heals, first and last included; None when it heals at home. `cohort`: who heals in
    the vat together; of two cohorts never a fish is in it on the same day.
    """

    fish: str
    day: date
    water: str
    merits: Mapping[str, int]
    bars: frozenset[str] = frozenset()
    vat: tuple[date, date] | None = None
    cohort: str = ""

    @property
    def key(self) -> Done:
        return self.fish, self.day, self.water


class EntryOption(Struct, frozen=True):
    """One fish that may be entered in one show.

    `merit`: what it may expect without any touch-up (None: it cannot go so). `group`: the class
    in which fish of one yard compete with each other ("": with none). `size_class`: what the
    show's limit of entries in a class counts. `price`: what taking one more fish along costs.
    `vat`: the days in the isolation vat after coming home, first and last included (None: not
    there). The vat is all in, all out: fish home from different shows, or fish home from a show
    and fish healing, are never in it on the same day.
    """

    fish: str
    show: str
    merit: int | None
    group: str = ""
    size_class: str = ""
    length_cm: float = 0.0
    points: float = 0.0
    kg: float = 0.0
    fee: float = 0.0
    price: int = 0
    must: bool = False
    vat: tuple[date, date] | None = None

    @property
    def key(self) -> Pair:
        return self.fish, self.show


class ShowLimits(Struct, frozen=True):
    """What one show, and the one journey to it, allow (None: no such limit), weigh and cost."""

    show: str
    fish: int | None = None
    fish_at_least: int | None = None  # if anything is entered at all
    total_cm: float | None = None
    total_cm_at_least: float | None = None  # if anything is entered at all
    points: float | None = None
    entries_per_class: int | None = None
    boxes: int | None = None
    kg: float | None = None
    fee: float = 0.0  # paid once, if anything is entered
    price: int = 0  # of the journey, whatever it carries
    weight: float = 1.0  # how much its entries count


class Instance(Struct, frozen=True):
    """All options and limits of a season.

    `apart`: pairs of shows the same fish cannot both go to (rest and isolation between them).
    `fish_per_day`: fish that can be touched up on one day. `touch_ups_per_fish`: at most so many.
    `spacing_days`: least days between two sedations of one fish, by (fish, earlier day) where it
    differs from `spacing_default`. `vat_holds`: places in the isolation vat. `fees`: budget.
    `fixed`: touch-ups already done or promised; they are options too, and count in the limits.

    What an entry is worth is its merit above `worth_showing`, times the weight of its show, times
    its share (see `share`): 1 for the best of its group at that show, `same_class_share` for the
    second, and that share once more for each further one. An entry below `worth_showing` counts
    its shortfall in full and takes nobody's share. Each touch-up, each day with touch-ups, each
    journey and each fish on it costs its price.
    """

    touch_ups: tuple[TouchUpOption, ...]
    entries: tuple[EntryOption, ...]
    shows: Mapping[str, ShowLimits]
    apart: frozenset[tuple[str, str]] = frozenset()
    fish_per_day: int = 3
    touch_ups_per_fish: int = 2
    spacing_default: int = 7
    spacing_days: Mapping[tuple[str, date], int] = {}
    vat_holds: int | None = None
    fees: float | None = None
    fixed: frozenset[Done] = frozenset()
    worth_showing: int = 0
    same_class_share: float = 1.0
    touch_up_price: int = 0
    session_price: int = 0

    def share(self, rank: int) -> float:
        """What the entry in a place of its group, the best 0, keeps of its worth: from 0 to 1.

        No further place may keep more than one before it: the model and its bounds rest on that.
        """
        return self.same_class_share**rank


class ScoredEntry(Struct, frozen=True):
    """What one entry of a plan is worth, in its parts (hundredths of a point).

    `worth` = (`merit` - `worth_showing`) times `share` times `weight`; `gain` is how much of that
    its touch-up adds to going as it is (all of it where it could not go so); 0 without one.
    """

    fish: str
    show: str
    touch_up: Done | None
    merit: int
    share: float
    weight: float
    worth: float
    gain: float


class Solution(Struct, frozen=True):
    """A plan: entries (fish, show, touched up for it?) and touch-ups, each sorted; its worth.

    `worth` and `bound` are hundredths of a point: no plan is worth more than `bound`. `proven`:
    the two are the same to half a hundredth. `reserves`: for each show the fish that steps in
    first. `feasible` is False where what must be cannot be; `why_not` then names the limits, and
    `broken` the entries that cannot be made at all.
    """

    worth: float
    bound: float
    proven: bool
    entries: tuple[tuple[str, str, bool], ...] = ()
    touch_ups: tuple[Done, ...] = ()
    parts: tuple[ScoredEntry, ...] = ()
    reserves: tuple[tuple[str, str], ...] = ()  # show, fish
    interrupted: bool = False
    feasible: bool = True
    why_not: tuple[Limit, ...] = ()
    impossible: tuple[Pair, ...] = ()

    @property
    def merit(self) -> int:
        """The merit of all entries together, with no share, weight or price taken off."""
        return sum(one.merit for one in self.parts)


class Limit(NamedTuple):
    """What a row of the model stands for: the kind of limit, and the show, fish or day it is of."""

    kind: str
    of: str = ""


class Work(Struct, frozen=True):
    """How hard to work, counted and never timed, so that every machine gives the same answer.

    `steps` (iterations of the simplex method, those among whole numbers counted several times) end
    the search for the best plan, `questions` as many for all costs and gains together.
    """

    steps: int = 25_000
    questions: int = 20_000
