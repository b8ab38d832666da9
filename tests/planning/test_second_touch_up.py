"""A speck that was taken off is likely back after eight weeks: a later show needs it off again.

Water of 20 °C gives 12 degree-days a day, so a nick is clean in 320 / 12 = 27 days in a slow case.
The touch-up was on 1 April; 56 days later is 27 May. The eight weeks are an assumption.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from showprep.husbandry.reason import FishId, reason

ON = date(2027, 5, 1)


@pytest.fixture
def touched(written: Any) -> Any:
    written.noted("on: 2027-04-01, did: touch-up, fish: aoi")
    written.noted("on: 2027-04-29, saw: clean, fish: aoi")
    return written


def in_september(season: Any) -> Any:
    """Benching on 10 September instead of 11 June."""
    season.shows = season.shows.replace("2027-06-12", "2027-09-11")
    season.shows = season.shows.replace("2027-06-11", "2027-09-10")
    season.shows = season.shows.replace("2027-06-13", "2027-09-12")
    return season


def test_it_comes_off_again_for_a_later_show(touched: Any, verdict: Any) -> None:
    # Not before 10 September - 56 days = 16 July; by 5 September - 27 days = 9 August.
    found = verdict(in_september(touched).plan(ON))
    assert (found.verdict, found.entered, found.merit) == ("ready-after-touch-up", True, 80)
    window = found.touch_up
    assert (window.earliest, window.latest) == (date(2027, 7, 16), date(2027, 8, 9))
    assert window.day == date(2027, 8, 9)
    speck = next(one for why in found.reasons for one in why.inner() if one.code == "speck-back")
    assert speck["back"] == date(2027, 5, 27)


def test_its_jobs_are_planned_and_say_to_look_first(touched: Any) -> None:
    tasks = {task.kind: task for task in in_september(touched).plan(ON).tasks}
    assert tasks["touch-up"].start == date(2027, 8, 9)
    (aoi,) = tasks["touch-up"].note["each"]
    assert (aoi["fish"], aoi["specks"]) == (FishId("aoi"), ())  # none is seen: look before you net


def test_where_it_is_back_too_late_to_heal_it_shows(touched: Any, verdict: Any) -> None:
    # Back from 27 May; for benching on 11 June the last day in time is 6 June - 27 days = 10 May.
    found = verdict(touched.plan(ON))
    assert (found.verdict, found.merit, found.touch_up.day) == ("as-it-is", 75, None)
    back, latest = date(2027, 5, 27), date(2027, 5, 10)
    assert found.reasons[0]["why"] == reason("back-too-late", back=back, latest=latest)


def test_inside_the_eight_weeks_there_is_nothing_to_do(written: Any, verdict: Any) -> None:
    written.noted("on: 2027-04-20, did: touch-up, fish: aoi")  # back from 15 June
    found = verdict(written.plan(ON))
    assert (found.verdict, found.merit, found.touch_up) == ("ready", 80, None)


def test_a_speck_seen_to_stay_away_is_not_expected_back(touched: Any, verdict: Any) -> None:
    touched.noted("on: 2027-05-28, saw: clean, fish: aoi")
    found = verdict(in_september(touched).plan(date(2027, 5, 28)))
    assert (found.verdict, found.merit, found.touch_up) == ("ready", 80, None)


def test_a_mark_that_never_went_is_counted_once(written: Any, verdict: Any) -> None:
    # Still seen on 5 May, after the slow day, 28 April: no day is known, and 5 of merit are lost.
    written.noted("on: 2027-04-01, did: touch-up, fish: aoi")
    written.noted("on: 2027-05-05, saw: not clean, fish: aoi")
    found = verdict(in_september(written).plan(date(2027, 5, 6)))
    assert (found.verdict, found.merit) == ("as-it-is", 75)


def test_the_keepers_own_weeks_are_heeded(touched: Any, verdict: Any) -> None:
    touched.with_keeper("preferences: {speck_returns_after_weeks: 30}")  # back on 28 October
    assert verdict(in_september(touched).plan(ON)).verdict == "ready"
