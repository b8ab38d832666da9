"""The choice of entries and touch-up days, as plain data that knows no solver.

Everything that depends on water, healing and rules is worked out before: here are only options,
and limits between them. Ids are the season's ids. Merits are hundredths of a mark, whole numbers,
so that sums are exact.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True, order=True)
class TouchUpOption:
    """One fish touched up on one day, healing in one water.

    `clean_for`: shows by whose benching it would be clean, and not back again.
    `bars`: shows it cannot go to when touched up on this day (not closed by departure, or sedated
    too near the journey).
    `vat`: the days the isolation vat is taken while it heals, first and last included; None when
    it heals at home.
    """

    fish: str
    day: date
    water: str
    clean_for: frozenset[str] = field(compare=False)
    bars: frozenset[str] = field(compare=False)
    vat: tuple[date, date] | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True, order=True)
class EntryOption:
    """One fish that may be entered in one show.

    `merit_clean`: merit when nothing needs doing, or after a touch-up that is clean for this show
    (None: cannot be had). `merit_marked`: merit with the blemish seen, without any touch-up (None:
    cannot be entered so). `needs_touch_up`: is a touch-up what `merit_clean` rests on?
    `vat`: the days in the isolation vat after coming home, first and last included (None when the
    fish is not isolated there). The vat is all-in all-out between cohorts: fish home from
    different shows, or fish home from a show and fish healing, are never in it on the same day.
    """

    fish: str
    show: str
    merit_clean: int | None = field(compare=False)
    merit_marked: int | None = field(compare=False)
    needs_touch_up: bool = field(compare=False)
    length_cm: float = field(compare=False, default=0.0)
    points: float = field(compare=False, default=0.0)
    size_class: str = field(compare=False, default="")
    kg: float = field(compare=False, default=0.0)
    fee: float = field(compare=False, default=0.0)
    must: bool = field(compare=False, default=False)
    vat: tuple[date, date] | None = field(compare=False, default=None)


@dataclass(frozen=True, slots=True)
class ShowLimits:
    """What one show, and the one journey to it, allow. None: no such limit."""

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


@dataclass(frozen=True, slots=True)
class Problem:
    """All options and limits of a season.

    `apart`: pairs of shows the same fish cannot both go to (rest and isolation between them).
    `fish_per_day`: fish that can be touched up on one day. `touch_ups_per_fish`: at most so many.
    `spacing_days`: least days between two sedations of one fish, by (fish, earlier day) where it
    differs from `spacing_default`. `vat_holds`: places in the isolation vat. `fees`: budget.
    `fixed`: touch-ups already done or promised count in the limits as they stand: put them in as
    options named here too. `latest_day_rank` needs nothing: later days are better.
    """

    touch_ups: tuple[TouchUpOption, ...]
    entries: tuple[EntryOption, ...]
    shows: Mapping[str, ShowLimits]
    apart: frozenset[tuple[str, str]] = frozenset()
    fish_per_day: int = 3
    touch_ups_per_fish: int = 2
    spacing_default: int = 7
    spacing_days: Mapping[tuple[str, date], int] = field(default_factory=dict)
    vat_holds: int | None = None
    fees: float | None = None
    fixed: frozenset[tuple[str, date, str]] = frozenset()  # (fish, day, water)


@dataclass(frozen=True, slots=True)
class AimResult:
    """One aim: value, bound and whether it is proven.

    `within` says what the proof holds for: "everything", or "the entries chosen" where the
    entries were fixed before.
    """

    name: str
    value: float
    bound: float
    proven: bool
    within: str = "everything"


@dataclass(frozen=True, slots=True)
class Solution:
    """Entries (fish, show, clean?) and touch-ups (fish, day, water), each sorted."""

    merit: int
    entries: tuple[tuple[str, str, bool], ...]
    touch_ups: tuple[tuple[str, date, str], ...]
    aims: tuple[AimResult, ...]
    interrupted: bool = False
    feasible: bool = True
    why_not: str = ""  # in words, when nothing satisfies the musts


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to work: limited by work (nodes), so that a busy machine gives the same answer.

    `seconds` is a last resort; most of it goes to the first aim. `threads` are branches looked into
    side by side: what is proven is the same with any number of them.
    """

    seconds: float = 20.0
    nodes: int = 200_000
    threads: int = 2
