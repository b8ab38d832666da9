"""Invented plans for the calendar tests: plain ones, random ones, and ones with hostile text."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from icalendar import Calendar, Component

from showprep.outputs.calendar.events import calendar_of, resource_of
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.jobs import ALARM_LONGEST, MOMENT, jobs_of
from showprep.planning.plan import Choice, FishLine, Plan, ShowLine, Task
from tests.outputs.calendar.lint import lint
from tests.outputs.calendar.server_yard import Radicale, Yard

ZONES = (
    "Europe/Dublin",
    "America/New_York",
    "Australia/Sydney",
    "Asia/Tokyo",
    "America/Sao_Paulo",
    "Pacific/Auckland",
    "Africa/Johannesburg",
    "UTC",
)
# What has broken calendars before: separators, escapes, folds, controls, line ends, long text.
HOSTILE = (
    'Aoi; Beni, and: "Chidori"',
    "a\\nb C:\\New \\, \\;",
    "END:VEVENT\r\nBEGIN:VEVENT\r\nUID:other",
    "one\ntwo\r\nthree\rfour\u2028five\u2029six\x0bseven\x0ceight\x85nine",
    "\x00\x01\x07\x1b[31mred\x7f\x9b",
    "鯉 昭和三色 錦鯉 " * 12,
    "👨‍👩‍👧‍👦🏳️‍🌈 e\u0301\u0301 🐟" * 8,
    "عربي שלום \u202eabc\u202c",
    "\ufeffbyte order mark",
    "lone \ud800 surrogate \udfff",
    "  spaces and\ttabs\t ",
    "x" * 5000,
    "é" * 200,
    "%0A%0D =?utf-8?q?x?= &amp; <b>",
    "\ufffe\uffff noncharacters \U0010ffff",
)


def a_task(number: int = 0, **changes: Any) -> Task:
    day = date(2027, 5, 1) + timedelta(days=number % 200)
    values: dict[str, Any] = {
        "id": f"larkfield/job-{number}",
        "kind": "stop-feeding",
        "title": f"Stop feeding {number}",
        "fish": ("aoi",),
        "show": "larkfield",
        "water": "main pond",
        "start": day,
        "end": day,
        "all_day": True,
        "cautions": ("A fed fish fouls its own water on the way.",),
        "note": "Stop all food; keep the water still and clear.",
        "counts_from": "7 days before departure",
        "alarm": timedelta(hours=4),
    }
    return Task(**{**values, **changes})


def a_timed_task(number: int = 0, **changes: Any) -> Task:
    start = datetime(2027, 6, 11, 6, 30, tzinfo=ZoneInfo("Europe/Dublin"))
    values: dict[str, Any] = {
        "start": start,
        "end": start + timedelta(hours=2),
        "all_day": False,
        "time_zone": "Europe/Dublin",
        "title": f"Leave {number}",
        "kind": "departure",
        "alarm": timedelta(hours=1),
    }
    return a_task(number, **{**values, **changes})


def a_show(show: str, name: str, entered: tuple[str, ...]) -> ShowLine:
    when = datetime(2027, 6, 12, 10, tzinfo=ZoneInfo("Europe/Dublin"))
    return ShowLine(
        show, name, "planned", "Europe/Dublin", *[when] * 8, None, 18.0, "not stated", entered
    )


def a_plan(tasks: Iterable[Task], **changes: Any) -> Plan:
    values: dict[str, Any] = {
        "season": "invented yard",
        "planned_on": date(2027, 3, 1),
        "time_zone": "Europe/Dublin",
        "units": "metric",
        "shows": (
            a_show("larkfield", "Larkfield Spring Show", ("aoi",)),
            a_show("mossmere", "Mossmere Autumn Show", ("aoi", "beni")),
        ),
        "fish": (
            FishLine("aoi", "Aoi", "kohaku", "main pond", 82),
            FishLine("beni", "Beni", "sanke", "main pond", 74),
        ),
        "waters": (),
        "verdicts": (),
        "tasks": tuple(tasks),
        "warnings": (),
        "choice": Choice(0, True),
    }
    return Plan(**{**values, **changes})


def a_random_plan(number: int, size: int, *, hostile: bool) -> Plan:
    """`size` jobs from a fixed random run; timed ones fall anywhere, clock changes included."""
    chance = random.Random(number)
    return a_plan(_random_task(chance, n, hostile) for n in range(size))


def _random_task(chance: random.Random, number: int, hostile: bool) -> Task:
    words: dict[str, Any] = {"alarm": chance.choice([None, *map(_hours, (0, 1, 4, 15, 36, 900))])}
    if hostile:
        words["title"] = chance.choice(HOSTILE) + chance.choice(["", f" {number}"])
        words["note"] = chance.choice(HOSTILE) + chance.choice(HOSTILE)
        words["cautions"] = tuple(chance.sample(HOSTILE, 2))
    if chance.random() < 0.5:
        day = date(2027, 1, 1) + timedelta(days=chance.randrange(500))
        return a_task(number, start=day, end=day + timedelta(days=chance.randrange(12)), **words)
    zone = chance.choice(ZONES)
    minutes = chance.randrange(500 * 24 * 4) * 15
    start = datetime(2027, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
    start = start.astimezone(ZoneInfo(zone))
    end = start + timedelta(minutes=chance.choice([15, 120, 3000]))
    return a_timed_task(number, start=start, end=end, time_zone=zone, **words)


def _hours(count: int) -> timedelta:
    return timedelta(hours=count)


@dataclass(frozen=True)
class Seen:
    """One event as a reader sees it: days as days, times in UTC."""

    summary: str
    description: str
    start: date
    end: date
    status: str
    sequence: int
    alarms: tuple[timedelta, ...]


def to_be_seen(plan: Plan) -> dict[str, Seen]:
    """What must be seen: days, times and alarms from the tasks, text as it was cleaned."""
    texts = {job.uid: job for job in jobs_of(plan, plan.tasks)}
    reading = {}
    for task in plan.tasks:
        uid = uid_of(task.id, plan.identity)
        if isinstance(task.start, datetime) and isinstance(task.end, datetime):
            start: date = task.start.astimezone(UTC)
            end: date = max(task.end.astimezone(UTC), task.start.astimezone(UTC) + MOMENT)
        else:
            start, end = task.start, task.end + timedelta(days=1)
        alarms = () if task.alarm is None else (-min(task.alarm, ALARM_LONGEST),)
        text = texts[uid]
        reading[uid] = Seen(text.summary, text.description, start, end, "CONFIRMED", 0, alarms)
    return reading


def events(path: Path) -> dict[str, Component]:
    calendar = Calendar.from_ical(path.read_bytes())
    return {str(event["UID"]): event for event in calendar.walk("VEVENT")}


def edition(event: Component) -> tuple[int, datetime]:
    """The order of RFC 5546 §2.1.4; LAST-MODIFIED must say the same (RFC 5545 §3.8.7.2)."""
    assert event["DTSTAMP"].dt == event["LAST-MODIFIED"].dt
    return event["SEQUENCE"], event["DTSTAMP"].dt


def raw(path: Path) -> dict[str, bytes]:
    """The bytes of each event by its UID."""
    body = path.read_bytes().removesuffix(b"END:VCALENDAR\r\n")
    blocks = body.split(b"BEGIN:VEVENT\r\n")[1:]
    return {block.split(b"UID:")[1][:36].decode(): block for block in blocks}


def uid(number: int) -> str:
    return uid_of(f"larkfield/job-{number}")


class Build:
    """The builders above, for tests to call."""

    hostile = HOSTILE
    task = staticmethod(a_task)
    timed = staticmethod(a_timed_task)
    plan = staticmethod(a_plan)
    random_plan = staticmethod(a_random_plan)
    seen = Seen
    to_be_seen = staticmethod(to_be_seen)
    events = staticmethod(events)
    edition = staticmethod(edition)
    raw = staticmethod(raw)
    uid = staticmethod(uid)


@pytest.fixture(scope="session")
def build() -> type[Build]:
    return Build


@pytest.fixture(autouse=True)
def linted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every calendar and every job that any test here has written keeps the rules of phones."""
    makers: dict[str, Callable[..., bytes]] = {
        "showprep.outputs.calendar.export.calendar_of": calendar_of,
        "showprep.outputs.server.publish.resource_of": resource_of,
    }
    for name, make in makers.items():

        def checked(*given: Any, make: Callable[..., bytes] = make, **named: Any) -> bytes:
            data = make(*given, **named)
            assert lint(data) == []
            return data

        monkeypatch.setattr(name, checked)


@pytest.fixture(scope="session")
def now() -> datetime:
    return datetime(2027, 3, 1, 9, 30, tzinfo=UTC)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "koi.ics"


@pytest.fixture
def two() -> tuple[Plan, Plan]:
    """A plan, and the next day's: 0 stays, 1 moves a week, 2 vanishes ahead of its day, 3 is new,
    4 changes its words only."""
    tasks = [a_task(0), a_timed_task(1), a_task(2), a_task(4)]
    moved = a_timed_task(
        1, start=tasks[1].start + timedelta(days=7), end=tasks[1].end + timedelta(days=7)
    )
    later = [tasks[0], moved, a_task(3), a_task(4, note="Other words.")]
    return a_plan(tasks), a_plan(later, planned_on=date(2027, 3, 2))


@pytest.fixture(scope="module")
def radicale(outside: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Radicale]:
    outside.module("radicale")
    server = Radicale(tmp_path_factory.mktemp("radicale"))
    yield server
    server.stop()


@pytest.fixture
def yard(radicale: Radicale, tmp_path: Path, now: Any, build: Any) -> Yard:
    return Yard(radicale, tmp_path, now, build)
