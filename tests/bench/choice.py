"""How the choice compares, as ratios from one run; nothing here is a test.

    python -m tests.bench.choice
    python -m tests.bench.choice 30x4 --problems 10 --seconds 60
    python -m tests.bench.choice 200x12 --seconds 240 --share 0.49
    python -m tests.bench.choice 1000x20 --seconds 120 --share 0.9

For each size it prints the choice beside the plain formulation solved by the same solver (see
plain_choice.py) and beside the way it is done by hand (see by_hand.py), on invented seasons.
`--seconds` is what the plain formulation is given, `--share` the part of it the choice is given.
"""

from __future__ import annotations

import argparse
import statistics
import time
from dataclasses import dataclass

from showprep.planning.choice.problem import Effort, Problem, Solution
from showprep.planning.choice.solve import choose
from tests.bench.by_hand import by_hand
from tests.bench.plain_choice import Plain, plain
from tests.bench.seasons import season

# Size: problems, seconds for the plain formulation, share of them for the choice.
USUAL = {"30x4": (10, 60.0, 1.0), "200x12": (3, 240.0, 0.49), "1000x20": (1, 120.0, 0.9)}
OURS = ("merit", "touch-up days", "touch-ups", "days before the last")


@dataclass(frozen=True, slots=True)
class Run:
    number: int
    solution: Solution
    seconds: float
    plain: Plain
    by_hand: int

    @property
    def proven(self) -> bool:
        return all(aim.proven for aim in self.solution.aims if aim.name in OURS)

    @property
    def gap(self) -> float:
        """How far the merit may be from the best there is, as a share of the bound."""
        bound = self.solution.aims[0].bound
        return (bound - self.solution.merit) / bound if bound else 0.0

    @property
    def lost(self) -> float:
        """What the way by hand loses, as a share of the merit reached."""
        best = max(self.solution.merit, 1)
        return (self.solution.merit - self.by_hand) / best


def main() -> None:
    words = argparse.ArgumentParser(description="The choice beside the plain formulation.")
    words.add_argument("sizes", nargs="*", default=["30x4"], help="30x4, 200x12, 1000x20 or any")
    words.add_argument("--problems", type=int, help="how many seasons of each size")
    words.add_argument("--first", type=int, default=0, help="number of the first season")
    words.add_argument("--seconds", type=float, help="for the plain formulation")
    words.add_argument("--share", type=float, help="of these for the choice")
    asked = words.parse_args()
    for size in asked.sizes:
        problems, seconds, share = USUAL.get(size, (3, 60.0, 1.0))
        seconds, share = asked.seconds or seconds, asked.share or share
        fish, shows = map(int, size.split("x"))
        print(f"{size}: the plain formulation has {seconds:g} s, the choice {seconds * share:g} s")
        numbers = range(asked.first, asked.first + (asked.problems or problems))
        runs = [_run(number, season(fish, shows, number), seconds, share) for number in numbers]
        _summary(runs)


def _run(number: int, problem: Problem, seconds: float, share: float) -> Run:
    began = time.monotonic()
    solution = choose(problem, Effort(seconds=seconds * share))
    took = time.monotonic() - began
    run = Run(number, solution, took, plain(problem, seconds), by_hand(problem).merit())
    other = run.plain
    values = {aim.name: aim.value for aim in solution.aims}
    ours = f"merit {solution.merit / 100:g} (open {run.gap:.2%})"
    ours += (
        f", {values.get('touch-up days', 0):g} days, {'all' if run.proven else 'not all'} proven"
    )
    theirs = f"merit {other.merit / 100:g}, {'?' if other.days is None else other.days} days"
    theirs += f", {'all' if other.proven else 'not all'} proven"
    print(f"  {number}: {ours}, {took:.1f} s | plain: {theirs}, {other.seconds:.1f} s", end="")
    print(f" | time {took / other.seconds:.3f} x | by hand {run.lost:.1%} less merit", flush=True)
    _agree(run)
    return run


def _agree(run: Run) -> None:
    """Where both are proven, the aims are the same; a difference is a fault of one of them."""
    ours = {aim.name: aim.value for aim in run.solution.aims if aim.proven}
    if run.plain.days is not None and "merit" in ours:
        assert run.plain.merit == run.solution.merit
    if run.plain.proven and "touch-up days" in ours:
        assert run.plain.days == ours["touch-up days"]


def _summary(runs: list[Run]) -> None:
    ratios = [run.seconds / run.plain.seconds for run in runs]
    total = sum(run.seconds for run in runs) / sum(run.plain.seconds for run in runs)
    gained = [run.solution.merit / run.plain.merit - 1 for run in runs if run.plain.merit]
    lost = [run.lost for run in runs]
    print(f"  proven: the choice {sum(run.proven for run in runs)} of {len(runs)},", end=" ")
    print(f"plain {sum(run.plain.proven for run in runs)} of {len(runs)}")
    print(f"  time against plain: median {statistics.median(ratios):.3f} x,", end=" ")
    print(f"worst {max(ratios):.3f} x, of all together {total:.3f} x")
    if gained:
        print(f"  merit against plain: mean {statistics.mean(gained):+.3%},", end=" ")
        print(f"least {min(gained):+.3%};")
    if len(gained) < len(runs):
        print(f"  plain found no plan in {len(runs) - len(gained)} of {len(runs)};")
    print(f"  merit open at most {max(run.gap for run in runs):.3%}")
    print(f"  by hand: {statistics.mean(lost):.1%} less merit on average, worst {max(lost):.1%}")


if __name__ == "__main__":
    main()
