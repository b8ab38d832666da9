"""What a phone shows of a job in a list, some thirty characters, and how often it rings.

Thirty characters and two alarms a day are common practice, no source.
"""

from __future__ import annotations

import re
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime
from itertools import chain
from pathlib import Path

import pytest

from showprep.outputs.calendar.jobs import Job, jobs_of
from showprep.outputs.words.answer import short_names
from showprep.planning.plan import Plan
from showprep.planning.season_plan import worked_out
from showprep.planning.yard.presumed import yard_as_known
from showprep.season.reading import read_season
from tests.planning import test_day_by_day, test_stops
from tests.storms import storm

SAMPLES = Path(__file__).parents[3] / "samples"
LONGEST = 30
DAYS = (date(2027, 5, 1), date(2027, 6, 10))


def plans() -> Iterator[Plan]:
    for sample in ("first-show", "spring-circuit", "cold-pond"):
        for on in DAYS:
            yield planned(SAMPLES / sample, on)
    for number in range(storm(6, 60)):
        for files, on in ((test_day_by_day.files, date(2027, 4, 25)), (test_stops.files, DAYS[0])):
            with tempfile.TemporaryDirectory() as folder:
                for name, text in files(number).items():
                    (Path(folder) / name).write_text(str(text), encoding="utf-8")
                yield planned(Path(folder), on)


def planned(folder: Path, on: date) -> Plan:
    return worked_out(yard_as_known(read_season(folder, on).season, on), "s", costs=False)[1]


@pytest.fixture(scope="module")
def calendars() -> list[tuple[Plan, tuple[Job, ...]]]:
    return [(plan, jobs_of(plan, plan.tasks)) for plan in plans()]


def first_day(job: Job) -> date:
    return job.start.date() if isinstance(job.start, datetime) else job.start


def test_titles_of_one_day_differ_in_what_a_phone_shows(calendars: list) -> None:
    for _, jobs in calendars:
        days: dict[date, list[str]] = defaultdict(list)
        for job in jobs:
            days[first_day(job)].append(job.summary[:LONGEST])
        for day, titles in days.items():
            assert len(set(titles)) == len(titles), (day, sorted(titles))


def test_the_job_comes_first_and_the_show_last(calendars: list) -> None:
    for plan, jobs in calendars:
        shows = short_names({show.id: show.name for show in plan.shows}).values()
        for job in jobs:
            named = [job.summary.find(one) for one in shows if one in job.summary]
            assert all(at >= len("Judging: ") for at in named), job.summary
            if job.about.kind not in ("late", "heat", "look", "clear-check", "dose"):
                what = job.summary.partition(":")[0] if ":" in job.summary else job.summary
                assert (
                    len(what) <= LONGEST or "back from the" in what or what.startswith("Ramp with")
                )
            full = {show.name for show in plan.shows if show.id == job.about.show}
            if any(one in job.summary for one in shows) and job.about.show:
                assert any(name in f"{job.summary}\n{job.description}" for name in full)


def test_no_day_rings_more_than_twice_and_a_journey_in_its_order(calendars: list) -> None:
    rang = 0
    for plan, jobs in calendars:
        days: dict[date, list[str]] = defaultdict(list)
        for job in jobs:
            if job.alarm is not None:
                start = job.start
                if not isinstance(start, datetime):
                    start = datetime.combine(start, datetime.min.time())
                days[(start - job.alarm).date()].append(job.summary)
        assert all(len(rings) <= 2 for rings in days.values()), days
        rings = {task.id: task.start - task.alarm for task in plan.tasks if task.alarm is not None}
        for show in plan.shows:
            if f"{show.id}/bag" in rings:
                assert rings[f"{show.id}/bag"] < rings[f"{show.id}/departure"]
                rang += 1
        kinds = {task.kind for task in plan.tasks if task.alarm is not None}
        assert not kinds & {"judging", "benching", "check-out", "entries-close", "no-food"}
    assert rang
    every = {
        task.kind
        for task in chain(*(plan.tasks for plan, _ in calendars))
        if task.alarm is not None
    }
    assert {"touch-up", "stop-feeding", "look-back", "final-check", "isolation-ready"} <= every
    assert {"bag", "departure", "send-entry"} <= every


def test_what_a_phone_is_told_needs_no_computer(calendars: list) -> None:
    """No command, file or option, no grade of a figure: they cannot be followed beside the pond."""
    not_there = re.compile(r"showprep|\.ya?ml|`| --\w|\bassum|common practice|no source|figures?:")
    for _, jobs in calendars:
        for job in jobs:
            assert not not_there.search(job.description), job.description
            assert not not_there.search(job.summary), job.summary
