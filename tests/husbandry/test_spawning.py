"""Spawning size, weather and months, and the weeks after, as keepers tell them (from memory)."""

from __future__ import annotations

import pytest

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.spawning import after_spawning, is_grown, spawning_weather


@pytest.mark.parametrize(
    ("length_cm", "years", "grown"),
    [
        (45, None, True),
        (44.9, None, False),
        (None, 3, True),
        (None, 2.9, False),
        (40, 3, True),
        (45, 2, True),
        (None, None, False),
    ],
)
def test_spawning_size(length_cm: float | None, years: float | None, grown: bool) -> None:
    assert is_grown(length_cm, SHIPPED, years) is grown


def test_sizes_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="the length"):
        is_grown(0, SHIPPED)
    with pytest.raises(ValueError, match="the age"):
        is_grown(None, SHIPPED, -1)


@pytest.mark.parametrize(
    ("water_c", "before_c", "spawns"),
    [
        (20, 17, True),
        (17, 16.9, True),
        (24, 20, True),
        (24.1, 20, False),
        (16.9, 12, False),
        (20, 20, False),  # not warming
        (18, 21, False),
    ],
)
def test_spawning_weather(water_c: float, before_c: float, spawns: bool) -> None:
    assert spawning_weather(water_c, before_c, SHIPPED) is spawns


@pytest.mark.parametrize(
    ("days", "says"),
    [
        (-1, "fit"),
        (0, "not ready"),
        (13, "not ready"),
        (14, "caution"),
        (41, "caution"),
        (42, "fit"),
    ],
)
def test_after_spawning(days: int, says: str) -> None:
    assert after_spawning(days, SHIPPED) == says
