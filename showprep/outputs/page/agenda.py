"""The jobs in the order a keeper needs them: the next working days, what is late, what follows.

Nothing is dated here: the plan's own jobs are sorted by the days they already have.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from itertools import groupby

from showprep.planning.plan import Plan, Task
from showprep.season.days import MONTHS, WEEKDAYS

SHOWN_AFTER = 8
FAR = 9  # days: beyond this the next working day is not "the coming weekend"
SATURDAY = 5


@dataclass(frozen=True, slots=True)
class DayJobs:
    """The jobs that begin on one day, and how many days off it is."""

    day: date
    days_off: int
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class Month:
    """The jobs that begin in one month."""

    name: str
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class Agenda:
    """The plan's jobs, each in one list at most; `months` holds all of them again.

    `next_days` are the first days from today that need hands, with all that begins on them.
    """

    next_heading: str
    next_days: tuple[DayJobs, ...]
    late: tuple[Task, ...]
    today: tuple[Task, ...]
    going_on: tuple[Task, ...]
    meanwhile: tuple[Task, ...]
    after: tuple[Task, ...]
    months: tuple[Month, ...]


def by_start(task: Task) -> tuple[date, time, str]:
    """Sorts jobs by day, all-day ones first, then by the time of day."""
    at = task.start.time() if isinstance(task.start, datetime) else time.min
    return task.first_day, at, task.id


def agenda_of(plan: Plan) -> Agenda:
    """Sort the plan's jobs, as seen on the day it was made."""
    on = plan.planned_on
    every = sorted(plan.tasks, key=by_start)
    rest = [task for task in every if not task.late and task.last_day >= on]
    coming = [task for task in rest if task.first_day >= on]
    next_days = _next_days(coming, on)
    last = max((one.day for one in next_days), default=on)
    taken = {task.id for one in next_days for task in one.tasks}
    others = [task for task in coming if task.id not in taken]
    after = [task for task in others if task.first_day > last]
    return Agenda(
        next_heading=_heading(next_days),
        next_days=next_days,
        late=tuple(task for task in every if task.late),
        today=tuple(task for task in others if task.first_day == on),
        going_on=tuple(task for task in rest if task.first_day < on),
        meanwhile=tuple(task for task in others if on < task.first_day <= last),
        after=tuple(after[:SHOWN_AFTER]),
        months=_months(every),
    )


def _next_days(coming: list[Task], on: date) -> tuple[DayJobs, ...]:
    """The first day that needs hands, and the day after it when the two belong together."""
    handy = [task for task in coming if task.hands]
    if not handy:
        return ()
    first = handy[0].first_day
    near = [task for task in coming if 0 <= (task.first_day - first).days <= 1]
    return tuple(
        DayJobs(day, (day - on).days, tuple(sorted(tasks, key=lambda one: not one.hands)))
        for day, tasks in groupby(near, key=lambda task: task.first_day)
        if day == first or _together(first, day)
    )


def _together(first: date, day: date) -> bool:
    """Saturday and Sunday belong together; Sunday and Monday do not."""
    return first.weekday() == SATURDAY or (first.weekday() < 5 and day.weekday() < 5)


def _heading(next_days: tuple[DayJobs, ...]) -> str:
    if not next_days:
        return "Nothing more needs your hands"
    first = next_days[0]
    weekend = first.day.weekday() >= SATURDAY
    if first.days_off > FAR:
        return f"Nothing needs your hands for {first.days_off} days"
    if first.days_off == 0:
        return "This weekend" if weekend else "Today"
    if first.days_off == 1:
        return "Tomorrow"
    if not weekend:
        return f"Next, on {WEEKDAYS[first.day.weekday()].title()}"
    return "The coming weekend" if first.days_off < 7 else "Next weekend"


def _months(tasks: Iterable[Task]) -> tuple[Month, ...]:
    grouped = groupby(tasks, key=lambda task: (task.first_day.year, task.first_day.month))
    return tuple(
        Month(f"{MONTHS[month - 1]} {year}", tuple(some)) for (year, month), some in grouped
    )
