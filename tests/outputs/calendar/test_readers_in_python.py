"""ical and vobject, two readers from PyPI, find in the file what the plan holds.

Days and times are compared with the tasks themselves, so that an end that is not excluded (RFC 5545
§3.8.2.2) or a wrong time zone shows.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest

from showprep.outputs.calendar.export import write_calendar


def instant(value: date) -> date:
    return value.astimezone(UTC) if isinstance(value, datetime) else value


def by_ical(outside: Any, build: Any, data: bytes) -> dict[str, Any]:
    stream = outside.module("ical.calendar_stream")
    calendar = stream.IcsCalendarStream.calendar_from_ics(data.decode())
    return {
        event.uid: build.seen(
            event.summary,
            event.description or "",
            instant(event.dtstart),
            instant(event.dtend),
            str(event.status.value),
            event.sequence or 0,
            tuple(alarm.trigger for alarm in event.alarm),
        )
        for event in calendar.events
    }


def by_vobject(outside: Any, build: Any, data: bytes) -> dict[str, Any]:
    vobject = outside.module("vobject")
    calendar = vobject.readOne(data.decode())
    calendar.validate(raiseException=True)
    reading = {}
    for event in calendar.contents.get("vevent", []):
        contents = event.contents
        reading[event.uid.value] = build.seen(
            event.summary.value,
            event.description.value if "description" in contents else "",
            instant(event.dtstart.value),
            instant(event.dtend.value),
            event.status.value,
            int(event.sequence.value),
            tuple(alarm.trigger.value for alarm in contents.get("valarm", [])),
        )
    return reading


READERS: tuple[Callable[[Any, Any, bytes], dict[str, Any]], ...] = (by_ical, by_vobject)


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("number", range(4))
@pytest.mark.parametrize("hostile", [False, True], ids=["plain", "hostile"])
def test_readers_agree_with_the_plan(
    read: Callable[[Any, Any, bytes], dict[str, Any]],
    number: int,
    hostile: bool,
    outside: Any,
    build: Any,
) -> None:
    plan = build.random_plan(number, 80, hostile=hostile)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the readers' own
        seen = read(outside, build, write_calendar(plan))
    assert seen == build.to_be_seen(plan)


@pytest.mark.parametrize("read", READERS)
def test_readers_take_a_calendar_without_jobs(
    read: Callable[[Any, Any, bytes], dict[str, Any]], outside: Any, build: Any
) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        assert read(outside, build, write_calendar(build.plan([]))) == {}
