"""`publish`: the season's jobs in a calendar on a server, shown first and changed when told."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date, datetime
from pathlib import Path

import typer
from msgspec.structs import replace

from showprep.commands.loading import done_by, load_yard_and_plan
from showprep.commands.streams import say
from showprep.outputs.calendar.season_identity import identity_of, known_identity
from showprep.outputs.failure import Failure
from showprep.outputs.remembered import remember as remember_plan
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.connection import Server, address_of, fit_user
from showprep.outputs.server.password import password_for, remember
from showprep.outputs.server.publish import PublishReport, publish
from showprep.outputs.server.steps import Kind, ServerStep
from showprep.outputs.server.whose import ledger_of
from showprep.outputs.words.changes import why_text
from showprep.outputs.words.moved_day import moved_day_lines
from showprep.outputs.words.plain import counted
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.changes import news_since
from showprep.planning.plan import Plan
from showprep.planning.yard.yard import Yard

Cause = Callable[[tuple[str, ...], str | None, str | None], str]
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
    keep_plan: Sequence[str] = (),
    keep_phone: Sequence[str] = (),
) -> None:
    """Show what would change in the calendar at `url`, and change it if `go`.

    `keep_plan` and `keep_phone` name jobs by id for which the plan's or the phone's edition stands;
    `overwrite` also replaces jobs that were changed or taken off on a phone. `keep_password` puts
    the password into the system keyring once the server has accepted it. Raises SeasonError for
    faults in the season's files, Failure for anything else.
    """
    address, user = address_of(url), fit_user(user)
    yard, plan = load_yard_and_plan(season, on)
    done_on = done_by(yard)
    named = identity_of if go else known_identity
    plan = replace(plan, identity=named(season, new=new_identity))
    password = password_for(address, user)
    server = Server(address, user, password)
    try:
        report = publish(
            plan,
            Collection(server),
            ledger_of(season, address, user, plan.identity),
            now=now,
            go=go,
            overwrite=overwrite,
            done_on=done_on,
            keep_plan=keep_plan,
            keep_phone=keep_phone,
        )
    finally:
        server.close()
    if go:
        remember_plan(season, plan)
    if keep_password:
        remember(address, user, password)
    _print(report, go, plan, _causes(yard, plan))


def _causes(yard: Yard, plan: Plan) -> Cause:
    """What has come in since the last plan that may be why a job has changed, in words."""
    if yard.last is None:
        return nothing_known
    news, speaker = news_since(yard, yard.last.planned_on), Speaker.of(plan)

    def cause(fish: tuple[str, ...], show: str | None, water: str | None) -> str:
        return why_text(speaker, news.why(fish, show, water, of_others=True))

    return cause


def nothing_known(fish: tuple[str, ...], show: str | None, water: str | None) -> str:
    return ""


def _print(report: PublishReport, go: bool, plan: Plan, cause: Cause) -> None:
    for note in report.notes:
        say(note, err=True)
    for line in lines(report, plan, cause):
        typer.echo(line)
    for step, words in report.refused:
        typer.echo(f"{step.title}: {words}", err=True)
    differ = report.differ(went=go)
    if go:
        typer.echo(f"{counted(report.done, 'change')} made.")
    elif any(step.kind in _WOULD for step in report.comparison.steps):
        typer.echo("Nothing was changed. Say --go to make these changes.")
    if differ:
        verb = "differs" if differ == 1 else "differ"
        said = f", {report.settled} of them as you said" if report.settled else ""
        raise Failure(f"{counted(differ, 'job')} in the calendar {verb} from the plan{said}.")
    typer.echo("0 jobs in the calendar differ from the plan.")


def lines(
    report: PublishReport, plan: Plan | None = None, cause: Cause = nothing_known
) -> list[str]:
    """What changes, a line a job, with what has come in that may be why, and what is left alone."""
    comparison = report.comparison
    said = []
    if comparison.emptied:
        said.append("None of the jobs put there before is left: all are added again.")
    for step in comparison.steps:
        if step.kind in _WOULD:
            moved = step.old_day is not None and step.old_day != step.day
            why = f" (was {step.old_day})" if moved else ""
            line = f"{_WOULD[step.kind]:<8}  {step.day}  {step.title}{why}"
            said.append(f"{line}{_because(step, cause)}")
        elif step.kind == "leave" and step.settled:
            said.append(f"As you said: {step.title}, since {step.because}; {_days(step)}.")
        elif step.kind == "leave":
            said.extend(_conflict(step, plan))
    kept = sum(step.kind == "keep" for step in comparison.steps)
    said.append(f"Unchanged: {kept}.")
    for copy in comparison.copies:
        where = "which is not its day" if copy in comparison.stale else "its day"
        said.append(
            f"Copied on a phone: {copy.title}, on {copy.day}, {where}. No change of the plan"
            " reaches a copy: take it off on the phone."
        )
    if comparison.strangers:
        said.append(
            f"Not from here, never touched: {comparison.strangers}. A calendar of its own for the"
            " shows is easier to take off again."
        )
    return said


def _because(step: ServerStep, cause: Cause) -> str:
    """Why a job is changed or goes: what was heard of it since, else what its day counts from."""
    about = step.base if step.kind == "remove" else step.job.about if step.job else None
    if about is None or step.kind == "add":
        return ""
    heard = cause(about.fish, about.show, about.water)
    if heard:
        return f". {heard.removesuffix('.')}"
    text = step.job.description if step.job is not None else ""
    counts = [line for line in text.splitlines() if line.startswith("When: ")]
    return f". {counts[0]}" if counts else ""


def _conflict(step: ServerStep, plan: Plan | None) -> list[str]:
    """A job that a phone changed: what stands where, what it does to the chance, the ways out."""
    said = [f"Left alone: {step.title}, since {step.because}; {_days(step)}."]
    if plan is not None and step.phone_day is not None and step.job is not None:
        about = step.job.about
        if about.kind == "touch-up":
            told = moved_day_lines(plan, about.fish, about.show, step.day, step.phone_day)
            said.extend(f"  {line}" for line in told)
    name = step.task or step.uid
    said.append(f"  Settle it with --keep-plan {name} or --keep-phone {name}.")
    return said


def _days(step: ServerStep) -> str:
    """Which day the plan has for it, and which the phone."""
    days = (
        f"the plan has {step.day}" if step.job is not None else "the plan does not have it any more"
    )
    if step.phone_day is not None:
        days = f"the phone has {step.phone_day}, {days}"
    if step.job is not None and step.old_day is not None and step.old_day != step.day:
        days += f" (before: {step.old_day})"
    return days
