"""Low, usual and high as a distribution, beside SciPy's two log-normals.

The check values were worked out with SciPy 1.17.1 apart from any planner.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.healing_base import BASES_C, anchor_of, anchored
from showprep.husbandry.speck_return import RETURN_WEEKS, chance_not_back, known_return
from showprep.husbandry.split_log_normal import SplitLogNormal

if TYPE_CHECKING:
    from tests.conftest import Outside

SPECK = SplitLogNormal(100, 180, 320)
SCALES = SplitLogNormal(400, 700, 1400)


def test_check_values() -> None:
    assert SPECK.share_below(140) == pytest.approx(0.2409, abs=5e-5)
    assert SPECK.share_below(250) == pytest.approx(0.8262, abs=5e-5)
    assert SPECK.quantile(0.10) == pytest.approx(113.8630, abs=5e-5)
    assert SPECK.quantile(0.80) == pytest.approx(241.6168, abs=5e-5)
    assert SCALES.share_below(900) == pytest.approx(0.7245, abs=5e-5)
    assert SCALES.quantile(0.75) == pytest.approx(930.1192, abs=5e-5)
    assert SPECK.share_below_given_above(300, 200) == pytest.approx(0.8111, abs=5e-5)


def test_return_check_values() -> None:
    known = known_return(RETURN_WEEKS)
    for days, chance in ((28, 0.9500), (35, 0.8676), (56, 0.5000)):
        assert chance_not_back(known, days) == pytest.approx(chance, abs=5e-5)
    assert chance_not_back(known, 35, 21) == pytest.approx(0.8764, abs=5e-5)


# scipy.stats.lognorm: below the median the one, above it the other.
def test_beside_scipy(outside: Outside) -> None:
    stats = outside.module("scipy.stats")
    z95 = stats.norm.ppf(0.95)
    for figures in (SPECK, SCALES, SplitLogNormal(4, 8, 16)):
        lower = stats.lognorm(math.log(figures.usual / figures.low) / z95, scale=figures.usual)
        upper = stats.lognorm(math.log(figures.high / figures.usual) / z95, scale=figures.usual)
        for factor in (0.2, 0.5, 0.8, 0.999, 1.001, 1.3, 2.0, 5.0):
            amount = factor * figures.usual
            law = lower if factor < 1 else upper
            assert figures.share_below(amount) == pytest.approx(law.cdf(amount), abs=1e-12)
            floor = 0.6 * amount
            before = (lower if floor < figures.usual else upper).sf(floor)
            given_above = (law.cdf(amount) - (1 - before)) / before
            assert figures.share_below_given_above(amount, floor) == pytest.approx(given_above)
        for share in (0.001, 0.2, 0.5, 0.7, 0.999):
            law = lower if share < 0.5 else upper
            assert figures.quantile(share) == pytest.approx(law.ppf(share))


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.floats(1, 500), st.floats(1, 4), st.floats(1, 4), st.floats(0.001, 0.999))
def test_quantile_undoes_share(low: float, up: float, further: float, share: float) -> None:
    figures = SplitLogNormal(low, low * (0.01 + up), low * (0.01 + up) * (0.01 + further + 0.02))
    assert figures.share_below(figures.quantile(share)) == pytest.approx(share, abs=1e-9)


def test_certain_figures_are_a_step() -> None:
    certain = SplitLogNormal(5, 5, 5)
    assert [certain.share_below(at) for at in (0, 4.9, 5, 6)] == [0, 0, 1, 1]


def test_wrong_figures_are_refused() -> None:
    for wrong in ((0, 1, 2), (2, 1, 3), (1, 2, math.inf), (1, 2, math.nan)):
        with pytest.raises(ValueError, match="rise"):
            SplitLogNormal(*wrong)
    for share in (0, 1, 1.5):
        with pytest.raises(ValueError, match="share"):
            SPECK.quantile(share)


# Factors 20/17 and 11/8 for a base of 5 °C: the fact sheet on healing, section 2.
def test_base_moves_the_figures_with_it() -> None:
    assert anchored(SPECK, anchor_of("shimi"), 5).usual == pytest.approx(180 * 20 / 17)
    assert anchored(SPECK, anchor_of("incision"), 5).high == pytest.approx(320 * 11 / 8)
    assert anchored(SPECK, anchor_of("stitches"), 8) == SPECK
    assert sum(share for _, share in BASES_C) == 1
    for base, _ in BASES_C:  # at the anchor the days do not depend on the base
        days = anchored(SPECK, 25, base).usual / (25 - base)
        assert days == pytest.approx(180 / 17)
    with pytest.raises(ValueError, match="anchor"):
        anchored(SPECK, 8, 5)
