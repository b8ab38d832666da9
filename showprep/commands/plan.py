"""`plan`: the board, or the plan as JSON; with `--out` the files as well."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from showprep.commands.loading import load_plan


def run(folder: Path, on: date, *, as_json: bool, out: Path | None) -> None:
    """Plan the season and print it; files are written before anything is printed."""
    plan = load_plan(folder, on)
    if out is not None:
        from showprep.commands.write_out import write_out

        for line in write_out(plan, folder, out):
            print(line, file=sys.stderr)  # noqa: T201
    if as_json:
        from showprep.outputs.json_plan import plan_text

        sys.stdout.write(plan_text(plan))
        return
    from showprep.outputs.board import print_board

    print_board(plan)
