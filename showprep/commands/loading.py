"""Reading a season for a command: its warnings go to standard error."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from showprep.planning.plan import Plan
from showprep.season.reading import Reading, read_season

if TYPE_CHECKING:
    from showprep.planning.yard.yard import Yard


def load(folder: Path, on: date) -> Reading:
    """Read the season, or raise SeasonError with every fault."""
    reading = read_season(folder, on)
    for problem in reading.warnings:
        print(problem.told, file=sys.stderr)  # noqa: T201
    return reading


def load_plan(folder: Path, on: date, costs: bool = False) -> Plan:
    """Read the season and work it out."""
    return load_yard_and_plan(folder, on, costs=costs)[1]


def load_yard_and_plan(
    folder: Path, on: date, asked: tuple[str, str] | None = None, costs: bool = False
) -> tuple[Yard, Plan]:
    """Read the season and work it out; the yard as planned too, for what a command asks beyond.

    `asked` is the one fish and show whose cost is wanted; else `costs` says whether those of all
    fish left out are. An interruption (Ctrl-C) breaks the choice off: the plan is then the best so
    far, and the command ends with status 1 when it is done.
    """
    from showprep.commands.interrupts import choice_begins
    from showprep.outputs.remembered import remembered
    from showprep.planning.season_plan import worked_out
    from showprep.planning.yard.presumed import yard_as_known

    yard = yard_as_known(load(folder, on).season, on, remembered(folder, on))
    return worked_out(yard, season_name(folder), choice_begins(), asked, costs)


def season_name(folder: Path) -> str:
    """The season's name is its folder's."""
    return folder.resolve().name
