"""The year's curve and moves between waters, against open temperature records."""

from __future__ import annotations

import math
from calendar import monthrange
from collections.abc import Iterable
from datetime import date, timedelta
from itertools import pairwise
from statistics import fmean
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from showprep.husbandry.thermal_time import gathered
from showprep.husbandry.water import (
    PLAUSIBLE_C,
    YearCurve,
    moved_on,
    ramped,
    steady,
)
from tests.husbandry.ponds import POND, monthly_means

if TYPE_CHECKING:
    from tests.conftest import Outside


DAY = timedelta(days=1)
SPRING = date(2027, 4, 1)


def month_of(curve: YearCurve, year: int, month: int) -> float:
    days = range(1, monthrange(year, month)[1] + 1)
    return fmean(curve.on(date(year, month, day)) for day in days)


def year_of(curve: YearCurve, year: int = 2027) -> list[float]:
    return [curve.on(date(year, 1, 1) + number * DAY) for number in range(365)]


def rms(errors: Iterable[float]) -> float:
    return math.sqrt(fmean(error**2 for error in errors))


def months_from(daily: dict[date, float], first: date, last: date) -> list[float]:
    return monthly_means({day: c for day, c in daily.items() if first <= day <= last})


def sea_months(sea: dict[date, float]) -> list[float]:
    return months_from(sea, date(2016, 3, 1), date(2017, 2, 28))


# Open data: bokeh-sampledata, sea surface temperature; means worked out apart from this code.
def test_curve_gives_back_the_months_of_the_sea(gulf_of_maine: dict[date, float]) -> None:
    means = sea_months(gulf_of_maine)
    known = [6.286, 5.250, 4.668, 5.878, 9.100, 13.974]
    known += [18.218, 19.093, 17.443, 14.402, 11.078, 8.702]
    assert means == pytest.approx(known, abs=0.0006)
    curve = YearCurve.from_monthly_means(means)
    for year in (2016, 2017, 2100):
        for month in range(1, 13):
            assert month_of(curve, year, month) == pytest.approx(means[month - 1], abs=0.05)


# The same: day by day the curve is nearer the sea than the best cosine (rmse 1.183 °C over
# these 402 days), and its degree-days over 8 °C nearer the real year's 1485.43 than 1 %.
def test_curve_follows_the_days_of_the_sea(gulf_of_maine: dict[date, float]) -> None:
    curve = YearCurve.from_monthly_means(sea_months(gulf_of_maine))
    assert rms(c - curve.on(day) for day, c in gulf_of_maine.items()) < 0.83
    year = gathered(date(2016, 2, 29), date(2017, 2, 28), curve.on)
    assert year == pytest.approx(1485.43, rel=0.01)


# Open data: vega-datasets, Seattle weather; means worked out apart from this code.
def test_curve_gives_back_the_months_of_seattle(seattle_air: dict[date, float]) -> None:
    means = monthly_means(seattle_air)
    known = [5.463, 6.958, 8.623, 10.691, 14.455, 17.322]
    known += [20.098, 20.441, 17.141, 12.870, 7.862, 5.760]
    assert means == pytest.approx(known, abs=0.0006)
    curve = YearCurve.from_monthly_means(means)
    for month in range(1, 13):
        assert month_of(curve, 2012, month) == pytest.approx(means[month - 1], abs=0.05)
        assert month_of(curve, 2013, month) == pytest.approx(means[month - 1], abs=0.05)


# Monthly averages of a cosine have their amplitude times sin(pi/12)/(pi/12) (elementary
# integral); the curve must give the cosine's own days back from them.
def test_curve_gives_back_a_cosine_from_its_months() -> None:
    middle, amplitude, peak = 11.5, 8.0, 208.0

    def true(day_number: float) -> float:
        return middle + amplitude * math.cos(2 * math.pi * (day_number - peak) / 365)

    days = [true(number + 0.5) for number in range(365)]
    first = date(2027, 1, 1)
    means = monthly_means({first + number * DAY: c for number, c in enumerate(days)})
    curve = YearCurve.from_monthly_means(means)
    assert year_of(curve) == pytest.approx(days, abs=0.06)


# numpy solves the same spline as one set of equations.
def test_curve_beside_numpy(outside: Outside) -> None:
    numpy = outside.module("numpy")
    days = [31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    matrix, right = numpy.zeros((12, 12)), numpy.zeros(12)
    for month in range(12):
        before, here = 1 / days[month - 1], 1 / days[month]
        matrix[month, month - 1] += before
        matrix[month, month] += 2 * (before + here)
        matrix[month, (month + 1) % 12] += here
        right[month] = 3 * (POND[month - 1] * before + POND[month] * here)
    ends = numpy.linalg.solve(matrix, right)
    curve = YearCurve.from_monthly_means(POND)
    start, end, mean = ends[6], ends[7], POND[6]
    share = (numpy.arange(31 * 1000) + 0.5) / 31000
    parabola = start + (end - start) * share + 6 * (mean - (start + end) / 2) * share * (1 - share)
    july = parabola.reshape(31, 1000).mean(axis=1)
    assert [curve.on(date(2027, 7, day)) for day in range(1, 32)] == pytest.approx(july, abs=1e-6)


def test_curve_is_smooth_over_the_ends_of_months_and_years() -> None:
    curve = YearCurve.from_monthly_means(POND)
    days = [curve.on(date(2026, 12, 1) + number * DAY) for number in range(800)]
    steps = [late - early for early, late in pairwise(days)]
    bends = [abs(late - early) for early, late in pairwise(steps)]
    assert max(map(abs, steps)) < 0.16
    assert max(bends) < 0.01


def test_leap_day_lies_between_its_neighbours() -> None:
    curve = YearCurve.from_monthly_means(POND)
    assert curve.on(date(2028, 2, 28)) < curve.on(date(2028, 2, 29)) < curve.on(date(2028, 3, 1))


def test_flat_year_is_flat_and_ice_stays_ice() -> None:
    assert year_of(YearCurve.from_monthly_means([20.0] * 12)) == pytest.approx([20.0] * 365)
    frozen = year_of(YearCurve.from_monthly_means([0, 0, 2, 8, 14, 18, 20, 19, 15, 9, 4, 0]))
    assert min(frozen) >= 0
    assert frozen[:31] == pytest.approx([0.0] * 31)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.lists(st.floats(0, 30), min_size=12, max_size=12))
def test_any_months_come_back_and_none_goes_below_ice(means: list[float]) -> None:
    curve = YearCurve.from_monthly_means(means)
    assert min(year_of(curve)) >= -1e-9
    for month in range(1, 13):
        assert month_of(curve, 2028, month) == pytest.approx(means[month - 1], abs=1e-6)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(3, 8), st.lists(st.floats(-2, 2), min_size=12, max_size=12))
def test_curve_hardly_overshoots(amplitude: float, odd: list[float]) -> None:
    means = [12 - amplitude * math.cos(math.pi * month / 6) + odd[month] for month in range(12)]
    spread = max(means) - min(means)
    neighbours = zip(means, [*means[1:], means[0]], strict=True)
    assume(max(abs(late - early) for early, late in neighbours) <= spread * 2 / 3)
    year = year_of(YearCurve.from_monthly_means(means))
    assert min(year) >= min(means) - 0.1 * spread - 1e-9
    assert max(year) <= max(means) + 0.1 * spread + 1e-9


def test_wrong_months_are_refused() -> None:
    with pytest.raises(ValueError, match="twelve monthly means, not 11"):
        YearCurve.from_monthly_means(POND[:11])
    for wrong in (68.0, -3.0, math.nan):
        with pytest.raises(ValueError, match="cannot be right"):
            YearCurve.from_monthly_means((*POND[:11], wrong))


def test_steady_water_is_steady() -> None:
    assert {steady(22)(SPRING + number * DAY) for number in range(400)} == {22.0}
    with pytest.raises(ValueError, match="cannot be right"):
        steady(PLAUSIBLE_C[1] + 0.1)


def test_moved_fish_takes_the_new_water_that_day() -> None:
    on = moved_on(steady(10), steady(22), SPRING)
    assert [on(SPRING + number * DAY) for number in (-1, 0, 1)] == [10, 22, 22]


def test_ramp_starts_from_the_pond_and_meets_the_vat() -> None:
    on = ramped(steady(10), steady(15), SPRING, 2)
    assert [on(SPRING + number * DAY) for number in (-1, 0, 1, 2, 3, 4)] == [10, 10, 12, 14, 15, 15]
    cooled = ramped(steady(15), steady(10), SPRING, 2)
    assert [cooled(SPRING + number * DAY) for number in (0, 1, 2, 3)] == [15, 13, 11, 10]


def test_ramp_answers_alike_in_any_order() -> None:
    pond = YearCurve.from_monthly_means(POND)
    days = [SPRING + number * DAY for number in range(-3, 30)]
    forwards = ramped(pond.on, steady(22), SPRING, 1.5)
    backwards = ramped(pond.on, steady(22), SPRING, 1.5)
    assert [forwards(day) for day in days] == [backwards(day) for day in days[::-1]][::-1]


def test_ramp_follows_a_water_once_it_has_met_it() -> None:
    pond = YearCurve.from_monthly_means(POND)
    on = ramped(steady(20), pond.on, SPRING, 3)
    assert on(SPRING + 20 * DAY) == pond.on(SPRING + 20 * DAY)


@pytest.mark.parametrize("c_per_day", [0.0, -1.0, math.nan])
def test_ramp_without_a_rate_is_refused(c_per_day: float) -> None:
    with pytest.raises(ValueError, match="more than 0 °C a day"):
        ramped(steady(10), steady(15), SPRING, c_per_day)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(st.floats(2, 30), st.floats(2, 30), st.floats(0.1, 5))
def test_ramp_never_goes_faster_than_told(start: float, end: float, rate: float) -> None:
    on = ramped(steady(start), steady(end), SPRING, rate)
    days = [on(SPRING + number * DAY) for number in range(300)]
    steps = [abs(late - early) for early, late in pairwise(days)]
    assert max(steps) <= rate + 1e-9
    assert days[-1] == end
