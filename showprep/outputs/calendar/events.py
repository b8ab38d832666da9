"""Events and calendars written with the icalendar library, its gaps closed here.

What the library would get wrong, and what is done instead: it adds a random UID to the calendar
(so the calendar is built bare); it writes REFRESH-INTERVAL without its required VALUE and NAME and
X- texts unescaped (so they are wrapped by hand); it makes wrong VTIMEZONEs (see zones); it accepts
text, ends and alarms that no reader can use (see text and jobs; the tests lint every file).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from showprep.outputs.calendar.jobs import Job
from showprep.outputs.calendar.text import clean_line
from showprep.outputs.calendar.zones import time_zone

if TYPE_CHECKING:
    from icalendar import Calendar, Event
    from icalendar.prop import vDDDTypes, vText

PRODID = "-//showprep//koi show season//EN"
CATEGORY = "Koi shows"
MARK = "X-SHOWPREP-EDITION"
REFRESH = timedelta(hours=6)  # how often a subscriber is asked to look; a floor, not a promise


class Stamp(Struct, frozen=True):
    """Which edition of a job this is: RFC 5546 §2.1.4 orders editions by sequence, then stamp."""

    sequence: int
    modified: datetime  # UTC, whole seconds


def event_of(job: Job, stamp: Stamp) -> Event:
    """One VEVENT. The alarm comes last: one importer finds no event behind an alarm."""
    from icalendar import Event
    from icalendar.prop import vInt, vText

    event = Event()
    modified = _value(stamp.modified)
    summary = vText(job.summary)
    event["UID"] = vText(job.uid)
    event["DTSTAMP"] = modified
    event["LAST-MODIFIED"] = modified
    event["SEQUENCE"] = vInt(stamp.sequence)
    event["SUMMARY"] = summary
    if job.description:
        event["DESCRIPTION"] = vText(job.description)
    if job.place:
        event["LOCATION"] = vText(job.place)
    event["DTSTART"] = _value(job.start, job.zone)
    event["DTEND"] = _value(job.end, job.zone)
    event["STATUS"] = _word(job.status)
    event["TRANSP"] = _word("TRANSPARENT" if job.all_day else "OPAQUE")
    event["CATEGORIES"] = _word(CATEGORY)
    if job.alarm is not None and job.status != "CANCELLED":
        _add_alarm(event, summary, job.alarm)
    return event


def _add_alarm(event: Event, text: vText, before: timedelta) -> None:
    """A display alarm whose text is useful by itself: some phones show nothing else, and some
    put it in place of the event's own text. It carries no UID, DURATION or REPEAT, which one
    importer takes for the event's."""
    from icalendar import Alarm

    alarm = Alarm()
    alarm["ACTION"] = _word("DISPLAY")
    alarm["DESCRIPTION"] = text
    alarm["TRIGGER"] = _value(-before)
    event.add_component(alarm)


@lru_cache(maxsize=16)
def _word(text: str) -> vText:
    from icalendar.prop import vText

    return vText(text)


@lru_cache(maxsize=4096)
def _value(moment: date | timedelta, zone: str | None = None) -> vDDDTypes:
    """The library's value for a day, an instant or a duration: the same ones come again and again,
    and are costly to make. `zone` tells equal instants in two zones apart."""
    from icalendar.prop import vDDDTypes

    return vDDDTypes(moment)


def calendar_of(
    stamped: Iterable[tuple[Job, Stamp]], *, name: str, spare: tuple[str, int], refresh: bool
) -> bytes:
    """The bytes of a whole calendar.

    `refresh` asks subscribers to look again every few hours. `spare` is the zone, and the year,
    written when there is no job at all: a calendar must hold at least one component (RFC 5545
    §3.6), and a subscriber must be able to learn that nothing is left to do.
    """
    calendar = _head()
    _add_names(calendar, clean_line(name))
    if refresh:
        _add_refresh(calendar)
    everything = list(stamped)
    _add_zones(calendar, [job for job, _ in everything], spare)
    for job, stamp in everything:
        calendar.add_component(event_of(job, stamp))
    data: bytes = calendar.to_ical()
    return data


def resource_of(job: Job, stamp: Stamp, mark: str = "") -> bytes:
    """The bytes of one job as a calendar server keeps it: one UID, no METHOD (RFC 4791 §4.1).

    `mark` says of which season and edition it is, for when the ledger is lost."""
    from icalendar.prop import vText

    calendar = _head()
    _add_zones(calendar, [job], None)
    event = event_of(job, stamp)
    if mark:
        event[MARK] = vText(mark)
    calendar.add_component(event)
    data: bytes = calendar.to_ical()
    return data


def _head() -> Calendar:
    from icalendar import Calendar
    from icalendar.prop import vText

    calendar = Calendar()
    calendar["VERSION"] = vText("2.0")
    calendar["PRODID"] = vText(PRODID)
    return calendar


def _add_names(calendar: Calendar, name: str) -> None:
    from icalendar.prop import vText

    calendar["NAME"] = vText(name)
    calendar["X-WR-CALNAME"] = vText(name)


def _add_refresh(calendar: Calendar) -> None:
    from icalendar.prop import vDuration

    interval = vDuration(REFRESH)
    interval.params["VALUE"] = "DURATION"
    calendar["REFRESH-INTERVAL"] = interval
    calendar["X-PUBLISHED-TTL"] = vDuration(REFRESH)


def _add_zones(calendar: Calendar, jobs: list[Job], spare: tuple[str, int] | None) -> None:
    years: dict[str, set[int]] = {}
    for job in jobs:
        if job.zone is not None:
            years.setdefault(job.zone, set()).update((job.start.year, job.end.year))
    if not jobs and spare is not None:
        years[spare[0]] = {spare[1]}
    for key in sorted(years):
        calendar.add_component(time_zone(key, years[key]))
