"""`calendar`: the season's jobs in a calendar file."""

from __future__ import annotations

import sys
from datetime import date, datetime
from pathlib import Path

from msgspec.structs import replace

from showprep.commands.loading import load_with_done
from showprep.commands.names import named
from showprep.commands.streams import say
from showprep.outputs.calendar.export import Purpose, Written, export_calendar, write_calendar
from showprep.outputs.calendar.ledger import ledger_path
from showprep.outputs.calendar.scope import Scope
from showprep.outputs.calendar.season_identity import identity_of
from showprep.outputs.remembered import remember
from showprep.outputs.whole_file import is_own_calendar, kept_before, refuse_unfit

NO_LEDGER = (
    "Nothing is remembered of a calendar that is printed: where it replaces an older one, some"
    " phones will not take the changes. Write it to a file with --to FILE instead."
)
HOW_TO_USE: dict[Purpose, str] = {
    "subscribe": "Put it where your phone can reach it and subscribe to it, or share it at home"
    " with 'showprep share'.",
    "import": "Import it into a calendar of its own, so that it can be taken off again whole.",
}


def run(
    *,
    season: Path,
    to: str,
    purpose: Purpose,
    show: str | None,
    fish: str | None,
    on: date,
    now: datetime,
    new_identity: bool = False,
    replace_file: bool = False,
) -> None:
    """Write the calendar of the season as planned on the day `on`.

    `to` is a file, or "-" for standard output. `now` (aware) counts only when a ledger is lost.
    `new_identity` names every job anew: phones then take this for another season. `replace_file`
    lets it take the place of a file that showprep did not write.
    Raises SeasonError for faults in the season's files, Failure for anything else.
    """
    if to != "-":
        refuse_unfit(Path(to), "koi.ics", is_own_calendar, replace=replace_file)
    plan, done_on = load_with_done(season, on)
    only = Scope(
        show=named("show", show, {one.id: one.name for one in plan.shows}) if show else None,
        fish=named("fish", fish, {one.id: one.name for one in plan.fish}) if fish else None,
    )
    ledgers = () if to == "-" else (ledger_path(Path(to)),)
    plan = replace(plan, identity=identity_of(season, ledgers, new=new_identity))
    if to == "-":
        sys.stdout.buffer.write(write_calendar(plan, purpose=purpose, only=only))
        sys.stdout.flush()
        say(NO_LEDGER, err=True)
        return
    kept = kept_before(season, [Path(to), *ledgers])
    written = export_calendar(
        plan, Path(to), now=now, purpose=purpose, only=only, follow=True, done_on=done_on
    )
    remember(season, plan)
    for note in (*written.notes, *kept):
        say(note, err=True)
    say(f"{said(written)} {HOW_TO_USE[purpose]}")


def said(written: Written) -> str:
    """What was written, in a sentence."""
    jobs = "1 job" if written.jobs == 1 else f"{written.jobs:,} jobs"
    extra = f" and {written.cancelled:,} cancelled" if written.cancelled else ""
    return f"{jobs}{extra} written to {written.path}."
