"""Sheets that differ from the last plan, or from what was printed."""

from __future__ import annotations

import re
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.commands import page as page_command
from showprep.commands import plan as plan_command
from showprep.outputs.printed import printed_sheets, remember_printed
from showprep.planning.follow_up.sheet_facts import (
    PrintedSheet,
    facts_of,
    out_of_date,
    unlike_last,
)
from showprep.planning.plan import Plan
from showprep.planning.yard.last_plan import last_of
from tests.planning.told import codes

ON, LATER = date(2027, 4, 20), date(2027, 5, 20)
SESSION = "touch-up/aoi/larkfield"


@pytest.fixture
def plan(written: Any) -> Plan:
    return written.plan(ON)


def goers(plan: Plan, *fish: str, on: date = ON) -> Plan:
    """The plan with other fish for its show, whose entries closed on 10 May."""
    show = replace(plan.shows[0], entered=fish, entries_close=date(2027, 5, 10))
    return replace(plan, shows=(show,), planned_on=on)


def test_a_plan_is_like_itself(plan: Plan) -> None:
    assert set(facts_of(plan)) == {SESSION, "larkfield"}
    assert unlike_last(last_of(plan), plan) == {}


def test_other_fish_and_entries_that_closed(plan: Plan) -> None:
    told = unlike_last(last_of(plan), goers(plan, "beni", on=LATER))
    assert set(told) == {"larkfield"}
    other, closed = told["larkfield"]
    assert [one.id for one in other["come"]] == ["beni"]  # type: ignore[union-attr]
    assert [one.id for one in other["gone"]] == ["aoi"]  # type: ignore[union-attr]
    assert closed["on"] == date(2027, 5, 10)
    before = unlike_last(last_of(plan), goers(plan, "beni", on=date(2027, 5, 10)))
    assert codes(before["larkfield"]) == ["sheet-fish-otherwise"], "on the day it can be sent still"


def test_a_session_on_another_day(plan: Plan) -> None:
    tasks = tuple(
        replace(task, start=date(2027, 5, 19), end=date(2027, 5, 19))
        if task.id == SESSION
        else task
        for task in plan.tasks
    )
    told = unlike_last(last_of(plan), replace(plan, tasks=tasks))
    (moved,) = told[SESSION]
    assert (moved["old"], moved["new"]) == (date(2027, 5, 15), date(2027, 5, 19))


def test_printed_sheets_go_out_of_date(plan: Plan, tmp_path: Path) -> None:
    assert printed_sheets(tmp_path) == {}
    remember_printed(tmp_path, facts_of(plan), ON, ("sessions", "larkfield"))
    printed = printed_sheets(tmp_path)
    assert printed == {of: PrintedSheet(ON, fact) for of, fact in facts_of(plan).items()}
    assert out_of_date(printed, facts_of(plan), plan) == ()
    changed = goers(plan, "aoi", "beni", on=date(2027, 5, 12))
    changed = replace(changed, tasks=tuple(t for t in plan.tasks if t.id != SESSION))
    told = [change.what for change in out_of_date(printed, facts_of(changed), changed)]
    assert [codes([one]) for one in told] == [
        ["sheet-out-of-date", "sheet-of-session", "sheet-is-void"],
        ["sheet-out-of-date", "sheets-of-show", "sheet-fish-otherwise", "sheet-entries-closed"],
    ]
    passed = replace(changed, planned_on=LATER)
    assert len(out_of_date(printed, facts_of(passed), passed)) == 1, "the session's day has passed"


def test_only_what_was_chosen_is_taken_for_printed(plan: Plan, tmp_path: Path) -> None:
    remember_printed(tmp_path, facts_of(plan), ON, ("season", "cards"))
    assert printed_sheets(tmp_path) == {}
    remember_printed(tmp_path, facts_of(plan), ON, ("larkfield",))
    assert set(printed_sheets(tmp_path)) == {"larkfield"}
    remember_printed(tmp_path, facts_of(plan), LATER, ("worksheets",))
    assert {of: one.on for of, one in printed_sheets(tmp_path).items()} == {
        "larkfield": ON,
        SESSION: LATER,
    }
    (tmp_path / ".showprep" / "printed.json").write_text("[]")
    assert printed_sheets(tmp_path) == {}


def test_a_page_to_look_at_hides_no_older_paper(plan: Plan, tmp_path: Path) -> None:
    remember_printed(tmp_path, facts_of(plan), ON, ("larkfield",))
    changed = goers(plan, "beni", on=LATER)
    remember_printed(tmp_path, facts_of(changed), LATER, ("larkfield", "sessions"), perhaps=True)
    assert printed_sheets(tmp_path)["larkfield"].on == ON
    assert len(out_of_date(printed_sheets(tmp_path), facts_of(changed), changed)) == 1
    remember_printed(tmp_path, facts_of(changed), LATER, ("larkfield",))
    assert out_of_date(printed_sheets(tmp_path), facts_of(changed), changed) == ()


def test_a_whole_page_is_taken_for_printed_and_needs_no_memory(
    written: Any, folder: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = {"keeper": written.keeper, "shows": written.shows, "fish": written.fish}
    season = folder({f"{name}.yaml": text for name, text in files.items()})
    page = tmp_path / "season.html"
    page_command.run(season, Path("-"), ON)
    assert printed_sheets(season) == {}, "what is put on a screen is not printed"
    page_command.run(season, page, ON)
    first = page.read_bytes()
    assert set(printed_sheets(season)) == {SESSION, "larkfield"}
    page_command.run(season, page, ON)
    assert page.read_bytes() == first
    shutil.rmtree(season / ".showprep")
    (season / ".showprep").write_text("no folder")
    page_command.run(season, page, ON)
    assert "`plan` cannot say" in capsys.readouterr().err
    assert page.read_bytes() == first


def test_a_dose_and_the_water_of_a_bag_make_a_sheet_out_of_date(
    written: Any, folder: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    def stale() -> list[str]:
        season = folder({
            "keeper.yaml": written.keeper, "shows.yaml": written.shows, "fish.yaml": written.fish
        })  # fmt: skip
        plan_command.run(season, ON, as_json=False, out=None, since=None)
        told = " ".join(capsys.readouterr().out.split())
        return [part.split(")")[0] for part in told.split("out of date: ")[1:]]

    assert stale() == []
    page_command.run(tmp_path / "season", tmp_path / "season.html", ON)
    capsys.readouterr()
    assert stale() == []
    written.keeper = written.keeper.replace("bath_litres: 30", "bath_litres: 33")
    written.fish = written.fish.replace("2027-03-01: 50}", "2027-03-01: 54}")
    session, journey = stale()
    # Of a product of 10 % by volume, 3 L more at the same mg/L: a tenth more of it.
    dose = re.search(r"the dose is ([0-9.]+) mL, not ([0-9.]+) mL", session)
    assert dose and float(dose[1]) == pytest.approx(1.1 * float(dose[2]), rel=0.02)
    assert re.search(r"L of water in the bag of Aoi, not \d", journey)
    written.keeper = written.keeper.replace("strength_percent: 10", "strength_percent: 100")
    assert any("dose" in one for one in stale())
