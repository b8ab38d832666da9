"""The time after a show: apart, fed by steps, scraped, cleared; also when the show is over."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from showprep.husbandry.reason import Celsius, Litres, reason
from tests.planning.told import codes, told

ON = date(2027, 5, 1)
HOME = date(2027, 6, 13)
AFTER = """\
otterby:
  name: Otterby Show
  judging: 2027-08-07 10:00
  check_out: 2027-08-08 14:00
  travel_hours: 1
"""


@pytest.mark.parametrize(
    ("steady", "vats", "days"),
    [
        # the days apart of the fact sheet: 28 at 22 °C, 42 from 18, 60 from 16; shared vats longer
        (22, "own", 28),
        (22, "bag", 28),
        (21.9, "own", 42),
        (18, "own", 42),
        (17, "own", 60),
        (16, "own", 60),
        (22, "shared", 42),
        (18, "shared", 60),
    ],
)
def test_how_long_they_stay_apart(
    written: Any, job: Any, steady: float, vats: str, days: int
) -> None:
    written.with_keeper(f"waters: {{pond: {{steady_c: 20}}, vat: {{steady_c: {steady}}}}}")
    written.with_show(f"vats: {vats}")
    plan = written.plan(ON)
    apart, clear = job(plan, "larkfield/isolation"), job(plan, "larkfield/isolation-clear")
    assert apart.start == HOME
    assert (apart.end - HOME).days + 1 == days
    assert (clear.start - HOME).days == days


def test_cold_water_clears_nothing(written: Any, ids: Any, job: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 15.5}}")
    plan = written.plan(ON)
    assert not any("isolation" in one for one in ids(plan))
    (stop,) = [warning.reason for warning in plan.warnings if warning.level == "stop"]
    (aoi,) = plan.verdicts
    assert (aoi.verdict, aoi.entered, aoi.reasons[0]) == ("not-eligible", False, stop)
    assert (stop.code, stop["low"]) == ("vat-too-cold", Celsius(16))
    # fact sheet of the days apart: from own vats 28 days from 22 °C on
    assert stop["saved"] == reason("heating-would-clear", days=28, quickest=Celsius(22))
    # It went all the same: it is kept apart without an end.
    gone = written.noted("on: 2027-06-11, did: travelled, fish: aoi, show: larkfield").plan(
        date(2027, 6, 20)
    )
    assert job(gone, "larkfield/isolation").note["how_long"] == reason("no-time-clears")
    assert "larkfield/isolation-clear" not in ids(gone)


@pytest.mark.parametrize("steady", [28.5, 30, 35])
def test_heat_clears_nothing(written: Any, ids: Any, steady: float) -> None:
    # Gilad et al. 2003, Journal of General Virology 84:2661: hardly any growth at 30 °C, so the
    # virus hides.
    written.with_keeper(f"waters: {{pond: {{steady_c: 20}}, vat: {{steady_c: {steady}}}}}")
    plan = written.plan(ON)
    assert not any("isolation" in one for one in ids(plan))
    (stop,) = [warning.reason for warning in plan.warnings if warning.level == "stop"]
    assert plan.verdicts[0].verdict == "not-eligible"
    assert (stop.code, stop["high"]) == ("vat-too-warm", Celsius(28))


def test_a_vat_that_is_never_right_for_long_says_both(written: Any) -> None:
    written.with_keeper(
        "waters: {pond: {steady_c: 20}, vat: {monthly_c: "
        "[10, 12, 20, 28, 32, 34, 34, 32, 28, 20, 12, 10]}}",
        "figures: {apart_own_cool: 90, apart_own_mild: 90, apart_own_warm: 90}",
    )
    stops = [warning for warning in written.plan(ON).warnings if warning.level == "stop"]
    assert "vat-by-turns" in codes(stops)


def test_a_hot_spell_starts_the_count_again(written: Any, job: Any) -> None:
    # 28 days from the last day above 28 °C, not from the way home on 13 June.
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 24}}")
    plain = job(written.plan(date(2027, 6, 1)), "larkfield/isolation-clear")
    assert (plain.start - HOME).days == 28
    written.with_keeper(
        "waters: {pond: {steady_c: 20}, vat: {monthly_c: "
        "[22, 22, 22, 23, 23, 24, 31, 24, 23, 22, 22, 22]}}"
    )
    plan = written.plan(date(2027, 6, 1))
    clear = job(plan, "larkfield/isolation-clear")
    hot = [HOME + timedelta(days) for days in range(1, 90)]
    mean = written.yard(date(2027, 6, 1)).waters.of("vat")
    assert clear.start == max(day for day in hot if mean(day) > 28) + timedelta(28)
    how_long = job(plan, "larkfield/isolation").note["how_long"]
    days = (clear.start - HOME).days
    assert how_long == reason("days-apart", days=days, vats="own", below=None, above=Celsius(28))


def test_joining_the_others_is_no_clean_bill(written: Any, job: Any) -> None:
    # Sunarto et al. 2014 and Eide et al. 2011: carriers; Commission Implementing Decision (EU)
    # 2015/1554: samples 24 to 72 hours after netting.
    cautions = job(written.plan(ON), "larkfield/isolation-clear").cautions
    assert codes(cautions) == ["may-be-a-carrier", "khv-test"]


def test_no_vat_at_all_is_said(written: Any, ids: Any) -> None:
    written.keeper = written.keeper.replace("isolation: {water: vat, holds: 4}\n", "")
    plan = written.plan(ON)
    assert not any("isolation" in task for task in ids(plan))
    assert "nowhere-apart" in codes(plan.warnings)


def test_more_fish_than_the_vat_holds_are_not_entered(written: Any) -> None:
    for name in ("ben", "cho"):
        written.fish += (
            f"{name}:\n  name: {name}\n  variety: showa\n  lives_in: pond\n  merit: 70\n"
        )
    written.with_keeper("isolation: {water: vat, holds: 2}")
    plan = written.plan(ON)
    assert len(plan.shows[0].entered) == 2
    assert "more-than-vat-holds" not in codes(plan.warnings)


def test_fed_again_by_steps(written: Any, job: Any) -> None:
    plan = written.plan(ON)
    # nothing on the day of return and the next, a third for three days, 60 % to day 7, then all
    for name, first, last, words in (
        ("no-food/vat", HOME, date(2027, 6, 14), "No food"),
        ("feed-again/vat", date(2027, 6, 15), date(2027, 6, 17), "Feed again, 33 % ration"),
        ("feed-again/vat/2", date(2027, 6, 18), date(2027, 6, 20), "Feed again, 60 % ration"),
        ("feed-again/vat/3", date(2027, 6, 21), date(2027, 6, 21), "Feed again, full ration"),
    ):
        task = job(plan, f"larkfield/{name}")
        assert (task.start, task.end, task.water, task.late) == (first, last, "vat", False)
        assert told(plan, task.title).startswith(words)


def test_nothing_is_fed_in_a_cold_vat(written: Any, ids: Any, job: Any) -> None:
    written.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 7}}")
    plan = written.noted("on: 2027-06-11, did: travelled, fish: aoi, show: larkfield").plan(
        date(2027, 6, 12)
    )
    assert not any("feed-again" in one for one in ids(plan))
    cold = [one for one in plan.tasks if one.kind == "no-food"]
    assert [(one.water, one.start) for one in cold] == [("vat", HOME), ("vat", date(2027, 6, 15))]


def test_on_the_way_to_the_next_show_the_vat_is_fed_as_that_show_asks(
    written: Any, ids: Any
) -> None:
    written.shows += AFTER  # judged on 7 August: half ration from 8 June, a quarter from 8 July
    written.with_keeper("preferences: {days_between_shows: 40}")
    plan = written.plan(ON)
    assert set(plan.shows[1].entered) == {"aoi"}
    fed = [one for one in plan.tasks if one.water == "vat" and one.first_day >= date(2027, 6, 18)]
    feed = [one for one in fed if one.kind.startswith("feed") or one.kind == "no-food"]
    # 60 % by the way home is more than the half that the show asks for: half, until 7 July
    assert (feed[0].kind, feed[0].start, feed[0].end) == (
        "feed-half",
        date(2027, 6, 18),
        date(2027, 7, 7),
    )
    assert "no colour food" in told(plan, feed[0].title)


def test_the_jobs_after_the_show_outlast_the_show(written: Any, ids: Any, job: Any) -> None:
    written.noted("on: 2027-06-11, did: entered, fish: aoi, show: larkfield")
    plan = written.plan(date(2027, 6, 13))  # judged the day before: past, and on the way home
    assert plan.shows[0].standing == "past"
    assert {
        "larkfield/check-out",
        "larkfield/isolation",
        "larkfield/isolation-clear",
        "larkfield/home-scrape",
        "larkfield/home-scrape-again",
        "larkfield/write-up",
        "larkfield/no-food/vat",
        "larkfield/feed-again/vat",
        "larkfield/feed-again/vat/2",
        "larkfield/feed-again/vat/3",
    } == ids(plan)
    plan = written.plan(date(2027, 6, 30))
    apart = job(plan, "larkfield/isolation")
    assert (apart.start, apart.end, apart.late) == (HOME, date(2027, 7, 10), False)  # 28 days
    assert job(plan, "larkfield/home-scrape").late
    # what nobody wrote down as done stays, late, for 60 days after the way home
    undone = {"home-scrape", "home-scrape-again", "isolation-clear", "write-up"}
    assert {f"larkfield/{one}" for one in undone} == ids(written.plan(date(2027, 8, 12)))
    assert written.plan(date(2027, 8, 13)).tasks == ()


def test_apart_from_june_means_no_touch_up_before_it_is_over(written: Any, verdict: Any) -> None:
    written.shows += AFTER
    written.with_keeper("preferences: {days_between_shows: 40}")
    plan = written.plan(ON)
    day = verdict(plan, show="otterby").touch_up.day
    assert day is None or not HOME <= day <= date(2027, 7, 10)


def test_a_vat_too_small_for_its_fish_is_warned_about(written: Any) -> None:
    # A fish of 50 cm and more wants 1,000 L (assumption): 400 L are too few, 4,000 L are enough.
    assert "vat-too-small" not in codes(written.plan(ON).warnings)
    written.keeper = written.keeper.replace("litres: 4000", "litres: 400")
    small = next(w.reason for w in written.plan(ON).warnings if w.reason.code == "vat-too-small")
    assert (small["needed"], small["litres"]) == (Litres(1000), Litres(400))
