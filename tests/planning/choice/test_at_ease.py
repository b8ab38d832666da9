"""The answer found without a solver is the one the solver finds."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from showprep.planning.choice import solve
from showprep.planning.choice.at_ease import at_ease
from showprep.planning.choice.options import arrange
from showprep.planning.choice.problem import Problem, Solution
from tests.planning.choice.checker import check
from tests.planning.choice.small_seasons import sized
from tests.planning.choice.tiny import entry, season, touch

ROOT = Path(__file__).resolve().parents[3]


def easy_season(number: int) -> Problem:
    """A random season with most of its limits taken away."""
    draw = Random(f"easy/{number}")
    problem = sized(draw, draw.randrange(1, 4), draw.randrange(1, 3), draw.randrange(1, 4))
    shows = {
        show: replace(limits, fish=4, boxes=4, kg=None, total_cm=None, points=None)
        for show, limits in problem.shows.items()
    }
    speckled = problem.touch_ups[0].fish if problem.touch_ups else ""
    return replace(
        problem,
        shows=shows,
        apart=frozenset(),
        fixed=frozenset(),
        touch_ups=tuple(one for one in problem.touch_ups if one.fish == speckled),
    )


def with_the_solver(problem: Problem, monkeypatch: pytest.MonkeyPatch) -> Solution:
    with monkeypatch.context() as patch:
        patch.setattr(solve, "at_ease", lambda options: None)
        return solve.choose(problem)


def test_the_answer_is_the_solvers(monkeypatch: pytest.MonkeyPatch) -> None:
    found = 0
    for number in range(400):
        problem = easy_season(number)
        options = arrange(problem)
        if options.impossible or at_ease(options) is None:
            continue
        found += 1
        answer = solve.choose(problem)
        check(problem, answer)
        assert answer == with_the_solver(problem, monkeypatch), number
    assert found >= 40


@pytest.mark.parametrize(
    "more",
    [
        {"limits": {"A": {"fish": 1}}},  # two fish, room for one
        {"limits": {"A": {"boxes": 1}}},
        {"limits": {"A": {"fish_at_least": 3}}},  # two fish, three asked for
        {"fees": 9.0},  # two entries at 5 each
        {"vat_holds": 1},  # two fish home from one show
    ],
)
def test_a_limit_that_binds_goes_to_the_solver(more: dict[str, object]) -> None:
    entries = [
        entry("a", "A", 80, vat=(40, 60), fee=5.0),
        entry("b", "A", 70, vat=(40, 60), fee=5.0),
    ]
    assert at_ease(arrange(season(entries))) is not None
    assert at_ease(arrange(season(entries, **more))) is None  # type: ignore[arg-type]


def test_the_last_day_that_serves_and_bars_nothing_is_taken() -> None:
    entries = [entry("a", "A", 80, 70), entry("a", "B", 80, 70)]
    days = [touch("a", 1, "AB"), touch("a", 5, "AB"), touch("a", 9, "B"), touch("a", 7, "AB", "A")]
    answer = solve.choose(season(entries, days))
    assert [day.day for _, day, _ in answer.touch_ups] == [6]  # day 5 is 6 May
    assert all(aim.proven for aim in answer.aims)


def test_the_smallest_season_loads_no_solver() -> None:
    code = (
        "import sys; from showprep.cli import app\n"
        "try:\n    app(['plan', 'samples/first-show', '--on', '2027-05-01'])\n"
        "except SystemExit:\n    pass\n"
        "sys.exit('highspy' in sys.modules or 'numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr
