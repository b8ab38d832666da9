"""`why` and the page say by which clock a wound heals, and say “too slow to plan”, not never."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

from rich.console import Console

from showprep.outputs.page import render_page
from showprep.outputs.why import print_why
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Plan
from showprep.planning.season_plan import make_plan
from showprep.season.reading import read_season

ON = date(2027, 6, 9)
Folder = Callable[[Mapping[str, str | bytes]], Path]
SHOWS = """\
larkfield:
  name: Larkfield Show
  judging: 2027-06-12 10:00
  arrive: {from: 2027-06-11 13:00, to: 2027-06-11 20:00}
  check_out: 2027-06-13 14:00
  travel_hours: 2
"""


def plan_of(folder: Folder, water_c: float) -> Plan:
    """A graze of two days before departure."""
    files: dict[str, str | bytes] = {
        "keeper.yaml": f"time_zone: Europe/Dublin\nwaters: {{pond: {{steady_c: {water_c}}}}}\n",
        "shows.yaml": SHOWS,
        "fish.yaml": "aoi:\n  name: Aoi\n  variety: kohaku\n  lives_in: pond\n  merit: 80\n"
        f"  defects: [{{kind: net-mark, where: flank, seen: {ON}}}]\n",
    }
    return make_plan(read_season(folder(files), ON).season, ON, "test")


def why(plan: Plan) -> str:
    out = io.StringIO()
    print_why(plan, "aoi", "larkfield", Console(file=out, width=200))
    return out.getvalue()


def test_why_counts_the_film_of_skin_in_its_own_days(folder: Folder) -> None:
    told = why(plan_of(folder, 7))
    assert "needs 1 / 2 / 4 skin-days (low / usual / high), at least 1 day" in told
    assert "half from 4 °C, none below" in told
    assert "by Fri 11 June the pond gives 1 skin-days" in told  # two days of half
    assert "skin-days gathered:" in told
    assert "usual: Sun 13 June 2027; slow case: Thu 17 June 2027" in told


def test_why_keeps_degree_days_for_the_colour(folder: Folder) -> None:
    told = why(plan_of(folder, 20))
    assert "needs 40 / 90 / 180 °C·d" in told
    assert "thermal time gathered:" in told


def test_water_above_the_usual_base_has_a_usual_day_and_no_slow_one(folder: Folder) -> None:
    told = why(plan_of(folder, 7))
    assert "slow case: too slow to plan" in told
    assert "usual: too slow to plan" not in told


def test_cold_water_is_too_slow_to_plan(folder: Folder) -> None:
    plan = plan_of(folder, 3)
    told, page = why(plan), render_page(plan)
    assert "usual: too slow to plan; slow case: too slow to plan" in told
    assert "Too slow to plan at the usual pace; in a slow case too slow to plan" in page
    assert "no day can be named" not in told
    assert "never" not in Speaker.of(plan).text(plan.verdicts[0].reasons[0])


def test_the_page_draws_and_explains_the_film(folder: Folder) -> None:
    page = render_page(plan_of(folder, 7))
    assert "one in water of 8 °C or more, half from 4 °C, none below" in page
    assert "Needs 1 to 4 skin-days, usually 2, and at least 1 day" in page


def test_what_a_look_overtook_is_not_blamed_on_the_water(folder: Folder) -> None:
    root = folder(
        {
            "keeper.yaml": "time_zone: Europe/Dublin\nwaters: {pond: {steady_c: 20}}\n",
            "shows.yaml": SHOWS,
            "fish.yaml": "aoi:\n  name: Aoi\n  variety: kohaku\n  lives_in: pond\n  merit: 80\n"
            "  defects: [{kind: net-mark, where: flank, seen: 2027-05-01}]\n",
            "journal.yaml": f"- {{on: {ON}, fish: aoi, saw: not clean}}\n",
        }
    )
    season = make_plan(read_season(root, ON).season, ON, "test")
    told, page = why(season), render_page(season)
    assert "usual: no day can be named; slow case: no day can be named" in told
    assert "too slow to plan" not in told
    assert "No day is known at the usual pace; in a slow case no day is known" in page
