"""One order a water and day, the strictest that holds. Every day is worked out by hand."""

from __future__ import annotations

from datetime import date, timedelta

from showprep.husbandry.figures import SHIPPED
from showprep.planning.yard.feeding_orders import (
    Because,
    Order,
    Wish,
    after_show,
    before_sedation,
    before_show,
    orders,
    stayed_behind,
)


def day(number: int, month: int = 6) -> date:
    return date(2027, month, number)


def laid(*wishes: Wish, cold: tuple[date, ...] = ()) -> list[tuple[int, int, float, bool]]:
    """First day, last day (of the year), share and colour food of every order."""
    found = orders(wishes, lambda water, on: on in cold)
    return [
        (one.first.toordinal(), one.last.toordinal(), one.share, one.colour_food) for one in found
    ]


def span(first: date, last: date, share: float, colour: bool) -> tuple[int, int, float, bool]:
    return first.toordinal(), last.toordinal(), share, colour


def in_pond(on: date) -> str:
    return "pond"


def test_a_show_asks_for_colour_food_then_cuts_then_the_fast() -> None:
    # Judging 12 June: 60 days before is 13 April (no colour food, half), 30 days 13 May (quarter);
    # the fast from 4 June to the day before departure, the 10th.
    wishes = before_show(in_pond, "lark", day(12), day(11), day(4), date.min, SHIPPED)
    assert laid(*wishes) == [
        span(day(13, 4), day(12, 5), 0.5, False),
        span(day(13, 5), day(3), 0.25, False),
        span(day(4), day(10), 0, False),
    ]


def test_the_strictest_of_two_shows_holds_and_names_both() -> None:
    one = Wish("pond", day(1), day(10), 0.5, False, Because("cut", "lark"))
    two = Wish("pond", day(5), day(20), 0.25, False, Because("cut", "ash"))
    found = orders([one, two], lambda water, on: False)
    assert found == (
        Order("pond", day(1), day(4), 0.5, False, (Because("cut", "lark"),)),
        Order("pond", day(5), day(20), 0.25, False, (Because("cut", "ash"),)),
    )
    both = orders(
        [one, Wish("pond", day(8), day(12), 0.5, False, Because("cut", "ash"))],
        lambda water, on: False,
    )
    assert [order.asked for order in both] == [(Because("cut", "lark"), Because("cut", "ash"))]


def test_no_day_of_a_water_has_two_orders() -> None:
    wishes = [
        *before_show(in_pond, "lark", day(12), day(11), day(4), date.min, SHIPPED),
        *before_show(in_pond, "ash", day(3, 7), day(2, 7), day(25), date.min, SHIPPED),
        *stayed_behind("pond", "lark", day(11), SHIPPED),
        before_sedation("pond", day(1, 5), 1, "aoi"),
    ]
    days = [
        one.first + timedelta(days=number)
        for one in orders(wishes, lambda water, on: False)
        for number in range(one.days)
    ]
    assert len(days) == len(set(days))


def test_a_fast_is_not_broken_by_who_is_fed_again() -> None:
    # Lark's fish leave on 11 June and the pond would be fed again; ash's fast has begun on the 9th.
    wishes = [
        Wish("pond", day(9), day(20), 0, False, Because("fast", "ash")),
        *stayed_behind("pond", "lark", day(11), SHIPPED),
    ]
    assert [(one.first, one.share) for one in orders(wishes, lambda water, on: False)] == [
        (day(9), 0)
    ]


def test_home_from_a_show_by_steps() -> None:
    # Home 13 June: nothing that day and the next, a third for three days, 60 % to the 20th.
    found = orders(
        after_show(lambda on: "vat", "lark", day(13), date.max, SHIPPED), lambda water, on: False
    )
    assert [(one.first, one.last, round(one.share, 2)) for one in found] == [
        (day(13), day(14), 0),
        (day(15), day(17), 0.33),
        (day(18), day(20), 0.6),
        (day(21), day(21), 1),
    ]
    assert all(one.asked == (Because("home", "lark"),) for one in found)


def test_those_that_stayed_are_fed_on_the_day_the_others_leave() -> None:
    found = orders(stayed_behind("pond", "lark", day(11), SHIPPED), lambda water, on: False)
    assert (found[0].first, found[0].last, round(found[0].share, 2)) == (day(11), day(13), 0.33)


def test_nothing_is_fed_in_water_that_is_too_cold() -> None:
    found = orders(
        after_show(lambda on: "vat", "lark", day(13), date.max, SHIPPED), lambda water, on: True
    )
    assert [(one.first, one.last, one.share) for one in found] == [
        (day(13), day(14), 0),  # the two days after the way home, in any water
        (day(15), day(21), 0),
    ]
    assert found[1].asked == (Because("cold", ""),)


def test_the_order_follows_the_fish_from_water_to_water() -> None:
    def moves(on: date) -> str | None:
        return "pond" if on < day(4) else "vat"

    found = orders(
        before_show(moves, "lark", day(12), day(11), day(4), day(1), SHIPPED),
        lambda water, on: False,
    )
    assert [(one.water, one.first, one.last, one.share) for one in found] == [
        ("pond", day(1), day(3), 0.25),
        ("vat", day(4), day(10), 0),
    ]


def test_a_touch_up_asks_for_no_food_before_it() -> None:
    found = orders([before_sedation("pond", day(5), 2, "aoi")], lambda water, on: False)
    assert [(one.first, one.last, one.share) for one in found] == [(day(3), day(4), 0)]
