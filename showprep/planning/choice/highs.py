"""HiGHS, run quietly and the same way every time.

Work is limited by nodes, so that a busy machine gives the same answer as an idle one; the clock
is a last resort. HiGHS: Q. Huangfu and J. A. J. Hall, Parallelizing the dual revised simplex
method, Mathematical Programming Computation 10 (2018), 119-142.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from math import fsum, inf
from typing import Any, TypeVar

from showprep.planning.choice.linear import Linear

Made = TypeVar("Made")
SILENCE = threading.Lock()  # descriptor 1 belongs to all threads
Heard = Callable[[], None]  # called a few times a second while a run goes on

# Heuristics that search a smaller model: idle once a start is known, and dear on small models.
DEAR = (
    "mip_heuristic_run_rins",
    "mip_heuristic_run_rens",
    "mip_heuristic_run_root_reduced_cost",
    "mip_heuristic_run_zi_round",
    "mip_heuristic_run_shifting",
)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one run found. `values` is None when nothing satisfies the rows, or none was found."""

    values: list[float] | None
    value: float
    bound: float
    proven: bool
    infeasible: bool = False
    interrupted: bool = False
    reduced: list[float] | None = None  # reduced costs, of a run without whole numbers
    duals: list[float] | None = None  # of its rows


@contextmanager
def _quiet() -> Iterator[None]:
    """Send descriptor 1 nowhere: HiGHS writes its banner there, whatever its output option.

    One thread at a time: a second one would take "nowhere" for what is to be put back, and all that
    is printed afterwards would be lost.
    """
    import ctypes

    library = ctypes.CDLL(None) if os.name != "nt" else ctypes.CDLL("ucrtbase")
    sys.stdout.flush()
    library.fflush(None)
    try:
        kept = os.dup(1)
    except OSError:  # no standard output at all
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
        library.fflush(None)
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


def solver() -> Any:
    """A silent HiGHS, set up to give the same answer every time."""
    import highspy

    make: Any = highspy.Highs
    with SILENCE, _quiet():
        solver = make()
        solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)  # side by side there are several (see `abreast`)
    solver.setOptionValue("parallel", "off")
    solver.setOptionValue("random_seed", 0)
    solver.setOptionValue("mip_rel_gap", 0.0)
    return solver


def pass_model(solver: Any, linear: Linear, objective: Sequence[float], whole: bool) -> None:
    """Hand a model over, its columns whole numbers or not."""
    import highspy
    import numpy as np

    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = linear.columns, linear.rows
    model.sense_ = highspy.ObjSense.kMaximize
    model.col_cost_ = np.array(objective, dtype=float)
    model.col_lower_ = np.array(linear.col_lower, dtype=float)
    model.col_upper_ = np.array(linear.col_upper, dtype=float)
    model.row_lower_ = np.array(linear.row_lower, dtype=float)
    model.row_upper_ = np.array(linear.row_upper, dtype=float)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.array(linear.starts, dtype=np.int32)
    model.a_matrix_.index_ = np.array(linear.places, dtype=np.int32)
    model.a_matrix_.value_ = np.array(linear.values, dtype=float)
    if whole:
        whole_, part = highspy.HighsVarType.kInteger, highspy.HighsVarType.kContinuous
        model.integrality_ = [whole_ if one else part for one in linear.integer]
    solver.passModel(model)


def run(solver: Any, heard: Heard | None, stop: threading.Event | None = None) -> bool:
    """Run where an interruption is heard; True when interrupted.

    With `stop` it runs in this thread, and ends soon after `stop` is set.
    """
    if stop is None:
        ask = threading.Event()
        return abreast([lambda: _run(solver, ask)], heard, ask)[1]
    _run(solver, stop)
    return stop.is_set()


def _run(solver: Any, stop: threading.Event) -> None:
    def ask(event: Any) -> None:
        event.interrupt(stop.is_set())

    # A warm model is done in a moment; asking at every step would cost it a third of its time.
    cold = solver.getInfo().simplex_iteration_count <= 0
    moments = [solver.cbMipInterrupt, *([solver.cbSimplexInterrupt] if cold else [])]
    for moment in moments:
        moment.subscribe(ask)
    solver.run()
    for moment in moments:
        moment.unsubscribe(ask)


def abreast(
    jobs: Sequence[Callable[[], Made]], heard: Heard | None, stop: threading.Event
) -> tuple[list[Made], bool]:
    """Do jobs side by side, each in a thread of its own; True with the results when interrupted.

    An interruption sets `stop`, and the jobs, which must heed it, are waited for. What a job
    raises is raised here.
    """
    made: dict[int, Made] = {}
    raised: list[BaseException] = []

    def do(place: int) -> None:
        try:
            made[place] = jobs[place]()
        except BaseException as fault:  # to be raised in the thread that waits
            raised.append(fault)

    workers = [threading.Thread(target=do, args=(at,), daemon=True) for at in range(len(jobs))]
    interrupted = False
    for worker in workers:
        worker.start()
    while any(worker.is_alive() for worker in workers):
        try:
            for worker in workers:
                worker.join(0.2 / len(workers))
            if heard is not None and not interrupted:
                heard()
        except KeyboardInterrupt:
            interrupted = True
            stop.set()
        except BaseException:  # what is heard failed: let no job outlive it
            stop.set()
            for worker in workers:
                worker.join()
            raise
    if raised:
        raise raised[0]
    return [made[place] for place in range(len(jobs))], interrupted


def maximise(
    linear: Linear,
    objective: Sequence[float],
    start: Sequence[float] | None = None,
    nodes: int = 200_000,
    seconds: float = inf,
    gap: float = 1e-6,
    thorough: bool = True,
    heard: Heard | None = None,
    stop: threading.Event | None = None,
) -> Outcome:
    """The greatest sum of `objective` over the model's columns, all of them whole.

    `start` is a solution to begin from, one value a column. `gap` is how far from the bound the
    value may stay and still count as proven: 0.99 where every sum is a whole number. `thorough`
    runs HiGHS's dearer heuristics too. With `stop` it runs in this thread until that is set.
    """
    import highspy

    highs = solver()
    pass_model(highs, linear, objective, whole=True)
    highs.setOptionValue("mip_abs_gap", gap)
    highs.setOptionValue("mip_max_nodes", max(nodes, 0))
    for option in () if thorough else DEAR:
        highs.setOptionValue(option, False)
    if seconds < inf:
        highs.setOptionValue("time_limit", max(seconds, 0.05))
    if start is not None:
        first = highspy.HighsSolution()
        first.col_value = list(start)
        highs.setSolution(first)
    interrupted = run(highs, heard, stop)
    outcome = _outcome(highs, interrupted)
    if start is not None and not interrupted and _misreported(outcome, objective):
        outcome = maximise(linear, objective, None, nodes, seconds, gap, thorough, heard, stop)
    return outcome if start is None else _no_worse(outcome, start, objective)


def _no_worse(outcome: Outcome, start: Sequence[float], objective: Sequence[float]) -> Outcome:
    """Keep the start where the run was ended before it found anything as good."""
    value = fsum(cost * each for cost, each in zip(objective, start, strict=True))
    if outcome.infeasible or (outcome.values is not None and outcome.value >= value - 1e-6):
        return outcome
    return replace(outcome, values=list(start), value=value)


def _misreported(outcome: Outcome, objective: Sequence[float]) -> bool:
    """Does the reported value differ from that of the columns?

    HiGHS 1.16 can hand back the start it was given as optimal with the value of another
    solution; without a start it does not.
    """
    if outcome.values is None:
        return False
    actual = fsum(cost * value for cost, value in zip(objective, outcome.values, strict=True))
    return abs(actual - outcome.value) > 1e-6 * max(1.0, abs(actual))


def _outcome(solver: Any, interrupted: bool) -> Outcome:
    import highspy

    status, info = solver.getModelStatus(), solver.getInfo()
    states = highspy.HighsModelStatus
    if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
        return Outcome(None, -inf, -inf, True, infeasible=True, interrupted=interrupted)
    proven = status in (states.kOptimal, states.kModelEmpty)
    found = info.primal_solution_status == 2 or proven
    if not found:
        return Outcome(None, -inf, info.mip_dual_bound, False, interrupted=interrupted)
    values = list(solver.getSolution().col_value)
    value = float(info.objective_function_value)
    bound = value if proven else float(info.mip_dual_bound)
    return Outcome(values, value, bound, proven, interrupted=interrupted)
