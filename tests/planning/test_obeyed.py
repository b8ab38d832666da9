"""Who does a job on its day, or notes it in the journal's own words, never reads it is late."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

ENTERED = "on: 2027-05-20, did: entered, fish: aoi, show: larkfield"
TUB = (
    "waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}",
    "holding: {water: tub}",
)


def late(plan: Any) -> list[str]:
    return [task.id for task in plan.tasks if task.late]


@pytest.mark.parametrize("early", [0, 5])
def test_the_move_to_the_holding_vat_noted_is_done_and_its_ramp_stays(
    written: Any, ids: Any, job: Any, early: int
) -> None:
    # the show has 26 °C, 6 °C above pond and tub: six days of 1 °C before the 11th, from the 5th
    written.with_show("water_c: 26").with_keeper(*TUB).noted(ENTERED)
    move = job(written.plan(date(2027, 5, 28)), "larkfield/to-holding")
    assert move.end == date(2027, 6, 5)
    done = date(2027, 6, 5) - timedelta(early)
    written.noted(f"on: {done}, did: move, fish: aoi, to: tub")
    for days in range(6):
        plan = written.plan(date(2027, 6, 5) + timedelta(days))
        assert "larkfield/to-holding" not in ids(plan)
        ramp = job(plan, "larkfield/match-water/tub")
        assert (ramp.start, ramp.end) == (date(2027, 6, 6), date(2027, 6, 11))
        assert not [one for one in late(plan) if "holding" in one or "match" in one]


def test_the_move_to_the_holding_vat_not_noted_is_late_until_they_leave(
    written: Any, job: Any, ids: Any
) -> None:
    written.with_show("water_c: 26").with_keeper(*TUB).noted(ENTERED)
    assert job(written.plan(date(2027, 6, 8)), "larkfield/to-holding").late
    assert "larkfield/to-holding" not in ids(written.plan(date(2027, 6, 12)))


def test_a_fast_kept_is_not_late_on_the_morning_of_departure(written: Any, job: Any) -> None:
    written.noted(ENTERED)
    fast = job(written.plan(date(2027, 5, 28)), "larkfield/stop-feeding/pond")
    written.noted(f"on: {fast.start}, did: stop feeding, water: pond")
    for day in (date(2027, 6, 10), date(2027, 6, 11)):
        assert not [one for one in late(written.plan(day)) if "feed" in one or "food" in one]


def test_colour_food_stopped_for_two_shows_is_not_late_when_the_first_has_passed(
    written: Any,
) -> None:
    written.fish += "ben:\n  name: Ben\n  variety: showa\n  lives_in: pond\n  merit: 60\n"
    written.shows += (
        "otterby:\n  name: Otterby Show\n  judging: 2027-07-03 10:00\n"
        "  check_out: 2027-07-04 14:00\n  travel_hours: 1\n"
    )
    written.noted(ENTERED, "on: 2027-05-20, did: entered, fish: ben, show: otterby")
    for day in (12, 13, 14, 25):
        plan = written.plan(date(2027, 6, day))
        assert not [one for one in late(plan) if "colour" in one or "feed" in one]


def test_a_scrape_of_the_vat_is_the_scrape_of_its_fish(written: Any, ids: Any) -> None:
    written.noted(ENTERED, "on: 2027-06-11, did: travelled, fish: aoi, show: larkfield")
    written.noted("on: 2027-06-18, saw: no parasites, water: vat")
    assert "larkfield/home-scrape" not in ids(written.plan(date(2027, 6, 25)))
    # of the fish alone it is just as good, and it clears the vat it is in, not the pond
    written.journal = written.journal.replace("water: vat", "fish: aoi")
    assert "larkfield/home-scrape" not in ids(written.plan(date(2027, 6, 25)))


def test_what_is_found_on_a_fish_kept_apart_is_found_in_the_vat(written: Any) -> None:
    written.noted(ENTERED, "on: 2027-06-18, saw: parasites, fish: aoi")
    (find,) = written.yard(date(2027, 6, 18)).state.finds
    assert (find.water, find.found, find.fish) == ("vat", date(2027, 6, 18), {"aoi"})
