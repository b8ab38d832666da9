"""The season played by an obedient keeper: that it plays fair, and a small run with wide bounds.

The bounds of the small run are what its size can tell: 3 to 4 standard errors from what the full
run shows. The full run is `python -m tests.bench.shown_clean`.
"""

from __future__ import annotations

import math
from datetime import date, timedelta
from statistics import fmean
from typing import TYPE_CHECKING

import pytest

from tests.bench.advisers import PLANNER, WITH_PLANNER, FourWeeksBefore
from tests.bench.open_waters import SiteYear, site_years
from tests.bench.pond_model import Weather, pond_of_air, pond_of_weather
from tests.bench.season_played import (
    WARM_ENOUGH_C,
    Advice,
    Adviser,
    Nature,
    Season,
    Seen,
    Show,
    Truth,
    expected_clean,
    invented,
    is_clean,
    may_sedate,
    play,
    saturdays,
)
from tests.bench.shown_clean import BY_CHANCE, KNOWN, PLAIN, commit_measured, report, run

if TYPE_CHECKING:
    from tests.conftest import Outside

DAY = timedelta(days=1)
FRIDAY = date(2027, 7, 2)


def steady_season(c: float, truth: Truth) -> Season:
    days = {date(2027, 1, 1) + number * DAY: c for number in range(365)}
    water = SiteYear("tank", 2027, days, (c,) * 12)
    return Season(water, (Show("one", FRIDAY),), {"one": truth}, dict(days), Nature())


def test_what_the_judge_sees() -> None:
    season = steady_season(20, Truth(base_c=8, need=240, back_after_days=35))  # 12 a day
    show = season.shows[0]

    def on(days: int) -> bool:
        return is_clean(season, show, FRIDAY - days * DAY)

    assert [on(days) for days in (6, 19, 20, 33, 34)] == [False, False, True, True, False]
    assert not is_clean(season, show, None)


# 240 degree-days over 8 °C; over 5 °C 300 against 180 · 20/17, over 2 °C 360 against 180 · 23/17.
def test_expected_is_the_share_of_truths() -> None:
    season = steady_season(20, Truth(8, 240, 35))
    found = expected_clean(season, season.shows[0], FRIDAY - 20 * DAY)

    def healed(times: float) -> float:
        return 0.5 * (1 + math.erf(1.6448536 * math.log(times) / math.log(320 / 180) / 2**0.5))

    share = (
        healed(240 / 180) / 4 + healed(300 * 17 / 20 / 180) / 2 + healed(360 * 17 / 23 / 180) / 4
    )
    back = 0.5 * math.erfc(1.6448536 * math.log(8 * 7 / 21) / math.log(2) / 2**0.5)
    assert found == pytest.approx(share * (1 - back), abs=1e-6)


class Spy:
    """Looks at all it is shown, and touches up at once where the water allows it."""

    def __init__(self) -> None:
        self.seen: list[Seen] = []

    def advise(self, seen: Seen) -> Advice:
        self.seen.append(seen)
        return Advice(frozenset(show.fish for show in seen.shows))


def test_a_keeper_sees_no_reading_to_come_and_cuts_nothing_twice_or_in_the_cold() -> None:
    days = {date(2027, 1, 1) + number * DAY: 4 + number / 12 for number in range(300)}
    season = invented(SiteYear("tank", 2027, days, (12.0,) * 12), 6, "seed")
    spy = Spy()
    played = play(season, spy)
    for seen in spy.seen:
        assert seen.today.weekday() == 5
        assert max(seen.readings) <= seen.today
    for one in played:
        assert one.touched is not None and season.readings[one.touched] >= WARM_ENOUGH_C
        later = [seen for seen in spy.seen if seen.today > one.touched]
        assert all(one.show not in seen.shows for seen in later)


def test_four_weeks_before_is_four_weeks_before() -> None:
    season = steady_season(18, Truth(8, 240, 35))
    (played,) = play(season, FourWeeksBefore())
    assert played.touched is not None
    assert (FRIDAY - played.touched).days == 27  # a Saturday, and the judging is on one


def test_same_seed_same_season() -> None:
    days = {date(2027, 1, 1) + number * DAY: 15.0 for number in range(300)}
    water = SiteYear("tank", 2027, days, (15.0,) * 12)
    assert invented(water, 5, "a") == invented(water, 5, "a")
    assert invented(water, 5, "a").truths != invented(water, 5, "b").truths


# A sudden fall weakens a fish's defences for weeks (after the work of Bly and Clem on catfish); 8
# °C within 35 days is the program's own limit.
def test_after_a_cold_snap_nobody_sedates_for_five_weeks() -> None:
    snap = date(2027, 5, 1)
    for fall, free in ((7.9, 0), (8.0, 35)):
        season = steady_season(20, Truth(8, 240, 40))
        water = season.water.water_c
        assert isinstance(water, dict) and isinstance(season.readings, dict)
        water |= {day: 20 - fall for day in water if day >= snap}
        season.readings.update(water)
        fit = [
            number
            for number in range(60)
            if may_sedate(season.readings, season.water.water_c, snap + number * DAY)
        ]
        assert fit == list(range(free, 60)), fall
    for name, rule in WITH_PLANNER.items():
        (played,) = play(season, rule(season))
        assert played.touched is None or not snap <= played.touched < snap + 35 * DAY, name
    assert play(season, FourWeeksBefore())[0].touched == date(2027, 6, 5)


@pytest.mark.parametrize("rule", WITH_PLANNER)
def test_every_rule_plays_a_season(rule: str) -> None:
    season = steady_season(20, Truth(8, 240, 40))
    adviser: Adviser = WITH_PLANNER[rule](season)
    (played,) = play(season, adviser)
    assert played.touched in saturdays(date(2027, 5, 1), FRIDAY)
    assert 0.7 < played.expected < 0.97


def test_the_planner_finds_the_day_of_the_rule_by_chance() -> None:
    """The same formulas by two ways: the rule with its own water, and the whole program."""
    season = steady_season(18, Truth(8, 240, 40))
    told = {name: play(season, WITH_PLANNER[name](season))[0] for name in (PLANNER, BY_CHANCE)}
    assert told[PLANNER].touched == told[BY_CHANCE].touched
    # A water held at one temperature all year is an open one here, with the doubts of a pond.
    assert told[PLANNER].promised == pytest.approx(told[BY_CHANCE].promised, abs=0.02)
    assert told[PLANNER].moves == 0


# Saturated vapour at 20 °C: 17.54 mmHg (steam tables, from memory). A pond under steady weather
# comes to rest where the budget is nil; warmer air, more sun or a damper day make it warmer.
def test_pond_answers_the_weather_as_a_pond_does() -> None:
    days = [date(2027, 5, 1) + number * DAY for number in range(60)]

    def rest(sun: float = 200, air: float = 18, humidity: float = 70) -> float:
        water = pond_of_weather({day: Weather(sun, air, humidity, 3.0, 330) for day in days})
        assert water[days[-1]] == pytest.approx(water[days[-2]], abs=0.01)
        return water[days[-1]]

    assert 15 < rest() < 24
    assert rest() < rest(sun=260) and rest() < rest(air=20) and rest() < rest(humidity=85)
    assert pond_of_air(dict.fromkeys(days, 16.0))[days[-1]] == pytest.approx(17.5, abs=0.01)


def test_a_small_run_on_open_waters(outside: Outside) -> None:
    outside.data_of("vega_datasets")
    outside.data_of("aquacrop")
    waters = site_years(("seattle",)) + site_years(("northumberland",))[::11]
    found = run(waters, 4, commit_measured())
    clean = {name: fmean(one.expected for one in played) for name, played in found.by_rule.items()}
    assert clean[BY_CHANCE] > clean[PLAIN] - 0.01
    assert clean[BY_CHANCE] > clean["guard"] + 0.1
    assert abs(clean[BY_CHANCE] - clean[KNOWN]) < 0.04
    played = found.by_rule[BY_CHANCE]
    promised = fmean(one.promised for one in played)
    assert promised == pytest.approx(clean[BY_CHANCE], abs=0.07)
    drawn = fmean(one.clean for one in played)
    assert drawn == pytest.approx(clean[BY_CHANCE], abs=4 * math.sqrt(0.25 / len(played)))
    assert fmean(found.oracle) >= max(fmean(o.clean for o in p) for p in found.by_rule.values())
    assert fmean(one.moves for one in played) < 1
    told = report(found)
    assert "reliability" in told and "Brier" in told
