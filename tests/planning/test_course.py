"""The course of one fish: where it is each day, how warm, and how that is known.

The waters are steady, so that every day can be worked out by hand: a pond of 14 °C, a koi house
of 18 °C and a vat of 22 °C. A step of 6 °C or more is taken by 1 °C a day.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import pytest

from showprep.planning.yard.course import (
    Course,
    Journey,
    Ramping,
    WarmHealing,
    WaterMove,
    course_of,
)

WATERS = {"pond": 14.0, "house": 18.0, "vat": 22.0, "cold vat": 5.0}
ON = date(2027, 5, 1)
DEPARTURE, HOME, CLEAR = date(2027, 6, 11), date(2027, 6, 13), date(2027, 7, 11)


def day(number: int, month: int = 6) -> date:
    return date(2027, month, number)


def course(
    moves: Sequence[WaterMove] = (),
    journeys: Sequence[Journey] = (),
    healing: Sequence[WarmHealing] = (),
    lives_in: str = "pond",
    on: date = ON,
) -> Course:
    return course_of(
        lives_in,
        moves,
        journeys,
        healing,
        lambda name: lambda day: WATERS[name],
        Ramping(block=6, c_per_day=1),
        on,
    )


def journey(**changes: object) -> Journey:
    told: dict[str, object] = {
        "show": "lark",
        "departure": DEPARTURE,
        "home": HOME,
        "grade": "planned",
        "show_c": 16.0,
        "kept_apart_in": "vat",
        "clear": CLEAR,
    }
    return Journey(**{**told, **changes})  # type: ignore[arg-type]


def test_a_fish_that_nothing_happens_to_stays_at_home() -> None:
    at_home = course()
    assert at_home.water_on(day(1)) == "pond"
    assert at_home.mean_on(day(1)) == 14
    assert at_home.stay_on(day(1)).grade == "written"
    assert at_home.steps == ()


def test_a_journey_out_and_home() -> None:
    away = course(journeys=[journey(show_c=17.0)])
    where = {
        day(10): "pond",
        DEPARTURE: None,
        day(12): None,
        HOME: "vat",
        day(10, 7): "vat",
    }
    assert {on: away.water_on(on) for on in where} == where
    assert away.mean_on(day(12)) == 17
    assert away.water_before(day(12)) == "pond"
    assert away.away_on(day(12))
    assert not away.away_on(HOME)


def test_the_way_home_is_a_ramp_where_the_step_is_great() -> None:
    # Vat 22, pond 14: on 11 July still 22, then 21 ... 14 on the 19th: that day it is in the pond.
    back = course(journeys=[journey()])
    assert [back.mean_on(day(number, 7)) for number in (10, 11, 12, 18, 19, 20)] == [
        22,
        22,
        21,
        15,
        14,
        14,
    ]
    assert [back.water_on(day(number, 7)) for number in (11, 18, 19)] == ["vat", "vat", "pond"]
    assert back.stay_on(day(15, 7)).toward == "pond"
    home = [step for step in back.steps if step.why == "home"]
    assert [(step.day, step.change_c, step.ramp_days) for step in home] == [(CLEAR, -8, 8)]


def test_the_way_home_is_the_same_day_where_it_is_small() -> None:
    back = course(journeys=[journey()], lives_in="house")
    assert (back.water_on(day(10, 7)), back.water_on(CLEAR)) == ("vat", "house")
    assert (back.mean_on(day(10, 7)), back.mean_on(CLEAR)) == (22, 18)


def test_the_vat_is_brought_to_the_fish_that_comes_home_cold() -> None:
    # Show 16, vat 22: 6 °C is a ramp; 16 on the day, then 17 ... 22 on 19 June.
    home = course(journeys=[journey(show_c=16.0)])
    assert [home.mean_on(day(number)) for number in (12, 13, 14, 19, 20)] == [16, 16, 17, 22, 22]


def test_a_show_whose_warmth_is_not_known_is_said_to_be_so() -> None:
    away = course(journeys=[journey(show_c=None)])
    step = next(step for step in away.steps if step.why == "show")
    assert (step.change_c, step.unknown) == (0, True)
    assert away.mean_on(day(12)) == 14


def test_a_holding_vat_comes_first_and_is_a_step_of_its_own() -> None:
    # 14 to 22 °C on 4 June by a ramp: 22 on the 12th, a day after departure: 21 at departure.
    held = course(journeys=[journey(holding=("vat", day(4)))])
    assert [held.water_on(day(number)) for number in (3, 4, 10)] == ["pond", "vat", "vat"]
    assert [held.mean_on(day(number)) for number in (3, 4, 5, 10)] == [14, 14, 15, 20]
    into = next(step for step in held.steps if step.why == "holding")
    assert (into.change_c, into.ramp_days) == (8, 8)
    show = next(step for step in held.steps if step.why == "show")
    assert (show.from_c, show.to_c) == (21, 16)


def test_two_shows_with_the_time_apart_between_them() -> None:
    # Not cleared before the second departure: it goes from the vat to the show.
    second = journey(
        show="ash", departure=day(2, 7), home=day(4, 7), clear=date(2027, 8, 1), show_c=20.0
    )
    twice = course(journeys=[second, journey()])
    assert [twice.water_on(one) for one in (day(1, 7), day(3, 7), day(4, 7), day(12, 7))] == [
        "vat",
        None,
        "vat",
        "vat",
    ]
    assert twice.water_on(date(2027, 8, 9)) == "pond"


def test_called_away_from_the_ramp_home_it_leaves_from_the_vat() -> None:
    # Cleared on 11 July and on its way to 14 °C until the 19th; the next show is on the 14th.
    second = journey(show="ash", departure=day(14, 7), home=day(16, 7), clear=None, show_c=18.0)
    twice = course(journeys=[journey(), second])
    assert twice.water_on(day(13, 7)) == "vat"
    assert twice.water_on(day(14, 7)) is None
    assert next(step for step in twice.steps if step.show == "ash").from_c == 19  # 22 - 3 days
    assert twice.water_on(day(25, 12)) == "vat"  # never cleared: it stays until something is told


def test_without_a_vat_it_goes_straight_home() -> None:
    straight = course(journeys=[journey(kept_apart_in=None, clear=None, show_c=24.0)])
    assert straight.water_on(HOME) == "pond"
    step = straight.steps[-1]
    assert (step.change_c, step.ramp_days) == (-10, 0)  # nobody can ramp the pond: to be stopped


@pytest.mark.parametrize(
    ("done", "on", "grade"),
    [
        (True, date(2027, 7, 1), "written"),
        (False, date(2027, 7, 1), "presumed"),
        (False, ON, "planned"),
    ],
)
def test_how_a_move_is_known(done: bool, on: date, grade: str) -> None:
    moved = course([WaterMove(day(1), "house", done)], on=on)
    assert moved.water_on(day(1)) == "house"
    assert moved.stay_on(day(1)).grade == grade


def test_a_written_move_out_of_the_vat_ends_what_was_presumed() -> None:
    # Noted on 20 June, three weeks before its time apart is over: it is in the house from then on.
    moved = course([WaterMove(day(20), "house", True)], [journey(grade="presumed")], on=day(1, 8))
    assert [moved.water_on(one) for one in (day(19), day(20), day(20, 7))] == [
        "vat",
        "house",
        "house",
    ]
    assert moved.stay_on(day(15)).grade == "presumed"


def test_a_note_of_coming_into_the_vat_does_not_keep_it_there() -> None:
    noted = course([WaterMove(HOME, "vat", True)], [journey(grade="written")], lives_in="house")
    assert noted.water_on(HOME) == "vat"
    assert noted.water_on(CLEAR) == "house"


def test_a_move_while_it_is_away_says_where_it_belongs_afterwards() -> None:
    moved = course([WaterMove(day(12), "house", False)], [journey()])
    assert moved.water_on(day(12)) is None
    assert moved.water_on(CLEAR) == "house"


def test_a_ramp_the_keeper_states_is_taken() -> None:
    moved = course([WaterMove(day(1), "vat", False, c_per_day=2)])
    assert [moved.mean_on(day(number)) for number in (1, 2, 5)] == [14, 16, 22]
    assert moved.steps[0].ramp_days == 4


def test_an_own_move_without_a_ramp_is_a_bare_step() -> None:
    moved = course([WaterMove(day(1), "vat", False)])
    assert (moved.mean_on(day(1)), moved.steps[0].ramp_days) == (22, 0)


def test_a_wound_heals_in_the_vat_and_the_fish_comes_home() -> None:
    # In the vat from 15 May, 14 °C that day, 22 on the 23rd; back from 5 June: 14 on the 13th.
    healed = course(healing=[WarmHealing("lark", "vat", day(15, 5), day(5), "planned")])
    assert [healed.mean_on(day(number, 5)) for number in (15, 16, 23)] == [14, 15, 22]
    assert [healed.water_on(day(number)) for number in (5, 12, 13)] == ["vat", "vat", "pond"]


def test_healing_until_the_journey_it_is_not_sent_home() -> None:
    healed = course(
        journeys=[journey()],
        healing=[WarmHealing("lark", "vat", day(15, 5), None, "planned")],
    )
    assert healed.water_on(day(10)) == "vat"
    assert next(step for step in healed.steps if step.why == "show").from_c == 22


def test_it_is_in_one_place_a_day_and_no_day_is_left_out() -> None:
    busy = course(
        [WaterMove(day(1), "house", True), WaterMove(day(12), "pond", False)],
        [
            journey(holding=("vat", day(4))),
            journey(show="ash", departure=day(1, 8), home=day(2, 8)),
        ],
    )
    for earlier, later in zip(busy.stays, busy.stays[1:], strict=False):
        assert earlier.last is not None
        assert (later.first - earlier.last).days == 1
        assert earlier.first <= earlier.last
    assert busy.stays[-1].last is None


@pytest.mark.parametrize(
    "journeys",
    [
        [journey(), journey(show="ash", departure=day(12), home=day(14))],
        [journey(home=day(1))],
    ],
)
def test_journeys_at_one_time_are_refused(journeys: list[Journey]) -> None:
    with pytest.raises(ValueError, match="lark"):
        course(journeys=journeys)
