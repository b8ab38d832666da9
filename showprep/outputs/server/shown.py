"""What a person sees of a job, so that a phone's own notes on it do not count as a change.

A phone that was told to be quiet about an alarm writes that into the event, and a server may put
an event in another order; neither changes the job.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime

from showprep.outputs.calendar.jobs import Job


@dataclass(frozen=True, slots=True)
class ServerEvent:
    """An event as it lies on the server: a hash of what is shown, and its sequence."""

    shown: str
    sequence: int


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
