"""The last plan of a season, kept inside its folder: what was due, and what jobs were called.

Only a plan of an earlier day counts, so that two runs on one day give the same. The plan before
the last is kept beside it for that.
"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

from showprep.outputs.json_plan import plan_text
from showprep.outputs.whole_file import alone_in, hidden_folder, write_whole
from showprep.planning.plan import Plan
from showprep.planning.yard.last_plan import LastPlan, last_from
from showprep.season.own_files import FOLDER, read_own

LAST, BEFORE = "plan.json", "plan-before.json"


def remembered(season: Path, on: date) -> LastPlan | None:
    """The latest plan that was made on a day before `on`; None where none can be read."""
    found = [last_from(_data(season / FOLDER / name)) for name in (LAST, BEFORE)]
    earlier = [one for one in found if one is not None and one.planned_on < on]
    return max(earlier, key=lambda one: one.planned_on, default=None)


def remember(season: Path, plan: Plan) -> None:
    """Keep this plan as the last one, unless one of a later day is kept already.

    Raises Failure where the season's folder cannot be written to.
    """
    folder = hidden_folder(season)
    with alone_in(folder):
        standing = last_from(_data(folder / LAST))
        if standing is not None and standing.planned_on > plan.planned_on:
            return
        if standing is not None and standing.planned_on < plan.planned_on:
            write_whole(folder / BEFORE, read_own(folder / LAST))
        write_whole(folder / LAST, plan_text(plan).encode())


def _data(path: Path) -> Any:
    """What stands in a file; None where it is missing or is no plan."""
    try:
        return json.loads(read_own(path).decode("utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
