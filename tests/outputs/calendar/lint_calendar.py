"""Rules for the calendar as a whole."""

from __future__ import annotations

import re
from datetime import timedelta

from tests.outputs.calendar.lint_events import event_faults
from tests.outputs.calendar.lint_parts import Part, Property
from tests.outputs.calendar.lint_values import counted, duration, text_fault
from tests.outputs.calendar.lint_zones import zone_faults

_ONCE = frozenset({"VERSION", "PRODID"})
# No METHOD (a calendar server refuses it, and PUBLISH would need an ORGANIZER), and no UID (one
# subscription client takes it for the UID of every event).
_AT_MOST_ONCE = frozenset({"NAME", "X-WR-CALNAME", "REFRESH-INTERVAL", "X-PUBLISHED-TTL", "COLOR"})
_COLOUR_NAME = re.compile(r"[A-Za-z]+")


def calendar_faults(calendar: Part) -> list[str]:
    if calendar.kind != "VCALENDAR":
        return [f"line 1: {calendar.kind} where VCALENDAR should stand"]
    faults = counted(calendar, _ONCE, _AT_MOST_ONCE)
    faults.extend(_head_faults(calendar))
    for found in calendar.properties:
        faults.extend(_property_faults(found))
    faults.extend(_part_faults(calendar))
    return faults


def _head_faults(calendar: Part) -> list[str]:
    """One reader finds no event at all when VERSION comes late."""
    faults = []
    first_two = {found.name for found in calendar.properties if found.line in (2, 3)}
    if not first_two >= _ONCE:
        faults.append("lines 2 and 3 must be VERSION and PRODID")
    version = calendar.one("VERSION")
    if version is not None and version.value != "2.0":
        faults.append(f"line {version.line}: VERSION is not 2.0 (RFC 5545 §3.7.4)")
    if calendar.late_property:
        faults.append("the calendar's own properties must stand before its parts")
    return faults


def _property_faults(found: Property) -> list[str]:
    place = f"line {found.line}: {found.name}"
    if found.name in ("NAME", "X-WR-CALNAME", "PRODID"):
        fault = text_fault(found)
        return [f"line {found.line}: {fault}"] if fault else []
    if found.name in ("REFRESH-INTERVAL", "X-PUBLISHED-TTL"):
        faults = []
        if found.name == "REFRESH-INTERVAL" and found.parameters != ";VALUE=DURATION":
            faults.append(f"{place} needs VALUE=DURATION (RFC 7986 §5.7)")
        length = duration(found.value)
        if length is None or length <= timedelta(0):
            faults.append(f"{place} is no positive duration")
        return faults
    if found.name == "COLOR" and not _COLOUR_NAME.fullmatch(found.value):
        return [f"{place} must be a colour's name (RFC 7986 §5.9)"]
    return []


def _part_faults(calendar: Part) -> list[str]:
    faults = []
    zones: dict[str, Part] = {}
    seen: set[str] = set()
    used: dict[str, set[int]] = {}
    for part in calendar.parts:
        if part.kind == "VTIMEZONE":
            name = part.one("TZID")
            if name is not None and name.value in zones:
                faults.append(f"line {part.line}: the time zone {name.value} comes twice")
            zones[name.value if name is not None else ""] = part
        elif part.kind == "VEVENT":
            faults.extend(event_faults(part, used))
            uid = part.one("UID")
            if uid is not None and uid.value in seen:
                faults.append(f"line {uid.line}: the UID {uid.value} comes twice")
            seen.add(uid.value if uid is not None else "")
        else:
            faults.append(f"line {part.line}: {part.kind} is not understood by every phone")
    faults.extend(
        f"the time zone {key} is used but not described (RFC 5545 §3.6.5)"
        for key in sorted(used.keys() - zones.keys())
    )
    for key, zone in zones.items():
        faults.extend(zone_faults(zone, used.get(key, set())))
    if not calendar.parts:
        faults.append("the calendar is empty: at least one component (RFC 5545 §3.6)")
    return faults
