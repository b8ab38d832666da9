"""The scores of stated chances, by check values and beside SciPy."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import pytest

from tests.bench.scores import (
    brier_parts,
    crps_members,
    crps_normal,
    over_whole_years,
    reliability_table,
    worst_mean,
)

if TYPE_CHECKING:
    from tests.conftest import Outside


# Check values worked out with SciPy 1.17.1 apart from any planner.
def test_check_values() -> None:
    parts = brier_parts([0.9, 0.8, 0.6, 0.9, 0.3], [True, True, False, True, False])
    found = (parts.score, parts.reliability, parts.resolution, parts.uncertainty)
    assert found == pytest.approx((0.1020, 0.1020, 0.2400, 0.2400), abs=5e-5)
    members = [200, 230, 250, 270, 310]
    assert crps_normal(250, 40, 230) == pytest.approx(13.2561, abs=5e-5)
    assert crps_members(members, 230) == pytest.approx(13.2, abs=5e-5)
    assert crps_members(members, 230, fair=True) == pytest.approx(8.0, abs=5e-5)
    assert worst_mean([0, 0, 0, 0, 1, 1, 2, 3, 5, 8], 0.2) == pytest.approx(6.5)


# scipy.integrate: the score is the squared distance of two distribution functions.
def test_crps_beside_scipy(outside: Outside) -> None:
    integrate, norm = outside.module("scipy.integrate"), outside.module("scipy.stats").norm
    for mean, spread, came in ((0, 1, 0.3), (250, 40, 310), (12, 3, 2)):
        law = norm(mean, spread)
        left = integrate.quad(lambda x, law=law: law.cdf(x) ** 2, mean - 12 * spread, came)[0]
        right = integrate.quad(lambda x, law=law: law.sf(x) ** 2, came, mean + 12 * spread)[0]
        assert crps_normal(mean, spread, came) == pytest.approx(left + right, rel=1e-6)


def test_parts_add_up_to_the_score() -> None:
    draw = Random(3)
    stated = [draw.choice((0.1, 0.35, 0.6, 0.9)) for _ in range(400)]
    came = [draw.random() < 0.5 * chance + 0.2 for chance in stated]
    parts = brier_parts(stated, came)
    total = parts.reliability - parts.resolution + parts.uncertainty
    assert parts.score == pytest.approx(total, abs=1e-12)


def test_a_table_of_right_chances_lies_inside_its_bars_and_of_wrong_ones_outside() -> None:
    draw = Random(5)
    stated = [draw.random() for _ in range(3000)]
    right = reliability_table(stated, [draw.random() < chance for chance in stated])
    assert sum(row.count for row in right) == 3000
    assert sum(row.low <= row.came <= row.high for row in right) >= 9
    wrong = reliability_table(stated, [draw.random() < chance - 0.15 for chance in stated])
    assert sum(row.low <= row.came <= row.high for row in wrong) <= 3


# scipy.stats.binom: bars of equal chances.
def test_bars_beside_scipy(outside: Outside) -> None:
    binom = outside.module("scipy.stats").binom
    (row,) = reliability_table([0.85] * 430, [True] * 430)
    assert (row.low * 430, row.high * 430) == pytest.approx(binom(430, 0.85).ppf((0.005, 0.995)))


# Standard error of a mean of 30 blocks, s/√30: the interval is near ±1.96 of it.
def test_interval_is_that_of_whole_years() -> None:
    draw = Random(7)
    values, years = [], []
    blocks = [draw.gauss(1, 1) for _ in range(30)]
    for year, block in enumerate(blocks):
        values += [block] * 8  # eight shows that all went alike say no more than one
        years += [year] * 8
    mean = sum(blocks) / 30
    error = (sum((block - mean) ** 2 for block in blocks) / 30 / 30) ** 0.5
    found = over_whole_years(values, years)
    assert found.mean == pytest.approx(mean)
    assert found.high - found.low == pytest.approx(2 * 1.96 * error, rel=0.12)
