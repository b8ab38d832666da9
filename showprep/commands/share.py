"""`share`: the calendar handed to a phone nearby, for a few minutes."""

from __future__ import annotations

import os
import sys
from datetime import date, datetime
from pathlib import Path

import typer
from msgspec.structs import replace

from showprep.commands.interrupts import choice_is_over
from showprep.commands.loading import load_with_done
from showprep.commands.streams import say
from showprep.outputs.calendar.export import export_calendar
from showprep.outputs.calendar.season_identity import identity_of
from showprep.outputs.failure import Failure
from showprep.outputs.home.qr import qr_lines
from showprep.outputs.home.share import own_address, refuse_beyond_home, shared, sharing
from showprep.outputs.whole_file import hidden_folder

LONGEST_MINUTES = 240.0


def run(
    *,
    season: Path,
    minutes: float,
    host: str | None,
    port: int,
    on: date,
    now: datetime,
    beyond_home: bool = False,
) -> None:
    """Hand out the season's calendar at `host` (None: this computer's address on the local
    network) for `minutes`, more than 0 and at most 240, or until Ctrl-C. Only addresses of a home
    network are listened at and answered, unless `beyond_home`.

    Raises SeasonError for faults in the season's files, Failure for anything else.
    """
    if not 0 < minutes <= LONGEST_MINUTES:
        raise Failure(f"--minutes must be more than 0 and at most {LONGEST_MINUTES:g}.", 2)
    if host is not None and not beyond_home:
        refuse_beyond_home(host)
    plan, done_on = load_with_done(season, on)
    choice_is_over()
    folder = hidden_folder(season)
    plan = replace(plan, identity=identity_of(season))
    written = export_calendar(
        plan, folder / "share.ics", now=now, purpose="import", done_on=done_on
    )
    for note in written.notes:
        say(note, err=True)
    what = shared(written.path.read_bytes())
    place = host or own_address()
    with sharing(what, place, port, _picked_up, beyond_home=beyond_home) as (address, never):
        for line in introduction(address, minutes, written.jobs):
            typer.echo(line)
        try:
            never.wait(minutes * 60)
        except KeyboardInterrupt:
            typer.echo("")
    typer.echo("Sharing has stopped.")


# From the published source and help pages named in docs/calendar-on-your-phone.md.
ON_A_PHONE = (
    "iPhone, iPad: open it in Safari and add the events. Offered a subscription, say no: there is"
    " nothing to look at any more when sharing stops.",
    "Android: it takes a calendar that opens files, such as Fossify Calendar. Google Calendar takes"
    " files on a computer only; there, import koi.ics by hand.",
)


def introduction(address: str, minutes: float, jobs: int) -> list[str]:
    """The address, its QR code, and who can read it."""
    coloured = sys.stdout.isatty() and not os.environ.get("NO_COLOR")
    return [
        *qr_lines(address, coloured=coloured),
        "",
        address,
        "",
        f"Open this address on a phone in the same network to take over {jobs:,} jobs.",
        "Anybody in this network who has the address can read them: it is not encrypted. Nobody can"
        " change anything, and nothing else on this computer is shown.",
        *ON_A_PHONE,
        f"It stops by itself in {minutes:g} minutes; Ctrl-C stops it now.",
    ]


def _picked_up(by: str) -> None:
    typer.echo(f"Picked up by {by}.")
