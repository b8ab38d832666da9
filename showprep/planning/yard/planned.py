"""The yard as the plan would have it: the journeys chosen, and the wounds in the warm vat."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from showprep.planning.entries.question import healing_in_vat, vat_until
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.course import WarmHealing
from showprep.planning.yard.courses import Going, courses_of
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard
from showprep.selection.problem import Solution

SETTLE = timedelta(days=14)
"""A fish is not moved nearer to its journey than this (common practice, no source)."""


def planned_yard(yard: Yard, touch_ups: Mapping[str, TouchUps], solution: Solution) -> Yard:
    """The same yard with the courses that the choice gives its fish."""
    goings = [
        Going(fish, show, "planned")
        for fish, show, _ in solution.entries
        if yard.courses.grade_of(fish, show) is None
    ]
    healing: dict[str, list[WarmHealing]] = {}
    for fish, day, water in solution.touch_ups:
        if water != yard.taken_from(yard.state.fish[fish], day):
            healing.setdefault(fish, []).append(
                _warm_healing(yard, touch_ups[fish], day, water, solution)
            )
    courses = courses_of(
        yard.state, yard.waters, yard.events, (*yard.courses.goings, *goings), healing
    )
    return replace(yard, courses=courses)


def _warm_healing(
    yard: Yard, touch_ups: TouchUps, day: date, water: str, solution: Solution
) -> WarmHealing:
    """Home again when clean in a slow case too, unless the journey is near by then."""
    events = _show_after(yard, touch_ups.fish.id, day, solution)
    back = None
    if events is not None:
        there = healing_in_vat(yard, touch_ups, day)
        back = vat_until(yard, there.specks, there.mean_on, events, day)
    if events is not None and back is not None and back + SETTLE > events.departure_day:
        back = None
    return WarmHealing(events.show if events is not None else "", water, day, back, "planned")


def _show_after(yard: Yard, fish: str, day: date, solution: Solution) -> Events | None:
    shows = {show for one, show, _ in solution.entries if one == fish}
    return next((e for e in yard.planned() if e.show in shows and e.benching_day > day), None)
