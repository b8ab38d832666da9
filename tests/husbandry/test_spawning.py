"""Spawning size, weather and months, and the weeks after, as keepers tell them (from memory)."""

from __future__ import annotations

from datetime import date

import pytest

from showprep.husbandry.spawning import after_spawning, in_season, is_grown, spawning_weather


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
    assert is_grown(length_cm, years) is grown


def test_sizes_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="the length"):
        is_grown(0)
    with pytest.raises(ValueError, match="the age"):
        is_grown(None, -1)


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
    assert spawning_weather(water_c, before_c) is spawns


def test_months_of_north_and_south() -> None:
    north = [month for month in range(1, 13) if in_season(date(2027, month, 15))]
    south = [month for month in range(1, 13) if in_season(date(2027, month, 15), southern=True)]
    assert north == [4, 5, 6, 7]
    assert south == [1, 10, 11, 12]


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
    assert after_spawning(days) == says
