"""How the choice compares, as ratios from one run; nothing here is a test.

    python -m tests.bench.choice
    python -m tests.bench.choice 30x4 100x6 --problems 5 --seed mine
    python -m tests.bench.choice 200x12 1000x20 --plain 0

For each size it prints the choice beside one plain call of HiGHS on the same compact model (its
own settings, one thread, at most `--plain` seconds; 0 leaves it out) and beside the choice by hand
(see by_hand.py), on invented seasons. Seeds are fresh on every run unless `--seed` names them. All
seconds are of the processor, so that other work on the machine changes little.
"""

from __future__ import annotations

import argparse
import secrets
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from showprep.selection.choose import choose
from showprep.selection.explain import Questions
from showprep.selection.model import build
from showprep.selection.options import arrange
from showprep.selection.plans import worth_of
from showprep.selection.problem import Instance
from tests.bench.by_hand import by_hand
from tests.bench.seasons import season

SIZES = ["8x3", "30x4", "100x6"]
Made = TypeVar("Made")


@dataclass(frozen=True, slots=True)
class Run:
    worth: float
    bound: float
    proven: bool
    seconds: float
    costs: int
    at_most: int
    seconds_of_costs: float
    by_hand: float
    plain: float | None
    seconds_of_plain: float


def timed(work: Callable[[], Made]) -> tuple[Made, float]:
    began = time.process_time()
    made = work()
    return made, time.process_time() - began


def plain(problem: Instance, seconds: float) -> float:
    """One call of HiGHS on the whole compact model; the worth of what it finds."""
    import highspy
    import numpy as np

    options = arrange(problem)
    model = build(options)
    linear = model.linear
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("time_limit", seconds)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = linear.columns, linear.rows
    lp.sense_ = highspy.ObjSense.kMaximize
    lp.col_cost_ = np.array(linear.worth)
    lp.col_lower_, lp.col_upper_ = np.array(linear.col_lower), np.array(linear.col_upper)
    lp.row_lower_, lp.row_upper_ = np.array(linear.row_lower), np.array(linear.row_upper)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.array(linear.starts, dtype=np.int32)
    lp.a_matrix_.index_ = np.array(linear.places, dtype=np.int32)
    lp.a_matrix_.value_ = np.array(linear.values)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * linear.columns
    solver.passModel(lp)
    solver.run()
    if solver.getInfo().primal_solution_status != 2:
        return 0.0
    return worth_of(options, model.read(list(solver.getSolution().col_value)))


def one(problem: Instance, plain_seconds: float) -> Run:
    chosen, seconds = timed(lambda: choose(problem))
    told, more = timed(lambda: Questions(chosen).all())
    reached, plainly = None, 0.0
    if plain_seconds > 0:
        reached, plainly = timed(lambda: plain(problem, plain_seconds))
    solution = chosen.solution
    return Run(
        worth=solution.worth,
        bound=solution.bound,
        proven=solution.proven,
        seconds=seconds,
        costs=sum(cost.cost is not None for cost in told.costs),
        at_most=sum(cost.cost is not None and cost.at_most for cost in told.costs),
        seconds_of_costs=more,
        by_hand=by_hand(problem).worth(),
        plain=reached,
        seconds_of_plain=plainly,
    )


def main() -> None:
    words = argparse.ArgumentParser(description="The choice beside HiGHS alone and by hand.")
    words.add_argument("sizes", nargs="*", default=SIZES, help="fish x shows: 30x4, 200x12")
    words.add_argument("--problems", type=int, default=5, help="how many seasons of each size")
    words.add_argument("--seed", default=secrets.token_hex(4), help="names the seasons")
    words.add_argument("--plain", type=float, default=60.0, help="seconds for HiGHS alone")
    asked = words.parse_args()
    print(f"seed {asked.seed}; one plain call of HiGHS has {asked.plain:g} s")
    for size in asked.sizes:
        fish, shows = map(int, size.split("x"))
        runs = []
        for number in range(asked.problems):
            run = one(season(fish, shows, f"{asked.seed}/{number}"), asked.plain)
            runs.append(run)
            print(f"  {size} {number}: {_line(run)}", flush=True)
        _summary(size, runs)


def _line(run: Run) -> str:
    gap = (run.bound - run.worth) / max(run.bound, 1.0)
    line = f"worth {run.worth / 100:.1f}, {'proven' if run.proven else f'open {gap:.2%}'}"
    line += f", {run.seconds:.2f} s; {run.costs} costs ({run.at_most} at most)"
    line += f" {run.seconds_of_costs:.2f} s; by hand {run.by_hand / max(run.worth, 1.0):.1%}"
    if run.plain is not None:
        line += f"; plain {run.plain / max(run.worth, 1.0):.2%} in"
        line += f" {run.seconds_of_plain / max(run.seconds, 0.001):.1f} x the time"
    return line


def _summary(size: str, runs: list[Run]) -> None:
    whole = [run.seconds + run.seconds_of_costs for run in runs]
    print(f"{size}: proven {sum(run.proven for run in runs)} of {len(runs)};", end=" ")
    print(f"choice median {statistics.median(run.seconds for run in runs):.2f} s,", end=" ")
    print(f"with costs median {statistics.median(whole):.2f} s, most {max(whole):.2f} s;", end=" ")
    assert all(run.worth >= run.by_hand - 0.5 for run in runs), "worse than by hand"
    share = statistics.mean(run.by_hand / max(run.worth, 1.0) for run in runs)
    print(f"by hand {share:.1%} of its worth")


if __name__ == "__main__":
    main()
