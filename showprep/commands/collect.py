"""`collect`: what was ticked on the phone, into the journal; the rest is named and left open."""

from __future__ import annotations

import sys
from datetime import date, datetime
from pathlib import Path

import typer

from showprep.commands import note
from showprep.commands.loading import load_with_done
from showprep.commands.streams import say
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
from showprep.outputs.words.plain import counted
from showprep.planning.jobs.done_by import MEASURED, SEEN, told_by_a_tick


def run(*, season: Path, url: str, user: str, go: bool, today: date, now: datetime) -> None:
    """Read the calendar at `url`, show what each change would do, and write what was ticked into
    the journal: after asking, or at once if `go`. Only the journal is written.

    `now` (aware) counts only when the ledger is lost. Raises Failure (status 1) where something
    stays open or was refused.
    """
    address, user = address_of(url), fit_user(user)
    plan, done_on = load_with_done(season, today)
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
    known = ("ticked", "deleted")
    touched = tuple(one for one in touched if one.touch not in known or done_on(one.row) is None)
    if not touched:
        say("Nothing was changed on the phone that the journal does not say.")
        return
    written = sum(_taken(season, one, go=go, today=today) for one in touched)
    left = len(touched) - written
    say(f"{counted(written, 'change')} written to journal.yaml, {left} left open.")
    if written:
        say("Now plan again, and publish, so that the phone follows.")
    if left:
        raise Failure(f"{counted(left, 'change')} on the phone left open.")


def _taken(season: Path, one: FromPhone, *, go: bool, today: date) -> bool:
    """Tell of one change, and write it where that can be done; was it written?"""
    typer.echo(_told(one))
    entry = _entry(one)
    if isinstance(entry, str):
        typer.echo(f"  {entry}")
        return False
    day = min(one.day or one.published_day, today)
    given, fish = entry
    words = ", ".join([f"{key}: {value}" for key, value in given.items()] + list(fish))
    typer.echo(f"  Into the journal, on {day}: {words}")
    if not go and not _agreed():
        return False
    try:
        note.run(season, {**given, "on": day.isoformat()}, list(fish), today)
    except Failure as refused:
        typer.echo(f"  Refused: {refused}", err=True)
        return False
    return True


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


def _entry(one: FromPhone) -> tuple[dict[str, str], tuple[str, ...]] | str:
    """The journal's entry for a change; a text that says why there is none, and what to do."""
    row, task = one.row, one.row.task or ""
    settle = f"--keep-plan {task} or --keep-phone {task}"
    match one.touch:
        case "ticked":
            return _of_tick(row)
        case "moved":
            return f"Left open. Publish with {settle} to settle which day stands."
        case "deleted":
            return (
                "Left open: a deleted job is never taken as done. If it was done, say so with"
                f" 'note --job {task}'; if it was a mistake, publish with --keep-plan {task}."
            )
        case "noted":
            return "It stays in the calendar. The journal takes it with 'note ... --note TEXT'."
        case _:
            return f"Left open. Publish with {settle}."


def _of_tick(row: LedgerRow) -> tuple[dict[str, str], tuple[str, ...]] | str:
    """Written in the journal's own words where it has some: a touch-up that is only ticked off
    as a job would leave the speck where it is."""
    kind = row.kind or ""
    if not row.task or row.task == "late":
        return "Left open: it stands for several jobs. Tick or note each of them."
    if kind in SEEN:
        return "Left open: a tick does not say what was seen. Write it with 'note --saw ...'."
    if kind in MEASURED:
        return "Left open: a tick does not say what was measured. Write it with 'note'."
    return told_by_a_tick(row.task, kind, row.fish, row.show, row.water)
