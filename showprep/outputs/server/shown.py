"""What a person sees of a job, so that a phone's own notes on it do not count as a change.

A phone that was told to be quiet about an alarm writes that into the event, and a server may put
an event in another order; neither changes the job.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from showprep.outputs.calendar.editions import moment_text
from showprep.outputs.calendar.events import MARK
from showprep.outputs.calendar.jobs import Job
from showprep.outputs.server.marks import Mark, mark_in


@dataclass(frozen=True, slots=True)
class ServerEvent:
    """An event as it lies on the server: a hash of what is shown, its sequence, and what it says of
    the edition that was published."""

    shown: str
    sequence: int
    mark: Mark | None = field(default=None, compare=False)

    @property
    def untouched(self) -> bool:
        """Is it seen as it was published?"""
        return self.mark is not None and self.mark.shown == self.shown


class PhoneEvent(Struct, frozen=True):
    """An event as a person left it on the server, with the whole resource it came in."""

    uid: str
    summary: str
    description: str
    start: date
    end: date
    status: str
    alarms: tuple[int, ...]  # minutes before the start
    data: bytes
    changed: datetime | None = None  # when it was completed or last changed, where it says so

    @property
    def day(self) -> date:
        return self.start.date() if isinstance(self.start, datetime) else self.start

    def ticked(self, published: str) -> bool:
        """Was the title marked as done, or the entry completed?"""
        ticked = self.summary != published and without_tick(self.summary) == published
        return ticked or self.status == "COMPLETED"

    def same_moments(self, start: str, end: str) -> bool:
        """Are its days or times those that the ledger remembers?"""
        return (moment_text(self.start), moment_text(self.end)) == (start, end)


def _before(alarm: Any) -> int:
    """Minutes before the start; of an alarm at a fixed moment, which nothing here writes, -1."""
    trigger = alarm["TRIGGER"].dt
    seconds = getattr(trigger, "total_seconds", None)
    return int(-seconds() // 60) if seconds is not None else -1


# Of events that are repeated, and of tasks: no property of an event of ours.
OF_OTHERS = (
    *("DURATION", "RECURRENCE-ID", "EXDATE", "RDATE"),
    *("DUE", "COMPLETED", "PERCENT-COMPLETE"),
)
TICKS = ("✓", "✔", "☑", "x ", "X ")


def without_tick(title: str) -> str:
    """The title as it was before somebody marked it as done."""
    for mark in TICKS:
        if title.startswith(mark):
            return title.removeprefix(mark).removeprefix(" ")
    return title


def phone_event(data: bytes, uid: str) -> PhoneEvent | None:
    """The one event with this UID; None where it cannot be told."""
    event = any_event(data)
    return event if event is not None and event.uid == uid else None


def any_event(data: bytes) -> PhoneEvent | None:
    """The one event in a resource, whoever made it, or the task that a program has made of it;
    None where it cannot be told."""
    from icalendar import Calendar, Event, Todo

    try:
        (event,) = _jobs(Calendar.from_ical(data))
        if not isinstance(event, Event | Todo) or "RRULE" in event:
            return None
        alarms = [_before(one) for one in event.walk("VALARM")]
        return PhoneEvent(
            str(event["UID"]),
            str(event.get("SUMMARY", "")),
            str(event.get("DESCRIPTION", "")),
            event.start,
            event.end,
            str(event.get("STATUS", "CONFIRMED")).upper(),
            tuple(sorted(alarms)),
            data,
            _changed(event),
        )
    except Exception:  # whatever a stranger's event may hold
        return None


def _changed(event: Any) -> datetime | None:
    """RFC 5545 §3.8.2.1 and §3.8.7.3; both are written in UTC."""
    for name in ("COMPLETED", "LAST-MODIFIED"):
        when = event[name].dt if name in event else None
        if isinstance(when, datetime) and when.tzinfo is not None:
            return when
    return None


def _jobs(calendar: Any) -> list[Any]:
    return [one for one in calendar.subcomponents if one.name in ("VEVENT", "VTODO")]


def merged(theirs: PhoneEvent, ours: bytes, published: str, alarm: int | None) -> bytes:
    """Our new edition with what the keeper wrote on the phone: what remains of a description when
    the published one is taken out, alarms other than the published, colour, categories."""
    from icalendar import Calendar
    from icalendar.prop import vText

    old, new = Calendar.from_ical(theirs.data), Calendar.from_ical(ours)
    (event,), (edition,) = _jobs(old), _jobs(new)
    words = own_words(theirs.description, published)
    if words:
        text = f"{edition.get('DESCRIPTION', '')}\n\n{words}".strip()
        edition.pop("DESCRIPTION", None)
        edition.add("DESCRIPTION", text)
    for name, value in event.items():
        own = name not in edition or name == "CATEGORIES"
        if own and name not in OF_OTHERS:
            edition[name] = value
    if theirs.alarms != (() if alarm is None else (alarm,)):
        edition.subcomponents = list(event.subcomponents)
    whole: bytes = new.to_ical()
    mark = mark_in(edition)
    if mark is not None:  # it is seen with the keeper's words now
        shown = found_in(whole, str(edition["UID"])).shown
        edition[MARK] = vText(str(replace(mark, shown=shown)))
        whole = new.to_ical()
    return whole


def own_words(text: str, published: str) -> str:
    """What the keeper added to a description."""
    if published and published in text:
        before, _, after = text.partition(published)
        return f"{before.strip()}\n{after.strip()}".strip()
    known = {line.strip() for line in published.splitlines()}
    return "\n".join(line for line in text.splitlines() if line.strip() not in known).strip()


UNREADABLE = ServerEvent("", 0)


def shown_by(job: Job) -> str:
    return _hash((job.summary, job.description, _moment(job.start), _moment(job.end), job.status))


def found_in(data: bytes, uid: str) -> ServerEvent:
    """The event with this UID in a resource; UNREADABLE when there is none, or more than one."""
    from icalendar import Calendar, Event

    try:
        (event,) = Calendar.from_ical(data).walk("VEVENT")
        if not isinstance(event, Event) or str(event["UID"]) != uid:
            return UNREADABLE
        parts = (
            str(event.get("SUMMARY", "")),
            str(event.get("DESCRIPTION", "")),
            _moment(event.start),
            _moment(event.end),
            str(event.get("STATUS", "CONFIRMED")).upper(),
        )
        return ServerEvent(_hash(parts), int(event.get("SEQUENCE", 0)), mark_in(event))
    except Exception:  # whatever a stranger's event may hold, it is not what was written here
        return UNREADABLE


def _moment(moment: date) -> str:
    if isinstance(moment, datetime):
        return moment.astimezone(UTC).isoformat()
    return moment.isoformat()


def _hash(parts: Iterable[str]) -> str:
    return hashlib.sha256("\x00".join(parts).encode("utf-8")).hexdigest()[:32]
