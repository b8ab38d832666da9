"""Every worksheet of a season, from the samples: all of it is invented."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from showprep.outputs.worksheets.for_page import sheets_for_page
from showprep.planning.season_plan import plan_of
from showprep.planning.worksheets.bath_records import BathSheet
from showprep.planning.worksheets.bath_season import baths, sessions_in
from showprep.planning.yard.yard import yard_on
from showprep.season.reading import read_season

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


def test_each_session_and_each_show_with_fish_has_its_sheets() -> None:
    on = date(2027, 3, 20)
    yard = yard_on(read_season(SAMPLES / "spring-circuit", on).season, on)
    plan = plan_of(yard, "spring-circuit")
    titles = [sheet.title for sheet in sheets_for_page(plan, yard)]
    sessions = [task for task in plan.tasks if task.kind in ("touch-up", "ask-a-vet")]
    shows = [show.name for show in plan.shows if show.entered]
    assert sum(title.startswith("Touch-up bath") for title in titles) == len(sessions) > 0
    assert [title for title in titles if title.startswith("Bags")] == [f"Bags: {n}" for n in shows]
    assert sum(title.startswith("Packing") for title in titles) == len(shows) > 0


def test_a_bath_that_cannot_be_worked_out_says_why() -> None:
    on = date(2027, 3, 20)
    season = read_season(SAMPLES / "spring-circuit", on).season
    bare = season.keeper.touch_up.model_copy(update={"strength_percent": None})
    keeper = season.keeper.model_copy(update={"touch_up": bare})
    yard = yard_on(season.model_copy(update={"keeper": keeper}), on)
    first = sheets_for_page(plan_of(yard, "spring-circuit"), yard)[0]
    assert first.sections[0][0] == "There is no sheet for this bath"
    assert "strength of the product is missing" in first.sections[0][1][0]


def test_a_sheet_prints_the_fast_and_the_look_backs_of_the_calendar() -> None:
    on = date(2027, 3, 20)
    yard = yard_on(read_season(SAMPLES / "spring-circuit", on).season, on)
    plan = plan_of(yard, "spring-circuit")
    sessions = sessions_in(plan)
    assert sessions
    for session, sheet in zip(sessions, baths(yard, plan), strict=True):
        assert isinstance(sheet, BathSheet)
        anchor = session.id.removeprefix("touch-up/")
        looks = [task.first_day for task in plan.tasks if task.id.startswith("look-back-")
                 and task.id.endswith(f"/{anchor}")]  # fmt: skip
        assert list(sheet.look_backs) == sorted(looks) and len(looks) == 2
        fasts = [task.first_day for task in plan.tasks if task.id.startswith(f"unfed/{anchor}/")]
        assert sheet.unfed_from == min(fasts)
