"""Yards played through: nobody wins more than the oracle, and the keeper's rules are kept."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import product

import pytest

from tests.bench.open_waters import site_years
from tests.bench.season_played import fit_to_sedate, saturdays
from tests.bench.yards_played import (
    FIRST_TOUCH,
    SETTLES,
    ByHand,
    ByProgram,
    Never,
    Yard,
    invented,
    oracle,
    play,
    share_won,
)
from tests.storms import storm

FEW = storm(1, 6)


@pytest.fixture(scope="module")
def yards() -> list[Yard]:
    waters = [one for one in site_years() if one.site in ("brussels", "seattle")]
    if not waters:
        pytest.skip("no open record of water is installed")
    return [invented(water, 0, "a test") for water in waters[:FEW]]


def test_nobody_wins_more_than_the_oracle(yards: list[Yard]) -> None:
    for yard in yards:
        most, least = oracle(yard), play(yard, Never()).merit
        assert least <= most + 1e-9
        for keeper in (ByHand(), ByProgram()):
            came = play(yard, keeper)
            assert 0 <= came.touched <= len(yard.fish)
            assert came.merit <= most + 1e-9


def test_the_oracle_is_the_best_of_all_days(yards: list[Yard]) -> None:
    """Every pair of days of the first two fish, tried one by one; the others never touched."""
    yard = yards[0]
    two = Yard(yard.water, yard.fish[:2], yard.shows, yard.truths, yard.readings, yard.nature)
    first, last = date(yard.water.year, *FIRST_TOUCH), yard.shows[-1].benching
    days = [
        None,
        *(
            day
            for day in saturdays(first, last)
            if fit_to_sedate(yard.water.water_c[day])
            and not any(timedelta(0) <= day - one.benching < SETTLES for one in yard.shows)
        ),
    ]
    best = max(
        sum(
            sum(
                sorted(
                    (
                        two.worth(fish, day, show)
                        for fish, day in zip(two.fish, chosen, strict=True)
                    ),
                    reverse=True,
                )[: show.places]
            )
            for show in two.shows
        )
        for chosen in product(days, repeat=2)
    )
    assert oracle(two) == pytest.approx(best)


def test_the_share_is_of_what_could_be_won() -> None:
    share, low, high = share_won([1.0, 3.0, 0.0], [2.0, 4.0, 2.0], ["a", "b", "c"])
    assert share == pytest.approx(0.5)
    assert 0.0 <= low <= share <= high <= 0.75
