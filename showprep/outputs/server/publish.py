"""The plan's jobs put on a CalDAV server, in a calendar of their own.

The ledger is written before anything is sent, and after each answer. Broken off at any point, the
same run can be made again: what arrived is recognised, what did not is sent, nothing is doubled.
"""

from __future__ import annotations

from collections.abc import Collection as Collection_
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from datetime import date, datetime
from pathlib import Path

from msgspec import Struct, field
from msgspec.structs import replace

from showprep.outputs.calendar.editions import (
    DONE,
    DoneOn,
    done_jobs,
    never_done,
    next_edition,
    record_of,
)
from showprep.outputs.calendar.events import Stamp, resource_of
from showprep.outputs.calendar.jobs import Job, jobs_of
from showprep.outputs.calendar.ledger import Ledger, LedgerRow, State, save
from showprep.outputs.failure import Failure
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.connection import Answer
from showprep.outputs.server.look import Look
from showprep.outputs.server.marks import mark_of
from showprep.outputs.server.refusals import ONE_JOB, refusal
from showprep.outputs.server.shown import found_in, merged, shown_by
from showprep.outputs.server.steps import (
    CHANGED_THERE,
    Comparison,
    ServerStep,
    compare,
    standing_hash,
)
from showprep.outputs.server.whose import ledger_for
from showprep.outputs.whole_file import alone_in, hidden_folder
from showprep.planning.plan import Plan


class PublishReport(Struct):
    """What was compared and, when told to go on, done; `refused` is what the server would not do
    for single jobs, with its reason in words."""

    comparison: Comparison
    notes: list[str]
    done: int = 0
    refused: list[tuple[ServerStep, str]] = field(default_factory=list)

    def differ(self, *, went: bool) -> int:
        """How many jobs the calendar now holds otherwise than the plan: those left alone, whether
        settled or not, copies on another day, those the server refused and, before anything was
        changed, those to be changed."""
        steps = self.comparison.steps
        left = sum(step.kind == "leave" for step in steps) + len(self.comparison.stale)
        pending = sum(step.kind in ("add", "change", "remove") for step in steps)
        return left + (len(self.refused) if went else pending)

    @property
    def settled(self) -> int:
        """How many of these differ because the keeper said so."""
        return sum(step.kind == "leave" and step.settled for step in self.comparison.steps)


def publish(
    plan: Plan,
    collection: Collection,
    ledger_file: Path,
    *,
    now: datetime,
    go: bool = False,
    overwrite: bool = False,
    done_on: DoneOn = never_done,
    keep_plan: Collection_[str] = (),
    keep_phone: Collection_[str] = (),
) -> PublishReport:
    """Compare the plan with the calendar on the server; change the calendar only if `go`.

    `now` (aware) counts only when the ledger is lost. Raises Failure when the server cannot be
    reached, is no calendar, or refuses all further work; what was done until then is in the ledger.
    """
    jobs = jobs_of(plan, plan.tasks)
    gone_shows = {show.id for show in plan.shows if show.standing == "cancelled"}
    collection.check()
    with _alone(ledger_file.parent) if go else nullcontext():
        look = Look.at(collection)
        planned = {job.uid for job in jobs}
        ledger, notes = ledger_for(ledger_file, look, plan.identity, planned, now, plan.planned_on)
        done = done_jobs(
            {uid: row for uid, row in ledger.records.items() if _may_be_done(uid, row, planned)},
            done_on,
        )
        rows = ledger.records
        told = {job.uid for job in jobs if job.uid in rows and done_on(rows[job.uid]) is not None}
        comparison = compare(
            tuple(sorted([*jobs, *done], key=lambda job: job.uid)),
            ledger,
            look,
            overwrite=overwrite,
            done={job.uid for job in done},
            told=told,
            cancelled_shows=gone_shows,
            keep_plan=keep_plan,
            keep_phone=keep_phone,
        )
        report = PublishReport(comparison, notes)
        if go:
            _Run(collection, ledger_file, ledger, plan.planned_on).take(report)
    return report


def _may_be_done(uid: str, row: LedgerRow, planned: Collection_[str]) -> bool:
    return uid not in planned and row.state in ("CONFIRMED", "DONE", "SENDING") and bool(row.task)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    with alone_in(hidden_folder(folder.parent)):
        yield


class _Run(Struct):
    collection: Collection
    path: Path
    ledger: Ledger
    planned_on: date

    def take(self, report: PublishReport) -> None:
        """Take every step, and keep the ledger up with the server."""
        steps, season = report.comparison.steps, self.ledger.season or ""
        stamps = {step.uid: self._stamp(step, step.job) for step in steps if step.job is not None}
        sent = {
            step.uid: _data(step, step.job, stamps[step.uid], season)
            for step in steps
            if step.job is not None and step.kind in ("add", "change")
        }
        rows = (self._intent(step, stamps, sent) for step in steps)
        self._keep({uid: record for row in rows for uid, record in row})
        for step in steps:
            if step.kind == "forget":
                self._gone(step)
            elif step.kind == "remove":
                self._remove(step, report)
            elif step.job is not None and step.kind in ("add", "change"):
                self._send(step, step.job, sent[step.uid], report)

    def _stamp(self, step: ServerStep, job: Job) -> Stamp:
        record = self.ledger.records.get(job.uid)
        stamp = next_edition(job, record, self.ledger, self.planned_on)
        if step.kind == "keep" and record is None:
            return replace(stamp, sequence=step.sequence)
        # An edition that a phone has made must be outdone too.
        if step.kind == "change" and step.sequence > stamp.sequence:
            return replace(stamp, sequence=step.sequence + 1)
        return stamp

    def _intent(
        self, step: ServerStep, stamps: dict[str, Stamp], sent: dict[str, bytes]
    ) -> Iterator[tuple[str, LedgerRow]]:
        """What the ledger says before anything is sent."""
        if step.kind == "remove":
            yield step.uid, replace(self.ledger.records[step.uid], removing=True)
        if step.kind == "leave" and step.settled and step.base is not None:
            yield step.uid, replace(step.base, kept=standing_hash(step.etag, step.job))
        if step.job is None or step.kind == "leave":
            return
        old = self.ledger.records.get(step.uid)
        new = replace(record_of(step.job, stamps[step.uid]), shown=shown_by(step.job))
        base = step.base
        if base is not None:
            new = replace(new, own=True)
        if step.kind == "keep":
            if step.base is not None:  # with the keeper's own words, which were seen
                new = replace(new, shown=step.base.shown)
            yield step.uid, replace(new, etag=step.etag, state=_state(step.job))
        else:
            # What may still lie there, should this run be killed: it is ours, whatever was planned.
            before = step.lies
            if before is None and old is not None:
                before = old.before if old.state == "SENDING" else old.shown
            new = replace(new, state="SENDING", etag=step.etag, before=before)
            if base is not None:  # merged with the keeper's words
                shown = found_in(sent[step.uid], step.uid).shown
                new = replace(new, shown=shown, described=base.description, alarmed=base.alarm)
            yield step.uid, new

    def _send(self, step: ServerStep, job: Job, data: bytes, report: PublishReport) -> None:
        answer = self.collection.put(step.name, data, step.etag)
        etag = answer.headers.get("etag")
        if answer.status == 412:
            # Perhaps it is there because it was sent twice, the first answer having been lost.
            there = self.collection.get(step.name)
            sent_before = found_in(there.body, job.uid) == found_in(data, job.uid)
            if not sent_before:
                self._refuse(step, f"Left alone: {CHANGED_THERE}.", report)
                return
            etag = there.headers.get("etag")
        elif not 200 <= answer.status < 300:
            self._refused(step, answer, report)
            return
        sent = self.ledger.records[step.uid]
        etag = etag or self.collection.etag(step.name)
        row = replace(sent, state=_state(job), etag=etag, before=None, described=None, alarmed=None)
        self._keep({step.uid: row})
        report.done += 1

    def _remove(self, step: ServerStep, report: PublishReport) -> None:
        answer = self.collection.delete(step.name, step.etag or "*")
        if answer.status == 412:
            self._keep({step.uid: replace(self.ledger.records[step.uid], removing=None)})
            self._refuse(step, f"Left alone: {CHANGED_THERE}.", report)
        elif 200 <= answer.status < 300 or answer.status in (404, 410):
            self._gone(step)
            report.done += 1
        else:
            self._refused(step, answer, report)

    def _gone(self, step: ServerStep) -> None:
        record = self.ledger.records[step.uid]
        record = replace(record, state="GONE", etag=None, before=None, removing=None)
        self._keep({step.uid: record})

    def _refused(self, step: ServerStep, answer: Answer, report: PublishReport) -> None:
        words, status = refusal(answer.status, answer.headers), answer.status
        if status not in ONE_JOB:
            raise Failure(f"{words} {report.done} changes were made before that.")
        self._refuse(step, words, report)

    def _refuse(self, step: ServerStep, words: str, report: PublishReport) -> None:
        report.refused.append((step, words))

    def _keep(self, records: dict[str, LedgerRow]) -> None:
        self.ledger = replace(self.ledger, records={**self.ledger.records, **records})
        save(self.path, self.ledger)


def _state(job: Job) -> State:
    return "DONE" if job.summary.startswith(DONE) else job.status


def _data(step: ServerStep, job: Job, stamp: Stamp, season: str) -> bytes:
    """What is sent: the plan's edition, with what the keeper wrote on the phone."""
    mark = mark_of(job, season, stamp.sequence, shown_by(job))
    data = resource_of(job, stamp, str(mark))
    if step.theirs is None or step.base is None:
        return data
    return merged(step.theirs, data, step.base.description or "", step.base.alarm)
