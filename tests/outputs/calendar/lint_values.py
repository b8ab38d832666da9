"""Rules for single values."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta, tzinfo
from zoneinfo import ZoneInfo

from tests.outputs.calendar.lint_parts import Part, Property

_BAD_TEXT = re.compile(r"\\[^;,n]|\\$|(?<!\\)[;,]")
_DURATION = re.compile(r"([+-]?)P(?:(\d+)W|(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?)")
_DATE = re.compile(r"\d{8}")
_LOCAL = re.compile(r"\d{8}T\d{6}")
_UTC = re.compile(r"\d{8}T\d{6}Z")


def text_fault(found: Property) -> str | None:
    """Separators are escaped, and no escape is one that some reader takes for another
    (RFC 5545 §3.3.11; an escaped backslash is misread by several readers)."""
    if _BAD_TEXT.search(found.value):
        return f"{found.name} holds a bare ';' or ',' or a bad escape"
    return None


def duration(value: str) -> timedelta | None:
    """RFC 5545 §3.3.6, or None."""
    match = _DURATION.fullmatch(value)
    if match is None or value.endswith(("P", "T")):
        return None
    sign, weeks, days, hours, minutes, seconds = match.groups(default="0")
    # Hours, minutes and seconds may not leave a gap: "PT1H5S" is no duration.
    if match[4] is not None and match[6] is not None and match[5] is None:
        return None
    length = timedelta(
        weeks=int(weeks),
        days=int(days),
        hours=int(hours),
        minutes=int(minutes),
        seconds=int(seconds),
    )
    return -length if sign == "-" else length


def utc_instant(value: str) -> datetime | None:
    if not _UTC.fullmatch(value):
        return None
    return _parsed(value[:-1], UTC)


def moment(found: Property) -> date | None:
    """A day, or an instant with its zone; None when it is neither, or floating."""
    if found.parameters == ";VALUE=DATE":
        instant = _parsed(found.value + "T000000") if _DATE.fullmatch(found.value) else None
        return instant.date() if instant is not None else None
    if found.parameters == "":
        return utc_instant(found.value)
    zone = zone_named(found.parameters.removeprefix(";TZID="))
    if zone is None or not _LOCAL.fullmatch(found.value):
        return None
    return _parsed(found.value, zone)


def local_time(value: str) -> datetime | None:
    return _parsed(value) if _LOCAL.fullmatch(value) else None


def zone_named(key: str) -> ZoneInfo | None:
    """The IANA zone of this name; None when there is none."""
    try:
        return ZoneInfo(key.strip('"'))
    except (KeyError, ValueError, OSError):
        return None


def _parsed(value: str, zone: tzinfo | None = None) -> datetime | None:
    try:
        year, month, day = int(value[:4]), int(value[4:6]), int(value[6:8])
        hour, minute, second = int(value[9:11]), int(value[11:13]), int(value[13:15])
        return datetime(year, month, day, hour, minute, second, tzinfo=zone)
    except ValueError:
        return None


def counted(part: Part, once: frozenset[str], at_most_once: frozenset[str]) -> list[str]:
    """Properties that are missing, doubled or unknown."""
    names = [found.name for found in part.properties]
    there = set(names)
    faults = [f"line {part.line}: {part.kind} has no {name}" for name in sorted(once - there)]
    if len(names) != len(there):
        doubled = sorted(name for name in there if names.count(name) > 1)
        faults.extend(f"line {part.line}: {part.kind} has {name} twice" for name in doubled)
    unknown = sorted(there - once - at_most_once)
    faults.extend(f"line {part.line}: {part.kind} must not hold {name}" for name in unknown)
    return faults
