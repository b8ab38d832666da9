"""The way taken for large yards, held against the proven best of seasons small enough for both."""

from __future__ import annotations

import pytest

from showprep.planning.choice import ground, screen, structure
from showprep.planning.choice.problem import Effort, Problem
from showprep.planning.choice.solve import choose
from tests.bench.seasons import season
from tests.planning.choice.checker import check
from tests.planning.choice.small_seasons import medium

CASES = [season(30, 4, number) for number in (0, 1, 5)] + [medium(4)]


@pytest.mark.parametrize("threads", [1, 2])
@pytest.mark.parametrize("windows", [True, False])
@pytest.mark.parametrize("problem", CASES)
def test_it_proves_the_same_merit(
    problem: Problem, windows: bool, threads: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Bounds sharpened, fish left aside, a little of the solver at a time, windows of shows."""
    best = choose(problem, Effort(seconds=60))
    monkeypatch.setattr(ground, "LARGE", 10)
    monkeypatch.setattr(screen, "MANY_FISH", 8)
    monkeypatch.setattr(screen, "FISH_A_PLACE", 0.3)
    if windows:
        monkeypatch.setattr(structure, "MANY", 10)
    found = choose(problem, Effort(seconds=60, threads=threads))
    assert best.feasible == found.feasible
    if best.feasible:
        check(problem, found)
        assert best.aims[0].proven
        assert found.aims[0].proven
        assert found.merit == best.merit


def test_half_the_hundreds_a_keeper_could_have() -> None:
    """Within every limit, and within the bound, where nothing is proven in the time."""
    problem = season(120, 8, 0)
    found = choose(problem, Effort(seconds=8))
    check(problem, found)
    assert found.merit <= found.aims[0].bound
    assert found.aims[0].bound <= found.merit * 1.05
