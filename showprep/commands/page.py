"""`page`: one self-contained HTML page, with sheets to print."""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from showprep.commands.loading import load_yard_and_plan
from showprep.commands.names import meant
from showprep.commands.streams import say
from showprep.husbandry.reason import Reason
from showprep.outputs.failure import Failure
from showprep.outputs.page.photos import photo_advice
from showprep.outputs.page.render import render_page, render_sheets, sheet_groups
from showprep.outputs.printed import remember_printed
from showprep.outputs.whole_file import is_own_page, refuse_unfit, write_whole
from showprep.outputs.worksheets.for_page import sheets_for_page
from showprep.planning.follow_up.sheet_amounts import facts_with_amounts
from showprep.planning.follow_up.sheet_facts import unlike_last
from showprep.planning.plan import Plan
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import listed, shown

MOST_PHOTO_BYTES = 30_000_000  # more is no photo to shrink for a page


def run(
    season: Path, to: Path, on: date, chosen: Sequence[str] = (), *, replace_file: bool = False
) -> None:
    """Write the page of the season as planned on the day `on`, or chosen sheets of it alone.

    `to` is a file, or "-" for standard output. `replace_file` lets it take the place of a file
    that showprep did not write.
    """
    printed = str(to) == "-"
    if not printed:
        refuse_unfit(to, "season.html", is_own_page, replace=replace_file)
    yard, plan = load_yard_and_plan(season, on, costs=not chosen)
    if chosen:
        chosen = [_group(name, plan) for name in chosen]
        sheets, unlike = sheets_for_page(plan, yard), _unlike(yard, plan)
        text = render_sheets(plan, chosen, _photos(plan, season), sheets, unlike)
        if printed:
            sys.stdout.write(text)
            return
        write_whole(to, text.encode(), follow=True)
        remember_printed(season, facts_with_amounts(yard, plan), on, chosen)
        say(f"Wrote the sheets to {to}: open it in a browser and print.")
        return
    text = page_of(yard, plan, season)
    if printed:
        sys.stdout.write(text)
    else:
        write_whole(to, text.encode(), follow=True)
        _remember_all(season, yard, plan)
    if advice := photo_advice(plan):
        say(advice, err=True)
    if not printed:
        say(f"Wrote the page to {to}: open it in a browser, or print its sheets.")


def _remember_all(season: Path, yard: Yard, plan: Plan) -> None:
    """Every sheet of the page can be printed from it. A folder that is only read is no failure."""
    try:
        facts = facts_with_amounts(yard, plan)
        remember_printed(season, facts, plan.planned_on, sheet_groups(plan), perhaps=True)
    except Failure as failure:
        say(f"{failure} So `plan` cannot say when sheets of this page are out of date.", err=True)


def _group(name: str, plan: Plan) -> str:
    """The group of sheets meant; a show's by its name too. Raises Failure where there is none."""
    known = sheet_groups(plan)
    names = {one.id: one.name for one in plan.shows if one.id in known}
    found = [name] if name in known else meant(name, dict.fromkeys(known, "") | names)
    if len(found) != 1:
        right = listed(found or known, "or")
        raise Failure(f"There are no sheets called {shown(name)}: give {right}.", status=2)
    return found[0]


def page_of(yard: Yard, plan: Plan, season: Path) -> str:
    """The page's text, with the journal's photos and the worksheets."""
    sheets, unlike = sheets_for_page(plan, yard), _unlike(yard, plan)
    return render_page(plan, _photos(plan, season), sheets, unlike)


def _unlike(yard: Yard, plan: Plan) -> Mapping[str, tuple[Reason, ...]]:
    """How sheets differ from the plan that is remembered of an earlier day."""
    return unlike_last(yard.last, plan) if yard.last is not None else {}


def _photos(plan: Plan, season: Path) -> dict[str, bytes]:
    found = {}
    for name in sorted({photo for fish in plan.fish for photo in fish.photos}):
        path = season / name
        if path.is_file() and path.stat().st_size <= MOST_PHOTO_BYTES:
            found[name] = path.read_bytes()
    return found
