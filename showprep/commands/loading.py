"""Reading a season for a command: its warnings go to standard error."""

from __future__ import annotations

import sys
from collections.abc import Collection, Iterable, Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from showprep.commands.streams import say
from showprep.planning.plan import Plan
from showprep.season.problems import Problem
from showprep.season.reading import Reading, read_season, season_name

if TYPE_CHECKING:
    from showprep.outputs.calendar.editions import DoneOn
    from showprep.outputs.calendar.ledger import LedgerRow
    from showprep.planning.yard.yard import Yard
    from showprep.season.records import Season

DaysSet = Mapping[str, Collection[tuple[str | None, date]]]
DONE_AHEAD = timedelta(days=4)  # a job may be done so many days before the day it had on the phone


def load(folder: Path, on: date) -> Reading:
    """Read the season, or raise SeasonError with every fault."""
    reading = read_season(folder, on)
    tell_warnings(reading.warnings)
    return reading


def tell_warnings(warnings: Iterable[Problem]) -> None:
    """What may be wrong in the files: a question stays with --quiet, a slip may be in a dose."""
    for problem in warnings:
        if problem.severity == "question":
            print(problem.told, file=sys.stderr)  # noqa: T201
        else:
            say(problem.told, err=True)


def load_plan(folder: Path, on: date, costs: bool = False, tells: bool = False) -> Plan:
    """Read the season and work it out."""
    return load_yard_and_plan(folder, on, costs=costs, tells=tells)[1]


def load_yard_and_plan(
    folder: Path,
    on: date,
    asked: tuple[str, str] | None = None,
    costs: bool = False,
    tells: bool = False,
) -> tuple[Yard, Plan]:
    """Read the season and work it out; the yard as planned too, for what a command asks beyond.

    `asked` is the one fish and show whose cost is wanted; else `costs` says whether those of all
    fish left out are, and `tells` whether what would tell most is. An interruption (Ctrl-C) breaks
    the choice off: the plan is then the best so far, and the command ends with status 1 when it is
    done.
    """
    return plan_of(load(folder, on).season, folder, on, asked, costs, tells)


def plan_of(
    season: Season,
    folder: Path,
    on: date,
    asked: tuple[str, str] | None = None,
    costs: bool = False,
    tells: bool = False,
) -> tuple[Yard, Plan]:
    """A season that has been read, worked out as `load_yard_and_plan` does."""
    from showprep.commands.interrupts import choice_begins
    from showprep.outputs.remembered import remembered
    from showprep.planning.season_plan import worked_out
    from showprep.planning.yard.presumed import yard_as_known

    yard = yard_as_known(season, on, remembered(folder, on))
    return worked_out(yard, season_name(folder), choice_begins(), asked, costs, tells)


def load_with_done(folder: Path, on: date) -> tuple[Plan, DoneOn]:
    """The plan, and what tells of a job that has left it on which day it was done, if it was."""
    yard, plan = load_yard_and_plan(folder, on)
    return plan, done_by(yard)


def load_with_notes(folder: Path, on: date) -> tuple[Plan, DoneOn, tuple[str, ...], DaysSet]:
    """As `load_with_done`, the words of all notes, those that were taken back among them, and by
    fish the days set for its touch-ups, each with its show."""
    yard, plan = load_yard_and_plan(folder, on)
    entries = (*yard.state.journal, *yard.state.taken_back)
    days_set = {fish: one.days_set for fish, one in yard.state.fish.items()}
    return plan, done_by(yard), tuple(one.note for one in entries if one.note), days_set


def done_by(yard: Yard) -> DoneOn:
    """Asks the yard's journal about a job as a ledger remembers it."""
    from showprep.planning.jobs.done_by import done_on

    def told(row: LedgerRow) -> date | None:
        if not row.task or not row.kind:
            return None
        since = date.fromisoformat(row.start[:10]) - DONE_AHEAD
        return done_on(yard, row.task, row.kind, row.fish, row.show, row.water, since)

    return told
