"""Rules of shows: how old a fish may be, its class, the points it counts, its check-out."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import pytest

from showprep.husbandry.reason import Centimetres, FishId, ShowId, reason

ON = date(2027, 6, 1)
CLASSES = "sizes: {unit: cm, upper: [25, 35, 45], above: no}"


@pytest.fixture
def clean(written: Any) -> Any:
    written.fish = written.fish.split("  defects:")[0]
    return written


@pytest.mark.parametrize(
    ("born", "word"),
    [
        ("2025", "ready"),
        ("2024", "not-eligible"),
        ("2025-01-01", "ready"),
        ("2024-12-31", "not-eligible"),
    ],
)
def test_age_goes_by_the_year_born(clean: Any, verdict: Any, born: str, word: str) -> None:
    # the show is in 2027 and takes fish up to 2 years old: born in 2025 or later, whatever the day
    clean.with_show("limits: {oldest: 2}")
    clean.fish += f"  born: {born}\n"
    found = verdict(clean.plan(ON))
    assert found.verdict == word
    if word == "not-eligible":
        assert found.reasons[0] == reason("too-old", born="2024", oldest=2, first="2025")


def test_a_fish_of_unknown_age_goes_with_a_warning(clean: Any, verdict: Any) -> None:
    plan = clean.with_show("limits: {oldest: 1}").plan(ON)
    assert verdict(plan).entered
    unknown = reason("age-not-known", oldest=1)
    assert unknown in verdict(plan).cautions
    assert any(("why", unknown) in one.reason.values for one in plan.warnings)


def test_beyond_the_last_class_there_is_none(clean: Any, verdict: Any) -> None:
    # measured at 50 cm, and the classes end at 45
    found = verdict(clean.with_show(CLASSES).plan(ON))
    assert (found.verdict, found.entered, found.size_class.expected) == (
        "not-eligible",
        False,
        None,
    )
    assert found.reasons[0].code == "longer-than-any-class"
    assert found.reasons[0]["limit"] == Centimetres(45)


def test_beyond_the_last_bound_there_may_be_a_class(clean: Any, verdict: Any) -> None:
    found = verdict(clean.with_show(CLASSES.replace("no}", "yes}")).plan(ON))
    assert (found.verdict, found.size_class.expected) == ("ready", "size 4")


def test_below_the_first_class_there_is_none(clean: Any, verdict: Any) -> None:
    found = verdict(clean.with_show("sizes: {unit: cm, upper: [65, 75], lowest: 60}").plan(ON))
    assert found.reasons[0].code == "shorter-than-any-class"
    assert found.reasons[0]["limit"] == Centimetres(60)


def three(season: Any, most: int, cm: tuple[float, ...]) -> Any:
    """Three fish measured ten days before benching."""
    fish = ""
    for name, length in zip(("aoi", "ben", "cho"), cm, strict=True):
        fish += (
            f"{name}:\n  name: {name.title()}\n  variety: kohaku\n  lives_in: pond\n  merit: 80\n"
            f"  lengths_cm: {{2027-06-01: {length}}}\n"
        )
    season.fish = fish
    limits = f"limits: {{points: {most}, points_by_size: [2, 5, 9]}}"
    return season.with_show("sizes: {unit: cm, upper: [25, 45]}", limits)


def test_points_are_counted_at_the_length_expected(clean: Any) -> None:
    # 20 cm counts 2, 35 cm 5 and 60 cm 9: 16 in all, and at most 16 may be used
    plan = three(clean, 16, (20, 35, 60)).plan(ON)
    (show,) = plan.shows
    assert show.entered == ("aoi", "ben", "cho")
    assert reason("limit-points-used", most=16.0, used=16.0) in show.limits
    assert not [one for one in plan.warnings if one.reason.code == "points-may-run-out"]


def test_points_run_out(clean: Any) -> None:
    plan = three(clean, 15, (20, 35, 60)).plan(ON)
    (show,) = plan.shows
    assert len(show.entered) == 2  # of three alike the two that fit: 2 + 5, 2 + 9 or 5 + 9
    used = next(one["used"] for one in show.limits if one.code == "limit-points-used")
    assert used <= 15


def test_points_are_warned_of_where_a_class_is_not_sure(clean: Any) -> None:
    # 43.6 cm may pass the 45 cm by benching: then it counts 9, not 5, and 2 + 9 + 9 are 20 of 18
    plan = three(clean, 18, (20, 43.6, 60)).plan(ON)
    (show,) = plan.shows
    assert len(show.entered) == 3
    told = next(one for one in plan.warnings if one.reason.code == "points-may-run-out")
    assert told.reason == reason(
        "points-may-run-out",
        fish=(FishId("ben"),),
        show=ShowId("larkfield"),
        used=16.0,
        most=18.0,
        longest=20.0,
    )


@pytest.mark.parametrize(
    ("arrive", "judging", "out"),
    [
        ("2027-06-12 08:00", "2027-06-12 10:00", "2027-06-12 17:00"),
        ("2027-06-12 08:00", "2027-06-12 14:30", "2027-06-12 18:30"),  # four hours after it begins
        ("2027-06-12 08:00", "2027-06-12 21:00", "2027-06-12 23:59"),  # still that day
        ("2027-06-11 18:00", "2027-06-12 10:00", "2027-06-13 13:00"),  # of two days
    ],
)
def test_check_out_left_out(written: Any, arrive: str, judging: str, out: str) -> None:
    written.shows = (
        f"plain:\n  name: Plain\n  judging: {judging}\n  travel_hours: 1\n"
        f"  arrive: {{from: {arrive}, to: {arrive[:11]}20:00}}\n"
    ).replace(f"to: {judging[:11]}20:00", f"to: {judging}")
    found = written.yard(ON).events["plain"].check_out
    assert found.replace(tzinfo=None) == datetime.fromisoformat(out)


def test_one_point_too_few_says_what_is_missing(written: Any) -> None:
    from showprep.season.problems import SeasonError

    limits = "limits: {points: 9, points_by_size: [2, 5]}"
    written.with_show("sizes: {unit: cm, upper: [25, 45]}", limits)
    with pytest.raises(SeasonError, match="above: no"):
        written.season(ON)
