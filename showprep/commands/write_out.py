"""`plan --out`: calendar files, page and plan.json, each written whole or not at all."""

from __future__ import annotations

from pathlib import Path

from showprep.outputs.json_plan import plan_text
from showprep.outputs.whole_file import write_whole
from showprep.planning.plan import Plan


def write_out(plan: Plan, season: Path, folder: Path) -> list[str]:
    """Write the plan's files into `folder` and say what was written."""
    folder.mkdir(parents=True, exist_ok=True)
    write_whole(folder / "plan.json", plan_text(plan).encode())
    return [f"Wrote plan.json to {folder}."]
