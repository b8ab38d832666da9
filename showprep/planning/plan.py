"""The Plan: a frozen record of all that the outputs show. No output computes a date.

Days are the keeper's local days. Times carry the show's time zone. `end` of an all-day job is its
last day, included; `Task.day_after` is the day after it, for formats whose ends are excluded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime, timedelta
from typing import Literal, TypeAlias

from msgspec import Struct, field

from showprep.husbandry.healing import Unit
from showprep.husbandry.reason import Blemish, Reason
from showprep.planning.entries.records import Binding as Binding
from showprep.planning.entries.records import Choice as Choice
from showprep.planning.entries.records import LeftOut as LeftOut
from showprep.planning.entries.records import PresumedForm
from showprep.season.values.quantities import Units

VerdictWord = Literal[
    "ready",
    "ready-after-touch-up",
    "tight",
    "as-it-is",
    "too-late",
    "vet-first",
    "not-eligible",
]
# What is told to a keeper; as words where they are still made below `outputs/words`.
Told: TypeAlias = Reason | str
# Worst last: the worst defect decides.
VERDICT_ORDER: tuple[VerdictWord, ...] = (
    "ready",
    "ready-after-touch-up",
    "tight",
    "as-it-is",
    "too-late",
    "vet-first",
    "not-eligible",
)


def worst(words: Iterable[VerdictWord]) -> VerdictWord | None:
    """The worst of several verdicts; None of none."""
    return max(words, key=VERDICT_ORDER.index, default=None)


SESSION_KINDS = ("touch-up", "ask-a-vet")
"""The jobs that are touch-up sessions: the keeper's own, or one to ask a vet about."""


class TouchUpChance(Struct, frozen=True):
    """A day for a touch-up and its chances, 0 to 1: healed by benching, not back by judging.

    `fit`: nothing speaks against handling the fish on it.
    """

    day: date
    healed: float
    not_back: float
    fit: bool = False

    @property
    def both(self) -> float:
        """The chance that a judge sees nothing of the speck."""
        return round(self.healed * self.not_back, 4)


class Doubt(Struct, frozen=True):
    """What is uncertain, and the share of all cases that is lost to it, 0 to 1.

    `need`: how slowly the fish heals; `base`: from which warmth on water heals; `water`: how warm
    it will be; `return`: when the speck is back. The four and the chance make 1; one that helps
    more often than it harms costs a little less than nothing.
    """

    of: Literal["need", "base", "water", "return"]
    costs: float


class PlannedTouchUp(Struct, frozen=True):
    """The window for taking off a speck, and the day chosen in it (None: none is planned).

    `earliest` to `latest` are the days whose chance is at least the keeper's `least_chance`.
    `best` is the best fit day. The chances are those of `day`, else of `best`; None without both.
    `usual_by` and `slow_by` are the last days that would be clean at the usual pace and in a slow
    case. `curve` has the chances of every day from today to departure, fit or not; `doubts` what
    is lost to each on `day`, else on `best`.
    """

    earliest: date | None
    latest: date | None
    best: date | None
    day: date | None
    chance_healed: float | None = None
    chance_not_back: float | None = None
    usual_by: date | None = None
    slow_by: date | None = None
    curve: tuple[TouchUpChance, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    defect: str = "shimi"
    water: str | None = None  # where it heals
    nothing_because: Reason | None = None  # why no day fits

    @property
    def today(self) -> TouchUpChance | None:
        """A touch-up on the day of the plan, fit or not."""
        return self.curve[0] if self.curve else None

    @property
    def chance(self) -> float | None:
        """The chance that a judge sees nothing of the speck, 0 to 1."""
        if self.chance_healed is None or self.chance_not_back is None:
            return None
        return round(self.chance_healed * self.chance_not_back, 4)


class HealingLine(Struct, frozen=True):
    """One milestone of one defect, calculated for one show.

    `curve` is what was gathered, in `unit`, at the end of each day from `start`, enough of it to
    draw; `short_days` is by how many days the usual requirement comes after `deadline` (None: in
    time). A day that is None is too slow to plan in this water, or, where the curve has passed
    the slow case, was overtaken by a look that still saw it.
    """

    defect: str
    where: str
    milestone: Literal["closed", "clean"]
    start: date
    after_touch_up: bool
    deadline: date
    low_on: date | None
    usual_on: date | None
    high_on: date | None
    short_days: int | None
    low: float
    usual: float
    high: float
    least_days: int
    unit: Unit
    grade: str
    water: str
    gathered_by_deadline: float
    curve: tuple[tuple[date, float], ...] = ()

    @property
    def too_slow(self) -> bool:
        """Is a day missing because of cold water, and not because of a look?"""
        return self.high_on is None and (not self.curve or self.curve[-1][1] < self.high)

    @property
    def verdict(self) -> VerdictWord:
        """What this milestone alone says: in time, in time but for a slow case, or not in time."""
        if self.usual_on is None or self.usual_on > self.deadline:
            return "too-late" if self.milestone == "closed" else "as-it-is"
        if self.high_on is None or self.high_on > self.deadline:
            return "tight"
        return "ready"


class ExpectedLength(Struct, frozen=True):
    """Expected length on the benching day, with a 95 % interval, in centimetres."""

    expected: float
    low: float
    high: float
    how: Reason


class ExpectedClass(Struct, frozen=True):
    """The class the fish is expected in, and every class inside the interval."""

    expected: str | None
    possible: tuple[str, ...]
    near_limit: Reason | None = None  # when a class limit is near


class WayOut(Struct, frozen=True):
    """Something that would change the answer, with its dates worked out."""

    reason: Reason
    on: date | None = None


class Verdict(Struct, frozen=True):
    """What can be said of one fish for one show."""

    fish: str
    show: str
    verdict: VerdictWord
    entered: bool
    merit: float | None  # the merit it is entered with, or would be; None where it cannot be
    reasons: tuple[Reason, ...]
    touch_up: PlannedTouchUp | None = None
    healing: tuple[HealingLine, ...] = ()
    length: ExpectedLength | None = None
    size_class: ExpectedClass | None = None
    cautions: tuple[Reason, ...] = ()
    first_day: date | None = None  # the first day it could be shown
    ways_out: tuple[WayOut, ...] = ()
    chance_clean: float | None = None  # that it shows no blemish, as it would go; 0 to 1
    chance_closed: float | None = None  # that every wound is closed by departure; 0 to 1

    def is_planned(self, healing: HealingLine) -> bool:
        """Is there such a wound, or will there be? A touch-up without a day is only supposed."""
        if not healing.after_touch_up or self.touch_up is None:
            return True
        return self.touch_up.day == healing.start


TaskMoment = date | datetime


class Task(Struct, frozen=True):
    """One dated job.

    `id` is made of ids and the kind of job, never of dates, names or order. `start` and `end` are
    both days (all-day job, `end` included) or both times with a zone. `alarm` is how long before
    the start a phone should ring; all-day jobs count from midnight at the start of the day.
    """

    id: str
    kind: str
    title: Reason
    fish: tuple[str, ...]
    show: str | None
    water: str | None
    start: TaskMoment
    end: TaskMoment
    all_day: bool
    hands: bool = False
    late: bool = False
    late_cost: Reason | None = None  # what being late costs
    cautions: tuple[Reason, ...] = ()
    note: Reason | None = None  # what to do
    counts_from: Reason | None = None  # the event or day its own day hangs on
    time_zone: str | None = None  # IANA name, timed jobs only
    alarm: timedelta | None = None
    grade: str = ""
    begun: bool = False  # of one that is kept for some days: the journal says that it has begun

    @property
    def first_day(self) -> date:
        return self.start.date() if isinstance(self.start, datetime) else self.start

    @property
    def last_day(self) -> date:
        return self.end.date() if isinstance(self.end, datetime) else self.end

    @property
    def day_after(self) -> date:
        """The day after the last one: the excluded end of RFC 5545 §3.6.1."""
        return self.last_day + timedelta(days=1)


class Warning_(Struct, frozen=True):
    """Something the keeper should know: `stop`, `warn` or `note`."""

    level: Literal["stop", "warn", "note"]
    reason: Reason
    fish: str | None = None
    show: str | None = None


class Ask(Struct, frozen=True):
    """What was presumed as nobody wrote it down: the question, and the note that settles it."""

    question: Reason
    note: Reason
    fish: tuple[str, ...] = ()
    show: str | None = None
    water: str | None = None


class Span(Struct, frozen=True):
    """A stretch of time in one fish's season, to draw; `to_slow` is where the slow case ends.

    `of` is the kind of defect that heals, or the kind of job; empty at a show.
    """

    fish: str
    kind: Literal["touch-up", "closed", "clean", "fast", "isolation", "look-back", "at-show"]
    start: date
    end: date
    to_slow: date | None
    of: str
    show: str | None = None
    in_time: bool | None = None


class ShowLine(Struct, frozen=True):
    """One show with its events; `standing` says whether it is planned."""

    id: str
    name: str
    standing: Literal["planned", "past", "cancelled"]
    time_zone: str
    judging: datetime
    departure: datetime
    latest_departure: datetime
    arrive_from: datetime
    arrive_to: datetime
    benching: datetime
    check_out: datetime
    home: datetime
    entries_close: date | None
    water_c: float | None
    altered_fish: str
    entered: tuple[str, ...] = ()
    limits: tuple[Reason, ...] = ()
    declaration: tuple[Reason, ...] = ()  # may it be signed, and if not, the ways out
    place: str | None = None  # where it is, as the keeper wrote it
    form_in: date | None = None  # when the form was sent, or entries closed, if that is over
    free_from: date | None = None  # who was there may leave for another show: rested, not apart


class FishLine(Struct, frozen=True):
    """One fish as the outputs name it."""

    id: str
    name: str
    variety: str
    lives_in: str
    merit: float
    defects: tuple[Blemish, ...] = ()
    gone: str | None = None  # "sold", "lost"
    photos: tuple[str, ...] = ()
    length_cm: float | None = None
    weight_kg: float | None = None
    weight_estimated: bool = True


class WaterLine(Struct, frozen=True):
    """The daily mean temperature of one water over the plan, and what was read in it."""

    name: str
    start: date
    means_c: tuple[float, ...]
    readings: tuple[tuple[date, float], ...] = ()


class PaceRow(Struct, frozen=True):
    """One figure of the table beside this yard's own: low, usual and high, and what it rests on."""

    kind: str  # of defect
    milestone: Literal["closed", "clean", "back"]
    unit: str
    table: tuple[float, float, float]
    own: tuple[float, float, float]
    looks: int
    used: bool


class Change(Struct, frozen=True):
    """What differs from the plan made before, job by job, and why."""

    kind: Literal["new", "moved", "gone", "verdict", "done"]
    what: Reason
    why: tuple[Reason, ...] = ()


class Plan(Struct, frozen=True):
    """A season worked out on one day."""

    season: str
    planned_on: date
    time_zone: str
    units: Units
    shows: tuple[ShowLine, ...]
    fish: tuple[FishLine, ...]
    waters: tuple[WaterLine, ...]
    verdicts: tuple[Verdict, ...]
    tasks: tuple[Task, ...]
    warnings: tuple[Warning_, ...]
    choice: Choice
    asks: tuple[Ask, ...] = ()
    presumed_gone: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # fish, by show
    presumed_forms: Mapping[str, PresumedForm] = field(default_factory=dict)  # by show
    # The water in which plans had a touch-up heal, by fish and by its day.
    healed_in: Mapping[str, Mapping[date, str]] = field(default_factory=dict)
    spans: tuple[Span, ...] = ()
    changes: tuple[Change, ...] = ()
    pace: tuple[PaceRow, ...] = ()
    cautions: tuple[Reason, ...] = field(default=())
    fish_gone: tuple[tuple[str, str], ...] = ()  # id and name of fish that are here no more
    away: tuple[tuple[date, date], ...] = ()  # first and last day that nobody is there
    tells_most: Reason | None = None  # the look or reading that would move the next decision most
    identity: str = ""  # the season's, in the name of every job in a calendar
