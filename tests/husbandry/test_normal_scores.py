"""Stored scores, beside NumPy's Gauss-Hermite nodes and SciPy's Sobol' points."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest

from showprep.husbandry.normal_scores import MOST_AT_ONCE, NODES, normal_scores, sobol

if TYPE_CHECKING:
    from tests.conftest import Outside


def test_nodes_beside_numpy(outside: Outside) -> None:
    hermite = outside.module("numpy.polynomial.hermite_e")
    at, weights = hermite.hermegauss(9)
    assert [z for z, _ in NODES] == pytest.approx(at, abs=1e-13)
    assert [weight for _, weight in NODES] == pytest.approx(weights / math.sqrt(2 * math.pi))
    assert math.fsum(weight for _, weight in NODES) == pytest.approx(1, abs=1e-14)


def test_sobol_points_beside_scipy(outside: Outside) -> None:
    qmc = outside.module("scipy.stats.qmc")
    for points in (1, 2, 64, 256):
        theirs = qmc.Sobol(MOST_AT_ONCE, scramble=False).random(points)
        assert [list(point) for point in sobol(MOST_AT_ONCE, points)] == theirs.tolist()


def test_scores_have_mean_nought_and_variance_one() -> None:
    for dimensions in range(1, MOST_AT_ONCE + 1):
        for column in zip(*normal_scores(dimensions), strict=True):
            assert math.fsum(column) / 128 == pytest.approx(0, abs=1e-12)
            assert math.fsum(z * z for z in column) / 128 == pytest.approx(1, abs=1e-12)


# Normal chances of two and four parts: the exact values are elementary, Φ from scipy.
def test_an_average_over_scores_is_near_the_exact_chance(outside: Outside) -> None:
    norm = outside.module("scipy.stats").norm
    errors = []
    for parts in (
        (0.6, 0.5),
        (0.6, -0.5),
        (0.3, 0.8),
        (0.6, 0.4, 0.3, 0.2),
        (0.6, -0.4, 0.3, -0.2),
    ):
        scores = normal_scores(len(parts))
        for shift in (-1.0, -0.4, 0.0, 0.3, 0.9, 1.4):
            paths = [sum(a * b for a, b in zip(parts, z, strict=True)) for z in scores]
            found = norm.cdf([(shift + path) / 0.7 for path in paths]).mean()
            spread = math.sqrt(0.7**2 + sum(part * part for part in parts))
            errors.append(found - norm.cdf(shift / spread))
    assert math.sqrt(sum(error * error for error in errors) / len(errors)) < 0.0025
    assert max(map(abs, errors)) < 0.005


def test_wrong_numbers_are_refused() -> None:
    with pytest.raises(ValueError, match="power of 2"):
        sobol(2, 60)
    with pytest.raises(ValueError, match="dimensions"):
        sobol(9, 64)
