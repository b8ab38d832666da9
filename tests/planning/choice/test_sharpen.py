"""Rows that make a bound sharper: no plan breaks them, and the bound comes down."""

from __future__ import annotations

import pytest

from showprep.planning.choice.ground import Ground
from showprep.planning.choice.highs import maximise
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.options import arrange
from showprep.planning.choice.problem import Effort, Problem
from showprep.planning.choice.screen import Screen, cut_to, uncut
from showprep.planning.choice.work import Work
from tests.bench.seasons import season
from tests.planning.choice.small_seasons import medium

CASES = [season(30, 4, number) for number in range(6)] + [medium(number) for number in range(6)]


def sharpened(problem: Problem, screen: Screen) -> tuple[float, float]:
    """The bound for all fish before and after."""
    ground = Ground(Work(arrange(problem), Effort()), screen, 1.0)
    plain = ground.bound(0, {})
    return ground.top(plain), ground.top(ground.sharpened({}, plain))


@pytest.mark.parametrize("problem", CASES)
def test_the_best_plan_breaks_no_row(problem: Problem) -> None:
    """Best by the solver alone, on the model without the rows."""
    best = maximise((model := build(arrange(problem), sessions=False)).linear, model.merit())
    if best.values is None:
        return
    before, after = sharpened(problem, screen := uncut(model))
    assert best.value - 1e-6 <= after <= before + 1e-6
    for row in range(screen.linear.rows):
        span = range(screen.linear.starts[row], screen.linear.starts[row + 1])
        asked = sum(screen.linear.values[i] * best.values[screen.linear.places[i]] for i in span)
        assert asked <= screen.linear.row_upper[row] + 1e-5


@pytest.mark.parametrize("number", range(8))
def test_with_fish_left_aside_the_bound_holds_for_all(number: int) -> None:
    problem = season(30, 4, number)
    model = build(arrange(problem), sessions=False)
    best = maximise(model.linear, model.merit()).value
    names = sorted({entry.option.fish for entry in model.options.entries})
    for kept in (names[::2], names[:10], names[20:]):
        _, after = sharpened(problem, cut_to(model, set(kept)))
        assert after >= best - 1e-6


def test_it_is_worth_it() -> None:
    gained = [before - after for before, after in (both(number) for number in range(10))]
    assert all(one >= -1e-6 for one in gained)
    assert sum(one > 10 for one in gained) >= 5


def both(number: int) -> tuple[float, float]:
    problem = season(30, 4, number)
    return sharpened(problem, uncut(build(arrange(problem), sessions=False)))
