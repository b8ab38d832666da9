"""Every VTIMEZONE says what the zone's own rules say.

Checked against zoneinfo (the IANA time zone data), hour by hour, in zones of both hemispheres;
RFC 5545 §3.6.5 puts an onset in the local time of the offset before it.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from icalendar import Timezone

from showprep.outputs.calendar.zones import onsets, time_zone
from tests.outputs.calendar.lint_parts import parts_of
from tests.outputs.calendar.lint_zones import zone_faults

ZONES = (
    # northern hemisphere
    "Europe/London",
    "Europe/Dublin",
    "Europe/Berlin",
    "Europe/Moscow",
    "Atlantic/Azores",
    "America/New_York",
    "America/Los_Angeles",
    "America/St_Johns",
    "America/Havana",
    "America/Phoenix",
    "Africa/Casablanca",
    "Africa/Cairo",
    "Asia/Beirut",
    "Asia/Jerusalem",
    "Asia/Tokyo",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "America/Nuuk",
    "UTC",
    # southern hemisphere
    "Australia/Sydney",
    "Australia/Lord_Howe",
    "Australia/Brisbane",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "America/Santiago",
    "America/Asuncion",
    "America/Sao_Paulo",
    "Africa/Johannesburg",
)


def by_component(component: Timezone) -> list[tuple[datetime, timedelta]]:
    """(instant, offset from then on) of each onset."""
    found = []
    for part in component.subcomponents:
        before = part["TZOFFSETFROM"].td
        found.append(((part["DTSTART"].dt - before).replace(tzinfo=UTC), part["TZOFFSETTO"].td))
    return sorted(found)


@pytest.mark.parametrize("key", ZONES)
@pytest.mark.parametrize("year", [2019, 2027])
def test_offsets_are_right_in_every_hour(key: str, year: int) -> None:
    changes = by_component(time_zone(key, [year]))
    zone = ZoneInfo(key)
    hour = datetime(year - 1, 1, 1, tzinfo=UTC)
    current = 0
    while hour < datetime(year + 2, 1, 1, tzinfo=UTC):
        while current + 1 < len(changes) and changes[current + 1][0] <= hour:
            current += 1
        assert changes[current][1] == hour.astimezone(zone).utcoffset(), hour
        hour += timedelta(hours=1)


@pytest.mark.parametrize("key", ZONES)
def test_the_lint_accepts_them(key: str) -> None:
    root, faults = parts_of(time_zone(key, [2027, 2029]).to_ical().decode())
    assert root is not None
    assert not faults
    assert zone_faults(root, {2027, 2029}) == []


def test_london_spring_is_written_as_one_o_clock() -> None:
    """RFC 5545 §3.6.5: clocks in London go from 01:00 to 02:00, and 01:00 is written."""
    spring, autumn = onsets(ZoneInfo("Europe/London"), 2027, 2027)
    assert (spring.local, spring.daylight) == (datetime(2027, 3, 28, 1), True)
    assert (autumn.local, autumn.daylight) == (datetime(2027, 10, 31, 2), False)


def test_dublin_has_its_summer_in_summer() -> None:
    spring, autumn = onsets(ZoneInfo("Europe/Dublin"), 2027, 2027)
    assert (spring.name, spring.daylight, autumn.name, autumn.daylight) == (
        "IST",
        True,
        "GMT",
        False,
    )
