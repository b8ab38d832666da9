"""calcurse finds the same days, times and titles; it shows real days, so that an end taken for the
last day (RFC 5545 §3.8.2.2 excludes it) would be seen."""

from __future__ import annotations

import os
import re
import subprocess
from collections import Counter
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.calendar.export import write_calendar

_DAY = r"(\d\d)/(\d\d)/(\d{4})"
_ALL_DAY = re.compile(rf"{_DAY} \[1\] (?:\{{1D -> {_DAY}\}} )?(?:>\w+ )?(.*)")
_TIMED = re.compile(rf"{_DAY} @ (\d\d):(\d\d) -> {_DAY} @ (\d\d):(\d\d) ?(?:>\w+ )?[|!](.*)")
Line = tuple[date, date, str]


def by_calcurse(outside: Any, path: Path) -> Counter[Line]:
    """(first, last day) of all-day jobs, (start, end) in UTC of timed ones, with their titles."""
    program = outside.program("calcurse")
    folder = path.with_suffix("")
    folder.mkdir()
    command = [program, "--datadir", folder, "--confdir", folder, "-i", path]
    environment = {**os.environ, "TZ": "UTC", "LC_ALL": "C.UTF-8"}
    done = subprocess.run(
        command, capture_output=True, stdin=subprocess.DEVNULL, env=environment, check=True
    )
    assert b" 0 skipped" in done.stdout
    text = (folder / "apts").read_text(encoding="utf-8", errors="surrogateescape")
    return Counter(_line(line) for line in text.split("\n") if line)


def _line(line: str) -> Line:
    match = _ALL_DAY.fullmatch(line)
    if match is not None:
        first = _day(match.groups()[:3])
        return first, _day(match.groups()[3:6]) if match[4] else first, match[7]
    match = _TIMED.fullmatch(line)
    assert match is not None, line
    parts = match.groups()
    start = _day(parts[:3]), int(parts[3]), int(parts[4])
    end = _day(parts[5:8]), int(parts[8]), int(parts[9])
    return _time(*start), _time(*end), parts[10]


def _day(parts: Any) -> date:
    month, day, year = map(int, parts)
    return date(year, month, day)


def _time(day: date, hour: int, minute: int) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute)


@pytest.mark.parametrize("hostile", [False, True], ids=["plain", "hostile"])
def test_calcurse_agrees_with_the_plan(
    hostile: bool, tmp_path: Path, outside: Any, build: Any
) -> None:
    plan = build.random_plan(5, 120, hostile=hostile)
    path = tmp_path / "koi.ics"
    path.write_bytes(write_calendar(plan))
    expected: Counter[Line] = Counter()
    for seen in build.to_be_seen(plan).values():
        if isinstance(seen.start, datetime):
            line = seen.start.replace(tzinfo=None), seen.end.replace(tzinfo=None), seen.summary
        else:
            line = seen.start, seen.end - timedelta(days=1), seen.summary
        expected[line] += 1
    assert by_calcurse(outside, path) == expected
