"""`plan --out`: calendar files, page and plan.json, each written whole or not at all."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from showprep.commands.options import now
from showprep.commands.page import page_of
from showprep.outputs.calendar.export import Purpose, export_calendar
from showprep.outputs.calendar.ledger import ledger_path
from showprep.outputs.calendar.season_identity import identity_of
from showprep.outputs.json_plan import plan_text
from showprep.outputs.page.photos import photo_advice
from showprep.outputs.remembered import remember
from showprep.outputs.whole_file import write_whole
from showprep.planning.plan import Plan
from showprep.planning.yard.yard import Yard

CALENDARS: dict[str, Purpose] = {"subscribe.ics": "subscribe", "import.ics": "import"}


def write_out(yard: Yard, plan: Plan, season: Path, folder: Path) -> list[str]:
    """Write the plan's files into `folder` and say what was written.

    Everything is made before anything is written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    ledgers = [ledger_path(folder / name) for name in CALENDARS]
    plan = replace(plan, identity=identity_of(season, ledgers))
    page = page_of(yard, plan, season).encode()
    text = plan_text(plan).encode()
    notes: list[str] = []
    made = now()
    for name, purpose in CALENDARS.items():
        written = export_calendar(plan, folder / name, now=made, purpose=purpose)
        notes.extend(written.notes)
    write_whole(folder / "page.html", page)
    write_whole(folder / "plan.json", text)
    if advice := photo_advice(plan):
        notes.append(advice)
    remember(season, plan)
    return [*notes, f"Wrote subscribe.ics, import.ics, page.html and plan.json to {folder}."]
