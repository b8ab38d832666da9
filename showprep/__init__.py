"""showprep: plan a koi show season backwards from the judging bench.

For other programs: `read`, `plan`, `as_json`, `SeasonError` and `__version__` stay as they are
described in docs/python.md. What lies in the packages below may change with any version.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from showprep.season.problems import SeasonError

if TYPE_CHECKING:
    from showprep.planning.plan import Plan
    from showprep.season.reading import Reading

__version__ = "0.1.0"
__all__ = ["SeasonError", "__version__", "as_json", "plan", "read"]


def read(folder: str | Path, on: date) -> Reading:
    """Read the season's files as they stand on the day `on`.

    `season` of what comes back holds the yard, shows, fish and journal, `warnings` what the keeper
    may want to look at. Raises SeasonError, whose `problems` are all faults, each with its place.
    Nothing is printed or written.
    """
    from showprep.season.reading import read_season

    return read_season(Path(folder), on)


def plan(folder: str | Path, on: date) -> Plan:
    """Read the season and work it out for the day `on`, as `showprep plan` does.

    The last plan that lies in the folder's `.showprep` is taken into account. Raises SeasonError
    for faults in the files. Nothing is printed or written.
    """
    from showprep.outputs.remembered import remembered
    from showprep.planning.season_plan import worked_out
    from showprep.planning.yard.presumed import yard_as_known
    from showprep.season.reading import season_name

    folder = Path(folder)
    yard = yard_as_known(read(folder, on).season, on, remembered(folder, on))
    return worked_out(yard, season_name(folder), costs=True)[1]


def as_json(plan: Plan) -> dict[str, Any]:
    """The plan as `showprep plan --json` prints it, as plain lists and mappings."""
    from showprep.outputs.json_plan import plan_json

    return plan_json(plan)
