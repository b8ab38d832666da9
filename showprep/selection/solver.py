"""HiGHS, run quietly and the same way every time: one thread, a fixed seed, work counted.

No clock ends a run, so a busy machine gives the same answer as an idle one. HiGHS: Q. Huangfu and
J. A. J. Hall, Parallelizing the dual revised simplex method, Mathematical Programming Computation
10 (2018), 119-142.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from math import inf
from typing import Any

from msgspec import Struct

from showprep.selection.covers import Row
from showprep.selection.linear import Linear
from showprep.selection.plans import HALF

Stop = Callable[[], bool]  # asked now and then: is the work to be broken off?
Held = Mapping[int, float]  # columns held at a value
# What a small model costs in steps of the relaxed one (measured): so many to set up, and so many
# for each of its own; both grow with the columns left open in it.
SETTING_UP, OPEN_OF_SETTING_UP = 20, 2
STEP_OF_MIP, OPEN_OF_STEP = 5, 50

# Heuristics that are dear where the model has been made small before and a plan is at hand.
DEAR = (
    "mip_heuristic_run_rins",
    "mip_heuristic_run_rens",
    "mip_heuristic_run_root_reduced_cost",
    "mip_heuristic_run_zi_round",
    "mip_heuristic_run_shifting",
    "mip_heuristic_run_feasibility_jump",
)


class Meter(Struct):
    """Work still allowed, counted in steps: iterations of the simplex method."""

    steps: int
    stop: Stop
    interrupted: bool = False
    each: int = 1

    @property
    def spent(self) -> bool:
        self.interrupted = self.interrupted or self.stop()
        return self.interrupted or self.steps <= 0

    @contextmanager
    def part(self, most: int) -> Iterator[Meter]:
        """At most so much of the work, for one question: what it spends is spent here too."""
        given = min(most, self.steps)
        own = Meter(given, self.stop)
        yield own
        self.steps -= given - own.steps

    def tick(self, event: Any) -> None:
        """One step of a run: asked by the solver itself; it must raise nothing."""
        self.steps -= self.each
        event.interrupt(self.spent)  # said each time: HiGHS keeps the last answer for its next run


class Outcome(Struct, frozen=True):
    """What one run found: values (None: none was found) and the bound (-inf: there can be none)."""

    values: Sequence[float] | None
    bound: float


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


def _taken(linear: Linear) -> Any:
    """A model as HiGHS takes it, but for the bounds of its columns."""
    import highspy
    import numpy as np

    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = linear.columns, linear.rows
    model.sense_ = highspy.ObjSense.kMaximize
    model.col_cost_ = np.array(linear.worth, dtype=float)
    model.row_lower_ = np.array(linear.row_lower, dtype=float)
    model.row_upper_ = np.array(linear.row_upper, dtype=float)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.array(linear.starts, dtype=np.int32)
    model.a_matrix_.index_ = np.array(linear.places, dtype=np.int32)
    model.a_matrix_.value_ = np.array(linear.values, dtype=float)
    return model


def _solver(model: Any, lower: Any, upper: Any) -> Any:
    """A silent HiGHS that holds a model, its columns within bounds of their own."""
    import highspy

    make: Any = highspy.Highs
    with _quiet():
        solver = make()
        solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("parallel", "off")
    solver.setOptionValue("random_seed", 0)
    model.col_lower_, model.col_upper_ = lower, upper
    solver.passModel(model)
    return solver


def _run(solver: Any, meter: Meter, each: int) -> None:
    """Run, asked at every step whether to go on; a step counts for `each`."""
    meter.each = each
    moments = [solver.cbMipInterrupt, solver.cbSimplexInterrupt]
    for moment in moments:
        moment.subscribe(meter.tick)
    solver.run()
    for moment in moments:
        moment.unsubscribe(meter.tick)


@dataclass
class Relaxation:
    """The relaxed model, kept warm: each new question begins where the last one ended.

    Beside it the same in whole numbers is kept, ready to be passed to a new HiGHS.
    """

    linear: Linear
    values: Any = None
    reduced: Any = None
    _solver: Any = field(default=None, repr=False)
    _whole: Any = field(default=None, repr=False)

    @property
    def whole(self) -> Any:
        """The model in whole numbers, made anew when rows have come to it."""
        import highspy

        if self._whole is None or self._whole.num_row_ != self.linear.rows:
            self._whole = _taken(self.linear)
            self._whole.integrality_ = [highspy.HighsVarType.kInteger] * self.linear.columns
        return self._whole

    def add(self, rows: Sequence[Row]) -> None:
        """Rows more, to be kept from now on."""
        import numpy as np

        for row in rows:
            self.linear.row(row.terms, upper=row.upper, limit=row.limit, more=inf)
            places = np.array([place for place, _ in row.terms], dtype=np.int32)
            values = np.array([value for _, value in row.terms])
            self._solver.addRow(-inf, row.upper, len(places), places, values)

    def bound(self, held: Held, meter: Meter) -> Outcome:
        """The bound with columns held; values and reduced costs are kept."""
        import highspy
        import numpy as np

        linear = self.linear
        lower, upper = np.array(linear.col_lower), np.array(linear.col_upper)
        for place, value in held.items():
            lower[place] = upper[place] = value
        if self._solver is None:
            self._solver = _solver(_taken(linear), lower, upper)
        else:
            every = np.arange(linear.columns, dtype=np.int32)
            self._solver.changeColsBounds(linear.columns, every, lower, upper)
        states = highspy.HighsModelStatus
        _run(self._solver, meter, 1)
        if self._solver.getModelStatus() == states.kUnknown:  # lost on the way from the last end
            self._solver.clearSolver()
            _run(self._solver, meter, 1)
        status, info = self._solver.getModelStatus(), self._solver.getInfo()
        if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
            return Outcome(None, -inf)
        if status not in (states.kOptimal, states.kModelEmpty):
            return Outcome(None, inf)
        solution = self._solver.getSolution()
        self.values, self.reduced = np.array(solution.col_value), np.array(solution.col_dual)
        bound = float(info.objective_function_value)
        return Outcome(self.values, bound)


def maximise(
    relaxation: Relaxation,
    lower: Any,
    upper: Any,
    meter: Meter,
    start: Sequence[float] | None = None,
) -> Outcome:
    """The plan of greatest worth within bounds of the columns; from a start, if it is given."""
    import highspy
    import numpy as np

    open_ = int((lower < upper).sum())
    meter.steps -= SETTING_UP + open_ // OPEN_OF_SETTING_UP
    solver = _solver(relaxation.whole, lower, upper)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", HALF / 100)
    solver.setOptionValue("mip_allow_restart", False)
    solver.setOptionValue("mip_detect_symmetry", False)
    for option in DEAR:
        solver.setOptionValue(option, False)
    if start is not None:
        first = highspy.HighsSolution()
        first.col_value = list(start)
        solver.setSolution(first)
    _run(solver, meter, STEP_OF_MIP + open_ // OPEN_OF_STEP)
    status, info, states = solver.getModelStatus(), solver.getInfo(), highspy.HighsModelStatus
    if status in (states.kInfeasible, states.kUnboundedOrInfeasible):
        return Outcome(None, -inf)
    proven = status in (states.kOptimal, states.kModelEmpty)
    if not proven and info.primal_solution_status != 2:
        return Outcome(None, float(info.mip_dual_bound))
    values = list(solver.getSolution().col_value)
    bound = info.objective_function_value if proven else info.mip_dual_bound
    worth = float(np.dot(relaxation.linear.worth, values))
    if proven and start is not None and bound > worth + HALF / 100:
        # HiGHS may find the best plan from its own reading of the start, and hand back the start.
        return maximise(relaxation, lower, upper, meter)
    return Outcome(values, float(bound))
