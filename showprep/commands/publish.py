"""`publish`: the season's jobs in a calendar on a server, shown first and changed when told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import typer

from showprep.commands.loading import load_plan
from showprep.outputs.calendar.season_identity import identity_of, known_identity
from showprep.outputs.failure import Failure
from showprep.outputs.remembered import remember as remember_plan
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.connection import Server, address_of, fit_user
from showprep.outputs.server.password import password_for, remember
from showprep.outputs.server.publish import PublishReport, ledger_of, publish
from showprep.outputs.server.steps import Kind

_WOULD: dict[Kind, str] = {"add": "Add", "change": "Change", "remove": "Take off"}


def run(
    *,
    season: Path,
    url: str,
    user: str,
    go: bool,
    overwrite: bool,
    keep_password: bool,
    on: date,
    now: datetime,
    new_identity: bool = False,
) -> None:
    """Show what would change in the calendar at `url`, and change it if `go`.

    `overwrite` also replaces jobs that were changed or taken off on a phone. `keep_password` puts
    the password into the system keyring once the server has accepted it. Raises SeasonError for
    faults in the season's files, Failure for anything else.
    """
    address, user = address_of(url), fit_user(user)
    plan = load_plan(season, on)
    named = identity_of if go else known_identity
    plan = replace(plan, identity=named(season, new=new_identity))
    password = password_for(address, user)
    server = Server(address, user, password)
    try:
        report = publish(
            plan,
            Collection(server),
            ledger_of(season, address, user),
            now=now,
            go=go,
            overwrite=overwrite,
        )
    finally:
        server.close()
    if go:
        remember_plan(season, plan)
    if keep_password:
        remember(address, user, password)
    _print(report, go)


def _print(report: PublishReport, go: bool) -> None:
    for note in report.notes:
        typer.echo(note, err=True)
    for line in lines(report):
        typer.echo(line)
    if report.refused:
        for step, words in report.refused:
            typer.echo(f"{step.title}: {words}", err=True)
        raise Failure(f"{report.done} changes made, {len(report.refused)} not.")
    if go:
        typer.echo(f"{report.done} changes made. The calendar holds the plan.")
    elif any(step.kind in _WOULD for step in report.comparison.steps):
        typer.echo("Nothing was changed. Say --go to make these changes.")


def lines(report: PublishReport) -> list[str]:
    """What changes, a line a job, and what is left alone."""
    comparison = report.comparison
    said = []
    if comparison.emptied:
        said.append("None of the jobs put there before is left: all are added again.")
    for step in comparison.steps:
        if step.kind in _WOULD:
            said.append(f"{_WOULD[step.kind]:<8}  {step.day}  {step.title}")
        elif step.kind == "leave":
            said.append(f"Left alone: {step.title}, since {step.because}. Or say --overwrite.")
    kept = sum(step.kind == "keep" for step in comparison.steps)
    said.append(f"Unchanged: {kept}.")
    if comparison.strangers:
        said.append(
            f"Not from here, never touched: {comparison.strangers}. A calendar of its own for the"
            " shows is easier to take off again."
        )
    return said
