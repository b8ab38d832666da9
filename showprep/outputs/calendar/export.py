"""Calendar files: the whole season or a part, to subscribe to or to import by hand."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from showprep.outputs.calendar.editions import (
    DoneOn,
    cancelled,
    done_jobs,
    fallback,
    gone,
    issue,
    never_done,
)
from showprep.outputs.calendar.events import calendar_of
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.jobs import Job, jobs_of
from showprep.outputs.calendar.ledger import (
    Ledger,
    LedgerDamaged,
    LedgerRow,
    held,
    ledger_path,
    load,
    save,
)
from showprep.outputs.calendar.scope import Scope
from showprep.outputs.whole_file import alone_in, write_whole
from showprep.planning.plan import Plan

Purpose = Literal["subscribe", "import"]
SAFE_BYTES = 1_000_000  # larger files are refused by some calendars
WHOLE = Scope()
NEW_EDITIONS = (
    "Every job is written as a new edition, so that phones take it. Jobs that left the plan before"
    " now cannot be written as cancelled."
)


class Written(Struct, frozen=True):
    """A calendar file that was written: how much is in it, and what the keeper should know."""

    path: Path
    jobs: int
    cancelled: int
    size: int
    notes: tuple[str, ...] = ()


def write_calendar(plan: Plan, *, purpose: Purpose = "subscribe", only: Scope = WHOLE) -> bytes:
    """The bytes of a first calendar of this plan: every job in its first edition.

    Raises Failure for a show or fish that the season does not have.
    """
    data, _, _ = _build(plan, Ledger(), purpose, only)
    return data


class Prepared(Struct, frozen=True):
    """A calendar and its ledger, worked out and not yet written."""

    data: bytes
    ledger: Ledger
    written: Written


def prepare_calendar(
    plan: Plan,
    path: Path,
    *,
    now: datetime,
    purpose: Purpose = "subscribe",
    only: Scope = WHOLE,
    done_on: DoneOn = never_done,
) -> Prepared:
    """What would be written at `path`, following the ledger that lies there now. `done_on` tells
    of a job that left the plan on which day it was done, if it was."""
    only.check(plan)
    ledger, notes = _ledger_before(path, now, plan)
    data, after, dropped = _build(plan, ledger, purpose, only, done_on)
    after = replace(after, season=plan.identity, file=path.name, holds=held(data))
    if len(data) > SAFE_BYTES:
        notes.append(_too_large(plan, len(data), only))
    written = Written(path, len(only.of(plan)), dropped, len(data), tuple(notes))
    return Prepared(data, replace(after, held_before=held(_old_bytes(path))), written)


def export_calendar(
    plan: Plan,
    path: Path,
    *,
    now: datetime,
    purpose: Purpose = "subscribe",
    only: Scope = WHOLE,
    follow: bool = False,
    done_on: DoneOn = never_done,
) -> Written:
    """Write the calendar at `path`, and the ledger beside it.

    The same plan and the same ledger give the same bytes. `now` (aware) is looked at only when the
    ledger of an existing calendar is lost or damaged. The ledger is written first: a run that is
    cut off between the two writes the same edition again when it is repeated. `follow`: a link at
    `path` was named by the keeper, and what it points to is written.
    Raises Failure when the season has no such show or fish, or the folder cannot be written to.
    """
    with alone_in(path.parent):
        made = prepare_calendar(plan, path, now=now, purpose=purpose, only=only, done_on=done_on)
        save(ledger_path(path), made.ledger)
        write_whole(path, made.data, follow=follow)
    return made.written


def _ledger_before(path: Path, now: datetime, plan: Plan) -> tuple[Ledger, list[str]]:
    place = ledger_path(path)
    try:
        ledger = load(place)
    except LedgerDamaged as damage:
        why = f"The ledger {place} is not used: {damage}."
    else:
        if ledger is not None:
            strange = ledger.strange_to(plan.identity, path.name, _old_bytes(path))
            if not strange:
                return ledger, []
            note = f"The ledger {place} is not used: {strange}. {NEW_EDITIONS}"
            return fallback(now, plan.planned_on, _old_bytes(path)), [note]
        if not path.exists():
            return Ledger(), []
        why = f"The ledger {place} is missing, though {path.name} was written before."
    note = f"{why} {NEW_EDITIONS}"
    return fallback(now, plan.planned_on, _old_bytes(path)), [note]


def _old_bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _build(
    plan: Plan, ledger: Ledger, purpose: Purpose, only: Scope, done_on: DoneOn = never_done
) -> tuple[bytes, Ledger, int]:
    only.check(plan)
    jobs = jobs_of(plan, only.of(plan), only.part())
    left_out, vanished = _not_written(plan, ledger, jobs, only)
    done = done_jobs(vanished, done_on)
    finished = {job.uid for job in done}
    dropped: list[Job] = []
    if purpose == "import":
        unfinished = {uid: row for uid, row in vanished.items() if uid not in finished}
        dropped = cancelled(unfinished, plan.planned_on)
    everything = sorted([*jobs, *done, *dropped], key=lambda job: job.uid)
    stamped, records = issue(everything, ledger, plan.planned_on)
    data = calendar_of(
        stamped,
        name=only.name(plan),
        spare=(plan.time_zone, plan.planned_on.year),
        refresh=purpose == "subscribe",
    )
    records |= {uid: replace(records[uid], state="DONE") for uid in finished}
    after = {**left_out, **gone(vanished), **records}
    return data, replace(ledger, scope=only.key(), records=after), len(dropped)


def _not_written(
    plan: Plan, ledger: Ledger, jobs: tuple[Job, ...], only: Scope
) -> tuple[dict[str, LedgerRow], dict[str, LedgerRow]]:
    """Records of jobs that are not in the file now: those only outside the part of the season that
    it holds, and those that vanished. A file made for another part than before cancels nothing
    that is still planned."""
    written = {job.uid for job in jobs}
    rest = {uid: record for uid, record in ledger.records.items() if uid not in written}
    planned = {uid_of(task.id, plan.identity) for task in plan.tasks} if rest else set()
    narrowed = ledger.scope not in ("", only.key())
    left_out = {
        uid: replace(record, state="LEFT OUT")
        for uid, record in rest.items()
        if uid in planned and (narrowed or record.state == "LEFT OUT")
    }
    return left_out, {uid: record for uid, record in rest.items() if uid not in left_out}


def _too_large(plan: Plan, size: int, only: Scope) -> str:
    text = f"The calendar holds {size:,} bytes; some calendars refuse more than {SAFE_BYTES:,}."
    shows = [show.id for show in plan.shows]
    if only.show is None and len(shows) > 1:
        options = ", ".join(f"--show {show}" for show in shows[:6])
        return f"{text} It can be split into one file for each show, with {options}."
    return f"{text} It can be split into one file for each fish, with --fish ID."
