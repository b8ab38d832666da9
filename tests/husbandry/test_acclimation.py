"""Steps of temperature and pH, within what guides allow."""

from __future__ import annotations

import itertools
from math import exp, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.acclimation import ph_step, ramp, temperature_step
from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.reason import reason


@pytest.mark.parametrize(
    ("from_c", "to_c", "how", "warn", "blocked"),
    [
        (20, 20, "direct", False, False),
        (20, 22, "direct", False, False),
        (20, 19, "direct", False, False),
        (20, 18.5, "temper", False, False),
        (20, 22.1, "temper", False, False),
        (20, 23, "temper", True, False),
        (20, 24, "temper", True, False),
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
    found = temperature_step(from_c, to_c, SHIPPED)
    assert (found.how, found.warn, found.blocked) == (how, warn, blocked)
    assert found.change_c == pytest.approx(to_c - from_c)


def test_how_long_a_step_takes() -> None:
    assert temperature_step(20, 21, SHIPPED).minutes == 20
    assert temperature_step(20, 24, SHIPPED).hours == 2
    assert temperature_step(20, 25, SHIPPED).hours == 2.5
    assert temperature_step(12, 22.5, SHIPPED).days == 11


def test_shows_ask_for_twenty_minutes_afloat_at_least() -> None:
    # A US show's written rule: closed bags float 20 minutes at least; guides say 15 to 30.
    for change in (-1, 0.5, 2, 3, 4):
        assert 20 <= temperature_step(15, 15 + change, SHIPPED).minutes <= 45
    assert temperature_step(15, 16, FiguresInForce({"float_bag": 30})).minutes == 30


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.floats(0, 34), st.floats(-5.99, 5.99))
def test_one_rule_for_every_step_too_great_to_be_taken_at_once(from_c: float, step: float) -> None:
    # Keepers' protocols: 1 to 4 °C an hour, 2 is built in (common practice, no source).
    to_c = min(max(from_c + step, 0), 34)
    found = temperature_step(from_c, to_c, SHIPPED)
    if found.how == "direct":
        assert -1 <= round(found.change_c, 6) <= 2
    else:
        assert found.how == "temper"
        assert abs(found.change_c) / found.hours == pytest.approx(2)


def test_a_bag_afloat_would_break_the_rule_at_once() -> None:
    # Newton's law: a difference D shrinks as D exp(-t/tau), so it begins at D/tau. With tau 15 min
    # (10 to 20 L, derived) 4 °C begin at 16 °C an hour; the first 2 °C are gone in 10.4 minutes.
    tau_h = 15 / 60
    assert 4 / tau_h == 16
    assert 4 * exp(-(10.4 / 60) / tau_h) == pytest.approx(2, abs=0.01)
    assert temperature_step(16, 20, SHIPPED).how == "temper"


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.floats(0, 34), st.floats(0, 34))
def test_a_ramp_arrives_by_even_steps_of_a_degree_at_most(from_c: float, to_c: float) -> None:
    points = (from_c, *ramp(from_c, to_c, SHIPPED))
    steps = [two - one for one, two in itertools.pairwise(points)]
    assert all(abs(step) <= 1 + 1e-6 for step in steps)
    assert points[-1] == pytest.approx(to_c, abs=1e-6)


def test_a_keepers_slower_ramp() -> None:
    assert len(ramp(14, 20, FiguresInForce({"temp_ramp": 0.5}))) == 12
    assert len(ramp(14, 20, FiguresInForce({"temp_ramp": 3}))) == 6
    assert ramp(20, 20, SHIPPED) == ()


def test_a_step_of_ph() -> None:
    # A guideline: Directive 2006/44/EC, Annex I, repealed in December 2013: a change of no more
    # than 0.5 within 6 to 9.
    assert ph_step(7.4, 7.6, SHIPPED) is None
    assert ph_step(7.4, 7.8, SHIPPED) == reason("ph-over-an-hour", change=0.4)
    assert ph_step(7.9, 7.4, SHIPPED) == reason("ph-over-an-hour", change=0.5)
    assert ph_step(7.0, 8.0, SHIPPED) == reason("ph-over-weeks", change=1.0)


@pytest.mark.parametrize("bad", [-5, 45, nan])
def test_an_impossible_temperature_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="cannot be right"):
        temperature_step(20, bad, SHIPPED)
    with pytest.raises(ValueError, match="must be more than 0"):
        temperature_step(20, 24, FiguresInForce({"temper_rate": 0}))
