"""A speck that was taken off may come back: what that means for a later show.

No place is cut a second time until it was seen clean and then seen back. Weeks until it is back:
4, 8 and 16 in 5, 50 and 95 of 100 cases (assumption). The touch-up was on 1 April.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.planning.told import codes

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


def test_it_is_left_alone_until_it_is_seen_back(touched: Any, verdict: Any) -> None:
    found = verdict(in_september(touched).plan(ON))
    # 163 days, or 23 weeks, after the touch-up: not back in 1 case of 100
    assert (found.verdict, found.touch_up) == ("as-it-is", None)
    assert found.reasons[0].code == "speck-may-be-back"
    assert found.chance_clean == found.reasons[0]["chance"].share < 0.02
    assert found.merit == 75.0


def test_seen_clean_and_then_back_it_comes_off_again(touched: Any, verdict: Any) -> None:
    in_september(touched).noted("on: 2027-06-20, saw: speck back, fish: aoi")
    found = verdict(touched.plan(date(2027, 6, 20)))
    assert found.verdict == "ready-after-touch-up"
    # 26 days before: the one return seen, after 4 to 11 weeks, makes an early one likelier
    assert found.touch_up.day == date(2027, 8, 15)


def test_cut_and_never_seen_clean_it_is_left_alone(written: Any, verdict: Any) -> None:
    written.noted("on: 2027-04-01, did: touch-up, fish: aoi")
    written.noted("on: 2027-06-20, saw: speck back, fish: aoi")
    found = verdict(in_september(written).plan(date(2027, 6, 20)))
    assert (found.verdict, found.touch_up) == ("as-it-is", None)
    assert found.reasons[0].code == "cut-never-clean"


def test_soon_after_it_is_likely_to_stay_away(written: Any, verdict: Any) -> None:
    written.with_keeper("preferences: {use_own_pace: no}")
    written.noted("on: 2027-05-10, did: touch-up, fish: aoi")  # 33 days to judging
    written.noted("on: 2027-05-27, saw: clean, fish: aoi")
    found = verdict(written.plan(date(2027, 5, 27)))
    # not back after 33 days: 1 - F(33 / 7 weeks) = 0.8953; after 17 days 0.9977 (SciPy)
    assert found.chance_clean == pytest.approx(0.8953 / 0.9977, abs=0.001)
    assert (found.verdict, codes(found.reasons)) == ("ready", ["speck-stays-away"])


def test_each_look_that_finds_it_away_makes_it_surer(touched: Any, verdict: Any) -> None:
    touched.with_keeper("preferences: {use_own_pace: no}")
    before = verdict(touched.plan(date(2027, 5, 28))).chance_clean
    touched.noted("on: 2027-05-28, saw: clean, fish: aoi")
    after = verdict(touched.plan(date(2027, 5, 28))).chance_clean
    # not back after 72 days: 0.2753; after 28: 0.95, after 57: 0.4833 (SciPy)
    assert before == pytest.approx(0.2753 / 0.95, abs=0.001)
    assert after == pytest.approx(0.2753 / 0.4833, abs=0.001)


def test_a_mark_that_never_went_is_counted_once(written: Any, verdict: Any) -> None:
    # Still seen on 5 May, after the slow day, 28 April: no day is known.
    written.noted("on: 2027-04-01, did: touch-up, fish: aoi")
    written.noted("on: 2027-05-05, saw: not clean, fish: aoi")
    found = verdict(in_september(written).plan(date(2027, 5, 6)))
    assert found.verdict == "as-it-is"
    assert len(found.reasons) == 1
    assert found.merit == round(80 - 5 * (1 - found.chance_clean), 1)


def test_the_keepers_own_weeks_are_heeded(touched: Any, verdict: Any) -> None:
    touched.with_keeper("preferences: {speck_returns_after_weeks: 60}")
    assert verdict(in_september(touched).plan(ON)).verdict == "ready"
