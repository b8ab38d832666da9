"""`collect`: what was ticked and moved on the phone, into the journal; the rest is named."""

from __future__ import annotations

import sys
from collections.abc import Collection as Collection_
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import typer
from msgspec.structs import replace

from showprep.commands import note
from showprep.commands.asking import Ask, answer, terminal
from showprep.commands.loading import DaysSet, load_with_notes
from showprep.commands.streams import say
from showprep.outputs.calendar.editions import DoneOn
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.ledger import LedgerRow
from showprep.outputs.calendar.season_identity import known_identity
from showprep.outputs.calendar.text import clean_line
from showprep.outputs.failure import Failure
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.connection import Server, address_of, fit_user
from showprep.outputs.server.look import Look
from showprep.outputs.server.password import password_for
from showprep.outputs.server.read_back import FromPhone, read_back
from showprep.outputs.server.whose import ledger_for, ledger_of
from showprep.outputs.words.moved_day import moved_day_lines
from showprep.outputs.words.plain import counted
from showprep.planning.jobs.done_by import BEGUN, INTO_VAT, MEASURED, SEEN, told_by_a_tick
from showprep.planning.plan import Plan

LINES = " / "  # between lines that were written into one job, in the journal's one line
SHORT = 20  # characters


def run(*, season: Path, url: str, user: str, go: bool, today: date, now: datetime) -> None:
    """Read the calendar at `url`, show what each change would do, and write what was ticked, and
    the touch-ups that were moved, into the journal: after asking, or at once if `go`. Nothing but
    the journal is written.

    `now` (aware) counts only when the ledger is lost. Raises Failure (status 1) where something
    stays open or was refused.
    """
    address, user = address_of(url), fit_user(user)
    plan, done_on, notes_there, days_set = load_with_notes(season, today)
    identity = known_identity(season)
    server = Server(address, user, password_for(address, user))
    try:
        look = Look.at(Collection(server))
        path = ledger_of(season, address, user, identity)
        planned = {uid_of(task.id, identity) for task in plan.tasks}
        ledger, notes = ledger_for(path, look, identity, planned, now, plan.planned_on)
        if not ledger.records:
            raise Failure("Nothing was published to this calendar from this season's folder.", 2)
        touched = read_back(ledger, look)
    finally:
        server.close()
    for text in notes:
        say(text, err=True)
    # What the journal says already is not written again, however often this is run.
    days = {task.id: task.first_day for task in plan.tasks}
    late_days = {task.id: task.first_day for task in plan.tasks if task.late}
    touched = tuple(_unread(_on_its_day(one, late_days), notes_there) for one in touched)
    touched = tuple(one for one in touched if not _known(one, done_on, days, days_set))
    if not touched:
        say("Nothing was changed on the phone that the journal does not say.")
        return
    ask = terminal()
    written = sum(_taken(season, plan, one, go=go, today=today, ask=ask) for one in touched)
    left = len(touched) - written
    say(f"{counted(written, 'change')} written to journal.yaml, {left} left open.")
    if written:
        say("Now plan again, and publish, so that the phone follows.")
    if left:
        raise Failure(f"{counted(left, 'change')} on the phone left open.")


def _known(one: FromPhone, done_on: DoneOn, days: Mapping[str, date], days_set: DaysSet) -> bool:
    """Does the journal say it already: that it was done, or that this is its day?

    On a day of the keeper's own a touch-up may have left the plan: then the journal alone knows.
    """
    if one.touch in ("ticked", "deleted"):
        return done_on(one.row) is not None
    if one.touch == "noted":
        return not one.words
    row, told = one.row, (one.row.show, one.day)
    is_day = days.get(row.task or "") == one.day
    is_day = is_day or all(told in days_set.get(fish, ()) for fish in row.fish)
    return one.touch == "moved" and _is_touch_up(row) and is_day


def _unread(one: FromPhone, notes: Collection_[str]) -> FromPhone:
    """Of what was written into a job only the lines that no note of the journal holds: the job may
    be called otherwise since, but a short word can stand for two jobs."""
    if one.touch != "noted":
        return one
    of_it = _note_of(one.row, "")
    known = {x for note in notes if note.startswith(of_it) for x in note[len(of_it) :].split(LINES)}
    lines = filter(None, map(clean_line, one.words.splitlines()))
    new = [
        line
        for line in lines
        if line not in known and not (len(line) > SHORT and any(line in note for note in notes))
    ]
    return replace(one, words=LINES.join(new))


def _on_its_day(one: FromPhone, late: Mapping[str, date]) -> FromPhone:
    """A fish that went into the vat went there on the day of its touch-up, however late the tick:
    what is late stands on the day of the plan."""
    day = late.get(one.row.task or "")
    if one.row.kind != INTO_VAT or one.touch != "ticked" or day is None:
        return one
    if one.day != one.published_day:
        return one  # the keeper put it on its day
    return replace(one, day=day, day_after=day + timedelta(days=1))


def _is_touch_up(row: LedgerRow) -> bool:
    return row.kind in ("touch-up", "ask-a-vet")


def _taken(
    season: Path, plan: Plan, one: FromPhone, *, go: bool, today: date, ask: Ask | None
) -> bool:
    """Tell of one change, and write it where that can be done; was it written?"""
    typer.echo(_told(one))
    if one.touch == "moved" and one.day is not None and _is_touch_up(one.row):
        row = one.row
        for line in moved_day_lines(plan, row.fish, row.show, one.published_day, one.day):
            typer.echo(f"  {line}")
    entry = _entry(one, None if go else ask)
    if isinstance(entry, str):
        typer.echo(f"  {entry}")
        return False
    given, fish = entry
    day = min(_day(one, given, plan.time_zone) or today, today)
    words = ", ".join([f"{key}: {value}" for key, value in given.items()] + list(fish))
    typer.echo(f"  Into the journal, on {day}: {words}")
    if not go and one.touch != "deleted" and not _agreed():
        return False
    try:
        jobs = {one.row.task or ""}  # it was planned when it was published
        note.run(season, {**given, "on": day.isoformat()}, list(fish), today, jobs=jobs)
    except Failure as refused:
        typer.echo(f"  Refused: {refused}", err=True)
        return False
    return True


def _day(one: FromPhone, given: Mapping[str, str], zone: str) -> date | None:
    """The day it is noted on; None where that is the day on which it is collected.

    What was done, on the day that the job has on the phone; of one that may be done on any of
    several days the one on which it was ticked, where the phone says so. But what is kept for some
    days has begun on their first.
    """
    touched = one.changed.astimezone(ZoneInfo(zone)).date() if one.changed is not None else None
    if "touch_up_on" in given:
        return touched
    first = one.day or one.published_day
    if one.touch == "noted":
        return touched or first
    if touched is None or one.day_after is None or one.row.kind in BEGUN:
        return first
    return max(first, min(touched, one.day_after - timedelta(days=1)))


def _agreed() -> bool:
    if not sys.stdin.isatty():
        typer.echo("  Say --go to write it.")
        return False
    return typer.confirm("  Write it?", default=False)


def _told(one: FromPhone) -> str:
    title = one.row.summary
    match one.touch:
        case "ticked":
            return f"Ticked: {title}"
        case "moved":
            return f"Moved: {title}, from {one.published_day} to {one.day}"
        case "renamed":
            return f"Renamed: {title}, to {clean_line(one.words)!r}"
        case "noted":
            return f"Written into {title}: {clean_line(one.words)}"
        case "deleted":
            return f"Deleted: {title}, {one.published_day}"
        case "unreadable":
            return f"Changed so that it cannot be read: {title}"


Entry = tuple[dict[str, str], tuple[str, ...]]


def _entry(one: FromPhone, ask: Ask | None) -> Entry | str:
    """The journal's entry for a change; a text that says why there is none, and what to do."""
    row, task = one.row, one.row.task or ""
    settle = f"--keep-plan {task} or --keep-phone {task}"
    match one.touch:
        case "ticked":
            return _of_tick(row)
        case "moved" if _is_touch_up(row) and one.day is not None:
            of_show = {"show": row.show} if row.show else {}
            return {"touch_up_on": one.day.isoformat(), **of_show}, row.fish
        case "moved":
            return f"Left open. Publish with {settle} to settle which day stands."
        case "deleted":
            return _of_deletion(row, ask)
        case "noted":
            return _of_words(row, one.words)
        case _:
            return f"Left open. Publish with {settle}."


def _of_words(row: LedgerRow, words: str) -> Entry:
    """What was written into a job is a note that names it, on its fish where it is of one alone."""
    return {"note": _note_of(row, words)}, row.fish if len(row.fish) == 1 else ()


def _note_of(row: LedgerRow, words: str) -> str:
    return f"{row.summary}: {words}"


def _of_deletion(row: LedgerRow, ask: Ask | None) -> Entry | str:
    """What a deleted job means is asked: it is never taken as done."""
    task = row.task or ""
    back = f"publish with --keep-plan {task} to put it back"
    if ask is None:
        return (
            "Left open: a deleted job is never taken as done. If it was done, say so with"
            f" 'note --job {task}'; if it was a mistake, {back}."
        )
    question = "  Was it done (d), is it not needed (n), or was it a mistake (m)? Empty leaves it."
    match answer(ask, question, _one_of_three, left_out="")[:1].casefold():
        case "d":
            return _of_tick(row)
        case "n" if _is_touch_up(row):
            return (
                "Left open: the plan goes on with it while the speck is in the fish's file. To"
                f" leave it off the phone, publish with --keep-phone {task}."
            )
        case "n":
            return {"did": "job", "job": task, "note": "not needed"}, ()
        case "m":
            return f"Left open: {back}."
    return f"Left open: {back}."


def _one_of_three(said: str) -> str | None:
    return None if said[:1].casefold() in ("d", "n", "m") else "Answer d, n or m"


def _of_tick(row: LedgerRow) -> Entry | str:
    """Written in the journal's own words where it has some: a touch-up that is only ticked off
    as a job would leave the speck where it is."""
    kind = row.kind or ""
    if not row.task or row.task == "late":
        return "Left open: it stands for several jobs. Tap each of them at 'pondside', or note it."
    if kind in SEEN:
        return "Left open: a tick does not say what was seen. Write it with 'note --saw ...'."
    if kind in MEASURED:
        return "Left open: a tick does not say what was measured. Write it with 'note'."
    return told_by_a_tick(row.task, kind, row.fish, row.show, row.water)
