"""The choice as a model for CP-SAT of OR-Tools, written from the words of the problem.

It shares no code with the product's model: days are looked at one by one, limits in thousandths,
and the vat's cohorts day by day. OR-Tools: L. Perron and V. Furnon, Google, from PyPI.
"""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta
from types import ModuleType
from typing import Any

from showprep.selection.problem import Instance

SCALE = 4096  # shares of one half or one quarter are whole up to the sixth place and further


def greatest_worth(cp: ModuleType, problem: Instance, seconds: float) -> tuple[int | None, bool]:
    """Greatest worth in 1/6400 hundredths, None when nothing fits; and whether that is proven."""
    model = cp.CpModel()
    done = {(one.fish, one.day, one.water): model.new_bool_var("") for one in problem.touch_ups}
    go: dict[tuple[str, str], Any] = {}
    earned = []
    groups: dict[tuple[str, str], list[tuple[Any, int]]] = defaultdict(list)
    for one in problem.entries:
        key = (one.fish, one.show)
        weight = round(problem.shows[one.show].weight)
        ways = []
        if one.merit is not None:
            ways.append((model.new_bool_var(""), one.merit))
        for touch in problem.touch_ups:
            if touch.fish == one.fish and one.show in touch.merits:
                way = model.new_bool_var("")
                model.add(way <= done[touch.fish, touch.day, touch.water])
                ways.append((way, touch.merits[one.show]))
        go[key] = sum(way for way, _ in ways) if ways else model.new_constant(0)
        model.add(go[key] <= 1)
        if one.must:
            model.add(go[key] == 1)
        earned.append(-SCALE * one.price * go[key])
        for way, merit in ways:
            over = (merit - problem.worth_showing) * weight
            if over <= 0 or not one.group:
                earned.append(SCALE * over * way)
            else:
                groups[one.show, one.group].append((way, over))
    for own in groups.values():
        taken: list[list[Any]] = [[] for _ in own]
        for way, over in own:
            ranked = [model.new_bool_var("") for _ in own]
            model.add(sum(ranked) == way)
            for rank, one_rank in enumerate(ranked):
                taken[rank].append(one_rank)
                earned.append(round(SCALE * problem.same_class_share**rank) * over * one_rank)
        for rank in taken:
            model.add_at_most_one(rank)
    for day in {one.day for one in problem.touch_ups}:
        session = model.new_bool_var("")
        for key, touched in done.items():
            if key[1] == day:
                model.add(touched <= session)
        earned.append(-SCALE * problem.session_price * session)
    earned += [-SCALE * problem.touch_up_price * touched for touched in done.values()]
    earned += _shows(model, problem, go)
    _touch_ups(model, problem, done, go)
    _vat(model, problem, done, go)
    model.maximize(sum(earned))
    solver = cp.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    if status == cp.INFEASIBLE:
        return None, True
    return round(solver.objective_value), status == cp.OPTIMAL


def _touch_ups(model: Any, problem: Instance, done: Any, go: Any) -> None:
    of_fish, of_day = defaultdict(list), defaultdict(list)
    for one in problem.touch_ups:
        key = (one.fish, one.day, one.water)
        of_fish[one.fish].append(one)
        of_day[one.day].append(done[key])
        for show in one.bars:
            if (one.fish, show) in go:
                model.add(go[one.fish, show] + done[key] <= 1)
        if key in problem.fixed:
            model.add(done[key] == 1)
    for day, every in of_day.items():
        promised = sum(1 for one in problem.fixed if one[1] == day)
        model.add(sum(every) <= max(problem.fish_per_day, promised))
    for fish, own in of_fish.items():
        promised = sum(1 for one in problem.fixed if one[0] == fish)
        keys = [(one.fish, one.day, one.water) for one in own]
        model.add(sum(done[k] for k in keys) <= max(problem.touch_ups_per_fish, promised))
        for one in own:
            until = one.day + timedelta(
                days=problem.spacing_days.get((fish, one.day), problem.spacing_default) - 1
            )
            if one.vat is not None:
                until = max(until, one.vat[1])
            for other in own:
                if other is not one and one.day <= other.day <= max(until, one.day):
                    two = [(o.fish, o.day, o.water) for o in (one, other)]
                    if not all(k in problem.fixed for k in two):
                        model.add_at_most_one(done[k] for k in two)


def _thousandths(value: float) -> int:
    return round(1000 * value)


def _shows(model: Any, problem: Instance, every: Any) -> list[Any]:
    """The limits of the shows; returns the prices of the journeys."""
    paid, prices = [], []
    for show, limits in problem.shows.items():
        own = [one for one in problem.entries if one.show == show]
        go = {one.fish: every[one.fish, show] for one in own}
        anything = model.new_bool_var("")
        for one in own:
            model.add(go[one.fish] <= anything)
        model.add(sum(go.values()) >= anything)
        cm = sum(_thousandths(one.length_cm) * go[one.fish] for one in own)
        for most, total in (
            (limits.fish, 1000 * sum(go.values())),
            (limits.boxes, 1000 * sum(go.values())),
            (limits.total_cm, cm),
            (limits.points, sum(_thousandths(one.points) * go[one.fish] for one in own)),
            (limits.kg, sum(_thousandths(one.kg) * go[one.fish] for one in own)),
        ):
            if most is not None and own:
                model.add(total <= _thousandths(most))
        if limits.fish_at_least is not None:
            model.add(sum(go.values()) >= limits.fish_at_least * anything)
        if limits.total_cm_at_least is not None:
            model.add(cm >= _thousandths(limits.total_cm_at_least) * anything)
        if limits.entries_per_class is not None:
            for size in {one.size_class for one in own if one.size_class}:
                these = [go[one.fish] for one in own if one.size_class == size]
                model.add(sum(these) <= limits.entries_per_class)
        paid += [_thousandths(one.fee) * go[one.fish] for one in own]
        paid.append(_thousandths(limits.fee) * anything)
        prices.append(-SCALE * limits.price * anything)
    if problem.fees is not None:
        model.add(sum(paid) <= _thousandths(problem.fees))
    for one_show, other in problem.apart:
        for fish in {one.fish for one in problem.entries}:
            both = [(fish, one_show), (fish, other)]
            if all(key in every for key in both):
                model.add(sum(every[key] for key in both) <= 1)
    return prices


def _vat(model: Any, problem: Instance, done: Any, go: Any) -> None:
    inside: Any = defaultdict(lambda: defaultdict(list))
    stays = [(one.vat, ("home", one.show), go[one.fish, one.show]) for one in problem.entries]
    stays += [
        (one.vat, ("healing", one.cohort), done[one.fish, one.day, one.water])
        for one in problem.touch_ups
    ]
    for vat, cohort, chosen in stays:
        if vat is not None:
            for number in range((vat[1] - vat[0]).days + 1):
                inside[vat[0] + timedelta(days=number)][cohort].append(chosen)
    healing = {(one.fish, one.day, one.water): one.vat for one in problem.touch_ups}
    for day, cohorts in inside.items():
        if problem.vat_holds is not None:
            stays_then = [healing[key] for key in problem.fixed]
            promised = sum(1 for vat in stays_then if vat and vat[0] <= day <= vat[1])
            every = [one for here in cohorts.values() for one in here]
            model.add(sum(every) <= max(problem.vat_holds, promised))
        there = {cohort: model.new_bool_var("") for cohort in cohorts}
        for cohort, here in cohorts.items():
            for one in here:
                model.add(one <= there[cohort])
        model.add_at_most_one(there.values())
