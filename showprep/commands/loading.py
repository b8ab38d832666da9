"""Reading a season for a command: its warnings go to standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from showprep.planning.plan import Plan
from showprep.season.reading import Reading, read_season

if TYPE_CHECKING:
    from showprep.planning.yard import Yard


def load(folder: Path, on: date) -> Reading:
    """Read the season, or raise SeasonError with every fault."""
    reading = read_season(folder, on)
    for problem in reading.warnings:
        print(f"Note: {problem}", file=sys.stderr)  # noqa: T201
    return reading


def load_plan(folder: Path, on: date) -> Plan:
    """Read the season and work it out."""
    return load_yard_and_plan(folder, on)[1]


def load_yard_and_plan(
    folder: Path, on: date, asked: tuple[str, str] | None = None
) -> tuple[Yard, Plan]:
    """Read the season and work it out; the yard as planned too, for what a command asks beyond.

    `asked` is a fish and a show of which more is wanted.
    """
    from showprep.outputs.remembered import remembered
    from showprep.planning.presumed import yard_as_known
    from showprep.planning.season_plan import worked_out

    yard = yard_as_known(load(folder, on).season, on, remembered(folder, on))
    return worked_out(yard, season_name(folder), progress(), asked)


def season_name(folder: Path) -> str:
    """The season's name is its folder's."""
    return folder.resolve().name


def progress() -> Callable[[str], None]:
    """Say on standard error how slow work is getting on."""

    def say(text: str) -> None:
        print(text, file=sys.stderr)  # noqa: T201

    return say
