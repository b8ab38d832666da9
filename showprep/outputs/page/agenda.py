"""The jobs in the order a keeper needs them: late, today, the next working days, after that.

Nothing is dated here: the plan's own jobs are sorted by the days they already have.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from showprep.planning.plan import Plan, Task
from showprep.season.days import MONTHS, WEEKDAYS

SHOWN_AFTER = 6
FAR = 9  # days: beyond this the next working day is not "next weekend"


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
    """The plan's jobs, each in exactly one of the first six lists; `months` holds all again."""

    late: tuple[Task, ...]
    today: tuple[Task, ...]
    going_on: tuple[Task, ...]
    next_heading: str
    next_days: tuple[DayJobs, ...]
    meanwhile: tuple[Task, ...]
    after: tuple[Task, ...]
    months: tuple[Month, ...]


def agenda_of(plan: Plan) -> Agenda:
    """Sort the plan's jobs, as seen on the day it was made."""
    on = plan.planned_on
    open_tasks = sorted(plan.tasks, key=lambda task: (task.first_day, not task.hands, task.id))
    late = [task for task in open_tasks if task.late]
    rest = [task for task in open_tasks if not task.late and task.last_day >= on]
    today = [task for task in rest if task.first_day == on]
    going_on = [task for task in rest if task.first_day < on]
    coming = [task for task in rest if task.first_day > on]
    next_days = _next_days(coming, on)
    last = max((one.day for one in next_days), default=on)
    taken = {task.id for one in next_days for task in one.tasks}
    others = [task for task in coming if task.id not in taken]
    meanwhile = [task for task in others if task.first_day <= last]
    after = [task for task in others if task.first_day > last]
    return Agenda(
        late=tuple(late),
        today=tuple(today),
        going_on=tuple(going_on),
        next_heading=_heading(next_days),
        next_days=next_days,
        meanwhile=tuple(meanwhile),
        after=tuple(after[:SHOWN_AFTER]),
        months=_months(open_tasks),
    )


def _next_days(coming: list[Task], on: date) -> tuple[DayJobs, ...]:
    """The first day that needs hands, and the day after it when that needs them too."""
    handy = [task for task in coming if task.hands]
    if not handy:
        return ()
    first = handy[0].first_day
    near = [task for task in coming if 0 <= (task.first_day - first).days <= 1]
    return tuple(
        DayJobs(day, (day - on).days, tuple(tasks))
        for day, tasks in groupby(near, key=lambda task: task.first_day)
        if day == first or _near_enough(day, first)
    )


def _near_enough(day: date, first: date) -> bool:
    # Saturday and Sunday belong together; Sunday and Monday do not.
    return first.weekday() == 5 or (first.weekday() < 5 and day.weekday() < 5)


def _heading(next_days: tuple[DayJobs, ...]) -> str:
    if not next_days:
        return "Nothing more needs your hands"
    first = next_days[0]
    if first.days_off > FAR:
        return f"Nothing needs your hands for {first.days_off} days"
    if first.day.weekday() < 5:
        return f"Next, on {WEEKDAYS[first.day.weekday()].title()}"
    if first.days_off == 1:
        return "Tomorrow"
    return "The coming weekend" if first.days_off < 7 else "Next weekend"


def _months(tasks: Iterable[Task]) -> tuple[Month, ...]:
    grouped = groupby(tasks, key=lambda task: (task.first_day.year, task.first_day.month))
    return tuple(
        Month(f"{MONTHS[month - 1]} {year}", tuple(some)) for (year, month), some in grouped
    )
