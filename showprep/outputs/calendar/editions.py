"""Which edition of each job is written, and which jobs that left the plan are written as cancelled.

RFC 5545 §3.8.7.4 and RFC 5546 §2.1.4: a later edition has a higher SEQUENCE, and of equal ones the
later DTSTAMP wins. Importers that know neither look at LAST-MODIFIED. All three move forward when,
and only when, something else in the event changes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from msgspec.structs import replace

from showprep.outputs.calendar.events import Stamp
from showprep.outputs.calendar.jobs import LATE, About, Job
from showprep.outputs.calendar.ledger import (
    Ledger,
    LedgerRow,
    instant_text,
    minutes_since_2020,
    parse_instant,
)
from showprep.outputs.calendar.text import SUMMARY_LONGEST, shorten

DONE = "Done: "
DoneOn = Callable[[LedgerRow], date | None]  # the day on which a job was done, if it was
KEPT_CANCELLED = timedelta(days=30)
_SECOND = timedelta(seconds=1)
_SEQUENCE = re.compile(rb"\nSEQUENCE:(\d{1,9})\r")
_STAMP = re.compile(rb"\nDTSTAMP:(\d{8}T\d{6}Z)\r")
GONE_TEXT = "This job is no longer in the plan: the plan has changed."


def never_done(row: LedgerRow) -> date | None:
    """For a calendar of which only the plan is known."""
    return None


def first_stamp(planned_on: date) -> datetime:
    """The stamp of what is written on the day a plan is made: midnight UTC, not the clock, so
    that the same season gives the same bytes on any machine."""
    return datetime.combine(planned_on, time(), UTC)


def fallback(now: datetime, planned_on: date, old: bytes) -> Ledger:
    """The ledger to go on from when the earlier one is lost: its sequences are minutes since 2020,
    above any that were counted up from nought, and its stamps are not earlier than `now`. Both are
    also above what can be seen in `old`, the bytes of the calendar as it is."""
    sequences = [int(found) for found in _SEQUENCE.findall(old)]
    stamps = [_seen_stamp(found) for found in _STAMP.findall(old)]
    instant = max(
        now.astimezone(UTC).replace(microsecond=0),
        first_stamp(planned_on) + _SECOND,
        *(stamp + _SECOND for stamp in stamps if stamp is not None),
    )
    first = max(minutes_since_2020(instant), *(one + 1 for one in sequences), 0)
    return Ledger(first_sequence=first, not_before=instant_text(instant))


def _seen_stamp(text: bytes) -> datetime | None:
    try:
        return datetime.strptime(text.decode("ascii"), "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    except ValueError:
        return None


def next_edition(job: Job, record: LedgerRow | None, ledger: Ledger, planned_on: date) -> Stamp:
    """The stamp of this job: that of the record while nothing changed, a later one otherwise."""
    instant = first_stamp(planned_on)
    if ledger.not_before:
        instant = max(instant, parse_instant(ledger.not_before))
    if record is None:
        return Stamp(ledger.first_sequence, instant)
    if record.content == job.content() and record.state in (
        job.status,
        "LEFT OUT",
        "SENDING",
        "DONE",
    ):
        return Stamp(record.sequence, record.stamp)
    return Stamp(record.sequence + 1, max(instant, record.stamp + _SECOND))


def record_of(job: Job, stamp: Stamp) -> LedgerRow:
    """What the ledger remembers of an edition."""
    return LedgerRow(
        content=job.content(),
        sequence=stamp.sequence,
        modified=instant_text(stamp.modified),
        state=job.status,
        summary=job.summary,
        start=moment_text(job.start),
        end=moment_text(job.end),
        zone=job.zone,
        description=job.description,
        alarm=job.minutes_before,
        task=job.about.task or None,
        kind=job.about.kind or None,
        fish=job.about.fish,
        show=job.about.show,
        water=job.about.water,
    )


def done_jobs(records: Mapping[str, LedgerRow], done_on: DoneOn) -> list[Job]:
    """The jobs among these vanished ones that were done, as they are shown from then on: on the
    day they were done, without an alarm. Work that was done is never shown as cancelled."""
    jobs = []
    for uid, record in records.items():
        day = done_on(record)
        if day is None:
            continue
        text = record.summary
        while text.startswith(DONE):  # no job is called so by itself
            text = text.removeprefix(DONE)
        said = f", {day.day} {day:%b}"
        bare = text.removesuffix(said).removeprefix(LATE)
        jobs.append(
            Job(
                uid=uid,
                summary=f"{shorten(DONE + bare, SUMMARY_LONGEST - len(said))}{said}",
                description="",
                start=day,
                end=day + timedelta(days=1),
                about=About(
                    record.task or "", record.kind or "", record.fish, record.show, record.water
                ),
            )
        )
    return jobs


def cancelled(records: Mapping[str, LedgerRow], planned_on: date) -> list[Job]:
    """The jobs among these vanished ones that an importer must still be told of: those that lay
    ahead when they vanished, until 30 days after they would have ended."""
    jobs = []
    for uid, record in records.items():
        kept = KEPT_CANCELLED if record.state == "CANCELLED" else timedelta(0)
        if record.last_end + kept > planned_on:
            jobs.append(_cancelled_job(uid, record))
    return jobs


def issue(
    jobs: Iterable[Job], ledger: Ledger, planned_on: date
) -> tuple[list[tuple[Job, Stamp]], dict[str, LedgerRow]]:
    """Every job with its stamp, and the records of them."""
    stamped = [
        (job, next_edition(job, ledger.records.get(job.uid), ledger, planned_on)) for job in jobs
    ]
    return stamped, {job.uid: record_of(job, stamp) for job, stamp in stamped}


def gone(records: Mapping[str, LedgerRow]) -> dict[str, LedgerRow]:
    """Records of jobs that are not written any more; kept, so that one that comes back is newer."""
    return {
        uid: record if record.state == "CANCELLED" else replace(record, state="GONE")
        for uid, record in records.items()
    }


def _cancelled_job(uid: str, record: LedgerRow) -> Job:
    """Several readers show a cancelled event like any other, so its title says what it is."""
    summary = record.summary
    if record.state != "CANCELLED":
        summary = shorten(f"Cancelled: {summary}")
    return Job(
        uid=uid,
        summary=summary,
        description=GONE_TEXT,
        start=_moment(record.start, record.zone),
        end=_moment(record.end, record.zone),
        zone=record.zone,
        status="CANCELLED",
    )


def moment_text(moment: date) -> str:
    """A day as in ISO 8601, or a moment in UTC, as ledgers hold it."""
    return instant_text(moment) if isinstance(moment, datetime) else moment.isoformat()


def _moment(text: str, zone: str | None) -> date:
    if len(text) == 10:
        return date.fromisoformat(text)
    instant = parse_instant(text)
    return instant.astimezone(ZoneInfo(zone)) if zone is not None else instant
