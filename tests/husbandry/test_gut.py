"""Gut emptying against the published rates of carp and of other fish."""

from __future__ import annotations

from math import exp, log, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.gut import (
    EVAC_A,
    EVAC_B,
    emptying_rate_per_h,
    hours_to_empty,
)


def test_the_two_published_rates_return_exactly() -> None:
    # Garcia & Adelman 1985, Journal of Fish Biology, abstract: 6.0 %/h at 9 °C, 32.7 at 26.5 °C.
    assert emptying_rate_per_h(9) == pytest.approx(0.060, abs=1e-12)
    assert emptying_rate_per_h(26.5) == pytest.approx(0.327, abs=1e-12)


def test_the_rise_with_warmth_is_that_of_other_fish() -> None:
    # Q10 of 2.33 to 2.69 from rainbow trout emptying, Windell et al. 1976, TAFS 105:712.
    q10 = exp(10 * EVAC_B)
    assert 2.33 <= q10 <= 2.69
    assert pytest.approx(0.0250861, abs=1e-7) == EVAC_A


def test_another_cyprinid_empties_in_days_in_winter_and_a_day_in_summer() -> None:
    # Barbus aeneus in cages: about 24 h in summer, more than 5 days in winter (African Zoology).
    # The order of size only: carp at 25 °C and at 4 °C.
    assert 12 < hours_to_empty(25) < 36
    assert hours_to_empty(4) > 5 * 24 - 12


def test_pellets_leave_about_half_as_fast_as_the_field_rate() -> None:
    # Rasheed & Salman 2018, Journal of Zankoy Sulaimani: 79 to 91 % out after 24 h, carp on
    # pellets. Twice the field time is what the safety factor of a fast allows for.
    out = 1 - exp(-emptying_rate_per_h(20) / 2 * 24)
    assert 0.79 <= out <= 0.91


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(0, 39), st.floats(0.01, 1), st.floats(0.001, 0.9))
def test_warmer_is_never_slower(cool: float, more: float, left: float) -> None:
    assert hours_to_empty(cool + more, left) <= hours_to_empty(cool, left)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(0, 40), st.floats(0.01, 0.9))
def test_emptying_is_exponential(water_c: float, left: float) -> None:
    hours = hours_to_empty(water_c, left)
    assert exp(-emptying_rate_per_h(water_c) * hours) == pytest.approx(left)
    assert hours == pytest.approx(log(1 / left) / emptying_rate_per_h(water_c))


def test_beyond_the_warmest_measured_it_goes_no_faster() -> None:
    assert emptying_rate_per_h(30) == emptying_rate_per_h(26.5)


@pytest.mark.parametrize("left", [0, 1, -0.1, 2])
def test_an_impossible_share_is_refused(left: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        hours_to_empty(20, left)


@pytest.mark.parametrize("water_c", [-5, 41, nan])
def test_an_impossible_temperature_is_refused(water_c: float) -> None:
    with pytest.raises(ValueError, match="cannot be right"):
        emptying_rate_per_h(water_c)
