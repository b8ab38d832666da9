"""The lint flags every file with one defect, and no good one."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.calendar.export import export_calendar, write_calendar
from showprep.outputs.calendar.scope import Scope
from tests.outputs.calendar.lint import lint
from tests.storms import storm


def swap(old: str, new: str, count: int = 1) -> Callable[[bytes], bytes]:
    def change(data: bytes) -> bytes:
        assert old.encode() in data
        return data.replace(old.encode(), new.encode("utf-8", "surrogateescape"), count)

    return change


def resub(pattern: str, new: str, count: int = 1) -> Callable[[bytes], bytes]:
    def change(data: bytes) -> bytes:
        changed, times = re.subn(pattern.encode(), new.encode(), data, count=count)
        assert times
        return changed

    return change


def after(line: str, added: str) -> Callable[[bytes], bytes]:
    return swap(f"{line}\r\n", f"{line}\r\n{added}\r\n")


ZONE = r"(?s)BEGIN:VTIMEZONE.*END:VTIMEZONE\r\n"
SPRING = "DTSTART:20270328T010000"
VTODO = "BEGIN:VTODO\r\nUID:A\r\nDTSTAMP:20270301T000000Z\r\nEND:VTODO"
SECOND_ALARM = "BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:x\r\nTRIGGER:-PT4H\r\nEND:VALARM"
MUTANTS: dict[str, Callable[[bytes], bytes]] = {
    "line feeds alone": lambda data: data.replace(b"\r\n", b"\n"),
    "one bare line feed": swap("\r\nSTATUS", "\nSTATUS"),
    "carriage return alone": swap("SUMMARY:Stop", "SUMMARY:\rStop"),
    "no last line end": lambda data: data[:-2],
    "byte order mark": lambda data: b"\xef\xbb\xbf" + data,
    "unfolded line": lambda data: data.replace(b"\r\n ", b""),
    "76 octets": lambda data: data.replace(b"TRANSP:TRANSPARENT", b"COLOR:" + b"a" * 70, 1),
    "fold inside a character": swap("SUMMARY:Stop", "SUMMARY:\udcc3\r\n \udca9Stop"),
    "not UTF-8": swap("SUMMARY:Stop", "SUMMARY:\udcffStop"),
    "NUL": swap("SUMMARY:Stop", "SUMMARY:\x00Stop"),
    "BEL": swap("SUMMARY:Stop", "SUMMARY:\x07Stop"),
    "DEL": swap("SUMMARY:Stop", "SUMMARY:\x7fStop"),
    "C1 control": swap("SUMMARY:Stop", "SUMMARY:\x85Stop"),
    "line separator": swap("SUMMARY:Stop", "SUMMARY:\u2028Stop"),
    "blank line": swap("BEGIN:VEVENT", "\r\nBEGIN:VEVENT"),
    "not a content line": swap("BEGIN:VEVENT", "hello\r\nBEGIN:VEVENT"),
    "never closed": lambda data: data.replace(b"END:VCALENDAR\r\n", b""),
    "closed crosswise": swap("END:VALARM\r\nEND:VEVENT", "END:VEVENT\r\nEND:VALARM"),
    "two calendars": lambda data: data + data,
    "bare semicolon": swap("SUMMARY:Stop", "SUMMARY:Stop; "),
    "bare comma": swap("SUMMARY:Stop", "SUMMARY:Stop, "),
    "bad escape": swap("SUMMARY:Stop", "SUMMARY:Stop\\: "),
    "escaped backslash": swap("SUMMARY:Stop", "SUMMARY:C:\\\\new"),
    "escape at the end": resub(r"SUMMARY:Stop feeding 0", r"SUMMARY:Stop\\"),
    "bare comma in the name": swap("NAME:Koi shows: ", "NAME:Koi, "),
    "VERSION late": lambda data: data.replace(b"VERSION:2.0\r\n", b"", 1).replace(
        b"NAME:", b"X-A:b\r\nVERSION:2.0\r\nNAME:", 1
    ),
    "VERSION missing": swap("VERSION:2.0\r\n", ""),
    "VERSION 1.0": swap("VERSION:2.0", "VERSION:1.0"),
    "PRODID missing": resub(r"PRODID:.*\r\n", ""),
    "METHOD": after("VERSION:2.0", "METHOD:PUBLISH"),
    "UID of the calendar": after("VERSION:2.0", "UID:0A"),
    "nothing in it": resub(r"(?s)BEGIN:VTIMEZONE.*END:VEVENT\r\n", ""),
    "task instead of event": swap("BEGIN:VEVENT", f"{VTODO}\r\nBEGIN:VEVENT"),
    "REFRESH-INTERVAL without VALUE": swap(";VALUE=DURATION", ""),
    "REFRESH-INTERVAL backwards": swap("DURATION:PT6H", "DURATION:-PT6H"),
    "TTL as a clock time": swap("X-PUBLISHED-TTL:PT6H", "X-PUBLISHED-TTL:6:00:00"),
    "colour in hex": after("VERSION:2.0\r\nPRODID:-//showprep//koi show season//EN", "COLOR:#f00"),
    "no UID": resub(r"UID:.*\r\n", ""),
    "UID with a slash": swap("UID:", "UID:A/"),
    "UID twice": lambda data: re.sub(rb"UID:.*\r\n", b"UID:0A-1\r\n", data),
    "no DTSTAMP": resub(r"DTSTAMP:.*\r\n", ""),
    "DTSTAMP in local time": swap("DTSTAMP:20270301T000000Z", "DTSTAMP:20270301T000000"),
    "LAST-MODIFIED missing": resub(r"LAST-MODIFIED:.*\r\n", ""),
    "LAST-MODIFIED another": swap("LAST-MODIFIED:2027", "LAST-MODIFIED:2026"),
    "impossible stamp": lambda data: data.replace(b":20270301T000000Z", b":20270231T000000Z"),
    "no SEQUENCE": swap("SEQUENCE:0\r\n", ""),
    "negative SEQUENCE": swap("SEQUENCE:0", "SEQUENCE:-1"),
    "huge SEQUENCE": swap("SEQUENCE:0", "SEQUENCE:2147483648"),
    "no SUMMARY": resub(r"SUMMARY:.*\r\n", ""),
    "empty SUMMARY": resub(r"SUMMARY:.*\r\n", "SUMMARY:\r\n"),
    "SUMMARY twice": after("SEQUENCE:0", "SUMMARY:b"),
    "STATUS of a task": swap("STATUS:CONFIRMED", "STATUS:COMPLETED"),
    "TRANSP unknown": swap("TRANSP:TRANSPARENT", "TRANSP:MAYBE"),
    "two categories": swap("CATEGORIES:Koi shows", "CATEGORIES:Koi,shows"),
    "a comma in the category": swap("CATEGORIES:Koi shows", "CATEGORIES:Koi\\,shows"),
    "DURATION beside DTEND": after("SEQUENCE:0", "DURATION:P1D"),
    "no DTSTART": resub(r"DTSTART;VALUE.*\r\n", ""),
    "DTSTART twice": after("SEQUENCE:0", "DTSTART;VALUE=DATE:20270501"),
    "no DTEND": resub(r"DTEND;VALUE.*\r\n", ""),
    "end included": swap("DTEND;VALUE=DATE:20270502", "DTEND;VALUE=DATE:20270501"),
    "end before start": swap("DTEND;VALUE=DATE:20270502", "DTEND;VALUE=DATE:20270401"),
    "day without VALUE": swap("DTSTART;VALUE=DATE:", "DTSTART:"),
    "no such day": swap("DTSTART;VALUE=DATE:20270501", "DTSTART;VALUE=DATE:20270431"),
    "zone on a day": lambda data: data.replace(b";VALUE=DATE:", b";VALUE=DATE;TZID=Europe/Dublin:"),
    "start and end of two kinds": swap("DTEND;VALUE=DATE:20270502", "DTEND:20270502T000000Z"),
    "floating time": lambda data: data.replace(b";TZID=Europe/Dublin", b""),
    "zone not described": resub(ZONE, ""),
    "zone of no such name": lambda data: data.replace(b"Europe/Dublin", b"Koi/Pond"),
    "zone described twice": lambda data: re.sub(
        ZONE.encode(), lambda found: found[0] * 2, data, count=1
    ),
    "onset an hour late": swap(SPRING, "DTSTART:20270328T020000"),
    "onset a week early": swap(SPRING, "DTSTART:20270321T010000"),
    "onset missing": resub(rf"BEGIN:DAYLIGHT\r\n{SPRING}(?s:.*?)END:DAYLIGHT\r\n", ""),
    "offset without a sign": swap("TZOFFSETTO:+0100", "TZOFFSETTO:0100"),
    "zone without an onset": resub(r"(?s)BEGIN:STANDARD.*END:(STANDARD|DAYLIGHT)\r\n", ""),
    "alarm after the start": swap("TRIGGER:-PT4H", "TRIGGER:PT7H"),
    "alarm of 29 days": swap("TRIGGER:-PT4H", "TRIGGER:-P29D"),
    "alarm without T": swap("TRIGGER:-PT4H", "TRIGGER:-P4H"),
    "alarm at an instant": swap("TRIGGER:-PT4H", "TRIGGER;VALUE=DATE-TIME:20270430T200000Z"),
    "alarm without TRIGGER": swap("TRIGGER:-PT4H\r\n", ""),
    "alarm without ACTION": swap("ACTION:DISPLAY\r\n", ""),
    "alarm by post": swap("ACTION:DISPLAY", "ACTION:EMAIL"),
    "alarm without text": resub(r"(ACTION:DISPLAY\r\n)DESCRIPTION:.*\r\n", r"\1"),
    "alarm that says nothing": resub(r"(ACTION:DISPLAY\r\nDESCRIPTION:).*\r\n", "\\1\r\n"),
    "alarm with a UID": after("ACTION:DISPLAY", "UID:0A"),
    "alarm repeated": after("ACTION:DISPLAY", "REPEAT:2\r\nDURATION:PT5M"),
    "two alarms": after("END:VALARM", SECOND_ALARM),
    "alarm first": lambda data: re.sub(
        rb"(?s)(BEGIN:VEVENT\r\n)(.*?)(BEGIN:VALARM.*?END:VALARM\r\n)", rb"\1\3\2", data, count=1
    ),
    "cancelled, with an alarm": swap("STATUS:CONFIRMED", "STATUS:CANCELLED"),
    "cancelled, not said": resub(
        r"(?s)STATUS:CONFIRMED(\r\nTRANSP:\w+\r\n)BEGIN:VALARM.*?END:VALARM\r\n",
        r"STATUS:CANCELLED\1",
    ),
}


@pytest.fixture(scope="module")
def good(build: Any) -> bytes:
    tasks = [build.task(0), build.timed(1), build.task(2, alarm=None), build.timed(3)]
    return write_calendar(build.plan(tasks))


@pytest.mark.parametrize("name", MUTANTS)
def test_one_defect_is_flagged(name: str, good: bytes) -> None:
    broken = MUTANTS[name](good)
    assert broken != good
    assert lint(broken), name


def test_there_are_enough_of_them() -> None:
    assert len(MUTANTS) >= 40


def test_good_files_are_not_flagged(good: bytes, build: Any, tmp_path: Path, now: datetime) -> None:
    assert lint(good) == []
    for number in range(storm(4, 10)):
        plan = build.random_plan(number, 60, hostile=number % 2 == 1)
        assert lint(write_calendar(plan)) == []
        assert lint(write_calendar(plan, purpose="import", only=Scope(fish="aoi"))) == []
    path = tmp_path / "koi.ics"
    for tasks in ([build.task(0), build.timed(1)], []):
        plan = build.plan(tasks, planned_on=date(2027, 3, 2))
        export_calendar(plan, path, now=now, purpose="import")
        assert lint(path.read_bytes()) == []


@pytest.mark.parametrize(
    "data", [b"", b"\r\n", b"\xff", b"BEGIN:VCALENDAR\r\n", b"END:A\r\n", b":"]
)
def test_rubbish_is_flagged_without_an_error(data: bytes) -> None:
    assert lint(data)
