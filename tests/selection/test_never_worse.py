"""Never worse than by hand, at any size and limit of work, and when broken off; the same bytes."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest
from msgspec.structs import replace

from showprep.selection.choose import adopted, choose
from showprep.selection.explain import ONE, PATIENCE, Questions
from showprep.selection.problem import Instance, Work
from tests.bench.by_hand import by_hand
from tests.bench.seasons import season
from tests.selection.checker import check
from tests.storms import storm

ROOT = Path(__file__).resolve().parents[2]
SMALL = [season(8, 3, f"never worse {number}") for number in range(storm(5, 12))]
MEDIUM = [season(30, 4, f"never worse {number}") for number in range(storm(1, 2))]
SCRIPT = f"""
SIZES = {((8, 3), (storm(20, 30), 4))}
import sys, types
tests = types.ModuleType("tests")
tests.__path__ = ["tests"]
sys.modules["tests"] = tests
from showprep.selection.choose import adopted, choose
from showprep.selection.explain import Questions
from tests.bench.seasons import season
for fish, shows in SIZES:
    chosen = choose(season(fish, shows, "same bytes"))
    print(chosen.solution, Questions(chosen).all())
"""


@pytest.mark.parametrize("steps", [0, 300, 30_000])
@pytest.mark.parametrize("problem", [*SMALL, *MEDIUM], ids=range(len(SMALL) + len(MEDIUM)))
def test_never_worse_than_by_hand(problem: Instance, steps: int) -> None:
    solution = choose(problem, Work(steps=steps)).solution
    check(problem, solution)
    assert solution.worth >= by_hand(problem).worth() - 0.5
    assert solution.worth <= solution.bound + 0.5


def test_a_large_season_is_told_with_its_bound() -> None:
    problem = season(120, 8, "large")
    solution = choose(problem, Work(steps=2_000)).solution
    check(problem, solution)
    assert by_hand(problem).worth() - 0.5 <= solution.worth <= solution.bound + 0.5
    assert not solution.interrupted


def test_of_a_season_too_large_for_one_model_the_best_fish_are_looked_at(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    problem = season(40, 5, "part")
    whole = choose(problem).solution
    monkeypatch.setattr("showprep.selection.choose.MOST_ENTRIES", 100)
    monkeypatch.setattr("showprep.selection.choose.BEST_ENTRIES", 100)
    part = choose(problem).solution
    check(problem, part)
    assert by_hand(problem).worth() - 0.5 <= part.worth <= whole.worth + 0.5
    assert whole.worth <= part.bound + 0.5  # the bound holds for all fish


@pytest.mark.parametrize("times", [0, 1, 5, 50, 500])
def test_broken_off_at_any_moment_it_is_the_best_so_far(times: int) -> None:
    """`stop` says so after being asked so many times."""
    asked = [0]

    def stop() -> bool:
        asked[0] += 1
        return asked[0] > times

    solution = choose(MEDIUM[0], stop=stop).solution
    check(MEDIUM[0], solution)
    assert solution.interrupted == (asked[0] > times)
    assert solution.worth >= by_hand(MEDIUM[0]).worth() - 0.5


def test_broken_off_costs_are_at_most() -> None:
    chosen = choose(SMALL[2])
    exact = {(one.fish, one.show): one for one in Questions(chosen).all().costs}
    told = Questions(chosen, stop=lambda: True).all()
    assert told.interrupted
    for one in told.costs:
        other = exact[one.fish, one.show]
        assert one.at_most
        assert one.cost is None or other.cost is None or one.cost >= other.cost - 0.5


def test_where_questions_tell_nothing_the_others_are_left_as_guessed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    chosen = choose(SMALL[2])
    asked: list[int] = []

    def in_vain(self: Questions, number: int, most: int) -> bool:
        asked.append(most)
        return False

    monkeypatch.setattr(Questions, "_ask", in_vain)
    told = Questions(chosen).all().costs
    assert len(told) > PATIENCE
    assert asked == [ONE] * PATIENCE
    assert any(one.at_most for one in told)


def shuffled(problem: Instance, number: int) -> Instance:
    draw = Random(number)
    return replace(
        problem,
        touch_ups=tuple(draw.sample(problem.touch_ups, len(problem.touch_ups))),
        entries=tuple(draw.sample(problem.entries, len(problem.entries))),
        shows=dict(sorted(problem.shows.items(), reverse=True)),
    )


@pytest.mark.parametrize("number", range(3))
def test_the_order_of_the_files_is_nothing_to_it(number: int) -> None:
    for problem in (*SMALL[:3], MEDIUM[-1]):
        assert choose(shuffled(problem, number)).solution == choose(problem).solution


def test_the_same_bytes_in_another_process_with_other_hash_numbers() -> None:
    said = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            check=True,
            timeout=300,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(said) == 1


def test_a_better_plan_found_in_asking_takes_its_place() -> None:
    """A plan made by hand alone is not proven: no gain is told of it, and a better one is told."""
    found = 0
    for problem in SMALL:
        chosen = choose(problem, Work(steps=0))
        if chosen.solution.proven:
            continue
        told = Questions(chosen).all()
        assert told.gains == ()
        if told.better is None:
            continue
        found += 1
        better = adopted(chosen, told.better).solution
        check(problem, better)
        assert chosen.solution.worth + 0.5 < better.worth <= choose(problem).solution.worth + 0.5
        assert better.worth <= better.bound
    assert found >= 3
