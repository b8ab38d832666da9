"""`plan`: the answer on one screen, the long board, or JSON; with `--out` the files as well."""

from __future__ import annotations

import json
import sys
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from showprep.commands.loading import load_yard_and_plan
from showprep.commands.streams import say
from showprep.outputs.failure import Failure
from showprep.outputs.printed import printed_sheets
from showprep.planning.plan import Plan
from showprep.planning.yard.yard import Yard


def run(
    folder: Path,
    on: date,
    *,
    as_json: bool,
    full: bool = False,
    out: Path | None,
    since: Path | None,
    replace_files: bool = False,
) -> None:
    """Plan the season and print it; files are written before anything is printed.

    `since` is an earlier plan.json to compare with; with `out` the one already there is taken, and
    without both the plan that is remembered of an earlier day.
    """
    if str(out) == "-":
        raise Failure("--out takes a folder. What is printed as JSON is `showprep plan --json`.", 2)
    if out is not None and out.exists() and not out.is_dir():
        raise Failure(f"{out} is no folder. Name one, and the plan's files are put there.", 2)
    yard, plan = load_yard_and_plan(folder, on, costs=True, tells=not as_json)
    before = since if since is not None else out / "plan.json" if out is not None else None
    if before is not None:
        plan = _compared(yard, plan, before, asked=since is not None)
    elif yard.last is not None:
        from showprep.planning.follow_up.changes import changes

        plan = replace(plan, changes=changes(yard.last, plan, yard))
    if printed := printed_sheets(folder):
        from showprep.planning.follow_up.sheet_amounts import facts_with_amounts
        from showprep.planning.follow_up.sheet_facts import out_of_date

        stale = out_of_date(printed, facts_with_amounts(yard, plan), plan)
        plan = replace(plan, changes=(*stale, *plan.changes))
    if out is not None:
        from showprep.commands.write_out import write_out

        for line in write_out(yard, plan, folder, out, replace_files=replace_files):
            say(line, err=True)
    if as_json:
        from showprep.outputs.json_plan import plan_text

        sys.stdout.write(plan_text(plan))
        return
    if full:
        from showprep.outputs.board import print_board

        print_board(plan)
        return
    from showprep.outputs.first_screen import print_first_screen

    print_first_screen(plan)


def _text(path: Path) -> str:
    """The text of an ordinary file; a device might never end."""
    if not path.is_file():
        raise FileNotFoundError(path)
    return path.read_text(encoding="utf-8")


def _compared(yard: Yard, plan: Plan, before: Path, *, asked: bool) -> Plan:
    """The plan with what changed since the one in `before`."""
    from showprep.planning.follow_up.changes import changes
    from showprep.planning.yard.last_plan import last_from

    try:
        last = last_from(json.loads(_text(before)))
    except (OSError, ValueError, RecursionError):
        last = None
    if last is None:
        if asked:
            raise Failure(f"{before} is not a plan.json that can be read.", status=2)
        return plan
    return replace(plan, changes=changes(last, plan, yard))
