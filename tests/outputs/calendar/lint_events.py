"""Rules for events and their alarms."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

from tests.outputs.calendar.lint_parts import Part, Property
from tests.outputs.calendar.lint_values import counted, duration, moment, text_fault, utc_instant

_STAMPS = frozenset({"DTSTAMP", "LAST-MODIFIED"})
_ONCE = _STAMPS | {"UID", "SEQUENCE", "SUMMARY", "DTSTART", "DTEND", "STATUS", "TRANSP"}
# The mark of an edition: RFC 5545 §3.8.8.2 allows properties of one's own.
_MARK = "X-SHOWPREP-EDITION"
_AT_MOST_ONCE = frozenset({"DESCRIPTION", "CATEGORIES", "COLOR", "LOCATION", "RELATED-TO", _MARK})
_UID = re.compile(r"[0-9A-F-]{1,255}")
_SEQUENCE_LARGEST = 2**31 - 1
_TITLE_LONGEST = 180  # characters; one Android calendar cuts titles there
_ALARM_EARLIEST = timedelta(minutes=-40_320)  # the longest reminder Google Calendar takes
_TEXTS = frozenset({"SUMMARY", "DESCRIPTION", "LOCATION"})
_WORDS = {
    "STATUS": frozenset({"TENTATIVE", "CONFIRMED", "CANCELLED"}),  # RFC 5545 §3.8.1.11
    "TRANSP": frozenset({"OPAQUE", "TRANSPARENT"}),  # RFC 5545 §3.8.2.7
}


def event_faults(event: Part, used: dict[str, set[int]]) -> list[str]:
    """Faults of one event; the zones it uses are added to `used` with their years."""
    faults = counted(event, _ONCE, _AT_MOST_ONCE)
    by_name = {found.name: found for found in event.properties}
    for found in event.properties:
        fault = _property_fault(found)
        if fault is not None:
            faults.append(f"line {found.line}: {fault}")
    stamp, modified = by_name.get("DTSTAMP"), by_name.get("LAST-MODIFIED")
    if stamp and modified and stamp.value != modified.value:
        # RFC 5545 §3.8.7.2: without METHOD the two mean the same.
        faults.append(f"line {stamp.line}: DTSTAMP and LAST-MODIFIED differ")
    faults.extend(_span_faults(by_name, used))
    faults.extend(_alarm_faults(event, by_name))
    return faults


def _property_fault(found: Property) -> str | None:
    name, value = found.name, found.value
    if found.parameters and name not in ("DTSTART", "DTEND", "RELATED-TO"):
        return f"{name} needs no parameters here"
    if name in _TEXTS:
        if not value.strip() or (name == "SUMMARY" and len(value) > _TITLE_LONGEST):
            return f"{name} is empty, or too long for a phone"
        return text_fault(found)
    if name in _WORDS and value not in _WORDS[name]:
        return f"{name} cannot be {value!r}"
    if name == "UID" and not _UID.fullmatch(value):
        return "UID may hold 0-9, A-F and '-' only: others break some servers"
    if name in _STAMPS and utc_instant(value) is None:
        return f"{name} must be in UTC (RFC 5545 §3.8.7)"
    if name == "SEQUENCE" and not (value.isdecimal() and int(value) <= _SEQUENCE_LARGEST):
        return "SEQUENCE is no whole number of 31 bits"
    if name == "CATEGORIES" and ("," in value or not value):
        return "CATEGORIES: one category, without a comma"
    if name == "COLOR" and not value.isalpha():
        return "COLOR must be a colour's name (RFC 7986 §5.9)"
    return None


def _span_faults(by_name: dict[str, Property], used: dict[str, set[int]]) -> list[str]:
    start, end = by_name.get("DTSTART"), by_name.get("DTEND")
    if start is None or end is None:
        return []
    if start.parameters != end.parameters:
        return [f"line {end.line}: DTSTART and DTEND are not of one kind (RFC 5545 §3.8.2.2)"]
    first, last = moment(start), moment(end)
    if first is None or last is None:
        return [
            f"line {(start if first is None else end).line}: no day, no UTC time and no time in an"
            " IANA zone"
        ]
    if start.parameters.startswith(";TZID="):
        key = start.parameters.removeprefix(";TZID=").strip('"')
        used.setdefault(key, set()).update((first.year, last.year))
    if isinstance(first, datetime) and isinstance(last, datetime):
        first, last = first.astimezone(UTC), last.astimezone(UTC)
    if last <= first:
        return [f"line {end.line}: DTEND is not later than DTSTART (RFC 5545 §3.8.2.2)"]
    return []


def _alarm_faults(event: Part, by_name: dict[str, Property]) -> list[str]:
    faults = []
    status, title = by_name.get("STATUS"), by_name.get("SUMMARY")
    if status is not None and status.value == "CANCELLED":
        if event.parts:
            faults.append(f"line {event.line}: a cancelled job must not ring")
        if title is not None and not title.value.startswith("Cancelled: "):
            faults.append(f"line {title.line}: the title must say that the job is cancelled")
    if len(event.parts) > 1:
        faults.append(f"line {event.line}: more than one alarm; some calendars keep only one")
    if event.late_property:
        faults.append(f"line {event.line}: the alarm must come last in the event")
    for part in event.parts:
        if part.kind == "VALARM":
            faults.extend(_one_alarm_faults(part))
        else:
            faults.append(f"line {part.line}: {part.kind} inside an event")
    return faults


def _one_alarm_faults(alarm: Part) -> list[str]:
    # RFC 5545 §3.6.6. UID, DURATION and REPEAT would be taken for the event's by one importer.
    faults = counted(alarm, frozenset({"ACTION", "TRIGGER", "DESCRIPTION"}), frozenset())
    for found in alarm.properties:
        place = f"line {found.line}: "
        if found.name == "ACTION" and found.value != "DISPLAY":
            faults.append(f"{place}an alarm that is not for display")
        elif found.name == "TRIGGER":
            length = duration(found.value)
            if found.parameters or length is None:
                faults.append(f"{place}TRIGGER must be a bare duration")
            elif not _ALARM_EARLIEST <= length <= timedelta(0):
                faults.append(f"{place}the alarm is after the start, or over 28 days before it")
        elif found.name == "DESCRIPTION":
            fault = text_fault(found) if found.value.strip() else "the alarm says nothing"
            faults.extend([place + fault] if fault else [])
    return faults
