"""libical 3, the engine of many desktop calendars, finds in the file what the plan holds.

It also checks which properties a component may hold (its restriction check, after RFC 5546).
"""

from __future__ import annotations

import ctypes
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from showprep.outputs.calendar.export import write_calendar


class LibicalTime(ctypes.Structure):
    _fields_ = [
        *[(name, ctypes.c_int) for name in ("year", "month", "day", "hour", "minute", "second")],
        ("is_date", ctypes.c_int),
        ("is_daylight", ctypes.c_int),
        ("zone", ctypes.c_void_p),
    ]


class LibicalDuration(ctypes.Structure):
    _fields_ = [
        ("is_neg", ctypes.c_int),
        *[(name, ctypes.c_uint) for name in ("days", "weeks", "hours", "minutes", "seconds")],
    ]


class Libical:
    """The few functions of libical 3 that are needed, called through ctypes."""

    def __init__(self, outside: Any, build: Any) -> None:
        self.build = build
        try:
            self.library = ctypes.CDLL("libical.so.3")
        except OSError:
            outside.missing("the library libical 3 is not installed")
            raise
        pointer, integer, text = ctypes.c_void_p, ctypes.c_int, ctypes.c_char_p
        self._declare("icalparser_parse_string", pointer, text)
        self._declare("icalcomponent_count_errors", integer, pointer)
        self._declare("icalrestriction_check", integer, pointer)
        self._declare("icalcomponent_string_to_kind", integer, text)
        self._declare("icalproperty_string_to_kind", integer, text)
        self._declare("icalcomponent_get_first_component", pointer, pointer, integer)
        self._declare("icalcomponent_get_next_component", pointer, pointer, integer)
        self._declare("icalcomponent_get_first_property", pointer, pointer, integer)
        self._declare("icalproperty_get_value_as_string", text, pointer)
        for name in ("uid", "summary", "description"):
            self._declare(f"icalcomponent_get_{name}", text, pointer)
        self._declare("icalcomponent_get_sequence", integer, pointer)
        for name in ("dtstart", "dtend"):
            self._declare(f"icalcomponent_get_{name}", LibicalTime, pointer)
        self._declare("icaltimezone_get_utc_timezone", pointer)
        self._declare("icaltime_convert_to_zone", LibicalTime, LibicalTime, pointer)
        self._declare("icaldurationtype_from_string", LibicalDuration, text)
        self._declare("icaldurationtype_as_int", integer, LibicalDuration)
        self._declare("icalcomponent_free", None, pointer)

    def _declare(self, name: str, result: Any, *arguments: Any) -> None:
        function = getattr(self.library, name)
        function.restype, function.argtypes = result, list(arguments)

    def parts(self, component: int, name: str) -> list[int]:
        kind = self.library.icalcomponent_string_to_kind(name.encode())
        found = []
        part = self.library.icalcomponent_get_first_component(component, kind)
        while part:
            found.append(part)
            part = self.library.icalcomponent_get_next_component(component, kind)
        return found

    def value(self, component: int, name: str) -> bytes:
        kind = self.library.icalproperty_string_to_kind(name.encode())
        found = self.library.icalcomponent_get_first_property(component, kind)
        value = self.library.icalproperty_get_value_as_string(found)
        assert isinstance(value, bytes)
        return value

    def moment(self, time: LibicalTime) -> date:
        if time.is_date:
            return date(time.year, time.month, time.day)
        utc = self.library.icaltimezone_get_utc_timezone()
        time = self.library.icaltime_convert_to_zone(time, utc)
        parts = time.year, time.month, time.day, time.hour, time.minute, time.second
        return datetime(*parts, tzinfo=UTC)

    def alarm(self, component: int) -> timedelta:
        length = self.library.icaldurationtype_from_string(self.value(component, "TRIGGER"))
        return timedelta(seconds=self.library.icaldurationtype_as_int(length))

    def seen(self, event: int) -> Any:
        library = self.library
        return self.build.seen(
            library.icalcomponent_get_summary(event).decode(),
            (library.icalcomponent_get_description(event) or b"").decode(),
            self.moment(library.icalcomponent_get_dtstart(event)),
            self.moment(library.icalcomponent_get_dtend(event)),
            self.value(event, "STATUS").decode(),
            library.icalcomponent_get_sequence(event),
            tuple(self.alarm(part) for part in self.parts(event, "VALARM")),
        )


def by_libical(outside: Any, build: Any, data: bytes) -> dict[str, Any]:
    libical = Libical(outside, build)
    calendar = libical.library.icalparser_parse_string(data)
    assert calendar, "libical could not read the file"
    try:
        assert libical.library.icalrestriction_check(calendar) == 1
        assert libical.library.icalcomponent_count_errors(calendar) == 0
        return {
            libical.library.icalcomponent_get_uid(event).decode(): libical.seen(event)
            for event in libical.parts(calendar, "VEVENT")
        }
    finally:
        libical.library.icalcomponent_free(calendar)


@pytest.mark.parametrize("number", range(4))
@pytest.mark.parametrize("hostile", [False, True], ids=["plain", "hostile"])
def test_libical_agrees_with_the_plan(number: int, hostile: bool, outside: Any, build: Any) -> None:
    plan = build.random_plan(number, 80, hostile=hostile)
    assert by_libical(outside, build, write_calendar(plan)) == build.to_be_seen(plan)


def test_libical_takes_a_calendar_without_jobs(outside: Any, build: Any) -> None:
    assert by_libical(outside, build, write_calendar(build.plan([]))) == {}
