"""Small seasons against every plan there is, and against another solver."""

from __future__ import annotations

from fractions import Fraction

import pytest
from msgspec.structs import replace

from showprep.selection.choose import choose
from showprep.selection.explain import Questions
from showprep.selection.problem import Instance
from tests.selection import small_seasons
from tests.selection.checker import check
from tests.selection.cp_model import SCALE, greatest_worth
from tests.selection.enumeration import best, many, parts
from tests.storms import FULL, only_in_full, rounds, storm

NEAR = Fraction(1, 2)  # hundredths of a point


# In 99 a promised touch-up still heals in the vat when the fish of a show come home to it.
MORE = [number for number in range(40, storm(40, 120)) if number != 99]


@pytest.mark.parametrize("number", [*range(40), 99, *only_in_full(MORE)])
def test_no_plan_is_worth_more(number: int) -> None:
    problem = small_seasons.problem(number)
    if many(problem, 20_000):
        return  # left to the other solver
    expected, solution = best(problem), choose(problem).solution
    if expected is None:
        assert not solution.feasible
        return
    check(problem, solution)
    assert solution.proven
    assert abs(Fraction(solution.worth) - expected[0]) < NEAR


@pytest.mark.parametrize("number", rounds(20, 40))
def test_every_cost_is_that_of_the_best_plan_with_it(number: int) -> None:
    problem = replace(small_seasons.problem(number), fixed=frozenset())
    problem = replace(problem, entries=tuple(replace(e, must=False) for e in problem.entries))
    if many(problem):
        return
    chosen = choose(problem)
    told = Questions(chosen).all()
    assert told.better is None
    for cost in told.costs:
        forced = [replace(e, must=e.key == (cost.fish, cost.show)) for e in problem.entries]
        expected = best(replace(problem, entries=tuple(forced)))
        if expected is None:
            assert (cost.cost, cost.possible) == (None, False)
            continue
        assert cost.cost is not None
        assert not cost.at_most
        assert abs(Fraction(chosen.solution.worth) - expected[0] - Fraction(cost.cost)) < 1


@pytest.mark.parametrize("number", rounds(20, 40))
def test_every_gain_is_that_of_one_more(number: int) -> None:
    problem = small_seasons.problem(number)
    chosen = choose(problem)
    if not chosen.solution.feasible or many(problem):
        return
    for gain in Questions(chosen).all().gains:
        more = best(_one_more(problem, gain.limit.kind, gain.limit.of))
        assert more is not None
        assert not gain.at_least
        assert abs(more[0] - Fraction(chosen.solution.worth) - Fraction(gain.gain)) < 1


def _one_more(problem: Instance, kind: str, of: str) -> Instance:
    """Written from what the words for the keeper say one more is."""
    if kind == "fees":
        assert problem.fees is not None
        dearest = max(e.fee + problem.shows[e.show].fee for e in problem.entries)
        return replace(problem, fees=problem.fees + dearest)
    if kind == "fish-per-day":
        return replace(problem, fish_per_day=problem.fish_per_day + 1)
    if kind == "touch-ups-per-fish":
        return replace(problem, touch_ups_per_fish=problem.touch_ups_per_fish + 1)
    if kind == "vat-places":
        assert problem.vat_holds is not None
        return replace(problem, vat_holds=problem.vat_holds + 1)
    show = problem.shows[of]
    name = kind.replace("-", "_")
    step = {"total-cm": 10, "total-cm-at-least": -10, "fish-at-least": -1}.get(kind, 1)
    more = replace(show, **{name: getattr(show, name) + step})
    return replace(problem, shows={**problem.shows, of: more})


def test_most_of_these_are_small_enough_to_try_every_plan() -> None:
    assert sum(not many(small_seasons.problem(number)) for number in range(40)) >= 25


def test_enumeration_tries_every_part() -> None:
    """The yardstick itself: one fish, two shows, one touch-up, nothing in the way: 2 x 2 x 2."""
    problem = small_seasons.problem(0)
    fish = problem.entries[0].fish
    assert len(parts(replace(problem, fixed=frozenset()), fish)) >= 2


@pytest.mark.skipif(not FULL, reason="another solver, some seconds: in the full storms")
@pytest.mark.parametrize("number", range(2))
def test_another_solver_finds_no_better_plan(number: int) -> None:
    """CP-SAT of OR-Tools, on a model written from the words of the problem."""
    cp = pytest.importorskip("ortools.sat.python.cp_model")
    problem = small_seasons.medium(number)
    worth, proven = greatest_worth(cp, problem, 20.0)
    solution = choose(problem).solution
    if worth is None:
        assert not solution.feasible
        return
    check(problem, solution)
    assert solution.bound >= worth / SCALE - 0.5
    assert not solution.proven or solution.worth >= worth / SCALE - 0.5
    assert not proven or solution.worth <= worth / SCALE + 0.5
