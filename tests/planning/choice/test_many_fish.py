"""Very many fish: the way taken then, held against the proven best of smaller problems."""

from __future__ import annotations

import pytest

from showprep.planning.choice import screen as screens
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.options import arrange
from showprep.planning.choice.problem import Effort, Problem
from showprep.planning.choice.relaxation import Relaxation
from showprep.planning.choice.solve import choose
from tests.bench.seasons import season
from tests.planning.choice.checker import check
from tests.planning.choice.small_seasons import medium

CASES = [season(30, 4, number) for number in (0, 3, 4, 8)] + [medium(number) for number in (1, 4)]


@pytest.fixture(params=[4, 12])
def few_are_many(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Take a season of thirty fish as one of very many, and keep few of them to begin with."""
    monkeypatch.setattr(screens, "MANY_FISH", request.param)
    monkeypatch.setattr(screens, "FISH_A_PLACE", 0.0)
    monkeypatch.setattr(screens, "NEAR", 0.0)


@pytest.mark.parametrize("problem", CASES)
@pytest.mark.usefixtures("few_are_many")
def test_the_plan_and_its_bound_hold(problem: Problem, monkeypatch: pytest.MonkeyPatch) -> None:
    found = choose(problem, Effort(seconds=30))
    monkeypatch.setattr(screens, "MANY_FISH", 1000)
    best = choose(problem, Effort(seconds=30))
    assert best.feasible == found.feasible
    if not best.feasible:
        return
    check(problem, found)
    assert best.aims[0].proven
    assert found.merit <= best.merit <= found.aims[0].bound
    assert found.merit >= 0.97 * best.merit
    assert not found.aims[0].proven or found.merit == best.merit


@pytest.mark.parametrize("number", range(8))
def test_a_bound_with_fish_left_aside_is_no_less_than_with_all(number: int) -> None:
    """Whatever fish are left aside, the prices of the places make up for them."""
    model = build(arrange(season(30, 4, number)), sessions=False)
    whole = Relaxation(model.linear, model.merit()).solve({}).bound
    names = sorted({entry.option.fish for entry in model.options.entries})
    for kept in (names[::2], names[:10], names[20:]):
        screen = screens.cut_to(model, set(kept))
        bound = Relaxation(screen.linear, screen.cut(model.merit())).solve({})
        assert bound.bound + screen.added(bound) >= whole - 1e-6
