"""Entries that must be made and cannot: the words name the limit, and the show or fish it is of."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from showprep.planning.choice.problem import Problem
from showprep.planning.choice.solve import choose
from tests.planning.choice.tiny import entry, on, season, touch


def must(fish: str, show: str, clean: int | None, marked: int | None = None, **more: Any) -> Any:
    return entry(fish, show, clean, marked, must=True, **more)


TWO = [
    must("A", "s", 90, length_cm=60.0, kg=4.0, points=4.0, fee=10.0, size_class="5"),
    must("B", "s", 60, length_cm=40.0, kg=2.5, points=3.0, fee=10.0, size_class="5"),
]
SEDATED_TWICE = [
    must("A", "s", 90, needs_touch_up=True),
    must("A", "t", 90, needs_touch_up=True),
]
TWO_DAYS = [touch("A", 0, "s"), touch("A", 10, "t")]
HOME_AT_ONCE = [must("A", "s", 90, vat=(20, 30)), must("B", "t", 80, vat=(30, 40))]
ONE_DAY = [touch("A", 0, "s"), touch("B", 0, "s")]
BOTH_CLEAN = [must(fish, "s", 90, needs_touch_up=True) for fish in "AB"]
BARRED = [must("A", "s", 90), must("A", "t", 90, needs_touch_up=True)]


@pytest.mark.parametrize(
    ("problem", "words"),
    [
        (season(TWO, limits={"s": {"fish": 1}}), "the limit of fish at s"),
        (season(TWO, limits={"s": {"boxes": 1}}), "the boxes that can be carried to s"),
        (season(TWO, limits={"s": {"kg": 6.0}}), "the weight that can be carried to s"),
        (season(TWO, limits={"s": {"total_cm": 99.0}}), "the total length allowed at s"),
        (season(TWO, limits={"s": {"points": 6.0}}), "the points allowed at s"),
        (season(TWO, limits={"s": {"entries_per_class": 1}}), "the entries allowed in one class"),
        (season(TWO, limits={"s": {"fish_at_least": 3}}), "the least number of fish that s takes"),
        (season(TWO, limits={"s": {"total_cm_at_least": 101.0}}), "the least total length"),
        (season(TWO, fees=19.0), "the budget of fees"),
        (season([BARRED[0], must("A", "t", 80)], apart=frozenset({("s", "t")})), "the rest A"),
        (season(BOTH_CLEAN, ONE_DAY, fish_per_day=1), "touched up on one day"),
        (season(SEDATED_TWICE, TWO_DAYS, touch_ups_per_fish=1), "the touch-ups allowed for A"),
        (season(SEDATED_TWICE, TWO_DAYS, spacing_default=11), "between two sedations of A"),
        (season(BARRED, [touch("A", 0, "t", bars="s")]), "for A at s"),
        (
            season([must(fish, "s", 90, vat=(20, 30)) for fish in "AB"], vat_holds=1),
            "the places in the isolation vat",
        ),
        (season(HOME_AT_ONCE), "cohorts are never together in the isolation vat"),
    ],
)
def test_the_limit_in_the_way_is_named(problem: Problem, words: str) -> None:
    solution = choose(problem)
    assert not solution.feasible
    assert (solution.merit, solution.entries, solution.touch_ups) == (0, (), ())
    assert words in solution.why_not
    assert " and " not in solution.why_not.split("because of")[-1]  # one limit, and only one


def test_a_fish_that_can_be_entered_neither_way_is_named() -> None:
    solution = choose(season([must("A", "s", None), entry("B", "s", 90)]))
    assert not solution.feasible
    assert solution.why_not == (
        "A must go to s, but can be entered there neither clean nor marked."
    )


def test_two_limits_that_stand_in_the_way_together_are_both_named() -> None:
    """Two fish where one box and 5 kg are allowed: 4.0 + 2.5 kg, so neither alone is the fault."""
    solution = choose(season(TWO, limits={"s": {"boxes": 1, "kg": 5.0}}))
    assert not solution.feasible
    assert "the boxes that can be carried to s" in solution.why_not
    assert "the weight that can be carried to s" in solution.why_not


def test_the_show_in_the_way_is_named_and_no_other() -> None:
    entries = [*TWO, must("C", "t", 70)]
    solution = choose(season(entries, limits={"s": {"boxes": 1}, "t": {"boxes": 1}}))
    assert "carried to s" in solution.why_not


def test_what_contradicts_itself_is_refused() -> None:
    problem = season([entry("A", "s", 60, 90)])
    with pytest.raises(ValueError, match="A at s: a blemish seen cannot add merit"):
        choose(problem)
    problem = season([entry("A", "s", 90, 60)], fixed=frozenset({("A", on(0), "pond")}))
    with pytest.raises(ValueError, match="a fixed touch-up is not among the options"):
        choose(problem)
    problem = replace(season([entry("A", "s", 90)]), shows={})
    with pytest.raises(ValueError, match="s has no limits"):
        choose(problem)
