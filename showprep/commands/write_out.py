"""`plan --out`: calendar files, page and plan.json, written all together or not at all."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from showprep.commands.loading import done_by
from showprep.commands.options import now
from showprep.commands.page import page_of
from showprep.outputs.calendar.export import Purpose, prepare_calendar
from showprep.outputs.calendar.ledger import ledger_path, written_ledger
from showprep.outputs.calendar.season_identity import identity_of
from showprep.outputs.json_plan import plan_text
from showprep.outputs.page.photos import photo_advice
from showprep.outputs.remembered import remember
from showprep.outputs.whole_file import (
    alone_in,
    is_own_calendar,
    is_own_page,
    is_own_plan,
    kept_before,
    refuse_unfit,
    write_together,
)
from showprep.planning.plan import Plan
from showprep.planning.yard.yard import Yard

CALENDARS: dict[str, Purpose] = {"subscribe.ics": "subscribe", "import.ics": "import"}


OWN = {
    "subscribe.ics": is_own_calendar,
    "import.ics": is_own_calendar,
    "page.html": is_own_page,
    "plan.json": is_own_plan,
}


def write_out(
    yard: Yard, plan: Plan, season: Path, folder: Path, *, replace_files: bool = False
) -> list[str]:
    """Write the plan's files into `folder` and say what was written.

    Everything is made before anything is written, and all of it takes its place or none.
    `replace_files` lets them take the place of files that showprep did not write.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name, own in OWN.items():
        refuse_unfit(folder / name, name, own, replace=replace_files)
    ledgers = [ledger_path(folder / name) for name in CALENDARS]
    plan = replace(plan, identity=identity_of(season, ledgers))
    files: dict[Path, bytes] = {}
    notes: list[str] = []
    made = now()
    with alone_in(folder):
        for name, purpose in CALENDARS.items():
            path = folder / name
            one = prepare_calendar(plan, path, now=made, purpose=purpose, done_on=done_by(yard))
            files |= {ledger_path(path): written_ledger(one.ledger), path: one.data}
            notes.extend(one.written.notes)
        files[folder / "page.html"] = page_of(yard, plan, season).encode()
        files[folder / "plan.json"] = plan_text(plan).encode()
        notes += kept_before(season, [path for path in files if path.suffix != ".html"])
        write_together(files)
    if advice := photo_advice(plan):
        notes.append(advice)
    remember(season, plan)
    return [*notes, f"Wrote subscribe.ics, import.ics, page.html and plan.json to {folder}."]
