"""What a person sees of a job, so that a phone's own notes on it do not count as a change.

A phone that was told to be quiet about an alarm writes that into the event, and a server may put
an event in another order; neither changes the job.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from showprep.outputs.calendar.jobs import Job
from showprep.outputs.calendar.ledger import instant_text


@dataclass(frozen=True, slots=True)
class ServerEvent:
    """An event as it lies on the server: a hash of what is shown, and its sequence."""

    shown: str
    sequence: int


@dataclass(frozen=True, slots=True)
class PhoneEvent:
    """An event as a person left it on the server, with the whole resource it came in."""

    summary: str
    description: str
    start: date
    end: date
    status: str
    alarms: tuple[int, ...]  # minutes before the start
    data: bytes

    @property
    def day(self) -> date:
        return self.start.date() if isinstance(self.start, datetime) else self.start

    def ticked(self, published: str) -> bool:
        """Was the title marked as done, or the entry completed?"""
        marked = {f"{mark}{gap}{published}" for mark in TICKS for gap in ("", " ")}
        return self.summary in marked or self.status == "COMPLETED"

    def same_moments(self, start: str, end: str) -> bool:
        """Are its days or times those that the ledger remembers?"""
        return (_remembered(self.start), _remembered(self.end)) == (start, end)


def _before(alarm: Any) -> int:
    """Minutes before the start; of an alarm at a fixed moment, which nothing here writes, -1."""
    trigger = alarm["TRIGGER"].dt
    seconds = getattr(trigger, "total_seconds", None)
    return int(-seconds() // 60) if seconds is not None else -1


TICKS = ("✓", "✔", "☑", "x ", "X ")


def phone_event(data: bytes, uid: str) -> PhoneEvent | None:
    """The one event with this UID; None where it cannot be told."""
    from icalendar import Calendar, Event

    try:
        (event,) = Calendar.from_ical(data).walk("VEVENT")
        if not isinstance(event, Event) or str(event["UID"]) != uid or "RRULE" in event:
            return None
        alarms = [_before(one) for one in event.walk("VALARM")]
        return PhoneEvent(
            str(event.get("SUMMARY", "")),
            str(event.get("DESCRIPTION", "")),
            event.start,
            event.end,
            str(event.get("STATUS", "CONFIRMED")).upper(),
            tuple(sorted(alarms)),
            data,
        )
    except Exception:  # whatever a stranger's event may hold
        return None


def merged(theirs: PhoneEvent, ours: bytes, published: str, alarm: int | None) -> bytes:
    """Our new edition with what the keeper wrote on the phone: what remains of a description when
    the published one is taken out, alarms other than the published, colour, categories."""
    from icalendar import Calendar

    old, new = Calendar.from_ical(theirs.data), Calendar.from_ical(ours)
    (event,), (edition,) = old.walk("VEVENT"), new.walk("VEVENT")
    words = own_words(theirs.description, published)
    if words:
        text = f"{edition.get('DESCRIPTION', '')}\n\n{words}".strip()
        edition.pop("DESCRIPTION", None)
        edition.add("DESCRIPTION", text)
    for name, value in event.items():
        own = name not in edition or name == "CATEGORIES"
        if own and name not in ("DURATION", "RECURRENCE-ID", "EXDATE", "RDATE"):
            edition[name] = value
    if theirs.alarms != (() if alarm is None else (alarm,)):
        edition.subcomponents = list(event.subcomponents)
    whole: bytes = new.to_ical()
    return whole


def own_words(text: str, published: str) -> str:
    """What the keeper added to a description."""
    if published and published in text:
        before, _, after = text.partition(published)
        return f"{before.strip()}\n{after.strip()}".strip()
    known = {line.strip() for line in published.splitlines()}
    return "\n".join(line for line in text.splitlines() if line.strip() not in known).strip()


def _remembered(moment: date) -> str:
    return instant_text(moment) if isinstance(moment, datetime) else moment.isoformat()


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
        return ServerEvent(_hash(parts), int(event.get("SEQUENCE", 0)))
    except Exception:  # whatever a stranger's event may hold, it is not what was written here
        return UNREADABLE


def _moment(moment: date) -> str:
    if isinstance(moment, datetime):
        return moment.astimezone(UTC).isoformat()
    return moment.isoformat()


def _hash(parts: Iterable[str]) -> str:
    return hashlib.sha256("\x00".join(parts).encode("utf-8")).hexdigest()[:32]
