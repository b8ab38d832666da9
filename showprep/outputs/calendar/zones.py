"""VTIMEZONE components made from the zone's own rules.

The icalendar library's own ones put every spring onset an hour late (it writes the hour after the
change, RFC 5545 §3.6.5 wants the hour before) and call Dublin's winter DAYLIGHT, so they are made
here from zoneinfo.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from msgspec import Struct

if TYPE_CHECKING:
    from icalendar import Timezone

UTC_NAMES = frozenset({"UTC", "Etc/UTC", "Etc/UCT", "Etc/Universal", "Etc/Zulu", "Zulu", "UCT"})
_STEP = timedelta(days=7)  # shorter than any stretch between two changes that lasts


class Onset(Struct, frozen=True):
    """One change of a zone's offset: the instant (UTC), the offsets around it, the new name.

    `daylight`: have the clocks gone forward? Told by the offset, since Dublin's rules say the
    opposite of what its clocks do.
    """

    instant: datetime
    before: timedelta
    after: timedelta
    name: str
    daylight: bool

    @property
    def local(self) -> datetime:
        """The onset as RFC 5545 §3.6.5 wants it: in the local time of the offset before."""
        return (self.instant + self.before).replace(tzinfo=None)


def onsets(zone: ZoneInfo, first_year: int, last_year: int) -> Iterator[Onset]:
    """Every change of offset from the start of `first_year` to the end of `last_year`, UTC."""
    instant = datetime(first_year, 1, 1, tzinfo=UTC)
    end = datetime(last_year + 1, 1, 1, tzinfo=UTC)
    before = _offset(zone, instant)
    while instant < end:
        later = min(instant + _STEP, end)
        after = _offset(zone, later)
        if after != before:
            change = _bisect(zone, instant, later)
            # Take up right behind the change: two may lie in one step.
            later, after = change, _offset(zone, change)
            yield Onset(change, before, after, _name(zone, change), after > before)
        instant, before = later, after


def _bisect(zone: ZoneInfo, low: datetime, high: datetime) -> datetime:
    start = _offset(zone, low)
    while high - low > timedelta(seconds=1):
        middle = low + timedelta(seconds=(high - low) // timedelta(seconds=2))
        if _offset(zone, middle) == start:
            low = middle
        else:
            high = middle
    return high


def _offset(zone: ZoneInfo, instant: datetime) -> timedelta:
    offset = instant.astimezone(zone).utcoffset()
    return offset if offset is not None else timedelta(0)


def _name(zone: ZoneInfo, instant: datetime) -> str:
    return instant.astimezone(zone).tzname() or zone.key


@lru_cache(maxsize=64)
def observances(key: str, first_year: int, last_year: int) -> tuple[Onset, ...]:
    """What a VTIMEZONE of this zone must hold so that these years are right.

    The first one says what held from the start of `first_year`.
    """
    zone = ZoneInfo(key)
    start = datetime(first_year, 1, 1, tzinfo=UTC)
    offset = _offset(zone, start)
    changes = tuple(onsets(zone, first_year, last_year))
    summer = bool(changes) and changes[0].after < offset
    return Onset(start - offset, offset, offset, _name(zone, start), summer), *changes


def time_zone(key: str, years: Iterable[int]) -> Timezone:
    """The VTIMEZONE of an IANA zone, right from the year before the first to the one after the
    last of `years`."""
    from icalendar import Timezone, TimezoneDaylight, TimezoneStandard
    from icalendar.prop import vDatetime, vText, vUTCOffset

    wanted = sorted(years)
    component = Timezone()
    component["TZID"] = vText(key)
    for onset in observances(key, wanted[0] - 1, wanted[-1] + 1):
        part = TimezoneDaylight() if onset.daylight else TimezoneStandard()
        part["DTSTART"] = vDatetime(onset.local)
        part["TZOFFSETFROM"] = vUTCOffset(onset.before)
        part["TZOFFSETTO"] = vUTCOffset(onset.after)
        part["TZNAME"] = vText(onset.name)
        component.add_component(part)
    return component
