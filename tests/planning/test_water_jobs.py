"""The jobs of a water: colour food, ration and fast, one thing at a time for one water."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from showprep.husbandry.reason import Celsius, Kelvin
from tests.planning.told import codes, told

ON = date(2027, 3, 1)
VAT = "isolation: {water: vat, holds: 4}\n"
BEN = """\
ben:
  name: Ben
  variety: showa
  lives_in: pond
  merit: 60
  lengths_cm: {2027-03-01: 45}
"""


def later_show(name: str, judging: str) -> str:
    return (
        f"{name}:\n  name: {name.title()} Show\n  judging: {judging} 10:00\n"
        f"  check_out: {judging} 17:00\n  travel_hours: 2\n  vats: own\n"
    )


@pytest.fixture
def season(written: Any) -> Any:
    written.fish = written.fish.split("  defects:")[0]
    return written


def test_the_stages_of_one_show(season: Any, job: Any) -> None:
    plan = season.plan(ON)
    # common practice: 60 and 30 days before judging on 12 June
    half = job(plan, "larkfield/feed-half/pond")
    assert (half.start, half.end) == (date(2027, 4, 13), date(2027, 5, 12))
    assert "no colour food" in told(plan, half.title)
    quarter = job(plan, "larkfield/feed-quarter/pond")
    assert (quarter.start, quarter.end) == (date(2027, 5, 13), date(2027, 6, 4))


@pytest.mark.parametrize(
    ("steady", "rule", "days"),
    [
        # shows and clubs: 5 days from 22 °C, 6 from 18, 7 below; in the cold the gut decides
        (24, None, 5),
        (22, None, 5),
        (20, None, 6),
        (17, None, 7),
        (20, 10, 10),  # the show's own rule
        (20, 5, 5),
        (20, 1, 3),  # never less than the gut needs
    ],
)
def test_the_fast_counts_back_from_departure(
    season: Any, job: Any, steady: float, rule: int | None, days: int
) -> None:
    season.with_keeper(f"waters: {{pond: {{steady_c: {steady}}}, vat: {{steady_c: 22}}}}")
    if rule is not None:
        season.with_show(f"fast_days: {rule}")
    fast = job(season.plan(ON), "larkfield/stop-feeding/pond")
    assert fast.end == date(2027, 6, 10)  # the day before departure
    assert (fast.end - fast.start).days + 1 == days


def test_a_pond_with_algae_fasts_longer(season: Any, job: Any) -> None:
    season.with_keeper("waters: {pond: {steady_c: 20, algae: yes}, vat: {steady_c: 22}}")
    assert job(season.plan(ON), "larkfield/stop-feeding/pond").start == date(2027, 6, 1)  # 10 days


def test_a_running_fast_is_not_late(season: Any, job: Any) -> None:
    fast = job(season.plan(date(2027, 6, 7)), "larkfield/stop-feeding/pond")
    assert (fast.start, fast.late) == (date(2027, 6, 5), False)


def test_a_long_fast_is_warned_about(season: Any) -> None:
    assert "long-fast-for" not in codes(season.plan(ON).warnings)  # 6 + 2 there + 2 at rest: 10
    season.with_show("fast_days: 9")
    (long,) = [one.reason for one in season.plan(ON).warnings if one.reason.code == "long-fast-for"]
    assert (long["why"].code, long["why"]["days"]) == ("fast-long-in-warmth", 13)


def test_what_stays_at_home_is_fed_again(season: Any, job: Any, ids: Any) -> None:
    assert "larkfield/feed-again/pond" not in ids(season.plan(ON))  # nobody stays
    season.fish += BEN + "  never_show: all\n"
    again = job(season.plan(ON), "larkfield/feed-again/pond")
    assert (again.start, again.fish) == (date(2027, 6, 11), ("ben",))
    season.noted("on: 2027-06-05, did: job, job: larkfield/stop-feeding/pond")
    assert "larkfield/feed-again/pond" in ids(season.plan(date(2027, 6, 5)))


def test_with_a_holding_vat_the_pond_goes_on_eating(season: Any, job: Any, ids: Any) -> None:
    season.fish += BEN + "  never_show: all\n"
    season.with_keeper(
        "waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}",
        "holding: {water: tub}",
    )
    plan = season.plan(ON)
    assert job(plan, "larkfield/stop-feeding/tub").fish == ("aoi",)
    assert job(plan, "larkfield/to-holding").start == date(2027, 6, 5)
    assert not {"larkfield/stop-feeding/pond", "larkfield/feed-again/pond"} & ids(plan)


@pytest.mark.parametrize(
    ("there", "holding", "level", "how"),
    [
        (22, False, None, None),
        (23, False, "warn", ("step-tempered-at", Kelvin(2))),  # K an hour
        (25, False, "warn", ("step-tempered-at", Kelvin(2))),
        (26, False, "stop", ("step-to-show-too-great", Kelvin(1))),  # K a day
        (26, True, None, None),  # the tub is brought to it with the fish in it: no step is left
        (17, False, "warn", ("step-tempered-at", Kelvin(2))),
    ],
)
def test_the_step_to_the_water_of_the_show(
    season: Any, there: float, holding: bool, level: str | None, how: tuple[str, Kelvin] | None
) -> None:
    season.with_show(f"water_c: {there}")  # from 20 °C: warned about from 3 °C, too far from 6
    season.with_keeper("waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}")
    if holding:
        season.with_keeper("holding: {water: tub}")
    found = [w for w in season.plan(ON).warnings if "step-to-show" in codes([w])]
    assert [w.level for w in found] == ([] if level is None else [level])
    assert [(w.reason.code, w.reason["rate"]) for w in found] == ([] if how is None else [how])
    assert all(w.reason["step"]["there"] == Celsius(there) for w in found)


def test_the_holding_vat_is_brought_to_the_show_by_steps(season: Any, job: Any) -> None:
    season.with_show("water_c: 26")
    season.with_keeper(
        "waters: {pond: {steady_c: 20}, vat: {steady_c: 22}, tub: {steady_c: 20}}",
        "holding: {water: tub}",
    )
    plan = season.plan(ON)
    match = job(plan, "larkfield/match-water/tub")
    # 6 °C: six days of 1 °C after the day it goes into the tub, done by departure on the 11th
    assert (match.start, match.end) == (date(2027, 6, 6), date(2027, 6, 11))
    assert "Sun 6 June 21 °C" in told(plan, match.note)


def test_in_cold_water_there_is_nothing_to_cut(season: Any, ids: Any) -> None:
    season.with_keeper("waters: {pond: {steady_c: 7}, vat: {steady_c: 22}}")
    found = ids(season.plan(ON))
    assert not any("feed-half" in task or "colour-food" in task for task in found)
    assert "larkfield/stop-feeding/pond" in found
    assert "cold/no-food/pond" not in found


def test_two_shows_close_together_are_one_job_of_the_water(season: Any, job: Any, ids: Any) -> None:
    season.fish += "  never_show: [otterby]\n" + BEN + "  never_show: [larkfield]\n"
    season.keeper = season.keeper.replace(VAT, "")  # one cohort at a time in a vat
    season.shows += later_show("otterby", "2027-06-26")
    plan = season.plan(ON)
    assert [show.entered for show in plan.shows] == [("aoi",), ("ben",)]
    fed = [one for one in plan.tasks if one.water == "pond" and one.show]
    feeding = [one for one in fed if "feed" in one.kind or one.kind == "no-food"]
    days = [(one.kind, one.first_day, one.last_day) for one in feeding]
    # Judged on 12 and 26 June: half from 13 April, a quarter from 13 May until the fast of the
    # first; those that stay are fed a quarter, as the second asks, until its own fast, but for the
    # two days when Aoi comes home to them: without a vat there is one order for all of the pond.
    assert days[:7] == [
        ("feed-half", date(2027, 4, 13), date(2027, 5, 12)),
        ("feed-quarter", date(2027, 5, 13), date(2027, 6, 4)),
        ("stop-feeding", date(2027, 6, 5), date(2027, 6, 10)),
        ("feed-quarter", date(2027, 6, 11), date(2027, 6, 12)),
        ("no-food", date(2027, 6, 13), date(2027, 6, 14)),
        ("feed-quarter", date(2027, 6, 15), date(2027, 6, 18)),
        ("stop-feeding", date(2027, 6, 19), date(2027, 6, 24)),
    ]
    assert "no colour food" in told(plan, feeding[3].title)


def test_a_later_cut_waits_for_the_show_before_it(season: Any, job: Any) -> None:
    season.fish += "  never_show: [otterby]\n" + BEN + "  never_show: [larkfield]\n"
    season.shows += later_show("otterby", "2027-08-07")
    half = job(season.plan(ON), "otterby/feed-half/pond")
    # 60 days before 7 August is 8 June, in the fast for Larkfield; from its departure on the 11th
    # the pond is fed a third for three days, which is less than a half
    assert half.start == date(2027, 6, 14)


def test_nothing_is_fed_again_into_the_next_fast(season: Any) -> None:
    season.fish += "  never_show: [otterby]\n" + BEN + "  never_show: [larkfield]\n"
    season.keeper = season.keeper.replace(VAT, "")
    season.shows += later_show("otterby", "2027-06-14")  # its fast begins on 7 June
    plan = season.plan(ON)
    fast = next(one for one in plan.tasks if one.kind == "stop-feeding")
    assert (fast.start, fast.end) == (date(2027, 6, 5), date(2027, 6, 12))
    assert "Larkfield" in told(plan, fast.title) and "Otterby" in told(plan, fast.title)
    again = [one.first_day for one in plan.tasks if one.kind == "feed-again"]
    assert min(again) > date(2027, 6, 13)


def test_a_water_is_not_cut_for_fish_that_are_still_apart(season: Any, job: Any, ids: Any) -> None:
    season.shows += later_show("otterby", "2027-08-07")
    season.with_keeper("preferences: {days_between_shows: 40}")
    plan = season.plan(ON)
    assert [show.entered for show in plan.shows] == [("aoi",), ("aoi",)]
    # home on 13 June and 28 days apart: back in the pond on 11 July, in the last 30 days
    assert "otterby/feed-half/pond" not in ids(plan)
    assert job(plan, "otterby/feed-quarter/pond").start == date(2027, 7, 11)


def test_a_stage_that_is_over_is_not_late_for_ever(season: Any, ids: Any) -> None:
    found = ids(season.plan(date(2027, 5, 20)))
    assert "larkfield/feed-half/pond" not in found  # the quarter ration has taken its place
    assert "larkfield/feed-quarter/pond" in found


@pytest.mark.parametrize("vat", [False, True])
def test_nothing_is_cut_any_more_once_the_fast_has_begun(season: Any, ids: Any, vat: bool) -> None:
    if vat:
        season.with_keeper("holding: {water: vat}")
    cuts = {"larkfield/feed-quarter/pond"}
    assert cuts <= ids(season.plan(date(2027, 6, 4)))
    begun = ids(season.plan(date(2027, 6, 8)))
    assert f"larkfield/stop-feeding/{'vat' if vat else 'pond'}" in begun
    assert not cuts & begun
