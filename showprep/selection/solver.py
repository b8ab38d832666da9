"""HiGHS, run quietly and the same way every time: one thread, a fixed seed, work counted.

No clock ends a run, so a busy machine gives the same answer as an idle one. HiGHS: Q. Huangfu and
J. A. J. Hall, Parallelizing the dual revised simplex method, Mathematical Programming Computation
10 (2018), 119-142.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from math import inf
from typing import Any

from showprep.selection.linear import Linear
from showprep.selection.plans import HALF

Stop = Callable[[], bool]  # asked now and then: is the work to be broken off?
Held = Mapping[int, float]  # columns held at a value
# A step of a search among whole numbers is so much dearer, and more in a large model (measured).
STEP_OF_MIP, ROWS_OF_STEP = 5, 1_500
SETTING_UP = 80  # steps that a small model costs before its first one (measured)

# Heuristics that are dear where the model has been made small before and a plan is at hand.
DEAR = (
    "mip_heuristic_run_rins",
    "mip_heuristic_run_rens",
    "mip_heuristic_run_root_reduced_cost",
    "mip_heuristic_run_zi_round",
    "mip_heuristic_run_shifting",
    "mip_heuristic_run_feasibility_jump",
)


@dataclass(slots=True)
class Meter:
    """Work still allowed, counted in steps: iterations of the simplex method and nodes."""

    steps: int
    stop: Stop
    interrupted: bool = False
    each: int = 1

    @property
    def spent(self) -> bool:
        self.interrupted = self.interrupted or self.stop()
        return self.interrupted or self.steps <= 0

    def tick(self, event: Any) -> None:
        """One step of a run: asked by the solver itself; it must raise nothing."""
        self.steps -= self.each
        if self.spent:
            event.interrupt(True)


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one run found: values (None: none was found), the bound, and whether it ran to its end.

    A run that ended without values found that there are none: nothing keeps all rows.
    """

    values: Sequence[float] | None
    bound: float
    ended: bool
    reduced: Sequence[float] = ()  # the reduced costs, where nothing was whole by demand


@contextmanager
def _quiet() -> Iterator[None]:
    """Send descriptor 1 nowhere: HiGHS writes its banner there, whatever its output option."""
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


def _solver(linear: Linear) -> Any:
    """A silent HiGHS that holds a model, nothing in it whole by demand."""
    import highspy
    import numpy as np

    make: Any = highspy.Highs
    with _quiet():
        solver = make()
        solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("parallel", "off")
    solver.setOptionValue("random_seed", 0)
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = linear.columns, linear.rows
    model.sense_ = highspy.ObjSense.kMaximize
    model.col_cost_ = np.array(linear.worth, dtype=float)
    model.col_lower_ = np.array(linear.col_lower, dtype=float)
    model.col_upper_ = np.array(linear.col_upper, dtype=float)
    model.row_lower_ = np.array(linear.row_lower, dtype=float)
    model.row_upper_ = np.array(linear.row_upper, dtype=float)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.array(linear.starts, dtype=np.int32)
    model.a_matrix_.index_ = np.array(linear.places, dtype=np.int32)
    model.a_matrix_.value_ = np.array(linear.values, dtype=float)
    solver.passModel(model)
    return solver


def _run(solver: Any, meter: Meter, each: int) -> Outcome:
    """Run, asked at every step whether to go on; a step counts for `each`."""
    import highspy

    meter.each = each
    moments = [solver.cbMipInterrupt, solver.cbSimplexInterrupt]
    for moment in moments:
        moment.subscribe(meter.tick)
    solver.run()
    for moment in moments:
        moment.unsubscribe(meter.tick)
    status, info, states = solver.getModelStatus(), solver.getInfo(), highspy.HighsModelStatus
    if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
        return Outcome(None, -inf, True)
    if status in (states.kOptimal, states.kModelEmpty):
        values = list(solver.getSolution().col_value)
        return Outcome(values, float(info.objective_function_value), True)
    return Outcome(None, inf, False)


@dataclass
class Relaxation:
    """The relaxed model, kept warm: each new question begins where the last one ended."""

    linear: Linear
    _solver: Any = field(default=None, repr=False)
    _held: dict[int, float] = field(default_factory=dict, repr=False)

    def bound(self, held: Held, meter: Meter) -> Outcome:
        """The bound with columns held at a value."""
        linear = self.linear
        if self._solver is None:
            self._solver = _solver(linear)
        for place in [*(at for at in self._held if at not in held)]:
            self._solver.changeColBounds(place, linear.col_lower[place], linear.col_upper[place])
            del self._held[place]
        for place, value in held.items():
            if self._held.get(place) != value:
                self._solver.changeColBounds(place, value, value)
                self._held[place] = value
        outcome = _run(self._solver, meter, 1)
        return replace(outcome, reduced=list(self._solver.getSolution().col_dual))


def maximise(
    linear: Linear,
    whole: Iterable[int],
    held: Held,
    meter: Meter,
    start: Sequence[float] | None = None,
) -> Outcome:
    """The greatest worth with some columns whole and some held; from a start, if it is given."""
    import highspy

    meter.steps -= SETTING_UP
    solver = _solver(linear)
    for place in whole:
        solver.changeColIntegrality(place, highspy.HighsVarType.kInteger)
    for place, value in held.items():
        solver.changeColBounds(place, value, value)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", HALF / 100)
    solver.setOptionValue("mip_allow_restart", False)
    for option in DEAR:
        solver.setOptionValue(option, False)
    if start is not None:
        first = highspy.HighsSolution()
        first.col_value = list(start)
        solver.setSolution(first)
    outcome = _run(solver, meter, STEP_OF_MIP + linear.rows // ROWS_OF_STEP)
    if outcome.ended:
        return outcome
    info = solver.getInfo()
    found = list(solver.getSolution().col_value) if info.primal_solution_status == 2 else None
    return Outcome(found, float(info.mip_dual_bound), False)
