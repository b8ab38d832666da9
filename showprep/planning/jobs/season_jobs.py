"""Every dated job of a season, for the entries and touch-up days chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from showprep.planning.apart import apart_after
from showprep.planning.choice.problem import Solution
from showprep.planning.events import Events
from showprep.planning.jobs.of_fish import fish_jobs
from showprep.planning.jobs.of_home import home_jobs
from showprep.planning.jobs.of_shows import show_jobs
from showprep.planning.jobs.of_touch_ups import sessions_of, touch_up_jobs
from showprep.planning.jobs.of_vat import vat_jobs
from showprep.planning.jobs.of_waters import water_jobs
from showprep.planning.jobs.sending import Sending
from showprep.planning.plan import Task
from showprep.planning.prospects import Prospect
from showprep.planning.yard import Yard


def season_jobs(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], solution: Solution
) -> tuple[Task, ...]:
    """Every job, by day; all-day jobs first."""
    return tuple(sorted(_jobs(yard, prospects, solution), key=_by_day))


def _by_day(task: Task) -> tuple[date, bool, str, str]:
    hour = "" if task.all_day else str(task.start)
    return task.first_day, not task.all_day, hour, task.id


def _jobs(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], solution: Solution
) -> Iterator[Task]:
    going: dict[str, list[str]] = {}
    for fish, show, _ in solution.entries:
        going.setdefault(fish, []).append(show)
    for events, fish_ids in _goings(yard, solution):
        if events.standing == "planned" or apart_after(yard, events).last >= yard.on:
            yield from show_jobs(yard, events, fish_ids)
            yield from home_jobs(yard, events, fish_ids, going)
    yield from water_jobs(yard, sendings_of(yard, solution))
    sessions = sessions_of(yard, solution.touch_ups, going)
    yield from touch_up_jobs(yard, sessions, going)
    yield from vat_jobs(yard, sessions)
    yield from fish_jobs(yard, prospects, [(fish, show) for fish, show, _ in solution.entries])


def sendings_of(yard: Yard, solution: Solution) -> tuple[Sending, ...]:
    """The fish each water sends to each show, by departure."""
    goings = tuple(_goings(yard, solution))
    result = []
    for events, ids in goings:
        if events.standing != "planned":
            continue
        by_water: dict[str, list[str]] = {}
        for fish in ids:
            water = yard.state.fish[fish].water_on(events.departure_day)
            by_water.setdefault(water, []).append(fish)
        for water, some in sorted(by_water.items()):
            result.append(
                Sending(
                    events=events,
                    water=water,
                    fish=tuple(yard.state.fish[one] for one in some),
                    there_from=_there_from(yard, goings, events, some),
                )
            )
    return tuple(result)


def _there_from(
    yard: Yard,
    goings: Sequence[tuple[Events, tuple[str, ...]]],
    events: Events,
    fish: Sequence[str],
) -> date | None:
    """When the first of these fish is back among the others; None if one never left."""
    back = []
    for one in fish:
        before = [
            apart_after(yard, other).last + timedelta(days=1)
            for other, went in goings
            if one in went and other.departure < events.departure
        ]
        if not before:
            return None
        back.append(max(before))
    return min(back)


def _goings(yard: Yard, solution: Solution) -> Iterator[tuple[Events, tuple[str, ...]]]:
    """Shows with the fish that go, or that went as far as the journal tells."""
    for events in yard.events.values():
        if events.standing == "planned":
            fish = tuple(one for one, show, _ in solution.entries if show == events.show)
        else:
            fish = tuple(one.id for one in yard.fish_here() if events in yard.been_to(one))
        if fish:
            yield events, fish
