"""The share of carp that a bath kills, against the points of the trial and a library's normal."""

from __future__ import annotations

from math import log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from showprep.husbandry.mortality import share_dead, strength_killing
from tests.conftest import Outside


@pytest.mark.parametrize(("mg_per_l", "percent"), [(60, 3), (70, 29), (74, 46), (90, 93), (95, 97)])
def test_the_line_through_the_published_points(mg_per_l: float, percent: int) -> None:
    # Read off the log-probit line through the points of Velíšek et al. 2005.
    assert round(100 * share_dead(mg_per_l)) == percent


def test_the_published_points_lie_near_the_line() -> None:
    # Velíšek et al. 2005, Effects of clove oil anaesthesia on common carp: ten minutes, LC0.1
    # 51.6, LC50 74.3, LC99.9 110.1 mg/L.
    assert share_dead(51.6) == pytest.approx(0.001, abs=0.0002)
    assert share_dead(74.3) == pytest.approx(0.5, abs=0.04)
    assert share_dead(110.1) == pytest.approx(0.999, abs=0.0002)


def test_the_line_is_that_of_another_library(outside: Outside) -> None:
    stats = outside.module("scipy.stats")
    strengths, dead = (51.6, 74.3, 110.1), (0.001, 0.5, 0.999)
    line = stats.linregress([log10(one) for one in strengths], stats.norm.ppf(dead))
    for mg_per_l in (20, 35, 50, 52.5, 56, 74.3, 100, 525):
        expected = stats.norm.cdf(line.intercept + line.slope * log10(mg_per_l))
        assert share_dead(mg_per_l) == pytest.approx(expected, rel=1e-6, abs=1e-12)
    one_percent = 10 ** ((stats.norm.ppf(0.01) - line.intercept) / line.slope)
    assert strength_killing(0.01) == pytest.approx(one_percent)
    assert 56 < one_percent < 57


def test_a_time_by_the_product_alone_would_kill() -> None:
    # 400 mg.min/L allow 5.4 minutes at 74 mg/L; with an exponent of 3 that is what 60.3 mg/L is
    # in ten minutes, and kills 3.7 %.
    assert share_dead(74 * (400 / 74 / 10) ** (1 / 3)) == pytest.approx(0.037, abs=0.0005)


@given(st.floats(1, 300), st.floats(1.001, 3), st.floats(20, 74))
def test_stronger_and_weaker_fish_are_never_safer(mg: float, more: float, lc50: float) -> None:
    assert share_dead(mg * more) >= share_dead(mg)
    assert share_dead(mg, lc50) >= share_dead(mg)
    assert strength_killing(0.01, lc50) <= strength_killing(0.01)


def test_what_cannot_be_is_refused() -> None:
    assert strength_killing(0) == 0
    with pytest.raises(ValueError, match="less than 1"):
        strength_killing(1)
    with pytest.raises(ValueError, match="more than 0"):
        share_dead(0)
