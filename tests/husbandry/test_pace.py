"""A yard's own pace: known figures found again, and two libraries that healing_days the same.

Invented data never checks the model against the world, only the reckoning: simulated looks with
known parameters, scipy's censored fit (scipy.stats.CensoredData), scipy's integration, and
lifelines' interval-censored log-normal.
"""

from __future__ import annotations

import math
import random
import warnings
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.pace import (
    Bounds,
    Figures,
    Prior,
    is_enough,
    learn,
    posterior,
    worth,
)
from showprep.husbandry.pace_water import curve_offset
from tests.storms import storm

SPECK = Figures(100, 180, 320)


def looks(middle: float, scatter: float, count: int, chance: random.Random) -> list[Bounds]:
    """Looks a fishkeeper would take: a first one, then about weekly, some given up."""
    found = []
    for _ in range(count):
        needed = middle * math.exp(chance.gauss(0, scatter))
        low, look = 0.0, chance.uniform(0.4, 0.9) * middle
        for _ in range(4):
            if needed <= look:
                found.append(Bounds(low, look))
                break
            low, look = look, look + 0.35 * middle
        else:
            found.append(Bounds(low))
    return found


@pytest.mark.parametrize("middle", [140.0, 180.0, 250.0, 330.0][:: storm(3, 1)])
@pytest.mark.parametrize("scatter", [0.15, 0.3])
def test_known_figures_are_found_again(middle: float, scatter: float) -> None:
    found = []
    for run in range(6):
        pace = learn(SPECK, looks(middle, scatter, 40, random.Random(run)))
        found.append(pace.own.usual / middle)
        assert pace.enough
        assert abs(math.log(found[-1])) < 4 * scatter / math.sqrt(20)
    assert abs(math.log(sum(found) / len(found))) < 0.08


def test_nine_fish_in_ten_fall_between_own_low_and_own_high() -> None:
    chance = random.Random(11)
    pace = learn(SPECK, looks(250, 0.25, 60, chance))
    needed = [250 * math.exp(chance.gauss(0, 0.25)) for _ in range(4000)]
    inside = sum(pace.own.low < need <= pace.own.high for need in needed) / len(needed)
    assert 0.85 < inside < 0.97


def test_the_best_fit_agrees_with_scipy(outside: Any) -> None:
    """With next to no prior, the middle is that of scipy.stats' fit to the same looks."""
    stats = outside.module("scipy.stats")
    for run in range(4):
        seen = looks(200, 0.3, 80, random.Random(run))
        data = stats.CensoredData(
            left=[math.log(look.high) for look in seen if look.low == 0],
            right=[math.log(look.low) for look in seen if look.high == math.inf],
            interval=[
                (math.log(look.low), math.log(look.high))
                for look in seen
                if look.low > 0 and look.high < math.inf
            ],
        )
        mean, spread = stats.norm.fit(data)
        known = posterior(Prior(math.log(180), 5.0, 0.3), seen)
        assert known.middle == pytest.approx(mean, abs=0.01)
        assert known.scatter == pytest.approx(spread, rel=0.12)


def test_the_best_fit_agrees_with_lifelines(outside: Any) -> None:
    """The same against lifelines' LogNormalFitter.fit_interval_censoring."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        lifelines = outside.module("lifelines")
        seen = looks(200, 0.3, 80, random.Random(5))
        fitter = lifelines.LogNormalFitter().fit_interval_censoring(
            [look.low for look in seen], [look.high for look in seen]
        )
    known = posterior(Prior(math.log(180), 5.0, 0.3), seen)
    assert known.middle == pytest.approx(fitter.mu_, abs=0.01)
    assert known.scatter == pytest.approx(fitter.sigma_, rel=0.12)


def test_the_grid_agrees_with_scipys_integration(outside: Any) -> None:
    """The middle and its spread, under the table's own prior, by adaptive quadrature."""
    integrate = outside.module("scipy.integrate")
    ndtr = outside.module("scipy.special").ndtr
    seen = [Bounds(90, 150), Bounds(140), Bounds(0, 260), Bounds(180, 240)]
    prior = Prior.of(SPECK)

    def weight(shift: float, middle: float) -> float:
        s = prior.scatter * math.exp(shift)
        told = 1.0
        for look in seen:
            a = math.log(look.low) if look.low else -math.inf
            told *= ndtr((math.log(look.high) - middle) / s) - ndtr((a - middle) / s)
        off = (middle - prior.middle) / prior.yard_spread
        return float(told * math.exp(-(off**2 + (shift / 0.3) ** 2) / 2))

    span = (prior.middle - 1.5, prior.middle + 1.5, -0.9, 0.9)
    moments = [
        integrate.dblquad(lambda y, x, p=power: x**p * weight(y, x), *span, epsrel=1e-5)[0]
        for power in (0, 1, 2)
    ]
    mean = moments[1] / moments[0]
    known = posterior(prior, seen)
    assert known.middle == pytest.approx(mean, abs=1e-3)
    spread = math.sqrt(moments[2] / moments[0] - mean**2)
    assert known.middle_spread == pytest.approx(spread, rel=0.01)


def test_what_a_look_is_worth_agrees_with_scipys_truncated_normal(outside: Any) -> None:
    truncnorm = outside.module("scipy.stats").truncnorm
    for low, high in ((90, 150), (0, 100), (200, math.inf), (150, 160), (0, 1000)):
        a = (math.log(low) - 5.2) / 0.3 if low else -math.inf
        left = truncnorm.var(a, (math.log(high) - 5.2) / 0.3)
        assert worth(Bounds(low, high), 5.2, 0.3) == pytest.approx(1 - left, abs=1e-6)


def test_without_looks_the_table_stands() -> None:
    pace = learn(SPECK, [])
    assert (pace.own, pace.count, pace.weight, pace.enough) == (SPECK, 0, 0.0, False)
    assert learn(SPECK, [Bounds(0)]) == pace


def test_a_few_looks_move_the_figures_but_are_not_enough() -> None:
    pace = learn(SPECK, [Bounds(230, 300), Bounds(250)])
    assert 180 < pace.own.usual < 260
    assert pace.count == 2 and 0 < pace.weight < 2 and not pace.enough


def test_not_yet_clean_makes_slower_and_already_clean_faster() -> None:
    slower, faster = learn(SPECK, [Bounds(240)]), learn(SPECK, [Bounds(0, 120)])
    assert faster.own.usual < 180 < slower.own.usual


def test_the_rule_for_enough_is_both_count_and_narrowing() -> None:
    assert is_enough(5, 0.5)
    assert not is_enough(4.9, 0.2)
    assert not is_enough(20, 0.51)


bounds = st.tuples(st.floats(0, 900), st.floats(1, 900)).map(
    lambda pair: Bounds(pair[0], math.inf if pair[1] > 850 else pair[0] + pair[1])
)


@settings(max_examples=storm(10, 30), deadline=None)
@given(st.lists(bounds, max_size=6))
def test_no_figure_is_ever_faster_than_the_table_allows(seen: list[Bounds]) -> None:
    own = learn(SPECK, seen).own
    assert own.low >= SPECK.low and own.usual >= SPECK.low and own.high >= SPECK.usual
    assert own.low <= own.usual <= own.high < math.inf


@pytest.mark.parametrize(("low", "high"), [(-1, 5), (5, 5), (7, 5), (math.nan, 5)])
def test_bounds_that_say_nothing_sensible_are_refused(low: float, high: float) -> None:
    with pytest.raises(ValueError, match="rise"):
        Bounds(low, high)


def test_figures_that_do_not_rise_are_refused() -> None:
    with pytest.raises(ValueError, match="rise"):
        Figures(0, 1, 2)


def test_readings_show_how_far_off_the_curve_is() -> None:
    start = date(2027, 3, 1)
    chance = random.Random(2)
    seen = [(start + timedelta(days=5 * n), 1.2 + chance.gauss(0, 0.8)) for n in range(40)]
    found = curve_offset(seen)
    assert found.enough and found.readings == 40
    assert found.offset_c == pytest.approx(1.2, abs=0.5)


def test_many_readings_of_one_week_are_one() -> None:
    start = date.fromordinal(738_780 // 7 * 7)
    found = curve_offset([(start + timedelta(days=n % 7), 2.0) for n in range(70)])
    assert (found.readings, found.weeks, found.enough) == (70, 1, False)
    assert curve_offset([]).offset_c == 0
    far = curve_offset([(start + timedelta(days=7 * n), 6.0) for n in range(30)])
    assert not far.enough


def test_the_offset_agrees_with_the_conjugate_normal(outside: Any) -> None:
    """Weeks that all say the same: the normal-normal update, by scipy's quadrature."""
    stats = outside.module("scipy.stats")
    integrate = outside.module("scipy.integrate")
    start = date(2027, 3, 1)
    found = curve_offset([(start + timedelta(days=7 * n), 1.0) for n in range(9)])
    stray = max(1.5 / 3, 0.5)

    def weight(x: float) -> float:
        return float(stats.norm.pdf(1.0, x, stray) ** 9 * stats.norm.pdf(x, 0, 1.5))

    whole = integrate.quad(weight, -5, 5, points=[1.0])[0]
    mean = integrate.quad(lambda x: x * weight(x), -5, 5, points=[1.0])[0] / whole
    assert found.offset_c == pytest.approx(mean, abs=1e-6)
