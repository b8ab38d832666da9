"""Reading a season for a command: its warnings go to standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

from showprep.planning.plan import Plan
from showprep.season.reading import Reading, read_season

SLOW_SECONDS = 1.0


def load(folder: Path, on: date) -> Reading:
    """Read the season, or raise SeasonError with every fault."""
    reading = read_season(folder, on)
    for problem in reading.warnings:
        print(f"Note: {problem}", file=sys.stderr)  # noqa: T201
    return reading


def load_plan(folder: Path, on: date) -> Plan:
    """Read the season and work it out."""
    from showprep.planning.season_plan import make_plan

    reading = load(folder, on)
    return make_plan(reading.season, on, season_name(folder), progress())


def season_name(folder: Path) -> str:
    """The season's name is its folder's."""
    return folder.resolve().name


def progress() -> Callable[[str], None]:
    """Say on standard error how slow work is getting on."""

    def say(text: str) -> None:
        print(text, file=sys.stderr)  # noqa: T201

    return say
