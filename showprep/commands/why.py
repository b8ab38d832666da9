"""`why`: all that stands behind one fish and one show."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path

from showprep.commands.loading import load_yard_and_plan
from showprep.outputs.failure import Failure
from showprep.planning.plan import Plan
from showprep.season.values.wording import choose


def run(folder: Path, fish: str, show: str, on: date, *, as_json: bool) -> None:
    """Print everything about one pair."""
    _, plan = load_yard_and_plan(folder, on, (fish, show))
    _known(plan, fish, show)
    if as_json:
        from showprep.outputs.json_plan import plan_json

        whole = plan_json(plan)
        found = next(
            (one for one in whole["verdicts"] if one["fish"] == fish and one["show"] == show), None
        )
        sys.stdout.write(json.dumps(found, ensure_ascii=False, indent=2) + "\n")
        return
    from showprep.outputs.why import print_why

    print_why(plan, fish, show)


def _known(plan: Plan, fish: str, show: str) -> None:
    fish_ids = [one.id for one in plan.fish]
    if fish not in fish_ids:
        raise Failure(f"There is no fish {fish}: {choose(fish, fish_ids)}", status=2)
    shows = {one.id: one for one in plan.shows}
    if show not in shows:
        raise Failure(f"There is no show {show}: {choose(show, shows)}", status=2)
    if shows[show].standing != "planned":
        raise Failure(f"{shows[show].name} is {shows[show].standing}: it is kept, not planned.")
