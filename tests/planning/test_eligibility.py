"""What stands against an entry whatever the fish looks like, and what the keeper said."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from showprep.husbandry.reason import Celsius, Centimetres, FishId, Reason, reason

ON = date(2027, 4, 1)
CLEAN = "  lengths_cm: {2027-03-01: 50}\n"
BEN = "ben:\n  name: Ben\n  variety: showa\n  lives_in: pond\n  merit: 60\n" + CLEAN
EARLY = """\
early:
  name: Early Show
  judging: 2027-04-24 10:00
  check_out: 2027-04-25 14:00
  travel_hours: 1
"""


@pytest.fixture
def season(written: Any) -> Any:
    written.fish = written.fish.split("  defects:")[0]
    return written


def why(found: Any) -> Reason:
    assert (found.verdict, found.entered, found.merit) == ("not-eligible", False, None), found
    return found.reasons[0]


@pytest.mark.parametrize(
    ("limit", "bars"),
    [
        ("longest_cm: 40", True),
        ("longest_cm: 60", False),
        ("shortest_cm: 60", True),
        ("shortest_cm: 40", False),
        ("varieties: [showa]", True),
        ("varieties: [Kohaku, showa]", False),
    ],
)
def test_size_and_variety(season: Any, verdict: Any, limit: str, bars: bool) -> None:
    season.with_show(f"limits: {{{limit}}}")
    assert (verdict(season.plan(ON)).verdict == "not-eligible") is bars


@pytest.mark.parametrize(
    ("altered", "word"), [("excluded", "not-eligible"), ("not stated", "ready")]
)
def test_a_touched_fish_where_altered_fish_are_excluded(
    written: Any, verdict: Any, altered: str, word: str
) -> None:
    written.with_show(f"altered_fish: {altered}")
    written.noted("on: 2027-04-20, did: touch-up, fish: aoi")
    written.with_keeper("preferences: {speck_returns_after_weeks: 16}")
    assert verdict(written.plan(date(2027, 4, 21))).verdict == word


def test_where_altered_fish_are_excluded_the_speck_is_left(written: Any, verdict: Any) -> None:
    found = verdict(written.with_show("altered_fish: excluded").plan(ON))
    assert (found.verdict, found.touch_up.day, found.merit) == ("as-it-is", None, 75)
    assert found.ways_out == ()


def test_a_new_fish_stays_apart_until_it_is_clear(season: Any, verdict: Any) -> None:
    season.fish += "  came: 2027-04-20\n"
    # 20 °C, as after shared vats: 60 days apart, clear on 19 June
    assert why(verdict(season.plan(date(2027, 4, 21)))) == reason(
        "new-kept-apart", on=date(2027, 4, 20), until=date(2027, 6, 19)
    )
    season.fish = season.fish.replace("2027-04-20", "2027-04-12")  # clear on 11 June
    assert verdict(season.plan(date(2027, 4, 21))).verdict == "ready"


def test_in_cold_water_a_new_fish_is_never_clear(season: Any, verdict: Any) -> None:
    season.with_keeper("waters: {pond: {steady_c: 15.9}, vat: {steady_c: 22}}")
    season.fish += "  came: 2026-12-01\n"
    assert why(verdict(season.plan(ON))).code == "new-never-clear"


def test_in_hot_water_a_new_fish_is_never_clear(season: Any, verdict: Any) -> None:
    season.fish += "  came: 2026-09-20\n"
    season.with_keeper("waters: {pond: {steady_c: 29}, vat: {steady_c: 22}}")
    assert why(verdict(season.plan(ON))) == reason(
        "new-never-clear", on=date(2026, 9, 20), low=Celsius(16), high=Celsius(28)
    )


def test_a_fish_that_spawned_is_given_six_weeks(season: Any, verdict: Any) -> None:
    # From memory of keepers: 4 to 6 weeks, the longer. Benching is on 11 June.
    season.noted("on: 2027-05-01, saw: spawned, fish: aoi")  # 41 days before
    on = date(2027, 5, 2)
    told = reason("spawned-before-show", on=date(2027, 5, 1))
    assert told in verdict(season.plan(on)).cautions
    season.journal = season.journal.replace("05-01", "04-30")  # 42 days
    codes = [caution.code for caution in verdict(season.plan(on)).cautions]
    assert "spawned-before-show" not in codes


@pytest.mark.parametrize(
    ("spawned", "code"),
    # Departure is on 11 June. From memory: torn fins are open still for 14 days.
    [("2027-05-28", "spawned-before-show"), ("2027-05-29", "spawned-not-ready")],
)
def test_a_fish_that_has_just_spawned_stays_at_home(
    season: Any, verdict: Any, spawned: str, code: str
) -> None:
    season.noted(f"on: {spawned}, saw: spawned, fish: aoi")
    plan = season.plan(date(2027, 5, 30))
    found = verdict(plan)
    told = [one.code for one in (*found.reasons, *found.cautions) if "spawned" in one.code]
    assert told == [code]
    if code == "spawned-not-ready":
        assert (found.verdict, found.entered) == ("not-eligible", False)
        assert why(found)["until"] == date(2027, 6, 12)
    else:
        assert found.entered
        (warned,) = [one for one in plan.warnings if one.reason.code == "caution-for"]
        assert (warned.level, warned.fish, warned.show) == ("warn", "aoi", "larkfield")


@pytest.mark.parametrize(
    ("born", "grown"),
    [("2024", True), ("2024-06-10", True), ("2024-06-13", False), ("2025", False)],
)
def test_a_female_of_three_years_may_spawn_whatever_her_length(
    season: Any, verdict: Any, born: str, grown: bool
) -> None:
    # From memory: three years or 45 cm. A year alone counts from its first day, the safer.
    season.fish = season.fish.replace(": 50}", ": 40}")
    season.fish += f"  sex: female\n  longest_cm: 41\n  born: {born}\n"
    months = [4, 4, 5, 8, 12, 20, 24, 24, 18, 12, 8, 5]
    season.with_keeper(f"waters: {{pond: {{monthly_c: {months}}}, vat: {{steady_c: 22}}}}")
    assert (reason("may-spawn") in verdict(season.plan(ON)).cautions) is grown


def test_a_fish_that_met_others_may_be_a_carrier(season: Any, verdict: Any) -> None:
    assert reason("may-be-a-carrier") not in verdict(season.plan(ON)).cautions
    season.fish += "  came: 2026-09-20\n"
    assert reason("may-be-a-carrier") in verdict(season.plan(ON)).cautions


@pytest.mark.parametrize(
    ("came", "tested", "lives_in", "bars"),
    [
        ("2026-12-13", "no", "pond", True),  # inside the six months before 12 June 2027
        ("2026-12-11", "no", "pond", False),
        ("2026-12-13", "yes", "pond", False),
        ("2026-12-13", "no", "vat", False),  # another water
    ],
)
def test_one_untested_newcomer_bars_its_whole_water(
    season: Any, verdict: Any, came: str, tested: str, lives_in: str, bars: bool
) -> None:
    season.with_show("declaration_months: 6")
    season.fish += BEN.replace("pond", lives_in) + f"  came: {came}\n  tested: {tested}\n"
    found = verdict(season.plan(ON))
    assert (found.verdict == "not-eligible") is bars
    if bars:
        day = date.fromisoformat(came)
        assert why(found) == reason(
            "other-untested", fish=FishId("ben"), on=day, months=6, met=day, ahead=0
        )


def test_a_newcomer_that_moves_in_later_counts_as_well(season: Any, verdict: Any) -> None:
    season.with_show("declaration_months: 6")
    season.fish += BEN.replace("pond", "vat") + (
        "  came: 2026-12-20\n  moves: [{on: 2027-05-01, to: pond}]\n"
    )
    assert why(verdict(season.plan(ON)))["fish"] == FishId("ben")


def test_parasites_bar_every_fish_of_that_water(season: Any, verdict: Any) -> None:
    season.fish += BEN + BEN.replace("ben", "cho").replace("Ben", "Cho").replace("pond", "vat")
    season.noted("on: 2027-05-20, saw: parasites, water: pond")
    plan = season.plan(date(2027, 5, 20))
    for fish in ("aoi", "ben"):
        assert why(verdict(plan, fish)) == reason(
            "parasites-not-cleared",
            water="pond",
            on=date(2027, 5, 20),
            scrape=date(2027, 6, 3),  # 14 days
            too_late=0,
        )
    assert verdict(plan, "cho").verdict == "ready"
    season.noted("on: 2027-06-03, saw: no parasites, water: pond")
    assert verdict(season.plan(date(2027, 6, 3)), "ben").verdict == "ready"


def test_signs_of_khv_stop_everything(season: Any, verdict: Any) -> None:
    season.noted("on: 2027-03-30, saw: khv signs, water: pond")
    plan = season.plan(ON)
    assert why(verdict(plan)).code == "khv-signs-noted"
    assert plan.warnings[0].level == "stop"
    assert plan.warnings[0].reason.code == "khv-stop"


def test_rest_between_two_shows_in_one_plan(season: Any, verdict: Any) -> None:
    season.shows = EARLY + season.shows  # home on 25 April, departure on 11 June: 47 days
    season.with_keeper("preferences: {days_between_shows: 48}")
    plan = season.plan(ON)
    assert sum(verdict(plan, show=show).entered for show in ("early", "larkfield")) == 1
    season.with_keeper("preferences: {days_between_shows: 47}", "figures: {apart_shared_warm: 42}")
    plan = season.plan(ON)
    assert [verdict(plan, show=show).entered for show in ("early", "larkfield")] == [True, True]


def test_the_time_apart_may_be_longer_than_the_rest(season: Any, verdict: Any) -> None:
    season.shows = EARLY + season.shows
    season.with_keeper(
        "waters: {pond: {steady_c: 20}, vat: {steady_c: 20}}",  # shared vats: 60 days at 20 °C
        "preferences: {days_between_shows: 10}",
    )
    plan = season.plan(ON)
    assert sum(verdict(plan, show=show).entered for show in ("early", "larkfield")) == 1
    season.noted("on: 2027-04-23, did: travelled, fish: aoi, show: early")
    # home on 25 April and 60 days apart: until 24 June
    resting = why(verdict(season.plan(date(2027, 4, 26))))
    assert (resting.code, resting["until"]) == ("rests-after-show", date(2027, 6, 24))


def test_after_the_entries_closed_only_those_entered_go(season: Any, verdict: Any) -> None:
    season.fish += BEN
    season.with_show("entries_close: 2027-05-22", "limits: {fish: 2}")
    season.noted("on: 2027-05-15, did: entered, fish: ben, show: larkfield")
    plan = season.plan(date(2027, 5, 22))
    assert verdict(plan, "aoi").entered  # the last day
    plan = season.plan(date(2027, 5, 23))
    assert why(verdict(plan, "aoi")) == reason("entries-closed", on=date(2027, 5, 22))
    assert verdict(plan, "ben").entered


def test_a_must_is_kept_even_where_it_costs_merit(season: Any, verdict: Any) -> None:
    season.fish += BEN
    season.with_show("limits: {fish: 1}")
    assert verdict(season.plan(ON), "aoi").entered
    season.fish += "  must_show: [larkfield]\n"
    plan = season.plan(ON)
    assert [verdict(plan, fish).entered for fish in ("aoi", "ben")] == [False, True]


def test_a_must_that_cannot_be_is_said(season: Any, verdict: Any) -> None:
    season.with_show("limits: {longest_cm: 40}")
    season.fish += "  must_show: [larkfield]\n"
    plan = season.plan(ON)
    assert why(verdict(plan))["most"] == Centimetres(40)
    warning = plan.warnings[0].reason
    assert (warning.code, warning["fish"]) == ("must-and-barred", FishId("aoi"))
    assert warning["why"].code == "too-long"


@pytest.mark.parametrize(
    ("length", "expected", "possible"),
    [(50.0, "size 3", 1), (54.6, "size 3", 2), (70.0, "size 4", 1)],
)
def test_size_classes_on_the_day(
    season: Any, verdict: Any, length: float, expected: str, possible: int
) -> None:
    season.with_show("sizes: {unit: cm, upper: [25, 35, 55], upper_included: yes}")
    season.fish = season.fish.replace("2027-03-01: 50", f"2027-06-10: {length}")
    found = verdict(
        season.plan(date(2027, 6, 10))
    )  # measured the day before: no growth to speak of
    assert found.size_class.expected == expected
    assert len(found.size_class.possible) == possible
    assert found.length.low <= found.length.expected <= found.length.high
    near = found.size_class.near_limit
    assert (near is not None) is (possible > 1), near


def test_a_fish_never_measured_has_no_class(season: Any, verdict: Any) -> None:
    season.with_show("sizes: {unit: cm, upper: [25, 35, 55], upper_included: yes}")
    season.fish = season.fish.split("  lengths_cm")[0]
    found = verdict(season.plan(ON))
    assert (found.length, found.size_class, found.verdict) == (None, None, "ready")
    assert reason("never-measured") in found.cautions
