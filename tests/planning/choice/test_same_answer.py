"""The same answer every time: repeated, on two threads, shuffled, with other hash numbers."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from showprep.planning.choice.problem import Effort, Problem, Solution
from showprep.planning.choice.solve import choose
from tests.bench.seasons import season
from tests.planning.choice import small_seasons

ROOT = Path(__file__).resolve().parents[3]
# Where many plans are equal in every aim but the last.
ALIKE = [season(8, 3, number) for number in range(4)]
MEDIUM = season(30, 4, 4)

SCRIPT = """
from showprep.planning.choice.solve import choose
from tests.bench.seasons import season
for fish, shows, number in ((8, 3, 0), (8, 3, 1), (30, 4, 4)):
    print(choose(season(fish, shows, number)))
"""


def shuffled(problem: Problem, number: int) -> Problem:
    """The same problem, everything in another order."""
    draw = Random(number)
    shows = list(problem.shows.items())
    draw.shuffle(shows)
    turned = frozenset((b, a) if draw.random() < 0.5 else (a, b) for a, b in problem.apart)
    return replace(
        problem,
        touch_ups=tuple(draw.sample(problem.touch_ups, len(problem.touch_ups))),
        entries=tuple(draw.sample(problem.entries, len(problem.entries))),
        shows=dict(shows),
        apart=turned,
    )


def proven(solution: Solution) -> bool:
    return all(aim.proven and aim.within == "everything" for aim in solution.aims)


def test_ten_runs_give_one_answer() -> None:
    first = choose(MEDIUM)
    assert proven(first)
    assert all(choose(MEDIUM) == first for _ in range(9))


@pytest.mark.parametrize("number", range(5))
def test_two_threads_give_the_answer_of_one(number: int) -> None:
    problem = [*ALIKE, MEDIUM][number]
    assert choose(problem, Effort(threads=2)) == choose(problem, Effort(threads=1))


@pytest.mark.parametrize("number", range(6))
def test_shuffled_options_give_the_same_answer(number: int) -> None:
    problem = [*ALIKE, MEDIUM][number % 5]
    assert choose(shuffled(problem, number)) == choose(problem)


def test_small_seasons_shuffled_give_the_same_answer() -> None:
    for number in range(400, 430):
        problem = small_seasons.problem(number)
        assert choose(shuffled(problem, number)) == choose(problem), number


def test_an_answer_cut_short_by_work_is_the_same_every_time() -> None:
    cut = Effort(nodes=1)
    first = choose(season(30, 4, 5), cut)
    assert choose(season(30, 4, 5), cut) == first
    assert choose(shuffled(season(30, 4, 5), 1), cut) == first


def test_other_hash_numbers_give_the_same_answer() -> None:
    answers = set()
    for number in ("0", "1", "20270501"):
        done = subprocess.run(
            [sys.executable, "-c", SCRIPT],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": number, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        )
        answers.add(done.stdout)
    assert len(answers) == 1
    assert "Solution(" in answers.pop()
