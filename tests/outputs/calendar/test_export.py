"""A calendar that follows the plan: editions, cancelled jobs, the ways back.

RFC 5546 §2.1.4: of two editions of a UID the one with the higher SEQUENCE counts, of equal ones the
one with the later DTSTAMP. RFC 5545 §3.8.7.4: SEQUENCE grows when dates or status change.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from showprep.outputs.calendar.export import export_calendar, write_calendar
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.ledger import LedgerRow
from showprep.planning.plan import Plan

DAY = timedelta(days=1)
DUBLIN = ZoneInfo("Europe/Dublin")


def test_a_first_calendar_needs_no_ledger_and_no_clock(build: Any, path: Path, now: Any) -> None:
    plan = build.plan([build.task(0), build.timed(1)])
    export_calendar(plan, path, now=now)
    assert path.read_bytes() == write_calendar(plan)
    for event in build.events(path).values():
        assert build.edition(event) == (0, datetime(2027, 3, 1, tzinfo=UTC))


@pytest.mark.parametrize("purpose", ["subscribe", "import"])
def test_only_what_changed_gets_a_new_edition(
    purpose: Any, two: tuple[Plan, Plan], path: Path, now: Any, build: Any
) -> None:
    export_calendar(two[0], path, now=now, purpose=purpose)
    old, old_raw = build.events(path), build.raw(path)
    export_calendar(two[1], path, now=now, purpose=purpose)
    new = build.events(path)
    assert build.raw(path)[build.uid(0)] == old_raw[build.uid(0)]
    for number in (1, 4):
        before, after = build.edition(old[build.uid(number)]), build.edition(new[build.uid(number)])
        assert after[0] == before[0] + 1
        assert after[1] > before[1]
    assert build.edition(new[build.uid(3)])[0] == 0
    assert (new[build.uid(1)]["DTSTART"].dt - old[build.uid(1)]["DTSTART"].dt) == 7 * DAY


def test_a_vanished_job_is_gone_from_a_feed(
    two: tuple[Plan, Plan], path: Path, now: Any, build: Any
) -> None:
    for plan in two:
        export_calendar(plan, path, now=now)
    assert build.events(path).keys() == {build.uid(0), build.uid(1), build.uid(3), build.uid(4)}


def test_a_vanished_job_stays_cancelled_for_thirty_days(
    two: tuple[Plan, Plan], path: Path, now: Any, build: Any
) -> None:
    export_calendar(two[0], path, now=now, purpose="import")
    old = build.events(path)[build.uid(2)]
    written = export_calendar(two[1], path, now=now, purpose="import")
    assert written.cancelled == 1
    event, block = build.events(path)[build.uid(2)], build.raw(path)[build.uid(2)]
    assert str(event["STATUS"]) == "CANCELLED"
    assert str(event["SUMMARY"]) == "Cancelled: Stop feeding 2"
    assert not event.subcomponents
    assert event["DTSTART"].dt == old["DTSTART"].dt
    assert build.edition(event) > build.edition(old)
    last_shown = event["DTEND"].dt + 29 * DAY
    for day, shown in ((last_shown, True), (last_shown + DAY, False)):
        plan = build.plan(two[1].tasks, planned_on=day)
        export_calendar(plan, path, now=now, purpose="import")
        assert (build.raw(path).get(build.uid(2)) == block) is shown
        assert (build.uid(2) in build.events(path)) is shown


def test_a_vanished_timed_job_is_cancelled_at_its_own_time(
    build: Any, path: Path, now: Any
) -> None:
    export_calendar(build.plan([build.timed(1)]), path, now=now, purpose="import")
    start = build.events(path)[build.uid(1)]["DTSTART"].to_ical()
    export_calendar(build.plan([]), path, now=now, purpose="import")
    event = build.events(path)[build.uid(1)]
    assert str(event["STATUS"]) == "CANCELLED"
    assert event["DTSTART"].to_ical() == start
    assert event["DTSTART"].params["TZID"] == "Europe/Dublin"


def test_a_job_past_its_day_is_dropped_without_a_word(build: Any, path: Path, now: Any) -> None:
    export_calendar(build.plan([build.task(0)]), path, now=now, purpose="import")
    export_calendar(build.plan([], planned_on=date(2027, 5, 2)), path, now=now, purpose="import")
    assert build.events(path) == {}


@pytest.mark.parametrize("purpose", ["subscribe", "import"])
def test_a_job_that_comes_back_is_newer_under_the_same_uid(
    purpose: Any, build: Any, path: Path, now: Any
) -> None:
    with_it, without = build.plan([build.task(0), build.task(1)]), build.plan([build.task(1)])
    seen = []
    for plan in (with_it, without, with_it):
        export_calendar(plan, path, now=now, purpose=purpose)
        seen.append(build.events(path).get(build.uid(0)))
    assert build.edition(seen[2]) > build.edition(seen[0])
    assert str(seen[2]["STATUS"]) == "CONFIRMED"
    if seen[1] is not None:
        assert build.edition(seen[2]) > build.edition(seen[1])


def test_changes_on_one_day_are_strictly_later(build: Any, path: Path, now: Any) -> None:
    seen = []
    for note in ("a", "b", "c", "c"):
        export_calendar(build.plan([build.task(0, note=note)]), path, now=now)
        seen.append(build.edition(build.events(path)[build.uid(0)]))
    assert seen[0] < seen[1] < seen[2] == seen[3]
    assert seen[0][1] < seen[1][1] < seen[2][1]
    earlier = build.plan([build.task(0, note="d")], planned_on=date(2027, 1, 1))
    export_calendar(earlier, path, now=now)
    assert build.edition(build.events(path)[build.uid(0)])[1] > seen[3][1]


@pytest.mark.parametrize("purpose", ["subscribe", "import"])
def test_a_job_that_was_done_stays_as_done(purpose: Any, build: Any, path: Path, now: Any) -> None:
    """RFC 5546 has no "done" for an event: the title says it, and it is never cancelled."""
    export_calendar(build.plan([build.task(0), build.task(1)]), path, now=now, purpose=purpose)

    def done_on(row: LedgerRow) -> date | None:
        return date(2027, 4, 30) if row.task == "larkfield/job-0" else None

    later = build.plan([build.task(1)], planned_on=date(2027, 5, 10))
    for _ in range(2):
        written = export_calendar(later, path, now=now, purpose=purpose, done_on=done_on)
        event = build.events(path)[build.uid(0)]
        assert written.cancelled == 0
        assert str(event["SUMMARY"]) == "Done: Stop feeding 0, 30 Apr"
        assert (str(event["STATUS"]), event["DTSTART"].dt) == ("CONFIRMED", date(2027, 4, 30))
        assert build.edition(event)[0] == 1
        assert not event.subcomponents


def test_what_is_late_is_one_job_on_the_day_of_the_plan(build: Any, path: Path, now: Any) -> None:
    late = [
        build.task(number, late=True, title=f"Look {number}", late_cost=f"Cost {number}.")
        for number in (0, 1)
    ]
    for on in (date(2027, 5, 20), date(2027, 5, 21)):
        plan = build.plan([*late, build.task(60)], planned_on=on)
        export_calendar(plan, path, now=now)
        events = build.events(path)
        assert len(events) == 2
        event = events[uid_of("late")]
        assert str(event["SUMMARY"]) == "Late: Look 1 and 1 more"
        assert event["DTSTART"].dt == datetime(on.year, on.month, on.day, 18, tzinfo=DUBLIN)
        assert [one["TRIGGER"].dt for one in event.walk("VALARM")] == [timedelta(0)]
        text = str(event["DESCRIPTION"])
        assert "Look 1. Due Sun 2 May. Cost 1." in text
        assert "Look 0. Due Sat 1 May. Cost 0." in text


def test_the_hour_that_comes_twice_is_written_in_utc(build: Any, path: Path, now: Any) -> None:
    """Dublin, 31 October 2027: 01:30 passes at 00:30 and at 01:30 UTC (IANA tz, Europe/Dublin)."""
    first, second = (datetime(2027, 10, 31, 1, 30, tzinfo=DUBLIN, fold=fold) for fold in (0, 1))
    tasks = [
        build.timed(number, start=start, end=start + timedelta(minutes=5))
        for number, start in enumerate((first, second))
    ]
    export_calendar(build.plan(tasks), path, now=now)
    events = build.events(path)
    for number, text in ((0, b"20271031T003000Z"), (1, b"20271031T013000Z")):
        assert events[build.uid(number)]["DTSTART"].to_ical() == text
