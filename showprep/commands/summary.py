"""`summary`: the season looked back on, a few lines a fish."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from showprep.commands.loading import load
from showprep.outputs.summary import summary_json, summary_text
from showprep.planning.follow_up.year_end import year_end
from showprep.season.reading import season_name


def run(folder: Path, on: date, *, as_json: bool) -> None:
    """Print what became of every fish, up to the day `on`."""
    season = load(folder, on).season
    year = year_end(season, on, season_name(folder))
    sys.stdout.write(summary_json(year) if as_json else summary_text(year, season.keeper.units))
