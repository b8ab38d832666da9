"""`why`: all that stands behind one fish and one show."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path

from showprep.commands.loading import load, plan_of
from showprep.commands.names import named
from showprep.outputs.failure import Failure
from showprep.planning.plan import Plan


def run(folder: Path, fish: str, show: str, on: date, *, as_json: bool) -> None:
    """Print everything about one pair."""
    season = load(folder, on).season
    fish = named("fish", fish, {one: record.name for one, record in season.fish.items()})
    show = named("show", show, {one: record.name for one, record in season.shows.items()})
    _, plan = plan_of(season, folder, on, (fish, show))
    _planned(plan, fish, show)
    if as_json:
        from showprep.outputs.json_plan import plan_json

        whole = plan_json(plan)
        found = next(
            (one for one in whole["verdicts"] if one["fish"] == fish and one["show"] == show), None
        )
        told = found and {**found, "format": whole["format"]}
        sys.stdout.write(json.dumps(told, ensure_ascii=False, indent=2) + "\n")
        return
    from showprep.outputs.why import print_why

    print_why(plan, fish, show)


def _planned(plan: Plan, fish: str, show: str) -> None:
    if all(one.id != fish for one in plan.fish):
        raise Failure(f"{fish} is in the yard no longer.", status=2)
    shows = {one.id: one for one in plan.shows}
    if shows[show].standing != "planned":
        raise Failure(f"{shows[show].name} is {shows[show].standing}: it is kept, not planned.")
