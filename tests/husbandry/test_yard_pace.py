"""What a yard's looks leave of the table, beside SciPy's integrals over middle and scatter."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import pytest

from showprep.husbandry.pace import SCATTER_SPREAD
from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.yard_pace import BEFORE_LOOKS, known_by_base, known_from

if TYPE_CHECKING:
    from tests.conftest import Outside

SPECK = SplitLogNormal(100, 180, 320)
LOOKS = {
    "one not yet": [(150.0, math.inf)],
    "a few between": [(100.0, 160.0), (0.0, 140.0), (120.0, 200.0)],
    "many slow": [(200.0, 300.0)] * 8,
}


def integrals(
    outside: Outside, looks: Sequence[tuple[float, float]], amount: float, above: float
) -> tuple[float, float]:
    """Evidence and the chance of at most `amount` given more than `above`, by plain quadrature."""
    numpy, ndtr = outside.module("numpy"), outside.module("scipy.special").ndtr
    middle, spread = math.sqrt(0.5), SCATTER_SPREAD
    m = numpy.linspace(-6 * middle, 6 * middle, 401)[:, None]
    shift = numpy.linspace(-3, 3, 121)[None, :]
    s = middle * math.exp(-(spread**2)) * numpy.exp(spread * shift)
    prior = numpy.exp(-((m / middle) ** 2 + shift**2) / 2)

    def between(low: float, high: float) -> object:
        a, b = SPECK.score(low), SPECK.score(high)
        return ndtr((m - a) / s) - ndtr((m - b) / s)

    told = prior.copy()
    for low, high in looks:
        told = told * between(low, high)
    left = numpy.maximum(between(above, math.inf), 1e-300)
    chance = (told * between(above, amount) / left).sum() / told.sum()
    return float(told.sum() / prior.sum()), float(chance)


@pytest.mark.parametrize("name", LOOKS)
def test_looks_beside_plain_quadrature(name: str, outside: Outside) -> None:
    known = known_from(SPECK, LOOKS[name])
    for amount, above in ((170.0, 0.0), (240.0, 0.0), (260.0, 150.0)):
        _, chance = integrals(outside, LOOKS[name], amount, above)
        assert known.share_below(amount, above) == pytest.approx(chance, abs=0.006)
        assert known.share_above(amount, above) == pytest.approx(1 - chance, abs=0.006)


def test_evidence_beside_plain_quadrature(outside: Outside) -> None:
    """Only differences count: the same constant is left out of all."""
    found = {name: known_from(SPECK, looks).evidence for name, looks in LOOKS.items()}
    exact = {name: math.log(integrals(outside, looks, 200, 0)[0]) for name, looks in LOOKS.items()}
    first = next(iter(LOOKS))
    for name in LOOKS:
        assert found[name] - found[first] == pytest.approx(exact[name] - exact[first], abs=0.02)


def test_without_a_look_that_tells_anything_the_table_stands() -> None:
    known = known_from(SPECK, [(0.0, math.inf)])
    assert known.looks == 0 and known.paces == BEFORE_LOOKS
    assert known.share_below(320) == pytest.approx(0.95)
    assert [share for _, share, _ in known_by_base(SPECK, 25)] == [0.25, 0.5, 0.25]


def test_one_look_hardly_moves_what_it_does_not_touch() -> None:
    """The step from no look to one that says next to nothing is small."""
    known = known_from(SPECK, [(30.0, math.inf)])
    for amount in (100, 140, 180, 240, 320):
        assert known.share_below(amount) == pytest.approx(SPECK.share_below(amount), abs=0.006)


def test_looks_far_outside_the_table_break_nothing() -> None:
    for look in ((0.0, 0.001), (1e6, math.inf), (5000.0, 5000.1)):
        known = known_from(SPECK, [look] * 3)
        assert 0 <= known.share_below(200) <= 1
        assert math.isfinite(known.evidence)
    with pytest.raises(ValueError, match="bounds"):
        known_from(SPECK, [(5.0, 3.0)])


# Healed between day 10 and 30 in water of 7 °C: nothing was gathered over 8 °C, 150 over 2 °C.
def test_healed_in_cold_water_speaks_against_the_high_base_and_not_for_a_quick_yard() -> None:
    def seen(base: float) -> tuple[float, float]:
        return max(7 - base, 0) * 10.0, max(7 - base, 0) * 30.0

    cases = known_by_base(SPECK, 25, [seen])
    shares = {base: share for base, share, _ in cases}
    assert shares[8] < 0.01 < 0.25 < shares[2]
    over_8 = next(known for base, _, known in cases if base == 8)
    assert over_8.share_below(180) == pytest.approx(0.5)
