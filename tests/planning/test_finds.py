"""A find of parasites from the scrape to the day it is clear, in days worked out by hand.

Doses: a keepers' forum and a UK trade page of 2007, named in `husbandry/parasites.py`. The pond of
these seasons has 20 °C: flukes are dosed again after 5 days, anchor worm after 7, white spot after
6 - 2 * 2 / 7 = 5.4 days, which is on the 6th.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.husbandry.reason import FishId
from showprep.planning.as_of.note_truth import about
from showprep.season.records import JournalEntry

FOUND = "on: 2027-04-01, saw: parasites, water: pond"
BEN = "ben: {name: Ben, variety: showa, lives_in: vat, merit: 70, lengths_cm: {2027-03-01: 45}}\n"


def dose(day: str, what: str = "praziquantel", more: str = "") -> str:
    return f"on: {day}, did: treatment, water: pond, treatment: {what}{more}"


@pytest.mark.parametrize(
    ("found", "what", "due"),
    [
        ("parasite: flukes", "as the label says", date(2027, 4, 7)),
        ("parasite: anchor worm", "as the label says", date(2027, 4, 9)),
        ("parasite: white spot", "as the label says", date(2027, 4, 8)),
        ("parasite: fish lice", "as the label says", date(2027, 4, 16)),
        # not told: by what was used
        ("note: itching", "praziquantel", date(2027, 4, 7)),
        ("note: itching", "diflubenzuron", date(2027, 4, 9)),
    ],
)
def test_the_next_dose_goes_by_what_was_used_and_the_warmth(
    written: Any, job: Any, found: str, what: str, due: date
) -> None:
    written.noted(f"{FOUND}, {found}", dose("2027-04-02", what))
    plan = written.plan(date(2027, 4, 2))
    again = job(plan, "dose/pond/2")
    assert (again.start, again.water, again.hands) == (due, "pond", True)
    # A dose may be two days later than due; the check comes 14 days after the last of them. White
    # spot has a third, 6 days after the second.
    last = due + timedelta(days=6 if "white" in found else 0)
    assert job(plan, "clear-check/pond").start == last + timedelta(days=16)


def test_colder_water_waits_longer_and_cold_water_names_no_day(written: Any, job: Any) -> None:
    written.noted(f"{FOUND}, parasite: flukes", dose("2027-04-02"))
    written.with_keeper("waters: {pond: {steady_c: 16}, vat: {steady_c: 22}}")
    assert job(written.plan(date(2027, 4, 2)), "dose/pond/2").start == date(2027, 4, 9)  # 7 days
    written.with_keeper("waters: {pond: {steady_c: 12}, vat: {steady_c: 22}}")
    plan = written.plan(date(2027, 4, 2))
    assert not [one for one in plan.tasks if one.kind == "dose"]
    assert "dose-not-dated" in {one.reason.code for one in plan.warnings}


def test_white_spot_is_dosed_three_times_and_two_fish_on_two_days_are_one_round(
    written: Any, job: Any, ids: Any
) -> None:
    written.noted(f"{FOUND}, parasite: white spot", dose("2027-04-02"), dose("2027-04-03"))
    # The round ends on the 3rd; 6 days after is the 9th.
    assert job(written.plan(date(2027, 4, 3)), "dose/pond/2").start == date(2027, 4, 9)
    written.noted(dose("2027-04-09"))
    plan = written.plan(date(2027, 4, 9))
    assert job(plan, "dose/pond/3").start == date(2027, 4, 15)
    assert "dose/pond/2" not in ids(plan)
    written.noted(dose("2027-04-15"))
    plan = written.plan(date(2027, 4, 15))
    assert not [one for one in plan.tasks if one.kind == "dose"]
    assert job(plan, "clear-check/pond").start == date(2027, 4, 29)  # 14 days after the 15th


def test_clear_is_a_clean_scrape_14_days_after_the_last_dose(written: Any, verdict: Any) -> None:
    written.noted(FOUND, dose("2027-04-02"), dose("2027-04-07"))
    written.noted("on: 2027-04-20, saw: no parasites, water: pond")  # 13 days
    found = verdict(written.plan(date(2027, 4, 20)))
    assert (found.verdict, found.entered) == ("not-eligible", False)
    assert found.reasons[0].code == "parasites-not-cleared"
    assert found.reasons[0]["scrape"] == date(2027, 4, 21)
    written.noted("on: 2027-04-21, saw: no parasites, water: pond")
    assert verdict(written.plan(date(2027, 4, 21))).entered


def test_a_scrape_too_soon_is_said_when_it_is_noted(written: Any) -> None:
    season = written.noted(FOUND, dose("2027-04-02")).season(date(2027, 4, 20))
    for day, told in ((15, [date(2027, 4, 16)]), (16, [])):
        entry = JournalEntry(on=date(2027, 4, day), saw="no parasites", water="pond")
        assert [one["counts"] for one in about(season, entry)] == told


def test_a_dose_after_the_clean_scrape_starts_the_wait_again_and_a_later_one_does_not(
    written: Any, verdict: Any
) -> None:
    written.noted(FOUND, "on: 2027-04-15, saw: no parasites, water: pond")
    assert verdict(written.plan(date(2027, 4, 15))).entered
    written.noted(dose("2027-04-16"))
    assert not verdict(written.plan(date(2027, 4, 16))).entered
    written.journal = ""
    written.noted(FOUND, "on: 2027-04-15, saw: no parasites, water: pond", dose("2027-04-30"))
    assert verdict(written.plan(date(2027, 4, 30))).entered


def test_no_show_is_far_enough_for_a_fish_that_is_not_clear(written: Any, verdict: Any) -> None:
    written.noted("on: 2027-03-02, saw: parasites, water: pond")  # 101 days before departure
    found = verdict(written.plan(date(2027, 3, 3)))
    assert (found.verdict, found.reasons[0]["too_late"]) == ("not-eligible", 0)
    plan = written.plan(date(2027, 6, 1))
    assert (verdict(plan).reasons[0]["too_late"]) == 0  # a scrape today would clear it
    written.noted("on: 2027-06-01, saw: parasites, water: pond")
    assert verdict(written.plan(date(2027, 6, 1))).reasons[0]["too_late"] == 1  # 15 June


def test_the_organiser_is_rung_where_fish_are_entered_or_time_runs_out(
    written: Any, job: Any, ids: Any
) -> None:
    written.noted(FOUND)
    assert "larkfield/ring-organiser" not in ids(written.plan(date(2027, 4, 1)))
    written.noted("on: 2027-04-02, did: sent, show: larkfield")
    ring = job(written.plan(date(2027, 4, 2)), "larkfield/ring-organiser")
    assert (ring.start, ring.fish) == (date(2027, 4, 2), ("aoi",))
    # Not entered, found on 15 May: clear on the 29th at the earliest, 13 days before departure.
    written.journal = ""
    written.noted("on: 2027-05-14, saw: parasites, water: pond")
    assert "larkfield/ring-organiser" not in ids(written.plan(date(2027, 5, 14)))
    written.journal = ""
    written.noted("on: 2027-05-15, saw: parasites, water: pond")
    assert "larkfield/ring-organiser" in ids(written.plan(date(2027, 5, 15)))


def test_a_fish_that_left_the_water_is_clear_by_its_own_scrape_alone(
    written: Any, verdict: Any
) -> None:
    written.noted(FOUND, "on: 2027-04-03, did: move, fish: aoi, to: vat")
    written.noted("on: 2027-04-15, saw: no parasites, water: pond")
    assert not verdict(written.plan(date(2027, 4, 15))).entered
    written.noted("on: 2027-04-16, saw: no parasites, water: vat")
    assert verdict(written.plan(date(2027, 4, 16))).entered


def test_company_of_a_fish_that_is_not_clear_is_not_clear(written: Any, verdict: Any) -> None:
    written.fish += BEN
    written.noted(FOUND)
    assert verdict(written.plan(date(2027, 4, 2)), "ben").entered
    written.noted("on: 2027-04-03, did: move, fish: aoi, to: vat")
    plan = written.plan(date(2027, 4, 3))
    assert verdict(plan, "ben").reasons[0].code == "parasites-not-cleared"


def test_a_fish_is_not_ready_that_is_to_move_in_with_the_find(written: Any, verdict: Any) -> None:
    written.fish += BEN.replace("}}", "}, moves: [{on: 2027-05-10, to: pond}]}")
    written.noted(FOUND)
    ahead = verdict(written.plan(date(2027, 4, 2)), "ben").reasons[0]
    assert (ahead.code, ahead["on"]) == ("parasites-ahead", date(2027, 5, 10))


def test_one_that_comes_into_the_empty_water_is_reached(written: Any, verdict: Any) -> None:
    written.noted("on: 2027-04-01, saw: parasites, water: vat")
    assert verdict(written.plan(date(2027, 4, 2))).entered
    written.noted("on: 2027-04-05, did: move, fish: aoi, to: vat")
    assert verdict(written.plan(date(2027, 4, 5))).verdict == "not-eligible"


def test_what_is_found_at_the_show_comes_home(written: Any) -> None:
    written.noted("on: 2027-06-11, did: travelled, fish: aoi, show: larkfield")
    written.noted("on: 2027-06-12, saw: parasites, fish: aoi")
    yard = written.yard(date(2027, 6, 14))
    (find,) = yard.state.finds
    assert (find.water, find.found) == ("vat", date(2027, 6, 12))
    assert yard.parasites_on(yard.state.fish["aoi"]) is not None


@pytest.mark.parametrize(
    ("day", "told", "word", "caution"),
    [
        ("2027-06-05", "treatment: formalin", "not-eligible", False),  # 6 days before the 11th
        ("2027-06-05", "treatment: KMnO4", "not-eligible", False),
        ("2027-06-05", "note: a bath", "not-eligible", False),  # not named
        ("2027-06-05", "treatment: salt", "ready", True),
        ("2027-06-05", "treatment: formalin, by_vet: yes", "ready", True),
        ("2027-06-04", "treatment: formalin", "ready", True),  # 7 days
        ("2027-05-29", "treatment: formalin", "ready", True),  # 13 days
        ("2027-05-28", "treatment: formalin", "ready", False),  # 14 days
    ],
)
def test_a_treatment_too_near_the_departure(
    written: Any, verdict: Any, day: str, told: str, word: str, caution: bool
) -> None:
    written.fish = written.fish.split("  defects")[0]
    written.noted(f"on: {day}, did: treatment, water: pond, {told}")
    plan = written.plan(date.fromisoformat(day))
    found = verdict(plan)
    assert (found.verdict, found.entered) == (word, word == "ready")
    warned = [one.reason for one in plan.warnings if one.reason.code == "caution-for"]
    assert [one["fish"] for one in warned] == [(FishId("aoi"),)] * caution


def test_a_treatment_of_the_vat_is_of_the_fish_in_it_that_day(written: Any, verdict: Any) -> None:
    written.fish = written.fish.split("  defects")[0]
    written.noted("on: 2027-06-01, did: move, fish: aoi, to: vat")
    written.noted("on: 2027-06-05, did: treatment, water: vat, treatment: formalin")
    assert verdict(written.plan(date(2027, 6, 5))).verdict == "not-eligible"
    written.journal = written.journal.replace("water: vat", "water: pond")
    assert verdict(written.plan(date(2027, 6, 5))).verdict == "ready"
