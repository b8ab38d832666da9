"""Departures of a water from its curve: check values, and NumPy and SciPy working out the same."""

from __future__ import annotations

import math
from datetime import date, timedelta
from typing import TYPE_CHECKING

import pytest

from showprep.husbandry.warmth_ahead import (
    Warmth,
    along_course,
    clipped_day,
    held_steady,
)
from showprep.husbandry.water_departures import Departures, Kernel, departures_given

if TYPE_CHECKING:
    from tests.conftest import Outside

START = date(2027, 5, 3)
FLAT = Kernel(by_month=(1.0,) * 12)
READ = ((0, 1.5), (7, 2.0), (14, 2.5))


def day(number: int) -> date:
    return START + timedelta(days=number)


def of_readings(first: int, last: int) -> Departures:
    readings = [(day(number), c) for number, c in READ]
    return departures_given(readings, day(first), day(last), FLAT, learn_spread=False)


# SciPy 1.17.1, worked out apart from any planner: s1 1.92, l 4.03, s2 1.18, u 43.3, g 1.
def test_kernel_check_values() -> None:
    known = [5.0788, 4.7900, 3.6238, 1.9140, 1.0708, 0.7296]
    assert [FLAT.at_lag(lag) for lag in (0, 1, 3, 7, 14, 28)] == pytest.approx(known, abs=5e-5)


# The same.
def test_conditioning_check_values() -> None:
    found = of_readings(15, 42)
    means = [found.means_c[at - 15] for at in (15, 21, 28, 42)]
    spreads = [math.sqrt(found.covariance[at - 15][at - 15]) for at in (15, 21, 28, 42)]
    assert means == pytest.approx([2.3042, 1.0606, 0.6786, 0.4731], abs=5e-5)
    assert spreads == pytest.approx([0.7981, 2.0771, 2.1865, 2.2211], abs=5e-5)
    assert found.covariance[21 - 15][28 - 15] == pytest.approx(1.4528, abs=5e-5)
    assert found.log_density == pytest.approx(-5.8469, abs=5e-5)


# The same: curve 18 °C, days 15 to 42 over 8 °C; nothing is clipped when the days are added plain.
def test_sum_check_values() -> None:
    found = of_readings(15, 42)
    mean = math.fsum(18 + c - 8 for c in found.means_c)
    spread = math.sqrt(math.fsum(math.fsum(row) for row in found.covariance))
    alone = math.sqrt(math.fsum(found.covariance[at][at] for at in range(28)))
    assert (mean, spread, alone) == pytest.approx((304.6354, 36.4086, 11.0028), abs=5e-5)
    warmth = Warmth(day(15), [18 + c for c in found.means_c], found.covariance)
    span = (day(14), day(42))
    assert warmth.mean(8, span) == pytest.approx(304.6354, abs=0.05)
    assert math.sqrt(warmth.variance(8, span)) == pytest.approx(36.4086, abs=0.05)


# The same.
def test_clipped_day_check_values() -> None:
    assert clipped_day(10, 2.2)[0] == pytest.approx(2.2173, abs=5e-5)
    assert clipped_day(25, 2.2)[0] == pytest.approx(16.5332, abs=5e-5)


# numpy's plain linear algebra and scipy's normal density, with months, a year and a learned spread.
def test_conditioning_beside_numpy(outside: Outside) -> None:
    numpy, stats = outside.module("numpy"), outside.module("scipy.stats")
    kernel = Kernel(year_c=0.4)
    readings = [
        (day(7 * number - 40), (0.4, -1.2, 0.9, 2.2, 1.0, -0.3)[number]) for number in range(6)
    ]
    days = [day(number) for number in range(-45, 60)]
    found = departures_given(readings, days[0], days[-1], kernel)

    def k(one: list[date], other: list[date]) -> object:
        return numpy.array([[kernel.between(a, b) for b in other] for a in one])

    at = [one for one, _ in readings]
    y = numpy.array([c for _, c in readings])
    both = k(at, at) + 0.09 * numpy.eye(6)
    inverse = numpy.linalg.inv(both)
    cross = k(days, at)
    spread = (8 + y @ inverse @ y) / 14
    assert found.spread == pytest.approx(spread)
    assert found.means_c == pytest.approx(cross @ inverse @ y, abs=1e-9)
    expected = spread * (k(days, days) - cross @ inverse @ cross.T)
    assert numpy.abs(numpy.array(found.covariance) - expected).max() < 1e-9
    density = stats.multivariate_normal(numpy.zeros(6), both).logpdf(y)
    assert found.log_density == pytest.approx(density)


# scipy.integrate over the normal density of a day.
def test_clipped_day_beside_scipy(outside: Outside) -> None:
    integrate, norm = outside.module("scipy.integrate"), outside.module("scipy.stats").norm
    for mean, spread, base in ((3, 2, 2), (9, 2.5, 5), (7, 1, 8), (26, 2, 8), (31, 2.2, 5)):

        def given(
            c: float, mean: float = mean, spread: float = spread, base: float = base
        ) -> float:
            return float(max(0.0, min(c, 26) - base) * norm.pdf(c, mean, spread))

        exact = integrate.quad(given, mean - 12 * spread, mean + 12 * spread, points=[base, 26])[0]
        assert clipped_day(mean, spread, base)[0] == pytest.approx(exact, abs=1e-6)
        step = 1e-4  # the share that counts is the slope of the mean
        slope = (
            clipped_day(mean + step, spread, base)[0] - clipped_day(mean - step, spread, base)[0]
        )
        assert clipped_day(mean, spread, base)[1] == pytest.approx(slope / (2 * step), abs=1e-6)


# A simulation with numpy's generator: spread and mean of sums of clipped days in cool water.
def test_sum_of_clipped_days_beside_simulation(outside: Outside) -> None:
    numpy = outside.module("numpy")
    found = departures_given([(day(0), 1.0)], day(1), day(40), FLAT)
    means = [9.5 + 0.1 * at + c for at, c in enumerate(found.means_c)]
    paths = numpy.random.default_rng(7).multivariate_normal(means, found.covariance, 40000)
    warmth = Warmth(day(1), means, found.covariance)
    for base in (2.0, 5.0, 8.0):
        sums = numpy.clip(paths[:, 10:], base, 26).sum(axis=1) - base * 30
        span = (day(10), day(40))
        assert warmth.mean(base, span) == pytest.approx(sums.mean(), rel=0.01)
        assert math.sqrt(warmth.variance(base, span)) == pytest.approx(sums.std(), rel=0.06)


def test_covariance_of_spans_adds_up() -> None:
    found = departures_given([], day(0), day(30), FLAT)
    warmth = Warmth(day(0), [15.0] * 31, found.covariance)
    whole, early, late = (day(3), day(30)), (day(3), day(12)), (day(12), day(30))
    parts = warmth.variance(5, early) + warmth.variance(5, late)
    parts += 2 * warmth.covariance(5, early, late)
    assert warmth.variance(5, whole) == pytest.approx(parts)
    assert warmth.covariance(5, whole, whole) == warmth.variance(5, whole)


def test_a_reading_pins_the_path_and_one_far_away_does_not() -> None:
    found = departures_given([(day(5), 3.0)], day(5), day(140))
    assert found.means_c[0] == pytest.approx(3.0, abs=0.1)
    assert math.sqrt(found.covariance[0][0]) < 0.5
    assert abs(found.means_c[-1]) < 0.1
    without = departures_given([(day(400), 9.0)], day(5), day(140))
    assert without.readings == 0 and set(without.means_c) == {0.0}


def test_a_quiet_water_is_known_better_than_a_wild_one() -> None:
    weeks = range(-84, 1, 7)
    quiet = departures_given([(day(at), 0.1) for at in weeks], day(0), day(30))
    wild = departures_given([(day(at), 5.0 * (-1) ** at) for at in weeks], day(0), day(30))
    assert quiet.spread < 0.5 < 1 < wild.spread


def test_daily_readings_are_thinned_far_back_only() -> None:
    found = departures_given([(day(at), 1.0) for at in range(-100, 1)], day(0), day(10))
    assert found.readings == 28 + 24


def test_course_through_a_vat_and_back_shares_the_path_of_the_pond() -> None:
    pond = departures_given([], day(0), day(29), FLAT)
    waters = [pond] * 10 + [None] * 10 + [pond] * 10
    warmth = along_course(day(0), [15.0] * 30, waters)
    vat = (day(9), day(19))
    assert warmth.variance(5, vat) == 0
    before, after = (day(0), day(9)), (day(19), day(29))
    plain = Warmth(day(0), [15.0] * 30, pond.covariance)
    assert warmth.covariance(5, before, after) == pytest.approx(plain.covariance(5, before, after))
    assert warmth.variance(5, (day(0), day(29))) < plain.variance(5, (day(0), day(29)))
    other = departures_given([], day(0), day(29), FLAT)
    moved = along_course(day(0), [15.0] * 30, [pond] * 15 + [other] * 15)
    assert moved.covariance(5, (day(0), day(14)), (day(14), day(29))) == 0


def test_days_that_are_not_known_are_refused() -> None:
    warmth = held_steady(day(0), [20.0] * 10)
    assert warmth.mean(8, (day(0), day(9))) == pytest.approx(108)
    assert warmth.mean(8, (day(5), day(5))) == 0
    for span in ((day(-2), day(5)), (day(3), day(10))):
        with pytest.raises(ValueError, match="not known"):
            warmth.mean(8, span)
    with pytest.raises(ValueError, match="lies before"):
        departures_given([], day(5), day(4))
    with pytest.raises(ValueError, match="outside"):
        along_course(day(5), [9.0] * 10, [departures_given([], day(0), day(9))] * 10)


def test_one_more_reading_is_the_same_as_having_read_it_at_first() -> None:
    """`Warmth.after_reading` beside the departures worked out anew with that reading."""
    first, last, day = date(2027, 4, 1), date(2027, 5, 15), date(2027, 4, 20)
    read = [(date(2027, 3, 20), 1.0), (date(2027, 4, 3), 1.8)]
    before = departures_given(read, first, last, learn_spread=False)
    warmth = Warmth(first, [12 + c for c in before.means_c], before.covariance)
    at = (day - first).days
    size = math.sqrt(before.covariance[at][at] + 0.3**2)
    for far in (-1.3, 0.0, 0.7):
        more = [*read, (day, before.means_c[at] + far * size)]
        anew = departures_given(more, first, last, learn_spread=False)
        told = warmth.after_reading(day, far, 0.3)
        assert told.means_c == pytest.approx([12 + c for c in anew.means_c], abs=1e-9)
        span = (date(2027, 4, 10), last)
        right = Warmth(first, [12 + c for c in anew.means_c], anew.covariance)
        assert told.variance(2.0, span) == pytest.approx(right.variance(2.0, span), rel=1e-6)
    with pytest.raises(ValueError, match="not known here"):
        warmth.after_reading(date(2027, 6, 1), 0.0, 0.3)
