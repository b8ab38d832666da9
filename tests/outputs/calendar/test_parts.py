"""Parts of a season, large files, alarms, and what is refused."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.calendar.export import export_calendar
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.scope import Scope
from showprep.outputs.failure import Failure

DAY = timedelta(days=1)


def test_a_part_of_the_season(build: Any, path: Path, now: Any) -> None:
    tasks = [
        build.task(0),
        build.task(1, id="mossmere/job-1", show="mossmere", fish=("beni",)),
        build.task(2, id="touch-up/aoi", fish=("aoi", "beni")),
        build.task(3, id="mossmere/job-3", show="mossmere"),
        build.task(4, id="look-back-1/beni", show=None, fish=("beni",)),
    ]
    plan = build.plan(tasks)

    def held(**only: str) -> set[int]:
        export_calendar(plan, path, now=now, only=Scope(**only))
        found = build.events(path).keys()
        return {n for n, task in enumerate(tasks) if uid_of(task.id) in found}

    assert held(show="larkfield") == {0, 2}
    # A touch-up of fish that go to both shows stands in both calendars.
    assert held(show="mossmere") == {1, 2, 3, 4}
    assert held(fish="beni") == {1, 2, 4}
    assert held(show="mossmere", fish="aoi") == {2, 3}
    for only in (Scope(show="nowhere"), Scope(fish="nobody")):
        with pytest.raises(Failure, match=r"larkfield|aoi") as caught:
            export_calendar(plan, path, now=now, only=only)
        assert caught.value.status == 2


def test_narrowing_the_scope_cancels_nothing(build: Any, path: Path, now: Any) -> None:
    tasks = [build.task(0), build.task(1, id="mossmere/job-1", show="mossmere", fish=("beni",))]
    export_calendar(build.plan(tasks), path, now=now, purpose="import")
    for _ in range(2):
        written = export_calendar(
            build.plan(tasks), path, now=now, purpose="import", only=Scope(show="larkfield")
        )
        assert written.cancelled == 0
    export_calendar(build.plan(tasks[1:]), path, now=now, purpose="import")
    assert str(build.events(path)[build.uid(0)]["STATUS"]) == "CANCELLED"


def test_a_large_file_is_told_with_the_way_to_split_it(build: Any, path: Path, now: Any) -> None:
    big = build.plan([build.task(n, note="long " * 800) for n in range(260)])
    written = export_calendar(big, path, now=now)
    assert written.size == len(path.read_bytes()) > 1_000_000
    assert "--show larkfield, --show mossmere" in written.notes[0]
    small = export_calendar(build.plan([build.task(0)]), path, now=now)
    assert small.notes == ()


def test_alarms(build: Any, path: Path, now: Any) -> None:
    """Outlook stores a trigger's absolute value, Google takes at most 28 days (40,320 minutes)."""
    given = [None, timedelta(0), timedelta(hours=-7), timedelta(hours=4), timedelta(days=90)]
    tasks = [build.task(n, alarm=alarm) for n, alarm in enumerate(given)]
    export_calendar(build.plan(tasks), path, now=now)
    seen = []
    for number in range(5):
        parts = build.events(path)[build.uid(number)].subcomponents
        seen.append([part["TRIGGER"].dt for part in parts])
        assert all(str(part["DESCRIPTION"]) == f"Stop feeding {number}" for part in parts)
    assert seen == [[], [timedelta()], [timedelta()], [timedelta(hours=-4)], [timedelta(days=-28)]]


def test_the_second_passing_of_an_hour_is_written_in_utc(build: Any, path: Path, now: Any) -> None:
    """31 October 2027: 01:30 comes twice in Dublin; zoneinfo's fold tells which."""
    start = datetime(2027, 10, 31, 1, 30, tzinfo=UTC)
    export_calendar(
        build.plan([build.timed(1, start=start, end=start + timedelta(hours=1))]), path, now=now
    )
    assert build.events(path)[build.uid(1)]["DTSTART"].to_ical() == b"20271031T013000Z"


def test_two_jobs_with_one_id_are_refused(build: Any, path: Path, now: Any) -> None:
    with pytest.raises(Failure, match="same id"):
        export_calendar(build.plan([build.task(0), build.task(0)]), path, now=now)
    assert not path.exists()


def test_a_folder_that_is_not_there_is_named(build: Any, tmp_path: Path, now: Any) -> None:
    with pytest.raises(Failure, match="nowhere"):
        export_calendar(build.plan([]), tmp_path / "nowhere" / "koi.ics", now=now)
