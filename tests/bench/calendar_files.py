"""How long a calendar takes, against the icalendar library alone building the same events.

`python tests/bench/calendar_files.py [JOBS ...]` prints, for each size, the processor time of three
ways in one run, best of several: the library alone (`Event.add` and `to_ical`), the whole calendar
in memory (cleaned, built, hashed, checked), and the calendar file with its ledger beside it. Exit
status 1 when the last takes more than 1.3 times the first. Growth is linear when the ratio stays
and the library's own time a job does.
"""

from __future__ import annotations

import gc
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from time import process_time
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event

from showprep.outputs.calendar.events import CATEGORY, PRODID
from showprep.outputs.calendar.export import export_calendar, write_calendar
from showprep.outputs.calendar.jobs import Job, jobs_of
from showprep.planning.plan import Choice, Plan, Task

SIZES = (1_000, 10_000)
MOST = 1.3
NOW = datetime(2027, 3, 1, tzinfo=UTC)
ZONE = ZoneInfo("Europe/Dublin")


def plan(size: int) -> Plan:
    """An invented plan: nine jobs in ten are all-day, with an alarm and two lines of words."""
    return Plan(
        season="bench",
        planned_on=date(2027, 3, 1),
        time_zone="Europe/Dublin",
        units="metric",
        shows=(),
        fish=(),
        waters=(),
        verdicts=(),
        tasks=tuple(map(_task, range(size))),
        warnings=(),
        choice=Choice(0, True),
    )


def _task(number: int) -> Task:
    day = date(2027, 4, 1) + timedelta(days=number % 200)
    timed = number % 10 == 0
    start = datetime(day.year, day.month, day.day, 7, 30, tzinfo=ZONE) if timed else day
    return Task(
        id=f"larkfield/job-{number}",
        kind="stop-feeding",
        title=f"No food for pond {number} until Larkfield",
        fish=(),
        show=None,
        water="main pond",
        start=start,
        end=start + timedelta(hours=2) if timed else day,
        all_day=not timed,
        time_zone="Europe/Dublin" if timed else None,
        note="Four days before departure, warm water. Nobody feeds at the show; nothing at home.",
        counts_from="4 days before departure",
        cautions=("The whole pond fasts as one water.",),
        alarm=timedelta(hours=4),
    )


def library_alone(jobs: tuple[Job, ...]) -> bytes:
    """The same events by the library's own means, nothing checked."""
    calendar = Calendar()
    calendar.add("prodid", PRODID)
    calendar.add("version", "2.0")
    for job in jobs:
        calendar.add_component(_event(job))
    data: bytes = calendar.to_ical()
    return data


def _event(job: Job) -> Event:
    event = Event()
    event.add("uid", job.uid)
    event.add("dtstamp", NOW)
    event.add("last-modified", NOW)
    event.add("sequence", 0)
    event.add("summary", job.summary)
    event.add("description", job.description)
    event.add("dtstart", job.start)
    event.add("dtend", job.end)
    event.add("status", job.status)
    event.add("transp", "TRANSPARENT" if job.all_day else "OPAQUE")
    event.add("categories", [CATEGORY])
    if job.alarm is not None:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", job.summary)
        alarm.add("trigger", -job.alarm)
        event.add_component(alarm)
    return event


def best(work: Callable[[], object], times: int) -> float:
    taken = []
    for _ in range(times):
        gc.collect()
        began = process_time()
        work()
        taken.append(process_time() - began)
    return min(taken)


def measure(size: int, times: int) -> tuple[float, float, float]:
    """Seconds for the library alone, the calendar in memory, the file with its ledger."""
    whole = plan(size)
    jobs = jobs_of(whole, whole.tasks)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "koi.ics"
        rounds = [
            (
                best(lambda: library_alone(jobs), 1),
                best(lambda: write_calendar(whole), 1),
                best(lambda: export_calendar(whole, path, now=NOW), 1),
            )
            for _ in range(times)
        ]
    alone, memory, file = (min(column) for column in zip(*rounds, strict=True))
    return alone, memory, file


def main(sizes: tuple[int, ...]) -> None:
    over = []
    for size in sizes:
        alone, memory, file = measure(size, 7 if size <= 2_000 else 2)
        if file > MOST * alone:
            over.append(size)
        print(
            f"{size:>7,} jobs: library alone {alone * 1e3:7.1f} ms, calendar {memory * 1e3:7.1f} ms"
            f" ({memory / alone:.2f} x), file and ledger {file * 1e3:7.1f} ms"
            f" ({file / alone:.2f} x), {file / size * 1e6:.0f} µs a job"
        )
    if over:
        sys.exit(f"Over {MOST} times the library alone at {over} jobs.")


if __name__ == "__main__":
    main(tuple(map(int, sys.argv[1:])) or SIZES)
