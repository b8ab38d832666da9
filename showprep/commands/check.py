"""`check`: read the files and report every fault."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from dataclasses import asdict
from datetime import date
from pathlib import Path

from showprep.outputs.words.plain import counted
from showprep.season.problems import Problem, SeasonError
from showprep.season.reading import read_season


def run(folder: Path, on: date, *, as_json: bool) -> None:
    """Print what is wrong, or that nothing is."""
    try:
        reading = read_season(folder, on)
    except SeasonError as error:
        if as_json:
            _print_json(error.problems)
            raise SystemExit(3) from None
        raise
    if as_json:
        _print_json(reading.warnings)
        return
    for problem in reading.warnings:
        print(problem.told, file=sys.stderr)  # noqa: T201
    season = reading.season
    shows, entries = counted(len(season.shows), "show"), len(season.journal)
    noted = counted(entries, "entry", "entries")
    print(f"No faults: {shows}, {len(season.fish)} fish, {noted} in the journal.")  # noqa: T201


def _print_json(problems: Iterable[Problem]) -> None:
    found = [asdict(problem) for problem in problems]
    print(json.dumps({"problems": found}, ensure_ascii=False, indent=2))  # noqa: T201
