"""Yards played through: nobody wins more than the oracle, and the keeper's rules are kept."""

from __future__ import annotations

from datetime import date
from itertools import product

import pytest

from tests.bench.open_waters import site_years
from tests.bench.yards_played import (
    ByHand,
    ByProgram,
    Diary,
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
    """Every pair of days and journeys of the first two fish, tried one by one."""
    yard = yards[0]
    two = Yard(yard.water, yard.fish[:2], yard.shows, yard.truths, yard.readings, yard.nature)
    goes = [
        [show for show, one in zip(two.shows, chosen, strict=True) if one]
        for chosen in product((True, False), repeat=len(two.shows))
    ]
    ways = [
        (day, went)
        for day in (None, *two.sessions())
        for went in goes
        if day is None or not any(yard.keeps(show, day) for show in went)
    ]
    best = max(
        sum(
            sum(
                sorted(
                    (
                        two.worth(fish, day, show, went) if show in went else 0.0
                        for fish, (day, went) in zip(two.fish, chosen, strict=True)
                    ),
                    reverse=True,
                )[: show.places]
            )
            for show in two.shows
            if two.may_travel(show)
        )
        for chosen in product(ways, repeat=2)
    )
    assert oracle(two) == pytest.approx(best)


def test_the_program_asks_for_nothing_that_the_yard_forbids(yards: list[Yard]) -> None:
    """Its own rules for the fish's sake are those that every keeper here is held to."""

    class Asks(ByProgram):
        def touch_up(self, yard: Yard, diary: Diary, today: date) -> set[str]:
            due = super().touch_up(yard, diary, today)
            for fish in due - diary.touched.keys():
                assert not any(yard.keeps(show, today) for show in diary.journeys(yard, fish))
            return due

    second = invented(yards[0].water, 1, "a test")  # one that has touch-ups
    assert sum(play(yard, Asks()).touched for yard in (*yards, second)) > 0


def test_the_share_is_of_what_could_be_won() -> None:
    share, low, high = share_won([1.0, 3.0, 0.0], [2.0, 4.0, 2.0], ["a", "b", "c"])
    assert share == pytest.approx(0.5)
    assert 0.0 <= low <= share <= high <= 0.75
