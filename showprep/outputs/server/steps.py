"""What must change on a calendar server so that it holds the plan; nothing is changed here."""

from __future__ import annotations

from collections.abc import Collection as Collection_
from datetime import date, datetime
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from showprep.outputs.calendar.editions import moment_text
from showprep.outputs.calendar.jobs import Job
from showprep.outputs.calendar.ledger import Ledger, LedgerRow
from showprep.outputs.failure import Failure
from showprep.outputs.server.look import Look, PhoneCopy, resource_name
from showprep.outputs.server.shown import PhoneEvent, ServerEvent, shown_by, without_tick
from showprep.planning.jobs.done_by import BEGUN, MEASURED, SEEN

Kind = Literal["keep", "add", "change", "remove", "forget", "leave"]
TICKED_THERE = "it was ticked on the phone, and the journal does not say that it was done"
MOVED_THERE = "it was moved on the phone"
CHANGED_THERE = "it was changed on a phone or by another program"
REMOVED_THERE = "it was taken off on a phone or by another program"
GONE = "gone"
UNKNOWN = "it is there already, and the ledger does not know it"


class ServerStep(Struct, frozen=True):
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
    old_day: date | None = None  # on which it was put there last
    phone_day: date | None = None  # to which it was moved there
    task: str = ""  # the job's id
    theirs: PhoneEvent | None = None  # with the keeper's own words and alarms, to be kept
    settled: bool = False  # left alone because the keeper said so
    base: LedgerRow | None = None
    lies: str | None = None  # the hash of what lies there, where that is an edition of ours

    @property
    def name(self) -> str:
        return resource_name(self.uid)


class Comparison(Struct, frozen=True):
    """The steps, in the order in which they are taken; how much else lies in the calendar, and
    which of that was copied from a job on a phone, on a day that the plan does not have for it
    (`stale`) or not."""

    steps: tuple[ServerStep, ...]
    strangers: int
    emptied: bool
    copies: tuple[PhoneCopy, ...] = ()
    stale: tuple[PhoneCopy, ...] = ()


def compare(
    jobs: tuple[Job, ...],
    ledger: Ledger,
    look: Look,
    *,
    overwrite: bool,
    done: Collection_[str] = (),
    told: Collection_[str] = (),
    cancelled_shows: Collection_[str] = (),
    keep_plan: Collection_[str] = (),
    keep_phone: Collection_[str] = (),
) -> Comparison:
    """Compare the plan, the ledger and what lies on the server.

    `done` are UIDs of jobs that are shown as done: what a phone did with them is of no more
    interest. `told` are UIDs of planned jobs of whose last edition the journal says that it was
    done, or has begun. The jobs of `cancelled_shows` go whatever a phone did. `keep_plan` and
    `keep_phone` are ids of jobs, or UIDs, for which the keeper has settled which edition stands.

    What a person changed or took off there is left alone, unless `overwrite`. Only what the ledger
    made is ever removed. When nothing of what was made is there any more, the calendar has been
    made anew, and everything is added again.
    """
    there = look.there
    made = [
        uid
        for uid, record in ledger.records.items()
        if record.state == "CONFIRMED" and not record.removing
    ]
    emptied = bool(made) and not any(resource_name(uid) in there for uid in made)
    sides = _Sides(
        ledger,
        look,
        overwrite,
        overwrite or emptied,
        frozenset(done),
        frozenset(told),
        frozenset(cancelled_shows),
        frozenset(keep_plan),
        frozenset(keep_phone),
    )
    _refuse_unknown({*keep_plan, *keep_phone}, jobs, ledger)
    steps = [sides.planned(job) for job in jobs]
    planned = {job.uid for job in jobs}
    for uid, record in sorted(ledger.records.items()):
        if uid not in planned and record.state != "GONE":
            steps.append(sides.vanished(uid, record))
    # Nothing is taken off before what replaces it is there.
    order: tuple[Kind, ...] = ("keep", "leave", "change", "add", "remove", "forget")
    known = {*ledger.records, *planned}
    titles = {row.summary for row in ledger.records.values()} | {job.summary for job in jobs}
    copies = look.copies(known, titles)
    days = {(job.summary, _day(job)) for job in jobs}
    return Comparison(
        tuple(sorted(steps, key=lambda step: (order.index(step.kind), step.day, step.uid))),
        strangers=len(there.keys() - {resource_name(uid) for uid in known}),
        emptied=emptied,
        copies=copies,
        stale=tuple(one for one in copies if (without_tick(one.title), one.day) not in days),
    )


class _Sides(Struct, frozen=True):
    ledger: Ledger
    look: Look
    overwrite: bool
    again: bool  # add again what is not there any more?
    done: frozenset[str]
    told: frozenset[str]
    cancelled_shows: frozenset[str]
    keep_plan: frozenset[str]
    keep_phone: frozenset[str]

    def planned(self, job: Job) -> ServerStep:
        record = self.ledger.records.get(job.uid)
        etag = self.look.etag(job.uid)
        old_day = date.fromisoformat(record.start[:10]) if record is not None else None
        ours_wins = self.overwrite or self._named(self.keep_plan, job) or job.uid in self.done
        ours_wins = ours_wins or self._moved_on(job, record)
        if etag is None:
            published = (
                record is not None and record.state in ("CONFIRMED", "DONE") and not record.removing
            )
            if published and not (self.again or ours_wins):
                return self._left(job, record, None, REMOVED_THERE)
            if published and job.uid in self.done and not self.again:
                return ServerStep("forget", job.uid, job.summary, _day(job), task=job.about.task)
            return _step("add", job)
        if record is not None and record.etag == etag:
            same = record.content == job.content() and record.state in ("CONFIRMED", "DONE")
            step = replace(_step("keep" if same else "change", job, etag), old_day=old_day)
            if record.own and record.state in ("CONFIRMED", "SENDING"):
                theirs = None if same else self.look.event(job.uid)
                base = _before(record) if record.state == "SENDING" else record
                step = replace(step, theirs=theirs, base=base)
            return step
        found = self.look.found(job.uid)
        ours = _ours(record, found)
        if found.shown == shown_by(job) and (record is None or _arrived(record, job, found)):
            return _step("keep", job, etag, sequence=found.sequence)
        event = self.look.event(job.uid)
        sent = record is not None and record.state == "CONFIRMED"
        if ours and event is not None and record and record.own and record.state == "SENDING":
            step = _step("change", job, etag, sequence=found.sequence)
            base = record if found.shown == record.shown else _before(record)
            return replace(step, old_day=old_day, theirs=event, base=base, lies=found.shown)
        if ours and sent and event is not None and record and record.description is not None:
            # Only what is not seen at once was changed: an alarm, a colour. It is kept.
            step = _step("change", job, etag, sequence=found.sequence)
            return replace(step, old_day=old_day, theirs=event, base=record, lies=found.shown)
        if ours or ours_wins:
            step = _step("change", job, etag, sequence=found.sequence)
            step = replace(step, old_day=old_day, lies=found.shown)
            known = sent and record is not None and record.description is not None
            if event is None or not known or self.overwrite:
                return step
            return replace(step, theirs=event, base=record)  # the keeper's words stay
        if record is None or not sent or event is None:
            known = record is not None and record.state != "GONE"
            return self._left(job, record, etag, CHANGED_THERE if known else UNKNOWN)
        if event.ticked(record.summary):
            if job.about.kind in BEGUN and job.uid in self.told:
                # It goes on until its last day, ticked as it is.
                same = record.content == job.content()
                step = _step("keep" if same else "change", job, etag, sequence=found.sequence)
                return replace(step, old_day=old_day, theirs=event, base=record, lies=found.shown)
            return replace(self._left(job, record, etag, TICKED_THERE), theirs=event)
        planned = moment_text(job.start), moment_text(job.end)
        moved = not event.same_moments(record.start, record.end)
        if moved and not event.same_moments(*planned):  # where the plan has followed, all is well
            left = self._left(job, record, etag, MOVED_THERE)
            return replace(left, phone_day=event.day, theirs=event)
        if event.summary != record.summary or event.status != "CONFIRMED":
            return replace(self._left(job, record, etag, CHANGED_THERE), theirs=event)
        # Words were added: they stay, and the plan's changes are made around them.
        same = record.content == job.content() and record.state == "CONFIRMED"
        step = _step("keep" if same else "change", job, etag, sequence=found.sequence)
        return replace(step, old_day=old_day, theirs=event, base=record, lies=found.shown)

    def _moved_on(self, job: Job, record: LedgerRow | None) -> bool:
        """What is late is another event every day: what was done with the last one is of no
        more interest once it was told, or when a tick of it told nothing."""
        if not job.late or record is None:
            return False
        another = record.start[:10] != moment_text(job.start)[:10]
        said_nothing = record.task == "late" or record.kind in (SEEN | MEASURED)
        told = record.task != job.about.task and job.uid in self.told
        return told or (another and said_nothing)

    def _named(self, ids: frozenset[str], job: Job) -> bool:
        return job.uid in ids or (bool(job.about.task) and job.about.task in ids)

    def _left(
        self,
        job: Job,
        record: LedgerRow | None,
        etag: str | None,
        because: str,
        *,
        settled: bool = False,
    ) -> ServerStep:
        """Left alone; settled where the keeper said so, now or before, of these two editions."""
        stands = standing_hash(etag, job)
        said = self._named(self.keep_phone, job) or (record is not None and record.kept == stands)
        step = _step("leave", job, etag, because=because)
        old_day = date.fromisoformat(record.start[:10]) if record is not None else None
        return replace(step, settled=settled or said, old_day=old_day, base=record)

    def vanished(self, uid: str, record: LedgerRow) -> ServerStep:
        etag = self.look.etag(uid)
        day = date.fromisoformat(record.start[:10])
        task = record.task or ""
        # Of what was done no more is known than that: it stays as it is.
        if etag is None or (record.state == "DONE" and not task):
            return ServerStep("forget", uid, record.summary, day, task=task)
        named = bool({uid, task} & self.keep_plan) or record.show in self.cancelled_shows
        named = named or task == "late"  # of several jobs: a tick of it told nothing
        if record.etag == etag or self.overwrite or named or _ours(record, self.look.found(uid)):
            return ServerStep("remove", uid, record.summary, day, etag=etag, task=task, base=record)
        settled = bool({uid, task} & self.keep_phone) or record.kept == standing_hash(etag, None)
        event = self.look.event(uid)
        moved = event is not None and not event.same_moments(record.start, record.end)
        return ServerStep(
            "leave",
            uid,
            record.summary,
            day,
            etag=etag,
            because=MOVED_THERE if moved else CHANGED_THERE,
            phone_day=event.day if event is not None and moved else None,
            task=task,
            settled=settled,
            base=record,
        )


def standing_hash(etag: str | None, job: Job | None) -> str:
    """Names two editions of which the keeper let the phone's stand; `job` is None where the plan
    has it no more."""
    return f"{etag or ''} {job.content() if job is not None else GONE}"


def _refuse_unknown(ids: set[str], jobs: tuple[Job, ...], ledger: Ledger) -> None:
    known = {job.uid for job in jobs} | {job.about.task for job in jobs} | set(ledger.records)
    known |= {row.task for row in ledger.records.values() if row.task}
    for one in sorted(ids - known):
        raise Failure(f"There is no job with the id {one!r} in the plan or the calendar.", 2)


def _ours(record: LedgerRow | None, found: ServerEvent) -> bool:
    """Is what lies there an edition that was written here, whatever its etag?"""
    return record is not None and found.shown in (record.shown, record.before)


def _before(record: LedgerRow) -> LedgerRow:
    """The edition before the one that is being sent, as far as words are merged by it."""
    return replace(record, description=record.described, alarm=record.alarmed)


def _arrived(record: LedgerRow, job: Job, found: ServerEvent) -> bool:
    """Is it this edition, and not one before that looks the same but rings at another time?"""
    return record.content == job.content() and found.sequence >= record.sequence


def _step(
    kind: Kind, job: Job, etag: str | None = None, sequence: int = 0, because: str = ""
) -> ServerStep:
    return ServerStep(
        kind, job.uid, job.summary, _day(job), job, etag, sequence, because, task=job.about.task
    )


def _day(job: Job) -> date:
    return job.start.date() if isinstance(job.start, datetime) else job.start
