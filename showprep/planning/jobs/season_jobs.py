"""Every dated job of a season, for the entries and touch-up days chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta

from msgspec.structs import replace

from showprep.planning.as_of.state import FishState
from showprep.planning.jobs.draft import Draft, place
from showprep.planning.jobs.of_feeding import feeding_jobs
from showprep.planning.jobs.of_finds import find_jobs
from showprep.planning.jobs.of_fish import fish_jobs
from showprep.planning.jobs.of_heat import heat_jobs
from showprep.planning.jobs.of_home import home_jobs
from showprep.planning.jobs.of_shows import show_jobs
from showprep.planning.jobs.of_steps import step_jobs
from showprep.planning.jobs.of_touch_ups import Session, sessions_of, touch_up_jobs
from showprep.planning.jobs.of_vat import into_vat_jobs, vat_back_jobs, vat_jobs
from showprep.planning.jobs.sending import Sending
from showprep.planning.plan import Task
from showprep.planning.verdicts.prospects import Prospect
from showprep.planning.yard.apart import followed_until
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard
from showprep.selection.problem import Solution

RINGS_A_DAY = 2
RINGS = (
    *("touch-up", "ask-a-vet", "bag", "departure", "unfed-before-touch-up", "stop-feeding"),
    *("look-back", "final-check", "ring-organiser", "isolation-ready", "send-entry"),
)
"""The kinds of jobs that ring first where more of one day would; the rest come after them."""


def season_jobs(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], solution: Solution
) -> tuple[Task, ...]:
    """Every job, by day; all-day jobs first."""
    drafts = _drafts(yard, prospects, solution)
    placed = (one if isinstance(one, Task) else place(yard, one) for one in drafts)
    return _rung(yard.on, sorted((task for task in placed if task is not None), key=_by_day))


def _rung(on: date, tasks: Sequence[Task]) -> tuple[Task, ...]:
    """The tasks, of which no more than two ring on one day: a phone that rings often is hushed.

    What is late rings once for all of it, on the day `on` of the plan.
    """
    rings: dict[date, list[Task]] = {}
    for task in tasks:
        if task.alarm is not None and not task.late:
            rings.setdefault(_rings_on(task, task.alarm), []).append(task)
    late = any(task.late for task in tasks)
    hushed = {
        task.id
        for day, some in rings.items()
        for task in sorted(some, key=_urgency)[RINGS_A_DAY - (late and day == on) :]
    }
    return tuple(replace(task, alarm=None) if task.id in hushed else task for task in tasks)


def _rings_on(task: Task, before: timedelta) -> date:
    """The day of the alarm, on the clock of the job."""
    start = task.start
    if not isinstance(start, datetime):
        start = datetime.combine(start, time())
    return (start - before).date()


def _urgency(task: Task) -> tuple[int, str]:
    return (RINGS.index(task.kind) if task.kind in RINGS else len(RINGS), task.id)


def _by_day(task: Task) -> tuple[date, bool, str, str]:
    hour = "" if task.all_day else str(task.start)
    return task.first_day, not task.all_day, hour, task.id


def _drafts(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], solution: Solution
) -> Iterator[Draft | Task]:
    """Every job before it has its day; those with a time of day, of a journey, have theirs."""
    going, reserves = _shows_of(yard), dict(solution.reserves)
    for events, fish_ids in _goings(yard):
        if events.standing == "planned" or followed_until(yard, events) >= yard.on:
            yield from show_jobs(yard, events, fish_ids, reserves.get(events.show))
            yield from home_jobs(yard, events, fish_ids)
    yield from step_jobs(yard)
    sessions = sessions_planned(yard, solution)
    yield from feeding_jobs(yard, sendings_of(yard, past=True), sessions)
    yield from touch_up_jobs(yard, sessions, going)
    yield from vat_jobs(yard, sessions)
    yield from into_vat_jobs(yard)
    yield from vat_back_jobs(yard)
    yield from find_jobs(yard)
    yield from heat_jobs(yard)
    yield from fish_jobs(yard, prospects, [(fish, show) for fish, show, _ in solution.entries])


def sessions_planned(yard: Yard, solution: Solution) -> tuple[Session, ...]:
    """The touch-up sessions that the choice has fixed."""
    return sessions_of(yard, solution.touch_ups, _shows_of(yard))


def _shows_of(yard: Yard) -> dict[str, list[str]]:
    """By fish: the shows it goes or went to."""
    going: dict[str, list[str]] = {}
    for one in yard.courses.goings:
        going.setdefault(one.fish, []).append(one.show)
    return going


def sendings_of(yard: Yard, *, past: bool = False) -> tuple[Sending, ...]:
    """The fish each water sends to each show, by departure; with `past`, also those that left."""
    result = []
    for events, ids in _goings(yard):
        if events.standing != "planned" and not past:
            continue
        by_water: dict[tuple[str, str], list[FishState]] = {}
        for one in ids:
            fish = yard.state.fish[one]
            step = yard.course(fish).leaving_for(events.show)
            assert step is not None and step.from_water is not None  # it goes there from a water
            leaves = step.from_water
            water = yard.course(fish).fed_in_before(events.show) or leaves
            by_water.setdefault((water, leaves), []).append(fish)
        for (water, leaves), some in sorted(by_water.items()):
            result.append(
                Sending(
                    events=events,
                    water=water,
                    fish=tuple(some),
                    there_from=_there_from(yard, some, events, water),
                    fasts_in=leaves,
                )
            )
    return tuple(result)


def _there_from(yard: Yard, fish: Sequence[FishState], events: Events, water: str) -> date | None:
    """When the first of these fish is in its water to stay; None if one was there all along."""
    since = [
        [
            stay.first
            for stay in yard.course(one).stays
            if stay.water == water and stay.first < events.departure_day
        ][-1]
        for one in fish
    ]
    first = min(since)
    return None if first == date.min else first


def _goings(yard: Yard) -> Iterator[tuple[Events, tuple[str, ...]]]:
    """Shows with the fish that go, or that went: written down, presumed or planned."""
    for events in yard.events.values():
        here = [yard.state.fish[one.fish] for one in yard.courses.going_to(events.show)]
        fish = tuple(one.id for one in here if one.gone is None)
        if fish:
            yield events, fish
