"""Weight from length against the published standard weight of carp."""

from __future__ import annotations

from math import log10

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.reason import Centimetres, Kilograms
from showprep.husbandry.weight import (
    condition_k,
    kg_from_length,
    length_from_weight,
    weight_fault,
    weight_from_length,
)


@pytest.mark.parametrize("inches", [8, 12, 18, 24, 30, 36])
def test_the_metric_and_the_english_equation_agree(inches: float) -> None:
    # Bister et al. 2000, both as printed: log10 lb = -3.194 + 2.920 log10 in, three decimals of
    # the intercept being worth 0.3 %.
    pounds = 10 ** (-3.194 + 2.920 * log10(inches))
    assert weight_from_length(inches * 2.54) / 453.59237 == pytest.approx(pounds, rel=0.004)


@pytest.mark.parametrize(
    ("cm", "grams"),
    [(20, 120.2), (30, 392.8), (40, 909.9), (50, 1745.8), (60, 2973.0), (70, 4663.2)],
)
def test_the_standard_weight(cm: float, grams: float) -> None:
    assert weight_from_length(cm) == pytest.approx(grams, abs=0.05)


def test_the_trades_guide_weights_are_near() -> None:
    # Keepers' guide: 30 cm 0.4 kg, 45 1.5, 60 3.5, 70 5.6, 80 8.4 (from memory, W = 0.0163 L^3);
    # a 24 in koi 2.3 to 3.6 kg. The standard is the leaner of the two for the large.
    for cm, kg in ((30, 0.4), (45, 1.5), (60, 3.5), (70, 5.6), (80, 8.4)):
        assert kg_from_length(cm) == pytest.approx(kg, rel=0.2)
    assert 2.3 <= kg_from_length(24 * 2.54) <= 3.6


def test_condition() -> None:
    assert condition_k(2973.0, 60) == pytest.approx(1.376, abs=5e-4)
    assert weight_from_length(60, 1.4) == pytest.approx(3024)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(5, 110))
def test_length_and_weight_undo_each_other(cm: float) -> None:
    assert length_from_weight(weight_from_length(cm)) == pytest.approx(cm)
    assert weight_fault(weight_from_length(cm), cm) is None


def test_a_weight_that_cannot_belong_to_a_length_is_said() -> None:
    told = weight_fault(3000, 20)
    assert told is not None and told.code == "weight-not-of-length"
    assert (told["weight"], told["length"]) == (Kilograms(3), Centimetres(20))
    assert weight_fault(100, 60) is not None


@pytest.mark.parametrize("call", [weight_from_length, length_from_weight])
@pytest.mark.parametrize("bad", [0, -3, float("nan"), float("inf")])
def test_nothing_weighs_nothing(call, bad: float) -> None:
    with pytest.raises(ValueError, match="must be more than 0"):
        call(bad)
