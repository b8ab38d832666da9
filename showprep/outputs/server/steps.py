"""What must change on a calendar server so that it holds the plan; nothing is changed here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from showprep.outputs.calendar.jobs import Job
from showprep.outputs.calendar.ledger import Ledger, LedgerRow
from showprep.outputs.failure import Failure
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.refusals import refusal
from showprep.outputs.server.shown import ServerEvent, found_in, shown_by

Kind = Literal["keep", "add", "change", "remove", "forget", "leave"]
CHANGED_THERE = "it was changed on a phone or by another program"
REMOVED_THERE = "it was taken off on a phone or by another program"
UNKNOWN = "it is there already, and the ledger does not know it"


@dataclass(frozen=True, slots=True)
class ServerStep:
    """One job and what is to be done about it.

    `etag` is the edition that must be there; `sequence` the highest one seen there; `job` is None
    for a job that has left the plan; `because` says why a job is left alone.
    """

    kind: Kind
    uid: str
    title: str
    day: date
    job: Job | None = None
    etag: str | None = None
    sequence: int = 0
    because: str = ""

    @property
    def name(self) -> str:
        return resource_name(self.uid)


def resource_name(uid: str) -> str:
    return f"{uid}.ics"


@dataclass(frozen=True, slots=True)
class Comparison:
    """The steps, in the order in which they are taken; how much else lies in the calendar."""

    steps: tuple[ServerStep, ...]
    strangers: int
    emptied: bool


def compare(
    jobs: tuple[Job, ...], ledger: Ledger, collection: Collection, *, overwrite: bool
) -> Comparison:
    """Compare the plan, the ledger and the server.

    What a person changed or took off there is left alone, unless `overwrite`. Only what the ledger
    made is ever removed. When nothing of what was made is there any more, the calendar has been
    made anew, and everything is added again.
    """
    there = collection.etags()
    made = [uid for uid, record in ledger.records.items() if record.state == "CONFIRMED"]
    emptied = bool(made) and not any(resource_name(uid) in there for uid in made)
    sides = _Sides(ledger, collection, there, overwrite, again=overwrite or emptied)
    steps = [sides.planned(job) for job in jobs]
    planned = {job.uid for job in jobs}
    for uid, record in sorted(ledger.records.items()):
        if uid not in planned and record.state != "GONE":
            steps.append(sides.vanished(uid, record))
    # Nothing is taken off before what replaces it is there.
    order: tuple[Kind, ...] = ("keep", "leave", "change", "add", "remove", "forget")
    known = {resource_name(uid) for uid in {*ledger.records, *planned}}
    return Comparison(
        tuple(sorted(steps, key=lambda step: (order.index(step.kind), step.day, step.uid))),
        strangers=len(there.keys() - known),
        emptied=emptied,
    )


@dataclass(frozen=True, slots=True)
class _Sides:
    ledger: Ledger
    collection: Collection
    there: Mapping[str, str]
    overwrite: bool
    again: bool  # add again what is not there any more?

    def planned(self, job: Job) -> ServerStep:
        record = self.ledger.records.get(job.uid)
        etag = self.there.get(resource_name(job.uid))
        if etag is None:
            if record is not None and record.state == "CONFIRMED" and not self.again:
                return _step("leave", job, because=REMOVED_THERE)
            return _step("add", job)
        if record is not None and record.etag == etag:
            same = record.content == job.content() and record.state == "CONFIRMED"
            return _step("keep" if same else "change", job, etag)
        found = self._found(job.uid)
        ours = _ours(record, found)
        if found.shown == shown_by(job) and (record is None or _arrived(record, job, found)):
            return _step("keep", job, etag, sequence=found.sequence)
        if ours or self.overwrite:
            return _step("change", job, etag, sequence=found.sequence)
        known = record is not None and record.state != "GONE"
        return _step("leave", job, because=CHANGED_THERE if known else UNKNOWN)

    def vanished(self, uid: str, record: LedgerRow) -> ServerStep:
        etag = self.there.get(resource_name(uid))
        day = date.fromisoformat(record.start[:10])
        if etag is None:
            return ServerStep("forget", uid, record.summary, day)
        if record.etag == etag or self.overwrite or _ours(record, self._found(uid)):
            return ServerStep("remove", uid, record.summary, day, etag=etag)
        return ServerStep("leave", uid, record.summary, day, because=CHANGED_THERE)

    def _found(self, uid: str) -> ServerEvent:
        answer = self.collection.get(resource_name(uid))
        if answer.status != 200:
            raise Failure(refusal(answer.status, answer.headers))
        return found_in(answer.body, uid)


def _ours(record: LedgerRow | None, found: ServerEvent) -> bool:
    """Is what lies there an edition that was written here, whatever its etag?"""
    return record is not None and found.shown in (record.shown, record.before)


def _arrived(record: LedgerRow, job: Job, found: ServerEvent) -> bool:
    """Is it this edition, and not one before that looks the same but rings at another time?"""
    return record.content == job.content() and found.sequence >= record.sequence


def _step(
    kind: Kind, job: Job, etag: str | None = None, sequence: int = 0, because: str = ""
) -> ServerStep:
    day = job.start.date() if isinstance(job.start, datetime) else job.start
    return ServerStep(kind, job.uid, job.summary, day, job, etag, sequence, because)
