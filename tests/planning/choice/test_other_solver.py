"""Merit beside another solver: CP-SAT of OR-Tools, with a model of its own, on medium problems."""

from __future__ import annotations

from typing import Any

import pytest

from showprep.planning.choice import solve
from showprep.planning.choice.problem import Effort, Problem
from tests.bench.seasons import season
from tests.planning.choice.checker import check
from tests.planning.choice.cp_model import greatest_merit
from tests.planning.choice.small_seasons import medium

SECONDS = 30.0
CASES = [("season", number) for number in range(24)] + [("mixed", n) for n in range(40)]


def case(kind: str, number: int) -> Problem:
    return season(30, 4, number) if kind == "season" else medium(number)


@pytest.mark.parametrize(("kind", "number"), CASES)
def test_merit_is_that_of_another_solver(
    kind: str, number: int, outside: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first aim alone: the others take longer, and are compared with full enumeration."""
    cp = outside.module("ortools.sat.python.cp_model")
    monkeypatch.setattr(solve, "later_aims", lambda work, proven: None)
    problem = case(kind, number)
    solution = solve.choose(problem, Effort(seconds=SECONDS))
    expected, proven = greatest_merit(cp, problem, SECONDS)
    assert proven, f"not proven by the other solver in {SECONDS:g} s"
    if expected is None:
        assert not solution.feasible
        return
    check(problem, solution)
    assert solution.aims[0].proven
    assert solution.merit == expected
