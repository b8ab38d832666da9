"""Readings that draw the year's curve, against open temperature records."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from statistics import fmean
from typing import TYPE_CHECKING

import pytest

from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.water import BRIDGE_DAYS, HALF_LIFE_DAYS, YearCurve, measured, steady
from tests.husbandry.ponds import POND, monthly_means

if TYPE_CHECKING:
    from tests.conftest import Outside


DAY = timedelta(days=1)
SPRING = date(2027, 4, 1)


def rms(errors: Iterable[float]) -> float:
    return math.sqrt(fmean(error**2 for error in errors))


def cosine_months(means: Sequence[float]) -> list[float]:
    """The plain cosine year through twelve means (Steele 1978, USGS Open-File Report 78-155)."""
    angles = [2 * math.pi * (month + 0.5) / 12 for month in range(12)]
    cosine = sum(c * math.cos(angle) for c, angle in zip(means, angles, strict=True)) / 6
    sine = sum(c * math.sin(angle) for c, angle in zip(means, angles, strict=True)) / 6
    middle = fmean(means)
    return [middle + cosine * math.cos(angle) + sine * math.sin(angle) for angle in angles]


def lagged(air: dict[date, float], lag_days: float) -> dict[date, float]:
    """Water that follows the air at a first-order lag."""
    days = sorted(air)
    water = fmean(air[day] for day in days[:30])
    found = {}
    for day in days:
        water += (1 - math.exp(-1 / lag_days)) * (air[day] - water)
        found[day] = water
    return found


def months_from(daily: dict[date, float], first: date, last: date) -> list[float]:
    return monthly_means({day: c for day, c in daily.items() if first <= day <= last})


def sea_months(sea: dict[date, float]) -> list[float]:
    return months_from(sea, date(2016, 3, 1), date(2017, 2, 28))


def error_after(
    daily: dict[date, float], curve_on: MeanOn, far: int, half_life: float, every: int = 3
) -> float:
    """Root mean square error [°C] `far` days after single readings."""
    errors = []
    for day in sorted(daily)[::every]:
        then = day + far * DAY
        if then in daily:
            on = measured(curve_on, [(day, daily[day])], half_life_days=half_life)
            errors.append(on(then) - daily[then])
    return rms(errors)


# Held-out days of the Gulf of Maine (bokeh-sampledata) round the plain cosine year that a keeper
# would draw: a reading helps 3, 7 and 14 days on. 0.71 against 1.19, 0.96 against 1.20, 1.12
# against 1.21 °C over all its days.
@pytest.mark.parametrize(("far", "most"), [(3, 0.75), (7, 1.0), (14, 1.15)])
def test_a_reading_helps_at_sea(gulf_of_maine: dict[date, float], far: int, most: float) -> None:
    curve = YearCurve.from_monthly_means(cosine_months(sea_months(gulf_of_maine)))
    with_it = error_after(gulf_of_maine, curve.on, far, HALF_LIFE_DAYS)
    without = error_after(gulf_of_maine, curve.on, far, 1e-6)
    assert with_it < most
    assert with_it < 0.95 * without


# Seattle (vega-datasets), air through a lag of five days, each year round the monthly means of
# the other three: 1.04 against 1.99, 1.57 against 1.99, 1.84 against 2.00 °C.
@pytest.mark.parametrize(("far", "share"), [(3, 0.6), (7, 0.85), (14, 0.95)])
def test_a_reading_helps_a_pond(seattle_air: dict[date, float], far: int, share: float) -> None:
    water = lagged(seattle_air, 5)
    for year in (2012, 2013, 2014, 2015):
        others = {day: c for day, c in water.items() if day.year != year}
        curve = YearCurve.from_monthly_means(monthly_means(others))
        this_year = {day: c for day, c in water.items() if day.year == year}
        with_it = error_after(this_year, curve.on, far, HALF_LIFE_DAYS)
        assert with_it < error_after(this_year, curve.on, far, 1e-6) * (share + 0.15)
    curves = {
        year: YearCurve.from_monthly_means(
            monthly_means({day: c for day, c in water.items() if day.year != year})
        )
        for year in (2012, 2013, 2014, 2015)
    }

    def curve_on(day: date) -> float:
        return curves[day.year].on(day)

    with_it = error_after(water, curve_on, far, HALF_LIFE_DAYS, every=7)
    assert with_it < share * error_after(water, curve_on, far, 1e-6, every=7)


# Gulf of Maine round the means of the very same year: helps after 3 days, harms by no more than
# a tenth after 7 and 14.
@pytest.mark.parametrize(("far", "share"), [(3, 0.85), (7, 1.05), (14, 1.1)])
def test_a_reading_does_little_harm(
    gulf_of_maine: dict[date, float], far: int, share: float
) -> None:
    curve = YearCurve.from_monthly_means(sea_months(gulf_of_maine))
    with_it = error_after(gulf_of_maine, curve.on, far, HALF_LIFE_DAYS, every=1)
    assert with_it < share * error_after(gulf_of_maine, curve.on, far, 1e-6, every=1)


# Weekly and fortnightly readings of the same sea, the days between held out: 0.52 and 0.74 °C
# against 0.82 without.
@pytest.mark.parametrize(("apart", "most"), [(7, 0.57), (14, 0.78)])
def test_readings_between_help_at_sea(
    gulf_of_maine: dict[date, float], apart: int, most: float
) -> None:
    curve = YearCurve.from_monthly_means(sea_months(gulf_of_maine))
    days = sorted(gulf_of_maine)
    read = days[::apart]
    on = measured(curve.on, [(day, gulf_of_maine[day]) for day in read])
    held_out = [day for day in days if day not in read]
    error = rms(on(day) - gulf_of_maine[day] for day in held_out)
    assert error < most
    assert error < rms(curve.on(day) - gulf_of_maine[day] for day in held_out)


# numpy: the mean of a Gaussian process with an exponential covariance, given two known values,
# is what the blend between readings far apart stands for (Uhlenbeck & Ornstein 1930).
def test_blend_beside_numpy(outside: Outside) -> None:
    numpy = outside.module("numpy")
    readings = [(SPRING, 13.0), (SPRING + 40 * DAY, 8.0)]
    on = measured(steady(10), readings, half_life_days=9, bridge_days=39)
    known = numpy.array([0, 40])

    def covariance(first: object, second: object) -> object:
        return 0.5 ** (abs(numpy.subtract.outer(first, second)) / 9)

    weights = numpy.linalg.solve(covariance(known, known), numpy.array([3.0, -2.0]))
    wanted = numpy.arange(-20, 70)
    expected = 10 + covariance(wanted, known) @ weights
    found = [on(SPRING + int(number) * DAY) for number in wanted]
    assert found == pytest.approx(expected, abs=1e-9)


def test_readings_hold_on_their_days_and_fade_both_ways() -> None:
    on = measured(steady(10), [(SPRING, 14.0)], half_life_days=7)
    assert on(SPRING) == 14
    assert on(SPRING + 7 * DAY) == on(SPRING - 7 * DAY) == 12
    assert on(SPRING + 14 * DAY) == 11
    assert on(SPRING + 700 * DAY) == pytest.approx(10)


def test_readings_near_each_other_are_joined_by_a_line() -> None:
    on = measured(steady(10), [(SPRING + BRIDGE_DAYS * DAY, 12.0), (SPRING, 14.0)])
    middle = SPRING + (BRIDGE_DAYS // 2) * DAY
    assert on(middle) == 13
    rising = YearCurve.from_monthly_means(POND)
    ends = [(day, rising.on(day) + 1) for day in (SPRING, SPRING + 10 * DAY)]
    assert measured(rising.on, ends)(middle) == pytest.approx(rising.on(middle) + 1)


def test_two_readings_of_a_day_are_averaged_and_none_leaves_the_curve() -> None:
    assert measured(steady(10), [(SPRING, 12.0), (SPRING, 13.0)])(SPRING) == 12.5
    assert measured(steady(10), [])(SPRING) == 10


def test_a_hot_reading_boils_no_other_day() -> None:
    on = measured(lambda day: 10 if day < date(2027, 5, 1) else 38, [(date(2027, 4, 30), 30)])
    assert on(date(2027, 5, 1)) == 40


def test_a_cold_reading_freezes_no_other_day() -> None:
    on = measured(steady(1), [(SPRING, 4.0), (SPRING + 60 * DAY, 0.0)])
    warm_curve = measured(lambda day: 6.0 if day == SPRING else 1.0, [(SPRING, 0.0)])
    assert on(SPRING + 60 * DAY) == 0
    assert warm_curve(SPRING + DAY) == 0


@pytest.mark.parametrize(
    ("readings", "half_life", "bridge"),
    [([(SPRING, 55.0)], 7, 14), ([(SPRING, math.nan)], 7, 14), ([], 0, 14), ([], 7, -1)],
)
def test_wrong_readings_are_refused(
    readings: list[tuple[date, float]], half_life: float, bridge: int
) -> None:
    with pytest.raises(ValueError, match=r"cannot be right|half-life"):
        measured(steady(10), readings, half_life, bridge)
