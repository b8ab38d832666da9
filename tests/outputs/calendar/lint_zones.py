"""Rules for time zones: every onset is where the zone's own rules put it."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from tests.outputs.calendar.lint_parts import Part
from tests.outputs.calendar.lint_values import counted, local_time, zone_named

_OFFSET = re.compile(r"([+-])(\d{2})([0-5]\d)([0-5]\d)?")
_DAY = timedelta(days=1)


def zone_faults(zone: Part, years: set[int]) -> list[str]:
    """Faults of one VTIMEZONE that must be right for the `years` in which it is used."""
    faults = counted(zone, frozenset({"TZID"}), frozenset())
    name = zone.one("TZID")
    if name is None:
        return faults
    rules = zone_named(name.value)
    if rules is None:
        return [*faults, f"line {name.line}: {name.value!r} is no IANA zone; readers go by name"]
    onsets = []
    for part in zone.parts:
        found, onset = _onset(part, rules)
        faults.extend(found)
        if onset is not None:
            onsets.append(onset)
    if not faults:
        faults.extend(_gaps(zone, sorted(onsets), rules, years))
    return faults


def _onset(part: Part, rules: ZoneInfo) -> tuple[list[str], tuple[datetime, timedelta] | None]:
    """The instant of an onset and the offset from then on, with what is wrong about it."""
    if part.kind not in ("STANDARD", "DAYLIGHT"):
        return [f"line {part.line}: {part.kind} inside a time zone"], None
    wanted = frozenset({"DTSTART", "TZOFFSETFROM", "TZOFFSETTO"})
    faults = counted(part, wanted, frozenset({"TZNAME"}))
    if faults:
        return faults, None
    values = {found.name: found.value for found in part.properties}
    start = local_time(values["DTSTART"])
    before, after = _offset(values["TZOFFSETFROM"]), _offset(values["TZOFFSETTO"])
    if start is None or before is None or after is None:
        return [f"line {part.line}: an onset without a local time or a proper offset"], None
    # RFC 5545 §3.6.5: the onset is in the local time of the offset before it.
    instant = (start - before).replace(tzinfo=UTC)
    moments = (instant, after), (instant - timedelta(seconds=1), before)
    if any(_rule(rules, moment) != offset for moment, offset in moments[: 1 + (before != after)]):
        return [f"line {part.line}: {part.kind} starts where the zone's rules have no change"], None
    return [], (instant, after)


def _gaps(
    zone: Part, onsets: list[tuple[datetime, timedelta]], rules: ZoneInfo, years: set[int]
) -> list[str]:
    """Days of the years it is used in, and the years around them, that would be read wrong."""
    if not onsets:
        return [f"line {zone.line}: a time zone without an onset"]
    first = datetime(min(years) - 1, 1, 2, 12, tzinfo=UTC) if years else onsets[0][0] + _DAY
    last = datetime(max(years) + 1, 12, 31, 12, tzinfo=UTC) if years else onsets[-1][0] + _DAY
    if onsets[0][0] > first:
        return [f"line {zone.line}: the time zone begins too late"]
    day, current = first, 0
    while day <= last:
        while current + 1 < len(onsets) and onsets[current + 1][0] <= day:
            current += 1
        if onsets[current][1] != _rule(rules, day):
            return [f"line {zone.line}: a change of the clocks is missing near {day:%Y-%m-%d}"]
        day += _DAY
    return []


def _rule(rules: ZoneInfo, instant: datetime) -> timedelta | None:
    return instant.astimezone(rules).utcoffset()


def _offset(value: str) -> timedelta | None:
    match = _OFFSET.fullmatch(value)
    if match is None:
        return None
    sign, hours, minutes, seconds = match.groups(default="0")
    length = timedelta(hours=int(hours), minutes=int(minutes), seconds=int(seconds))
    return -length if sign == "-" else length
