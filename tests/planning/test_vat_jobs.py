"""A fish that heals in the isolation vat: the vat matched before, warmed after, and the way back.

Steady waters make the days plain: 12 °C at home gives 4 degree-days a day, 22 °C in the vat 14.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace

from showprep.husbandry.reason import Celsius, reason
from showprep.outputs.json_plan import plan_text
from showprep.planning.as_of.note_truth import objections
from showprep.planning.jobs.done_by import told_by_a_tick
from showprep.planning.plan import Plan, Task
from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import LastPlan, last_from, last_of
from showprep.planning.yard.presumed import yard_as_known
from showprep.season.reading import read_season
from showprep.season.records import JournalEntry, Season
from tests.planning.told import told

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 4, 1)

KEEPER = """
time_zone: UTC
work_days: [saturday]
waters: {{pond: {{steady_c: 12}}, vat: {{steady_c: 22}}}}
isolation: {{water: vat, holds: 2}}
touch_up: {{by: keeper, law_checked: yes, law_country: Ireland}}
preferences: {{heal_in_vat: {heal}}}
"""
SHOWS = """
ash:
  name: Ash Show
  judging: 2027-06-12 10:00
  arrive: {from: 2027-06-11 13:00, to: 2027-06-11 20:00}
  travel_hours: 1
  altered_fish: tolerated
"""
AOI = """
name: Aoi
variety: kohaku
lives_in: pond
merit: 80
lengths_cm: {2027-03-20: 50}
defects: [{kind: shimi, where: left flank, size_mm: 2, seen: 2027-03-20, merit_lost: 10}]
"""


def planned(folder: Folder, heal: str) -> Plan:
    path = folder(
        {"keeper.yaml": KEEPER.format(heal=heal), "shows.yaml": SHOWS, "fish/aoi.yaml": AOI}
    )
    return make_plan(read_season(path, ON).season, ON)


def test_at_home_the_wound_would_not_heal_in_time(folder: Folder) -> None:
    # The best day at 12 °C has a chance of 0.55: below 0.7. In the vat it would be nine in ten.
    verdict = planned(folder, "no").verdicts[0]
    assert (verdict.verdict, verdict.merit) == ("as-it-is", 70)
    (way,) = [one.reason for one in verdict.ways_out if one.reason.code == "heal-speck-in-vat"]
    assert way["chance"].share > 0.85
    assert way["here"].share < 0.56


def test_in_the_vat_it_does(folder: Folder) -> None:
    # Warmed by 1 °C a day from 12: 5 + 6 + ... + 14 = 95 in ten days, then 14 a day, so 225 more
    # take 17 days: 27 in all. From Sat 8 May that is Fri 4 June, and Sat 15 May, 11 June.
    plan = planned(folder, "yes")
    verdict = plan.verdicts[0]
    assert verdict.verdict == "ready-after-touch-up"
    assert verdict.touch_up is not None
    assert (verdict.touch_up.day, verdict.touch_up.water) == (date(2027, 5, 15), "vat")
    assert verdict.touch_up.chance == pytest.approx(0.92, abs=0.005)
    assert verdict.merit == round(80 - 10 * (1 - verdict.touch_up.chance), 1)
    clean = [one for one in verdict.healing if one.milestone == "clean"]
    assert [one.high_on for one in clean] == [date(2027, 6, 11)]


def test_the_jobs_around_it(folder: Folder) -> None:
    tasks = {task.kind: task for task in planned(folder, "yes").tasks}
    assert tasks["vat-match"].start == date(2027, 5, 8)  # the work day before Sat 15 May
    assert tasks["vat-match"].title["here"] == Celsius(12)
    assert (tasks["vat-warm"].start, tasks["vat-warm"].end) == (
        date(2027, 5, 16),
        date(2027, 5, 25),
    )
    # Clean on the day of departure: too late to be moved back, so it is fasted where it is.
    assert "vat-back" not in tasks
    assert tasks["stop-feeding"].water == "vat"
    assert all(tasks[kind].fish == ("aoi",) for kind in ("vat-match", "vat-warm"))


def test_with_time_in_hand_it_goes_home(folder: Folder) -> None:
    # Benching on 2 July, and hands only on Sat 15 May: clean on 11 June, three weeks before.
    path = folder(
        {
            "keeper.yaml": KEEPER.format(heal="yes, speck_returns_after_weeks: 12").replace(
                "work_days: [saturday]", "work_days: []\nalso_work_on: [2027-05-15, 2027-06-12]"
            ),
            "shows.yaml": SHOWS.replace("06-12", "07-03").replace("06-11", "07-02"),
            "fish/aoi.yaml": AOI,
        }
    )
    tasks = {task.kind: task for task in make_plan(read_season(path, ON).season, ON).tasks}
    assert tasks["touch-up"].start == date(2027, 5, 15)
    assert tasks["vat-back"].start == date(2027, 6, 12)  # the work day after 11 June


def test_who_comes_home_to_the_vat_on_the_day_of_a_show_does_not_heal_there(
    folder: Folder,
) -> None:
    """There and back in one day: in the vat it is kept apart, and was not sent there to heal."""
    shows = (
        SHOWS.replace("judging: 2027-06-12 10:00", "judging: 2027-08-07 11:00")
        .replace("2027-06-11 13:00", "2027-08-07 08:00")
        .replace("2027-06-11 20:00", "2027-08-07 09:30")
    )
    files = {
        "keeper.yaml": KEEPER.format(heal="yes").replace("12}", "20}"),
        "shows.yaml": f"{shows}  check_out: 2027-08-07 17:00\n",
        "fish/aoi.yaml": AOI,
        "journal.yaml": "- {on: 2027-06-10, did: touch-up, fish: aoi}\n",
    }
    path = folder(files)
    for day in (date(2027, 8, 6), date(2027, 8, 7), date(2027, 8, 8)):
        plan = make_plan(read_season(path, day).season, day)
        assert plan.shows[0].entered == ("aoi",) or day > date(2027, 8, 6)
        assert "vat-back" not in {task.kind for task in plan.tasks}, day


def test_fish_of_two_waters_do_not_heal_in_the_vat_together(folder: Folder) -> None:
    """The vat is brought to the warmth of the water they come from: it has but one warmth."""
    waters = "{pond: {steady_c: 12}, house: {steady_c: 17}, vat: {steady_c: 22}}"
    keeper = KEEPER.format(heal="yes").replace(
        "{pond: {steady_c: 12}, vat: {steady_c: 22}}", waters
    )
    two = {"fish/aoi.yaml": AOI, "fish/bara.yaml": AOI.replace("Aoi", "Bara")}
    one_water = folder({"keeper.yaml": keeper, "shows.yaml": SHOWS, **two})
    assert in_vat(one_water, ON) == {"aoi", "bara"}
    two["fish/bara.yaml"] = two["fish/bara.yaml"].replace("pond", "house")
    two_waters = folder({"keeper.yaml": keeper, "shows.yaml": SHOWS, **two})
    assert len(in_vat(two_waters, ON)) == 1


def test_no_fish_joins_one_that_heals_in_the_warm_vat(folder: Folder) -> None:
    files = {"keeper.yaml": KEEPER.format(heal="yes"), "shows.yaml": SHOWS, "fish/aoi.yaml": AOI}
    files["fish/bara.yaml"] = AOI.replace("Aoi", "Bara")
    files["journal.yaml"] = (
        "- {on: 2027-05-08, did: touch-up, fish: bara}\n"
        "- {on: 2027-05-08, did: move, fish: bara, to: vat}\n"
    )
    assert in_vat(folder(files), date(2027, 5, 10)) == set()
    files["journal.yaml"] = ""
    assert "aoi" in in_vat(folder(files), date(2027, 5, 10))


def in_vat(path: Path, on: date) -> set[str]:
    """Who is planned to heal in the vat."""
    verdicts = make_plan(read_season(path, on).season, on).verdicts
    return {one.fish for one in verdicts if one.touch_up and one.touch_up.water == "vat"}


TOUCHED = "- {on: 2027-05-15, did: touch-up, fish: aoi}\n"


class Kept:
    """The season above, planned day by day with what the last plan said."""

    def __init__(self, folder: Folder) -> None:
        self.folder, self.journal = folder, ""
        self.last: LastPlan | None = last_of(planned(folder, "yes"))

    def season(self, on: date) -> Season:
        path = self.folder(
            {
                "keeper.yaml": KEEPER.format(heal="yes"),
                "shows.yaml": SHOWS,
                "fish/aoi.yaml": AOI,
                "journal.yaml": self.journal,
            }
        )
        return read_season(path, on).season

    def plan(self, on: date) -> Plan:
        """Through the file that a plan is remembered in."""
        plan = make_plan(self.season(on), on, last=self.last)
        self.last = last_from(json.loads(plan_text(plan)))
        return plan

    def refused(self, to: str) -> list[str]:
        entry = JournalEntry.model_validate(
            {"on": "2027-05-18", "did": "move", "fish": "aoi", "to": to}
        )
        return [one.code for one in objections(self.season(entry.on), entry, Path(), entry.on)]


def of_kind(plan: Plan) -> dict[str, Task]:
    return {task.kind: task for task in plan.tasks}


def warmed(plan: Plan) -> tuple[str, object, object] | None:
    ramp = of_kind(plan).get("vat-warm")
    return (ramp.id, ramp.start, ramp.end) if ramp is not None else None


RAMP = ("aoi/vat-warm/vat", date(2027, 5, 16), date(2027, 5, 25))


def test_the_move_into_the_vat_is_a_job_of_its_own_on_the_day(folder: Folder) -> None:
    kept = Kept(folder)
    plan = kept.plan(date(2027, 5, 15))
    into = of_kind(plan)["into-vat"]
    assert (into.id, into.start, into.water) == ("into-vat/aoi", date(2027, 5, 15), "vat")
    assert into.note is not None
    assert into.note.code == "into-vat-how"
    assert told_by_a_tick(into.id, into.kind, into.fish, into.show, into.water) == (
        {"did": "move", "to": "vat"},
        ("aoi",),
    )
    assert warmed(plan) == RAMP


def test_a_touch_up_noted_without_its_move_keeps_the_fish_in_the_vat_and_asks(
    folder: Folder,
) -> None:
    kept = Kept(folder)
    kept.plan(date(2027, 5, 14))
    kept.journal = TOUCHED
    plan = kept.plan(date(2027, 5, 15))
    assert not plan.asks
    assert of_kind(plan)["into-vat"].id == "into-vat/aoi"
    for day in (date(2027, 5, 16), date(2027, 5, 17), date(2027, 5, 25)):  # each from the last
        plan = kept.plan(day)
        into = of_kind(plan)["into-vat"]
        assert (into.id, into.start, into.late) == ("into-vat/aoi", date(2027, 5, 15), True)
        assert into.note == reason("into-vat-asked", home="pond")
        (ask,) = plan.asks
        assert told(plan, ask.question).startswith("Did Aoi go into the vat after the touch-up")
        assert told(plan, ask.note) == (
            "Note: --did move --fish aoi --to vat --on 2027-05-15, or --to pond if it stayed there."
        )
        assert warmed(plan) == RAMP
        assert plan.fish[0].lives_in == "vat"


def test_until_its_move_is_noted_its_wound_counts_at_the_colder_water(folder: Folder) -> None:
    """From the day after the touch-up: as if it had stayed, though the vat may not cool."""

    def clean(on: date, moved: str = "") -> date | None:
        kept = Kept(folder)
        kept.journal = TOUCHED + moved
        (found,) = [h for h in kept.plan(on).verdicts[0].healing if h.milestone == "clean"]
        return found.usual_on

    day, after = date(2027, 5, 15), date(2027, 5, 16)
    in_vat, stayed = (
        clean(after, f"- {{on: 2027-05-15, did: move, fish: aoi, to: {to}}}\n")
        for to in ("vat", "pond")
    )
    assert in_vat is not None and stayed is not None and in_vat < stayed
    assert clean(day) == in_vat
    assert clean(after) == stayed


@pytest.mark.parametrize("ramp", ["", ", ramp_c_per_day: 1"])
def test_noted_it_is_warmed_as_planned_whatever_was_remembered(folder: Folder, ramp: str) -> None:
    """12 °C to 22 by 1 °C a day, though nobody writes a ramp: no fish takes such a step."""
    kept = Kept(folder)
    kept.journal = f"{TOUCHED}- {{on: 2027-05-15, did: move, fish: aoi, to: vat{ramp}}}\n"
    for last in (kept.last, None):
        kept.last = last
        plan = kept.plan(date(2027, 5, 18))
        assert not plan.asks
        assert "into-vat" not in of_kind(plan)
        assert warmed(plan) == RAMP


def test_that_it_stayed_is_a_move_to_where_it_is(folder: Folder) -> None:
    kept = Kept(folder)
    assert kept.refused("pond") == ["is-there-already"]
    kept.journal = TOUCHED
    assert kept.refused("pond") == kept.refused("vat") == []
    kept.journal += "- {on: 2027-05-15, did: move, fish: aoi, to: pond}\n"
    plan = kept.plan(date(2027, 5, 18))
    assert not plan.asks
    assert not {"into-vat", "vat-warm"} & of_kind(plan).keys()
    assert plan.fish[0].lives_in == "pond"
    assert kept.refused("pond") == ["is-there-already"]  # said once


def test_a_touch_up_of_another_plan_says_nothing_of_the_vat(folder: Folder) -> None:
    """Weeks before the day that was planned, or where the plan had it heal at home."""
    kept = Kept(folder)
    kept.journal = TOUCHED.replace("05-15", "04-20")
    assert not kept.plan(date(2027, 4, 22)).asks
    kept = Kept(folder)
    kept.journal = TOUCHED
    assert kept.last is not None
    kept.last = replace(kept.last, verdicts={}, healed_in={"aoi": {date(2027, 5, 15): "pond"}})
    assert not kept.plan(date(2027, 5, 18)).asks


def test_after_the_show_it_belongs_at_home_again(folder: Folder) -> None:
    """The way into the vat was made to heal: cleared after the show it goes back to the pond."""
    kept = Kept(folder)
    kept.journal = f"{TOUCHED}- {{on: 2027-05-15, did: move, fish: aoi, to: vat}}\n"
    yard = yard_as_known(kept.season(date(2027, 6, 20)), date(2027, 6, 20))
    course = yard.courses["aoi"]
    assert course.water_on(date(2027, 6, 20)) == "vat"
    assert course.stays[-1].water == "pond"
