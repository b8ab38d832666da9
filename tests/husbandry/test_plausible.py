"""Refusals in words."""

from __future__ import annotations

from math import inf, nan

import pytest

from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature


@pytest.mark.parametrize("bad", [-2.1, 40.1, nan, inf, -inf])
def test_water_that_cannot_be(bad: float) -> None:
    with pytest.raises(ValueError, match="cannot be right here; it should lie between -2 and 40"):
        water_temperature(bad)


@pytest.mark.parametrize("bad", [0, -1, nan, inf])
def test_nothing_is_not_something(bad: float) -> None:
    with pytest.raises(ValueError, match="the bath must be more than 0 L"):
        more_than_nothing(bad, "the bath", "L")


@pytest.mark.parametrize("bad", [-0.1, nan, inf])
def test_less_than_nothing(bad: float) -> None:
    with pytest.raises(ValueError, match="the journey cannot be less than 0 h"):
        not_negative(bad, "the journey", "h")


def test_sound_values_pass_unchanged() -> None:
    assert water_temperature(20.5) == 20.5
    assert more_than_nothing(0.1, "x", "") == 0.1
    assert not_negative(0, "x", "") == 0
