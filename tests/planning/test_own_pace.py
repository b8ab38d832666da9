"""From journal to own pace: an invented yard at a steady 18 °C, 10 degree-days a day."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest

from showprep.husbandry.healing import DefectKind, Milestone
from showprep.planning.as_of.state import state_of
from showprep.planning.yard.courses import courses_of
from showprep.planning.yard.own_pace import OwnPace, own_pace
from showprep.planning.yard.waters import Waters
from showprep.season.records import (
    Defect,
    Fish,
    JournalEntry,
    Keeper,
    Preferences,
    Season,
    Water,
)

START = date(2027, 4, 3)
SPECK = DefectKind(
    id="shimi",
    may="touch-up",
    closed=Milestone(5, 15, 40, 1),
    clean=Milestone(100, 180, 320, 7),
    is_wound=True,
    grade="derived",
    source="",
)


def entry(fish: int, after: int, **told: object) -> JournalEntry:
    on = START + timedelta(days=after)
    return JournalEntry.model_validate({"on": on, "fish": f"fish-{fish}"} | told)


def learned(
    journal: list[JournalEntry],
    fish: int = 8,
    use: bool | str = "when enough",
    readings: dict[date, float] | None = None,
) -> OwnPace:
    speck = Defect(kind="shimi", where="back", seen=START - timedelta(days=9))
    keeper = Keeper(
        time_zone="Europe/Dublin",
        waters={"pond": Water(steady_c=18, readings_c=readings or {})},
        preferences=Preferences.model_validate({"use_own_pace": use}),
    )
    every = {
        f"fish-{number}": Fish(
            name="A", variety="kohaku", lives_in="pond", merit=80, defects=(speck,)
        )
        for number in range(fish)
    }
    season = Season(keeper=keeper, shows={}, fish=every, journal=tuple(journal))
    state = state_of(season, START + timedelta(days=400))
    waters = Waters(keeper, state.readings)
    courses = courses_of(state, waters, {}, ())
    return own_pace(state, {"shimi": SPECK}, waters, courses)


def slow_yard(fish: int) -> list[JournalEntry]:
    """Not clean after 24 days (240 degree-days), clean after 28 (280)."""
    told = []
    for number in range(fish):
        told.append(entry(number, 0, did="touch-up"))
        told.append(entry(number, 24, saw="not clean"))
        told.append(entry(number, 28, saw="clean"))
    return told


def test_looks_become_bounds_in_degree_days() -> None:
    found = learned(slow_yard(8))
    clean, back = found.lines
    assert (clean.kind, clean.milestone, clean.unit) == ("shimi", "clean", "degree-days")
    assert clean.pace.count == 8 and clean.pace.enough and clean.used
    assert 240 < clean.pace.own.usual < 280
    assert (back.unit, back.used) == ("weeks", True)


def test_closed_is_learned_only_where_somebody_looked() -> None:
    told = [entry(0, 0, did="touch-up"), entry(0, 1, saw="not closed"), entry(0, 2, saw="closed")]
    (closed,) = [line for line in learned(told).lines if line.milestone == "closed"]
    assert closed.pace.count == 1
    assert 10 < closed.pace.own.usual < 20


def test_every_look_is_used_unless_the_keeper_says_no() -> None:
    """Little evidence moves little: the table restrains it, and nothing need hold it back."""
    few = learned(slow_yard(2), fish=2)
    assert few.lines[0].used and not few.lines[0].pace.enough
    assert learned(slow_yard(2), fish=2, use=True).lines[0].used
    never = learned(slow_yard(8), use=False)
    assert never.lines[0].pace.enough and not never.lines[0].used


def test_a_speck_never_taken_off_teaches_nothing() -> None:
    assert learned([entry(0, 20, saw="not clean")]).lines == ()
    assert learned([]).lines == ()


def test_a_mark_that_stays_teaches_nothing_about_clean() -> None:
    told = [entry(0, 0, did="touch-up"), entry(0, 40, saw="mark left")]
    assert learned(told).lines == ()


def test_a_second_touch_up_keeps_what_the_first_one_taught() -> None:
    told = [
        entry(0, 0, did="touch-up"),
        entry(0, 30, saw="not clean"),
        entry(0, 35, did="touch-up"),
        entry(0, 50, saw="clean"),
    ]
    (clean,) = [line for line in learned(told).lines if line.milestone == "clean"]
    assert clean.pace.count == 2


def test_the_weeks_until_a_speck_is_back() -> None:
    told = slow_yard(8)
    for number in range(8):
        told.append(entry(number, 63, saw="clean"))
        told.append(entry(number, 77, saw="speck back"))
    found = learned(told)
    back = found.lines[-1]
    assert back.milestone == "back" and back.pace.count == 8 and back.used
    assert back.pace.own.usual == pytest.approx(10, abs=0.6)  # between 9 and 11 weeks


def test_readings_against_the_curve() -> None:
    readings = {START + timedelta(days=7 * n): 19.5 for n in range(20)}
    found = learned([], readings=readings)
    (pond,) = found.waters
    assert pond.used and pond.offset.weeks == 20
    assert math.isclose(found.offsets_c["pond"], 1.5, abs_tol=0.1)
    assert learned([], readings=readings, use=False).offsets_c == {}
