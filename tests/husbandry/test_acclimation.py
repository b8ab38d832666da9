"""Steps of temperature and pH, within what guides and directives allow."""

from __future__ import annotations

import itertools
from math import exp, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.acclimation import float_minutes, ph_step_words, ramp, temperature_step


@pytest.mark.parametrize(
    ("from_c", "to_c", "how", "warn", "blocked"),
    [
        (20, 20, "direct", False, False),
        (20, 22, "direct", False, False),
        (20, 19, "direct", False, False),
        (20, 18.5, "float", False, False),
        (20, 22.1, "float", False, False),
        (20, 23, "float", True, False),
        (20, 24, "float", True, False),
        (20, 24.1, "temper", True, False),
        (20, 14.1, "temper", True, False),
        (20, 14, "ramp", True, True),
        (12, 22.5, "ramp", True, True),
    ],
)
def test_how_a_step_is_taken(
    from_c: float, to_c: float, how: str, warn: bool, blocked: bool
) -> None:
    # Guides: directly up to 2.8 °C (5 °F), avoid more than 3 °C, floating wanted below 5.6 °C
    # (10 °F); the stricter of each is built in.
    found = temperature_step(from_c, to_c)
    assert (found.how, found.warn, found.blocked) == (how, warn, blocked)
    assert found.change_c == pytest.approx(to_c - from_c)


def test_how_long_a_step_takes() -> None:
    assert temperature_step(20, 23).minutes == 20
    assert temperature_step(20, 24).minutes == 21
    assert temperature_step(20, 25).hours == 2.5
    assert temperature_step(12, 22.5).days == 11
    assert "22.5 °C over 11 days" in temperature_step(12, 22.5).words


def test_shows_ask_for_twenty_minutes_afloat_at_least() -> None:
    # A US show's written rule: closed bags float 20 minutes at least; guides say 15 to 30.
    for change in (2.5, 3, 3.5, 4):
        assert 20 <= temperature_step(15, 15 + change).minutes <= 45


@settings(derandomize=True, max_examples=60, deadline=None)
@given(st.floats(0.1, 10), st.floats(0.1, 5), st.floats(5, 30))
def test_a_floating_bag_cools_by_newtons_law(difference: float, left: float, tau: float) -> None:
    minutes = float_minutes(difference, left, tau)
    if difference > left:
        assert difference * exp(-minutes / tau) == pytest.approx(left)
    else:
        assert minutes == 0


def test_a_floating_bag_as_worked_by_hand() -> None:
    # tau 15 min, 6 °C down to 1 °C: 15 ln 6 = 26.9 min.
    assert float_minutes(6) == pytest.approx(26.9, abs=0.05)
    assert float_minutes(-6) == float_minutes(6)


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.floats(0, 34), st.floats(0, 34))
def test_a_ramp_arrives_by_even_steps_of_a_degree_at_most(from_c: float, to_c: float) -> None:
    points = (from_c, *ramp(from_c, to_c))
    steps = [two - one for one, two in itertools.pairwise(points)]
    assert all(abs(step) <= 1 + 1e-6 for step in steps)
    assert points[-1] == pytest.approx(to_c, abs=1e-6)


def test_a_keepers_slower_ramp() -> None:
    assert len(ramp(14, 20, {"temp_ramp": 0.5})) == 12
    assert len(ramp(14, 20, {"temp_ramp": 3})) == 6
    assert ramp(20, 20) == ()


def test_a_step_of_ph() -> None:
    # Directive 2006/44/EC, Annex I: a change of no more than 0.5 within 6 to 9.
    assert ph_step_words(7.4, 7.6) is None
    assert "an hour" in str(ph_step_words(7.4, 7.8))
    assert "an hour" in str(ph_step_words(7.9, 7.4))
    assert "weeks before" in str(ph_step_words(7.0, 8.0))


@pytest.mark.parametrize("bad", [-5, 45, nan])
def test_an_impossible_temperature_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="cannot be right"):
        temperature_step(20, bad)
    with pytest.raises(ValueError, match="must be more than 0"):
        float_minutes(6, 0)
