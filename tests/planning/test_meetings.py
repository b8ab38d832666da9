"""Whom a fish has met, and who is kept apart with whom. Every day is worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from showprep.husbandry.isolation import Vats
from showprep.planning.yard.course import Course, Journey, Ramping, WaterMove, course_of
from showprep.planning.yard.kept_apart import Arrival, groups
from showprep.planning.yard.meetings import Meetings, together

ON = date(2027, 5, 1)


def day(number: int, month: int = 6) -> date:
    return date(2027, month, number)


def course(
    lives_in: str, moves: tuple[WaterMove, ...] = (), journeys: tuple[Journey, ...] = ()
) -> Course:
    return course_of(
        lives_in, moves, journeys, (), lambda name: lambda day: 20.0, Ramping(6, 1), ON
    )


def journey() -> Journey:
    return Journey("lark", day(11), day(13), "planned", 20.0, None, "vat", day(11, 7))


def meetings(**courses: Course) -> Meetings:
    return Meetings(courses, gone={}, came={})


def test_fish_of_one_water_are_company_and_others_are_not() -> None:
    who = meetings(aoi=course("pond"), ben=course("pond"), cho=course("house"))
    assert who.company("aoi", day(1)) == {"ben"}
    assert who.company("cho", day(1)) == set()
    assert who.in_water("pond", day(1)) == {"aoi", "ben"}


def test_the_day_of_a_move_counts_in_both_waters() -> None:
    who = meetings(
        aoi=course("pond", (WaterMove(day(5), "house", True),)),
        ben=course("pond"),
        cho=course("house"),
    )
    assert who.company("aoi", day(4)) == {"ben"}
    assert who.company("aoi", day(5)) == {"ben", "cho"}
    assert who.company("aoi", day(6)) == {"cho"}


def test_at_a_show_and_in_the_vat_they_are_together() -> None:
    who = meetings(
        aoi=course("pond", journeys=(journey(),)),
        ben=course("house", journeys=(journey(),)),
        cho=course("pond"),
    )
    assert who.company("aoi", day(12)) == {"ben"}
    assert who.company("aoi", day(20)) == {"ben"}
    assert who.company("aoi", day(11)) == {"ben", "cho"}  # it leaves the pond that day


def test_what_one_carries_goes_forward_in_time_by_way_of_others() -> None:
    # Aoi's from 10 June; Ben leaves the pond on the 20th for the house, where Cho is. Dan left the
    # pond on 5 June: before.
    who = meetings(
        aoi=course("pond"),
        ben=course("pond", (WaterMove(day(20), "house", True),)),
        cho=course("house"),
        dan=course("pond", (WaterMove(day(5), "vat", True),)),
    )
    assert who.reached_from({"aoi": day(10)}) == {"aoi": day(10), "ben": day(10), "cho": day(20)}


def test_who_comes_before_the_source_is_ill_but_stays_on_is_reached() -> None:
    who = meetings(aoi=course("pond", (WaterMove(day(15), "house", True),)), cho=course("house"))
    assert who.reached_from({"cho": day(1)}) == {"cho": day(1), "aoi": day(15)}
    assert who.reached_in_water("house", day(10)) == {"cho": day(10), "aoi": day(15)}


def test_one_net_on_one_day_is_a_meeting() -> None:
    apart = {"aoi": course("pond"), "cho": course("house")}
    handled = together([(day(8), ["aoi", "cho"])])
    who = Meetings(apart, gone={}, came={}, handled=handled)
    assert who.company("aoi", day(8)) == {"cho"}
    assert who.reached_from({"aoi": day(1)}) == {"aoi": day(1), "cho": day(8)}
    assert who.reached_from({"aoi": day(9)}) == {"aoi": day(9)}


def test_a_fish_is_met_only_while_it_is_in_the_yard() -> None:
    pond: Mapping[str, Course] = {"aoi": course("pond"), "new": course("pond")}
    who = Meetings(pond, gone={"aoi": day(10)}, came={"new": day(11)})
    assert who.company("aoi", day(10)) == set()
    assert who.reached_from({"aoi": day(1)}) == {"aoi": day(1)}


def four_weeks(first: date, vats: Vats) -> date:
    return first + timedelta(days=42 if vats == "shared" else 28)


def arrival(number: int, month: int, show: str, vats: Vats = "own") -> Arrival:
    return Arrival(day(number, month), show, (f"fish of {show}",), vats)


def test_shows_far_apart_are_groups_of_their_own() -> None:
    found = groups([arrival(20, 7, "ash"), arrival(13, 6, "lark")], four_weeks)
    assert [(one.shows, one.clear) for one in found] == [
        (("lark",), day(11, 7)),
        (("ash",), date(2027, 8, 17)),
    ]


def test_who_joins_starts_the_count_of_all_again() -> None:
    # Lark home 13 June, to 11 July; ash home 4 July: 28 days from then is 1 August.
    (one,) = groups([arrival(13, 6, "lark"), arrival(4, 7, "ash")], four_weeks)
    assert (one.shows, one.first, one.counted_from) == (("lark", "ash"), day(13), day(4, 7))
    assert one.clear == date(2027, 8, 1)
    assert one.fish == ("fish of ash", "fish of lark")


def test_the_strictest_of_their_shows_holds_for_all() -> None:
    # Shared vats ask for 42 days: from 4 July to 15 August, although ash had vats of its own.
    (one,) = groups([arrival(13, 6, "lark", "shared"), arrival(4, 7, "ash")], four_weeks)
    assert one.clear == date(2027, 8, 15)


def test_on_the_day_they_are_cleared_the_vat_is_empty() -> None:
    first, second = groups([arrival(13, 6, "lark"), arrival(11, 7, "ash")], four_weeks)
    assert (first.clear, second.first) == (day(11, 7), day(11, 7))


def test_a_vat_that_clears_nobody_keeps_all_who_come() -> None:
    (one,) = groups([arrival(13, 6, "lark"), arrival(20, 12, "ash")], lambda first, vats: None)
    assert (one.shows, one.clear) == (("lark", "ash"), None)
