"""The look or reading that would tell most: what is promised of it is what comes of it."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.husbandry.water_departures import Kernel, departures_given
from showprep.planning.season_plan import make_plan
from tests.planning.told import codes

MONTHS = [4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]
OPEN = f"waters: {{pond: {{monthly_c: {MONTHS}}}, vat: {{steady_c: 22}}}}"
ALONE = "preferences: {use_own_pace: no}"


def net_mark(written: Any, seen: str) -> Any:
    written.fish = written.fish.split("  defects:")[0]
    written.fish += f"  defects: [{{kind: net-mark, where: flank, seen: {seen}, merit_lost: 8}}]\n"
    return written


def test_a_look_at_a_wound_and_both_that_may_come_of_it(written: Any, verdict: Any) -> None:
    on = date(2027, 6, 1)
    net_mark(written, "2027-06-01").with_keeper(ALONE)
    plan = written.plan(on, tells=True)
    told = plan.tells_most
    assert told is not None and told.code == "look-tells-most"
    assert told["now"].share == verdict(plan).chance_clean
    # 7 of 10 days on it is clean in about half of all cases: then a look parts them best
    assert told["on"] == date(2027, 6, 8)
    look = told["on"]
    for saw, name in (("not clean", "bad"), ("clean", "good")):
        journal = written.journal
        written.noted(f"on: {look}, saw: {saw}, fish: aoi")
        after = verdict(written.plan(look)).chance_clean
        assert after == pytest.approx(told[name].share, abs=0.002), saw
        written.journal = journal
    assert told["bad"].share < told["now"].share < told["good"].share == 1


def test_steady_water_is_not_to_be_read(written: Any) -> None:
    plan = written.plan(date(2027, 5, 1), tells=True)
    assert plan.tells_most is None  # a touch-up to come in water held steady: nothing to look at


def test_a_reading_of_the_water_before_a_touch_up(written: Any, verdict: Any) -> None:
    """What the reading is said to move is what a note of it moves, but for the learned spread."""
    written.with_keeper(OPEN, ALONE)
    written.shows = written.shows.replace("2027-06", "2027-07")
    on = date(2027, 6, 12)
    plan = written.plan(on, tells=True)
    told = plan.tells_most
    assert told is not None and told.code == "reading-tells-most"
    before = verdict(plan)
    assert told["now"].share == before.chance_clean
    assert told["cold"].share < told["now"].share < told["warm"].share
    curve = written.yard(on).waters.curves["pond"]
    spread = (departures_given([], on, on).covariance[0][0] + Kernel().reading_c ** 2) ** 0.5
    for far, name in ((-1.2816, "cold"), (1.2816, "warm")):
        journal = written.journal
        c = curve(on) + far * spread
        written.noted(f"on: {on}, saw: temperature, water: pond, read_c: {c:.4f}")
        found = verdict(written.plan(on, tells=True)).touch_up.curve
        chance = next(one.both for one in found if one.day == before.touch_up.day)
        assert chance == pytest.approx(told[name].share, abs=0.004)
        written.journal = journal


def test_read_today_it_need_not_be_read_again(written: Any) -> None:
    written.with_keeper(OPEN, ALONE)
    written.shows = written.shows.replace("2027-06", "2027-07")
    on = date(2027, 6, 12)
    written.noted(f"on: {on}, saw: temperature, water: pond, read_c: 18")
    assert written.plan(on, tells=True).tells_most is None


def test_a_speck_that_may_be_back_is_looked_for(written: Any, verdict: Any) -> None:
    written.with_keeper(ALONE)
    written.noted("on: 2027-04-25, did: touch-up, fish: aoi")
    written.noted("on: 2027-05-20, saw: clean, fish: aoi")
    on = date(2027, 5, 28)
    plan = make_plan(written.season(on), on, "test")
    told = plan.tells_most
    assert told is not None and codes([told]) == ["look-tells-most"]
    assert told["bad"].share == 0
    assert told["good"].share > verdict(plan).chance_clean
    written.noted(f"on: {told['on']}, saw: clean, fish: aoi")
    later = written.plan(told["on"], tells=True)
    assert verdict(later).chance_clean == pytest.approx(told["good"].share, abs=0.002)
    assert told["on"] - on <= timedelta(14)
