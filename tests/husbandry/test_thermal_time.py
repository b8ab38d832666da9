"""Thermal time against published arithmetic and open temperature records."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.thermal_time import (
    MeanOn,
    degree_days,
    first_day,
    gathered,
    latest_start,
    thermal_sum,
)

if TYPE_CHECKING:
    from tests.conftest import Outside


START = date(2026, 5, 1)
WARMING = [12, 13, 14, 15, 16, 17, 18, 18, 19, 20, 20, 21, 21, 22, 22]
WARMING += [22, 23, 23, 24, 24, 24, 25, 25, 25, 26, 27, 28, 28, 27, 26]


def at(c: float) -> MeanOn:
    return lambda _: c


def series(means: list[float]) -> MeanOn:
    """Day 1 of the list is the day after START; after its end the water freezes."""

    def on(day: date) -> float:
        number = (day - START).days - 1
        return means[number] if 0 <= number < len(means) else 0.0

    return on


def day_number(found: date | None) -> int | None:
    return None if found is None else (found - START).days


# Made by hand for this law (base 8, cap 26), not published.
def test_cold_days_give_nothing() -> None:
    means = [6, 7, 8, 9, 10, 11, 12, 9, 7, 6]
    assert [degree_days(mean) for mean in means] == [0, 0, 0, 1, 2, 3, 4, 1, 0, 0]
    assert thermal_sum(means) == 11
    assert thermal_sum(means, base_c=0, cap_c=math.inf) == 85


# Made by hand for this law (base 8, cap 26), not published.
@pytest.mark.parametrize(
    ("number", "total"), [(9, 70), (12, 107), (18, 192), (24, 291), (26, 327), (30, 399)]
)
def test_warming_month_sums(number: int, total: float) -> None:
    on = series([float(mean) for mean in WARMING])
    assert gathered(START, START + timedelta(days=number), on) == total


@pytest.mark.parametrize(("requirement", "number"), [(180, 18), (320, 26), (400, None)])
def test_warming_month_first_days(requirement: float, number: int | None) -> None:
    on = series([float(mean) for mean in WARMING])
    assert day_number(first_day(START, requirement, 0, on)) == number


def test_warming_month_over_no_base() -> None:
    on = series([float(mean) for mean in WARMING])
    for number, total in [(24, 483), (25, 509), (30, 645)]:
        end = START + timedelta(days=number)
        assert gathered(START, end, on, base_c=0, cap_c=math.inf) == total
    assert day_number(first_day(START, 500, 0, on, base_c=0, cap_c=math.inf)) == 25


@pytest.mark.parametrize(("c", "days"), [(20, 15), (15, 26), (8, None), (30, 10), (12, 45)])
def test_steady_water(c: float, days: int | None) -> None:
    assert day_number(first_day(START, 180, 0, at(c))) == days


# Regulation (EU) 2019/6 article 115: withdrawal periods in degree-days of mean water temperature
# over 0 °C; fractions of a day round up. 500 where a product is not for food animals, 25 where
# the longest period is zero, 1.5 times the longest aquatic period, 50 times the longest of other
# animals and at most 500.
EXACT_DAYS = [
    (500, 5, 100.0), (500, 8, 62.5), (500, 10, 50.0), (500, 12, 41.67), (500, 15, 33.33),
    (500, 18, 27.78), (500, 20, 25.0), (500, 22, 22.73), (500, 25, 20.0),
    (25, 8, 3.13), (25, 10, 2.5), (25, 12, 2.08), (25, 15, 1.67), (25, 20, 1.25), (25, 25, 1.0),
    (135 * 1.5, 12, 16.88), (135 * 1.5, 15, 13.5), (135 * 1.5, 8, 25.31),
    (5 * 50, 15, 16.67), (5 * 50, 10, 25.0),
    (min(28 * 50, 500), 20, 25.0),
]  # fmt: skip
WHOLE_DAYS = [100, 63, 50, 42, 34, 28, 25, 23, 20, 4, 3, 3, 2, 2, 1, 17, 14, 26, 17, 25, 25]


@pytest.mark.parametrize(
    ("requirement", "c", "exact", "whole"),
    [(*row, whole) for row, whole in zip(EXACT_DAYS, WHOLE_DAYS, strict=True)],
)
def test_withdrawal_periods(requirement: float, c: float, exact: float, whole: int) -> None:
    a_day = degree_days(c, base_c=0, cap_c=math.inf)
    assert requirement / a_day == pytest.approx(exact, abs=0.0051)
    found = first_day(START, requirement, 0, at(c), base_c=0, cap_c=math.inf)
    assert day_number(found) == whole
    assert found is not None
    assert latest_start(found, requirement, 0, at(c), START, base_c=0, cap_c=math.inf) == START


# Chinese veterinary rule, 500 degree-days: 20 d at 25 °C, 25 d at 20 °C.
# A dictionary of ichthyology, "degree-day": 30 d at 20 °C over a base of 10 °C make 300.
# The same: carp eggs hatch in 3 to 7 d at 18 °C, 54 to 126 degree-days.
@pytest.mark.parametrize(
    ("days", "c", "base", "total"),
    [(20, 25, 0, 500), (25, 20, 0, 500), (30, 20, 10, 300), (3, 18, 0, 54), (7, 18, 0, 126)],
)
def test_degree_days_in_print(days: int, c: float, base: float, total: float) -> None:
    end = START + timedelta(days=days)
    assert gathered(START, end, at(c), base_c=base, cap_c=math.inf) == total


# Open data: bokeh-sampledata, sea surface temperature; values worked out apart from this code.
def test_a_real_year_of_water(gulf_of_maine: dict[date, float]) -> None:
    sea = gulf_of_maine
    assert len(sea) == 402
    year = gathered(date(2016, 2, 29), date(2017, 2, 28), sea.__getitem__)
    assert year == pytest.approx(1485.43, abs=0.005)


@pytest.mark.parametrize(
    ("c", "first", "last", "days"),
    [
        (8, date(2016, 5, 11), date(2016, 12, 21), 222),
        (10, date(2016, 5, 23), date(2016, 12, 8), 195),
        (15, date(2016, 6, 26), date(2016, 10, 9), 100),
        (18, date(2016, 7, 13), date(2016, 9, 15), 60),
        (20, date(2016, 7, 26), date(2016, 8, 17), 13),
    ],
)
def test_first_and_last_warm_days(
    gulf_of_maine: dict[date, float], c: float, first: date, last: date, days: int
) -> None:
    sea = gulf_of_maine
    below = c - 1e-6  # a day of exactly c counts as warm
    begin, end = min(sea), max(sea)
    least = 1e-6 / 2
    on = sea.__getitem__
    assert first_day(begin, least, 0, on, until=end, base_c=below, cap_c=99) == first
    start = latest_start(end, least, 0, on, begin, base_c=below, cap_c=99)
    assert start == last - timedelta(days=1)
    assert sum(degree_days(mean, below, 99) > 0 for mean in sea.values()) == days


# Same open data: a speck taken off on 2016-06-01 beside numpy's cumulative sum.
def test_first_day_beside_numpy(outside: Outside, gulf_of_maine: dict[date, float]) -> None:
    numpy = outside.module("numpy")
    sea = gulf_of_maine
    after = date(2016, 6, 1)
    days = sorted(day for day in sea if day > after)
    warmth = numpy.cumsum(numpy.clip([sea[day] for day in days], 8, 26) - 8)
    for requirement in (100, 180, 320):
        expected = days[int(numpy.argmax(warmth >= requirement))]
        assert first_day(after, requirement, 7, sea.__getitem__, until=days[-1]) == expected


def test_fifteen_days_of_awkward_fractions_make_the_sum() -> None:
    assert day_number(first_day(START, 1.5, 0, at(8.1))) == 15
    finish = START + timedelta(days=15)
    assert latest_start(finish, 1.5, 0, at(8.1), START) == START


def test_the_day_itself_counts_for_nothing() -> None:
    def on(day: date) -> float:
        return 26.0 if day == START else 9.0

    assert gathered(START, START, on) == 0
    assert day_number(first_day(START, 5, 0, on)) == 5


def test_least_days_hold_in_warm_water() -> None:
    assert day_number(first_day(START, 100, 7, at(26))) == 7
    assert latest_start(START, 100, 7, at(26), date(2026, 1, 1)) == START - timedelta(days=7)


def test_nothing_asked_is_reached_at_once() -> None:
    assert first_day(START, 0, 0, at(5)) == START
    assert latest_start(START, 0, 0, at(5), START) == START
    assert first_day(START, 0, 3, at(5)) == START + timedelta(days=3)


def test_never_within_the_time_allowed() -> None:
    assert first_day(START, 60, 0, at(20), until=START + timedelta(days=4)) is None
    assert first_day(START, 0, 9, at(20), until=START + timedelta(days=4)) is None
    assert latest_start(START, 60, 0, at(20), START - timedelta(days=4)) is None
    assert latest_start(START, 60, 0, at(20), START - timedelta(days=5)) is not None


def test_wrong_input_is_refused() -> None:
    for wrong in (math.nan, -1.0):
        with pytest.raises(ValueError, match="requirement"):
            first_day(START, wrong, 0, at(20))
    with pytest.raises(ValueError, match="least number"):
        latest_start(START, 10, -1, at(20), START)
    with pytest.raises(ValueError, match="not a number"):
        degree_days(math.nan)
    with pytest.raises(ValueError, match="above the base"):
        degree_days(20, base_c=8, cap_c=8)


weeks = st.lists(st.floats(0, 30), min_size=5, max_size=60)
needs = st.floats(0, 400)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(weeks, needs, st.integers(0, 20), st.floats(0, 5))
def test_warmer_water_never_heals_later(
    means: list[float], need: float, least: int, more: float
) -> None:
    until = START + timedelta(days=len(means))
    cool = first_day(START, need, least, series(means), until)
    warm = first_day(START, need, least, series([mean + more for mean in means]), until)
    assert cool is None or (warm is not None and warm <= cool)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(weeks, needs, st.integers(0, 20))
def test_latest_start_is_the_last_that_is_in_time(
    means: list[float], need: float, least: int
) -> None:
    on = series(means)
    deadline = START + timedelta(days=len(means))
    latest = latest_start(deadline, need, least, on, START)
    if latest is None:
        found = first_day(START, need, least, on, deadline)
        assert found is None
        return
    in_time = first_day(latest, need, least, on)
    assert in_time is not None
    assert in_time <= deadline
    late = first_day(latest + timedelta(days=1), need, least, on)
    assert late is None or late > deadline
