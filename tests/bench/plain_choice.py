"""The plain formulation of the choice: one yes/no for each fish, show and touch-up day.

The yardstick that the choice is measured against. It is what one would write first: a fish goes
to a show marked, or clean by a touch-up on one day; each pair of choices that exclude each other
is a row; each day of the isolation vat is a row; and the aims are sought one after another, those
before held by a row. It is solved by HiGHS with its own settings, but for threads and time.
"""

from __future__ import annotations

import time
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import combinations
from math import inf
from typing import Any

import highspy
import numpy as np

from showprep.planning.choice.problem import Problem, TouchUpOption

Terms = list[tuple[int, float]]


@dataclass(slots=True)
class Plain:
    """What one run reached. `days` and `late` are None where an aim before was not proven."""

    merit: int
    bound: float
    days: int | None
    late: int | None
    proven: bool
    seconds: float


@dataclass(slots=True)
class Rows:
    columns: int = 0
    terms: list[Terms] = field(default_factory=list)
    bounds: list[tuple[float, float]] = field(default_factory=list)

    def column(self) -> int:
        self.columns += 1
        return self.columns - 1

    def row(self, terms: Terms, lower: float = -inf, upper: float = inf) -> None:
        self.terms.append(terms)
        self.bounds.append((lower, upper))


class Model:
    def __init__(self, problem: Problem) -> None:
        self.problem, self.rows = problem, Rows()
        self.touch = {one: self.rows.column() for one in sorted(problem.touch_ups)}
        self.session = {day: self.rows.column() for day in sorted({d.day for d in self.touch})}
        self.of_fish: dict[str, list[TouchUpOption]] = defaultdict(list)
        for one in self.touch:
            self.of_fish[one.fish].append(one)
        self.earns: Terms = []
        self.goes: dict[tuple[str, str], Terms] = {}
        self.options = {(one.fish, one.show): one for one in sorted(problem.entries)}
        for key in self.options:
            self._entry(key)
        self._rest()
        self._sedations()
        self._shows()
        self._vat()

    def _entry(self, key: tuple[str, str]) -> None:
        """A column for going as the fish is, and one for each touch-up that makes it clean."""
        option, rows, going = self.options[key], self.rows, []
        plain = option.merit_marked if option.needs_touch_up else option.merit_clean
        if plain is not None:
            going.append((rows.column(), 1.0))
            self.earns.append((going[0][0], float(plain)))
        for one in self.of_fish[option.fish]:
            if option.merit_clean is None or not option.needs_touch_up:
                continue
            if option.show in one.clean_for:
                column = rows.column()
                going.append((column, 1.0))
                self.earns.append((column, float(option.merit_clean)))
                rows.row([(column, 1.0), (self.touch[one], -1.0)], upper=0.0)
        for one in self.of_fish[option.fish]:
            if option.show in one.bars:
                rows.row([*going, (self.touch[one], 1.0)], upper=1.0)
        rows.row(going, lower=float(option.must), upper=1.0)
        self.goes[key] = going

    def _rest(self) -> None:
        for one, other in sorted(self.problem.apart):
            for fish in sorted({fish for fish, _ in self.goes}):
                if (fish, one) in self.goes and (fish, other) in self.goes:
                    self.rows.row(self.goes[fish, one] + self.goes[fish, other], upper=1.0)

    def _sedations(self) -> None:
        problem, rows = self.problem, self.rows
        for one, column in self.touch.items():
            rows.row([(column, 1.0), (self.session[one.day], -1.0)], upper=0.0)
            if (one.fish, one.day, one.water) in problem.fixed:
                rows.row([(column, 1.0)], lower=1.0)
        for day in self.session:
            terms = [(column, 1.0) for one, column in self.touch.items() if one.day == day]
            rows.row(terms, upper=float(problem.fish_per_day))
        for fish, own in self.of_fish.items():
            terms = [(self.touch[one], 1.0) for one in own]
            rows.row(terms, upper=float(problem.touch_ups_per_fish))
            for one, other in combinations(own, 2):
                gap = problem.spacing_days.get((fish, one.day), problem.spacing_default)
                near = (other.day - one.day).days < max(gap, 1)
                if near or (one.vat is not None and other.day <= one.vat[1]):
                    rows.row([(self.touch[one], 1.0), (self.touch[other], 1.0)], upper=1.0)

    def _shows(self) -> None:
        paid: Terms = []
        for show, limits in sorted(self.problem.shows.items()):
            here = [one for one in self.options.values() if one.show == show]
            is_open = self.rows.column()
            for one in here:
                terms = self.goes[one.fish, show]
                self.rows.row([*terms, (is_open, -1.0)], upper=0.0)
                paid += [(column, one.fee) for column, _ in terms]
            paid.append((is_open, limits.fee))
            ones = {one.fish: 1.0 for one in here}
            cm = {one.fish: one.length_cm for one in here}
            for weights, most in (
                (ones, limits.fish),
                (ones, limits.boxes),
                (cm, limits.total_cm),
                ({one.fish: one.points for one in here}, limits.points),
                ({one.fish: one.kg for one in here}, limits.kg),
            ):
                if most is not None:
                    self.rows.row(self._weighed(show, weights), upper=most + 0.0005)
            for weights, least in ((ones, limits.fish_at_least), (cm, limits.total_cm_at_least)):
                if least is not None:
                    terms = [*self._weighed(show, weights), (is_open, 0.0005 - least)]
                    self.rows.row(terms, lower=0.0)
            for size in sorted({one.size_class for one in here} - {""}):
                if limits.entries_per_class is not None:
                    same = {one.fish: 1.0 for one in here if one.size_class == size}
                    self.rows.row(self._weighed(show, same), upper=limits.entries_per_class)
        if self.problem.fees is not None:
            self.rows.row(paid, upper=self.problem.fees + 0.0005)

    def _weighed(self, show: str, weights: dict[str, float]) -> Terms:
        return [(at, each) for fish, each in weights.items() for at, _ in self.goes[fish, show]]

    def _vat(self) -> None:
        """Each day: so many places, and one cohort."""
        inside: dict[date, Terms] = defaultdict(list)
        cohorts: dict[date, dict[str, int]] = defaultdict(dict)
        stays = [(one.vat, one.show, self.goes[key]) for key, one in self.options.items()]
        stays += [(one.vat, "", [(column, 1.0)]) for one, column in self.touch.items()]
        whole: dict[tuple[str, tuple[date, date]], int] = {}
        for stay, cohort, terms in stays:
            if stay is None:
                continue
            if (cohort, stay) not in whole:
                whole[cohort, stay] = self.rows.column()
            self.rows.row([*terms, (whole[cohort, stay], -1.0)], upper=0.0)
            for day in _days(stay):
                inside[day] += terms
                if cohort not in cohorts[day]:
                    cohorts[day][cohort] = self.rows.column()
        for (cohort, stay), column in whole.items():
            for day in _days(stay):
                self.rows.row([(column, 1.0), (cohorts[day][cohort], -1.0)], upper=0.0)
        for day, terms in inside.items():
            self.rows.row([(column, 1.0) for column in cohorts[day].values()], upper=1.0)
            if self.problem.vat_holds is not None:
                self.rows.row(terms, upper=float(self.problem.vat_holds))


def _days(stay: tuple[date, date]) -> list[date]:
    return [stay[0] + timedelta(days=n) for n in range((stay[1] - stay[0]).days + 1)]


def plain(problem: Problem, seconds: float) -> Plain:
    """Merit, then fewest days and touch-ups, then latest, in so many seconds; one thread.

    Merit may take all the time there is.

    The plain model takes promised touch-ups only within the limits, as a keeper's are.
    """
    began = time.monotonic()
    model = Model(problem)
    rows, last = model.rows, max(model.session, default=date.min)
    many = len(model.touch) + 1
    days: Terms = [(column, -float(many)) for column in model.session.values()]
    days += [(column, -1.0) for column in model.touch.values()]
    late: Terms = [(at, -float((last - one.day).days)) for one, at in model.touch.items()]
    values, merit, bound, proven = _solve(rows, model.earns, seconds, None)
    found = Plain(round(merit), bound, None, None, False, time.monotonic() - began)
    for name, before, reached, aim in (
        ("days", model.earns, merit, days),
        ("late", days, 0.0, late),
    ):
        left = seconds - (time.monotonic() - began)
        if not proven or values is None or left <= 0:
            break
        reached = sum(each * values[at] for at, each in before)
        rows.row(before, lower=reached - 0.5)
        values, value, _, proven = _solve(rows, aim, left, values)
        setattr(found, name, round(-value) // (many if name == "days" else 1))
    found.proven = proven and found.late is not None
    found.seconds = time.monotonic() - began
    return found


def _solve(
    rows: Rows, aim: Terms, seconds: float, start: list[float] | None
) -> tuple[list[float] | None, float, float, bool]:
    """Values, value, bound, and whether it is proven."""
    solver: Any = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.99)
    solver.setOptionValue("time_limit", max(seconds, 0.1))
    solver.passModel(_highs(rows, aim))
    if start is not None:
        first = highspy.HighsSolution()
        first.col_value = list(start)
        solver.setSolution(first)
    solver.run()
    info, status = solver.getInfo(), solver.getModelStatus()
    if info.primal_solution_status != 2:
        return None, 0.0, info.mip_dual_bound, False
    values = [float(round(value)) for value in solver.getSolution().col_value]
    value = sum(each * values[at] for at, each in aim)
    return values, value, info.mip_dual_bound, status == highspy.HighsModelStatus.kOptimal


def _highs(rows: Rows, aim: Terms) -> Any:
    model: Any = highspy.HighsLp()
    model.num_col_, model.num_row_ = rows.columns, len(rows.terms)
    model.sense_ = highspy.ObjSense.kMaximize
    cost = np.zeros(rows.columns)
    for at, each in aim:
        cost[at] += each
    model.col_cost_ = cost
    model.col_lower_, model.col_upper_ = np.zeros(rows.columns), np.ones(rows.columns)
    model.row_lower_ = np.array([lower for lower, _ in rows.bounds])
    model.row_upper_ = np.array([upper for _, upper in rows.bounds])
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.cumsum([0] + [len(terms) for terms in rows.terms], dtype=np.int32)
    model.a_matrix_.index_ = np.array([at for t in rows.terms for at, _ in t], dtype=np.int32)
    model.a_matrix_.value_ = np.array([each for t in rows.terms for _, each in t], dtype=float)
    model.integrality_ = [highspy.HighsVarType.kInteger] * rows.columns
    return model
