"""The plan's jobs as a keeper works through them: today, this week, what is late, what follows."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from itertools import groupby

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import FishId, Reason, reason
from showprep.planning.plan import SESSION_KINDS, Ask, Plan, ShowLine, Task, Verdict

WEEK = timedelta(days=7)
SATURDAY = 5
LOOKS = ("look", "look-back")
FRESH_DAYS = 3  # a reading this young needs no other
NEAR_DAYS = 10  # a slow case this near its deadline hangs on the warmth of the water
STALE_DAYS = 21  # from here on a reading says next to nothing any more


class WaterJobs(Struct, frozen=True):
    """Jobs of one water (None: of no water in particular)."""

    water: str | None
    tasks: tuple[Task, ...]


class DayJobs(Struct, frozen=True):
    """The jobs that begin on one day, and how many days off it is."""

    day: date
    days_off: int
    tasks: tuple[Task, ...]


class MonthJobs(Struct, frozen=True):
    """The jobs that begin in one month, told by its first day."""

    month: date
    tasks: tuple[Task, ...]


class WantedReading(Struct, frozen=True):
    """The water whose temperature would tell most, and why."""

    water: str
    last_on: date | None
    why: Reason


class Agenda(Struct, frozen=True):
    """A plan as it is worked through: today, this week, what is late, what follows.

    A job is late, going on, to look at, or coming; `months` holds all of them again. Of those
    coming, `next_days` are the first days that need hands, with all that begins on them. `days`
    has what begins from today on, looks too: on a first screen a look is a job of its day.
    """

    season: str
    on: date
    stop: tuple[Reason, ...]
    asks: tuple[Ask, ...]  # what nobody wrote down
    late: tuple[Task, ...]  # the ill first; then what was due last: most can be saved of it
    going_on: tuple[Task, ...]  # begun before, not over
    look_at: tuple[Task, ...]  # looks and look-backs due by the end of the week, or late
    coming: tuple[DayJobs, ...]  # from today on
    days: tuple[DayJobs, ...]
    next_days: tuple[DayJobs, ...]
    months: tuple[MonthJobs, ...]
    reading: WantedReading | None
    tells_most: Reason | None
    next_show: ShowLine | None

    @property
    def today(self) -> tuple[Task, ...]:
        """What begins today."""
        return tuple(task for one in self.coming if one.day == self.on for task in one.tasks)

    @property
    def hands(self) -> tuple[WaterJobs, ...]:
        """Today, with hands free."""
        return _by_water(task for task in self.today if task.hands)

    @property
    def besides(self) -> tuple[WaterJobs, ...]:
        """Today, in passing."""
        return _by_water(task for task in self.today if not task.hands)

    @property
    def week(self) -> tuple[DayJobs, ...]:
        """The seven days after today."""
        return tuple(one for one in self.coming if 0 < one.days_off <= WEEK.days)

    @property
    def overdue(self) -> tuple[Task, ...]:
        """What is late, looks too."""
        return (*self.late, *(task for task in self.look_at if task.late))

    @property
    def begin(self) -> tuple[Task, ...]:
        """What begins today, looks too, and the looks that may still be made."""
        open_ = (task for task in self.look_at if not task.late and task.first_day < self.on)
        today = (task for one in self.days if one.day == self.on for task in one.tasks)
        return (*today, *open_)

    @property
    def days_of_week(self) -> tuple[DayJobs, ...]:
        """The seven days after today, looks too."""
        return tuple(one for one in self.days if 0 < one.days_off <= WEEK.days)

    @property
    def ahead(self) -> tuple[DayJobs, ...]:
        """The days of this week, and the next with any job, with hands and with a touch-up."""
        after = [one for one in self.days if one.day > self.on]
        hands = [one for one in after if any(task.hands for task in one.tasks)]
        cuts = [one for one in after if any(task.kind in SESSION_KINDS for task in one.tasks)]
        days = {one.day: one for one in (*self.days_of_week, *after[:1], *hands[:1], *cuts[:1])}
        return tuple(days[day] for day in sorted(days))

    @property
    def near(self) -> tuple[Task, ...]:
        """All that is late, goes on, or begins on a day named by `ahead`, or today."""
        ahead = (task for one in self.ahead for task in one.tasks)
        return (*self.overdue, *self.going_on, *self.begin, *ahead)

    @property
    def meanwhile(self) -> tuple[Task, ...]:
        """What begins after today and before `next_days`."""
        first = min((one.day for one in self.next_days), default=self.on)
        days = [one for one in self.coming if self.on < one.day < first]
        return tuple(task for one in days for task in one.tasks)

    @property
    def after(self) -> tuple[Task, ...]:
        """What begins after the last of `next_days`, or after today where there are none."""
        last = max((one.day for one in self.next_days), default=self.on)
        return tuple(task for one in self.coming if one.day > last for task in one.tasks)


def by_start(task: Task) -> tuple[date, time, str]:
    """Sorts jobs by day, all-day ones first, then by the time of day."""
    at = task.start.time() if isinstance(task.start, datetime) else time.min
    return task.first_day, at, task.id


def most_first(tasks: Iterable[Task]) -> tuple[Task, ...]:
    """Jobs of one day by what hangs on them: a touch-up, a look at a wound, what needs hands."""

    def hangs_less(one: Task) -> tuple[bool, bool, bool]:
        return one.kind not in SESSION_KINDS, one.kind not in LOOKS, not one.hands

    return tuple(sorted(tasks, key=hangs_less))


def agenda_of(plan: Plan) -> Agenda:
    """The plan's jobs, sorted as seen on the day it was made."""
    on = plan.planned_on
    every = sorted(plan.tasks, key=by_start)
    soon = {one.id for one in every if one.kind in LOOKS and one.first_day <= on + WEEK}
    rest = [one for one in every if one.id not in soon]
    coming = tuple(_by_day((one for one in rest if not one.late and one.first_day >= on), on))
    return Agenda(
        season=plan.season,
        on=on,
        stop=tuple(one.reason for one in plan.warnings if one.level == "stop"),
        asks=plan.asks,
        late=tuple(sorted((one for one in rest if one.late), key=_latest_due_first)),
        going_on=tuple(one for one in rest if not one.late and one.first_day < on <= one.last_day),
        look_at=tuple(one for one in every if one.id in soon),
        coming=coming,
        days=tuple(_by_day((one for one in every if not one.late and one.first_day >= on), on)),
        next_days=tuple(_next_days(coming)),
        months=tuple(_by_month(every)),
        reading=wanted_reading(plan),
        tells_most=plan.tells_most,
        next_show=next((one for one in plan.shows if one.standing == "planned"), None),
    )


def _next_days(coming: Iterable[DayJobs]) -> Iterable[DayJobs]:
    """The first day that needs hands, and the day after it when the two belong together."""
    first: date | None = None
    for one in coming:
        if first is None and any(task.hands for task in one.tasks):
            first = one.day
        if first is not None and (one.day == first or _together(first, one.day)):
            yield replace(one, tasks=tuple(sorted(one.tasks, key=lambda task: not task.hands)))


def _together(first: date, day: date) -> bool:
    """Two days on end: Saturday and Sunday belong together, Sunday and Monday do not."""
    weekend = first.weekday() == SATURDAY
    return (day - first).days == 1 and (weekend or (first.weekday() < 5 and day.weekday() < 5))


def _latest_due_first(task: Task) -> tuple[bool, int, str]:
    return task.kind != "vet", -task.last_day.toordinal(), task.id


def wanted_reading(plan: Plan) -> WantedReading | None:
    """The reading that would help most: where most hangs on a water that was not read for long.

    A fish counts for the water it heals in, three times over where the slow case ends within
    ten days of its deadline. Readings of the last three days are good enough.
    """
    best: tuple[float, str] | None = None
    last_on: dict[str, date | None] = {}
    hanging = _hanging(plan)
    for water in plan.waters:
        last_on[water.name] = max((day for day, _ in water.readings), default=None)
        age = _age(last_on[water.name], plan.planned_on)
        weight = sum(hanging.get(water.name, {}).values()) * min(age, STALE_DAYS)
        if age > FRESH_DAYS and weight > 0 and (best is None or weight > best[0]):
            best = (weight, water.name)
    if best is None:
        return None
    name = best[1]
    why = _why(plan, last_on[name], hanging[name])
    return WantedReading(name, last_on[name], why)


def _hanging(plan: Plan) -> dict[str, dict[str, float]]:
    """By water: the fish whose healing or touch-up is still to come in it, with their weight."""
    found: dict[str, dict[str, float]] = {}
    for verdict in plan.verdicts:
        for water, weight in _of_verdict(verdict, plan.planned_on):
            weights = found.setdefault(water, {})
            weights[verdict.fish] = max(weight, weights.get(verdict.fish, 0))
    return found


def _of_verdict(verdict: Verdict, on: date) -> Iterable[tuple[str, float]]:
    for healing in verdict.healing:
        supposed = not verdict.is_planned(healing) and healing.start >= on
        if healing.unit != "degree-days" or supposed:
            continue
        slow = healing.high_on
        if slow is not None and slow <= on:
            continue
        near = slow is None or abs((healing.deadline - slow).days) <= NEAR_DAYS
        yield healing.water, 3.0 if near else 1.0


def _age(last: date | None, on: date) -> int:
    return STALE_DAYS if last is None else (on - last).days


def _why(plan: Plan, last: date | None, weights: dict[str, float]) -> Reason:
    first = sorted(weights, key=lambda one: (-weights[one], one))
    fish, more = tuple(FishId(one) for one in first[:3]), max(0, len(first) - 3)
    if last is None:
        return reason("not-read-of-late", fish=fish, more=more)
    age = (plan.planned_on - last).days
    return reason("reading-is-old", last=last, days=age, fish=fish, more=more)


def _by_water(tasks: Iterable[Task]) -> tuple[WaterJobs, ...]:
    """By water in the order of the alphabet, jobs of no water last."""
    found: dict[str, list[Task]] = {}
    for task in tasks:
        found.setdefault(task.water or "", []).append(task)
    order = sorted(found, key=lambda name: (not name, name))
    return tuple(WaterJobs(name or None, tuple(found[name])) for name in order)


def _by_day(tasks: Iterable[Task], on: date) -> Iterable[DayJobs]:
    for day, some in groupby(tasks, key=lambda task: task.first_day):
        yield DayJobs(day, (day - on).days, tuple(some))


def _by_month(tasks: Iterable[Task]) -> Iterable[MonthJobs]:
    for month, some in groupby(tasks, key=lambda task: task.first_day.replace(day=1)):
        yield MonthJobs(month, tuple(some))
