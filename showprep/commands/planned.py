"""A season folder as a plan, for the commands that show it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from showprep.planning.plan import Plan
from showprep.planning.season_plan import make_plan
from showprep.season.reading import read_season


def planned(season: Path, on: date) -> Plan:
    """The plan of the season in this folder, made on the day `on`.

    Raises SeasonError when its files have faults.
    """
    return make_plan(read_season(season, on).season, on, season.resolve().name)
