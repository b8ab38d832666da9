"""What a phone shows of a job in a list, some thirty characters, and how often it rings.

Thirty characters and two alarms a day are common practice, no source.
"""

from __future__ import annotations

import re
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import chain
from pathlib import Path
from typing import Any, get_args

import pytest

from showprep.husbandry.figure_record import Grade
from showprep.outputs.calendar.jobs import Job, jobs_of
from showprep.outputs.words.answer import short_names
from showprep.outputs.words.speaker import Speaker
from showprep.planning.jobs.of_shows import job_table
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


# What the seasons above never ask for: the law is not stated, papers and places are to be had, the
# way is long, one fish is heavy, one water has a find, one fish heals in the vat.
RARE = {
    "keeper.yaml": """\
time_zone: Europe/Dublin
work_days: []
also_work_on: [2027-05-15, 2027-06-12]
waters:
  pond: {litres: 20000, steady_c: 14}
  tub: {litres: 3000, steady_c: 20}
  vat: {litres: 4000, steady_c: 22}
isolation: {water: vat, holds: 4}
touch_up: {by: keeper, bath_litres: 30, strength_percent: 10}
carrying: {boxes: 4}
preferences: {heal_in_vat: yes, speck_returns_after_weeks: 12}
""",
    "shows.yaml": """\
ash:
  name: Ash Show
  judging: 2027-07-03 10:00
  arrive: {from: 2027-07-02 15:00, to: 2027-07-02 20:00}
  check_out: 2027-07-04 14:00
  entries_close: 2027-06-01
  photos_due: 2027-05-20
  vat_booked_by: 2027-05-24
  health_certificate: yes
  declaration_months: 6
  travel_hours: 10
  altered_fish: tolerated
  water_c: 14
""",
    "fish.yaml": """\
aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80, lengths_cm: {2027-03-01: 50}, defects:
  [{kind: shimi, where: left flank, size_mm: 2, seen: 2027-03-20, merit_lost: 10}]}
ben: {name: Ben, variety: showa, lives_in: pond, merit: 75, lengths_cm: {2027-03-01: 48}, defects:
  [{kind: net-mark, where: back, seen: 2027-04-01, merit_lost: 5}]}
cho: {name: Cho, variety: sanke, lives_in: tub, merit: 70, lengths_cm: {2027-03-01: 40}}
dai: {name: Dai, variety: chagoi, lives_in: pond, merit: 85, lengths_cm: {2027-03-01: 82}}
""",
    "journal.yaml": """\
- {on: 2027-04-01, saw: parasites, water: tub, parasite: flukes}
- {on: 2027-04-02, did: treatment, water: tub, treatment: praziquantel}
""",
}
OF_NO_USE_THERE = re.compile(
    r"showprep|`|\w\.(?:ya?ml|md|toml|json|ics)\b|docs/|\w_\w| --\w|figures?:|no source|assum|"
    + "|".join(map(re.escape, get_args(Grade)))
)


def test_what_a_phone_is_told_needs_no_computer(calendars: list, folder: Any) -> None:
    """No command, file, key or option, no grade of a figure: of no use beside the pond."""
    rare = planned(folder(RARE), date(2027, 4, 2))
    every, kinds, late = [*calendars, (rare, jobs_of(rare, rare.tasks))], set(), 0
    for plan, jobs in every:
        kinds |= {task.kind for task in plan.tasks}
        late += any(job.about.kind == "late" for job in jobs)
        for job in jobs:
            told = f"{job.summary}\n{job.description}"
            assert not OF_NO_USE_THERE.search(told), told
    assert late and {row.kind for row in job_table()} <= kinds
    assert {"ask-a-vet", "ring-vet", "dose", "look", "vat-back", "change-water", "oxygen"} <= kinds
    assert {"feed-half", "red-spots", "vet", "heat", "ring-organiser", "clear-check"} <= kinds
    assert {"warm-after-show", "way-home", "isolation", "isolation-clear", "to-holding"} <= kinds


def test_what_others_are_told_keeps_the_command_and_the_grade(folder: Any) -> None:
    plan = planned(folder(RARE), date(2027, 4, 2))
    notes = [one for task in plan.tasks for one in (task.note, *task.cautions) if one]
    elsewhere = "\n".join(Speaker.of(plan).texts(notes))
    assert "docs/law.md" in elsewhere and "law_checked" in elsewhere
    assert re.search(r"\d; (?:derived|common practice|assumption)\)", elsewhere)


def test_no_alarm_is_asked_for_after_the_job_begins(calendars: list) -> None:
    """It would ring at midnight, cut to the start of the day, and nobody would know."""
    for plan, _ in calendars:
        for task in plan.tasks:
            assert task.alarm is None or task.alarm >= timedelta(0), task.id
