"""Invented yards planned every day, by a keeper who notes all he does and by one who notes nothing.

From one day to the next no job vanishes undone, nobody is in two places, nothing that was done on
its day is late, and no job changes its name. No vat holds more than it may, no water has two orders
for its food on one day, no session mixes company, no fish that met the sick goes to a show. Three
yards for some weeks by default; a year of 20 yards with both keepers with SHOWPREP_STORMS=full.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from showprep.planning.plan import Plan, Task
from showprep.planning.season_plan import worked_out
from showprep.planning.verdicts.company import residents, standing_on
from showprep.planning.verdicts.prospects import touch_ups_of
from showprep.planning.yard.apart import followed_until
from showprep.planning.yard.last_plan import LastPlan, last_of
from showprep.planning.yard.presumed import yard_as_known
from showprep.planning.yard.yard import Yard
from showprep.season.reading import read_season
from showprep.season.records import JournalEntry, Season
from tests.storms import FULL, storm

YARDS = 3  # of every run
FIRST = date(2027, 1, 1) if FULL else date(2027, 5, 1)
DAYS = storm(12, 365)
DAY = timedelta(days=1)
FEEDING = ("stop-feeding", "no-food", "feed-again", "feed-half", "feed-quarter", "colour-food-stop",
           "unfed-before-touch-up")  # fmt: skip

ORDERS = FEEDING  # each is one order for the food of one water


def files(number: int) -> dict[str, str | bytes]:
    """One yard: a pond through the year, a warm vat, often a holding vat, two or three shows."""
    chance = random.Random(number)
    pond = [4, 5, 8, 12, 16, 19, 21, 21, 18, 13, 8, 5]
    shift = chance.choice((-2, 0, 2))
    holding = chance.random() < 0.5
    waters = [
        f"  pond: {{litres: 20000, monthly_c: {[c + shift for c in pond]}}}",
        f"  vat: {{litres: 6000, steady_c: {chance.choice((18, 20, 22))}}}",
    ]
    if holding:
        waters.append("  tub: {litres: 2000, steady_c: 18}")
    keeper = [
        "time_zone: Europe/Dublin",
        "work_days: [monday, tuesday, wednesday, thursday, friday, saturday, sunday]",
        "waters:",
        *waters,
        f"isolation: {{water: vat, holds: {2 + number % 3}}}",
        "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, fish_per_day: 3, "
        "bath_litres: 30, strength_percent: 10}",
        *(["holding: {water: tub}"] if holding else []),
    ]
    shows = []
    day = date(2027, 6, 5) + timedelta(days=7 * chance.randrange(2))
    for name in ("larkfield", "otterby", "thornmere")[: chance.choice((2, 3))]:
        shows.append(
            f"{name}:\n  name: {name.title()} Show\n  judging: {day} 10:00\n"
            f"  check_out: {day + DAY} 14:00\n  travel_hours: {chance.choice((1, 2, 5))}\n"
            f"  vats: {chance.choice(('own', 'shared', 'bag'))}\n  altered_fish: tolerated\n"
            f"  water_c: {chance.choice((16, 19, 22))}\n"
        )
        day += timedelta(days=7 * chance.choice((1, 3, 8)))
    fish = []
    for name in ("aoi", "ben", "cho", "daru")[: chance.choice((2, 3, 4))]:
        fish.append(
            f"{name}:\n  name: {name.title()}\n  variety: {chance.choice(('kohaku', 'showa'))}\n"
            f"  lives_in: pond\n  merit: {chance.randrange(50, 90)}\n"
            f"  lengths_cm: {{2026-12-01: {chance.randrange(35, 60)}}}\n"
        )
        if chance.random() < 0.5:
            fish.append(
                "  defects: [{kind: shimi, where: left shoulder, size_mm: 2, seen: 2026-12-20, "
                "merit_lost: 9}]\n"
            )
        if chance.random() < 0.3:
            fish.append("  moves: [{on: 2027-04-20, to: vat, ramp_c_per_day: 1}]\n")
    return {
        "keeper.yaml": "\n".join(keeper) + "\n",
        "shows.yaml": "".join(shows),
        "fish.yaml": "".join(fish),
        "journal.yaml": "",
    }


def notes_of(yard: Yard, task: Task, day: date) -> Iterator[dict[str, object]]:
    """What a keeper writes who has done this job on `day`, in the journal's own words."""
    fish, about = task.fish, {"on": day}
    if task.kind in ("to-holding", "move", "vat-back"):
        yield from ({**about, "did": "move", "fish": one, "to": task.water} for one in fish)
    elif task.kind == "isolation-clear":
        homes = {one: yard.state.fish[one].record.lives_in for one in fish}
        yield from ({**about, "did": "move", "fish": one, "to": homes[one]} for one in fish)
    elif task.kind in ("stop-feeding", "no-food", "unfed-before-touch-up"):
        yield {**about, "did": "stop feeding", "water": task.water}
    elif task.kind == "feed-again":
        yield {**about, "did": "feed again", "water": task.water}
    elif task.kind == "touch-up":
        yield from ({**about, "did": "touch-up", "fish": one} for one in fish)
    elif task.kind in ("look-back", "look"):
        saw = "closed" if task.id.startswith("look-back-1") else "clean"
        yield from ({**about, "saw": saw, "fish": one} for one in fish)
    elif task.kind in ("home-scrape", "home-scrape-again"):
        yield {**about, "saw": "no parasites", "water": task.water}
    elif task.kind == "send-entry":
        yield {**about, "did": "sent", "show": task.show}
        yield from ({**about, "did": "entered", "fish": one, "show": task.show} for one in fish)
    elif task.kind == "departure":
        yield from ({**about, "did": "travelled", "fish": one, "show": task.show} for one in fish)
    elif task.kind == "write-up":
        told = {**about, "did": "result", "show": task.show, "result": "second"}
        yield from ({**told, "fish": one} for one in fish)
    elif task.kind not in FEEDING:
        yield {**about, "did": "job", "job": task.id}


@dataclass
class Run:
    """One keeper's year: yesterday's plan and all that was done."""

    season: Season
    writes: bool
    journal: list[JournalEntry] = field(default_factory=list)
    done: set[str] = field(default_factory=set)
    sessions: int = 0
    last: LastPlan | None = None
    before: Plan | None = None

    def live(self, day: date) -> None:
        """One day: plan, check against yesterday, and do what is due."""
        season = self.season.model_copy(update={"journal": tuple(self.journal)})
        yard, plan = worked_out(yard_as_known(season, day, self.last), "test", costs=False)
        self._nobody_in_two_places(yard)
        self._nothing_obeyed_is_late(plan)
        self._company_is_kept(yard, plan)
        self._one_order_a_water(plan)
        self._sessions_are_fit(yard, plan)
        if self.before is not None:
            self._nothing_vanishes(yard, self.before, plan)
            self._names_are_kept(self.before, plan)
            self._near_sessions_stand(yard, self.before, plan)
        for task in plan.tasks if self.writes else ():
            if task.first_day == day and task.id not in self.done:
                self.done.add(task.id)
                for note in notes_of(yard, task, day):
                    self.journal.append(JournalEntry.model_validate(note))
        self.last, self.before = last_of(plan), plan

    def _nobody_in_two_places(self, yard: Yard) -> None:
        for fish in yard.fish_here():
            course = yard.course(fish)
            for one, after in pairwise(course.stays):
                assert one.last is not None and one.first <= one.last
                assert one.last + DAY == after.first
            assert course.stays[-1].last is None
            away = [stay.show for stay in course.stays if stay.water is None]
            going = [one.show for one in yard.courses.goings if one.fish == fish.id]
            assert Counter(away) == Counter(going)

    def _company_is_kept(self, yard: Yard, plan: Plan) -> None:
        isolation = yard.keeper.isolation
        assert isolation is not None
        for number in range(0, 120, 3):
            day = plan.planned_on + timedelta(days=number)
            there = yard.courses.meetings.in_water(isolation.water, day)
            staying = {one for one in there if yard.courses[one].water_on(day) == isolation.water}
            most = max(isolation.holds, len(residents(yard, day)))
            assert len(staying) <= most, f"{plan.planned_on}: {staying} in the vat on {day}"
        for task in plan.tasks:
            if task.kind != "touch-up" or task.first_day < plan.planned_on:
                continue
            for group in standing_on(yard, task.first_day):
                apart = set(task.fish) & set(group.fish)
                assert not apart or apart == set(task.fish), f"{plan.planned_on}: {task.id}"
        sick = {
            fish
            for day, water in yard.state.khv_signs
            for fish in yard.courses.meetings.reached_in_water(water, day)
        }
        for one in plan.verdicts:
            ill = one.fish in sick or yard.parasites_on(yard.state.fish[one.fish]) is not None
            assert not (one.entered and ill), f"{plan.planned_on}: {one.fish} to {one.show}"

    def _sessions_are_fit(self, yard: Yard, plan: Plan) -> None:
        """No chosen day is one that the plan itself, journeys and moves counted, speaks against."""
        fit = touch_ups_of(yard)
        for one in plan.verdicts:
            planned = one.touch_up
            if planned is None or planned.day is None or planned.day <= plan.planned_on:
                continue
            if planned.water != yard.state.fish[one.fish].record.lives_in:
                continue  # moved into the warm vat on the same day: one handling
            self.sessions += 1
            against = fit[one.fish].against(planned.day)
            assert against is None, f"{plan.planned_on}: {one.fish} {planned.day} {against}"

    def _one_order_a_water(self, plan: Plan) -> None:
        """Spans of one water never overlap: what is fed, or that nothing is, is said once a day."""
        spans: dict[str, list[Task]] = {}
        for task in plan.tasks:
            if task.kind in ORDERS and task.water is not None:
                spans.setdefault(task.water, []).append(task)
        for water, tasks in spans.items():
            for one, after in pairwise(sorted(tasks, key=lambda task: task.first_day)):
                told = f"{plan.planned_on}: {water}: {one.id} and {after.id}"
                assert one.last_day < after.first_day, told

    def _nothing_obeyed_is_late(self, plan: Plan) -> None:
        for task in plan.tasks:
            assert not (task.late and task.id in self.done), f"{plan.planned_on}: {task.id}"

    def _nothing_vanishes(self, yard: Yard, before: Plan, plan: Plan) -> None:
        now = {task.id for task in plan.tasks}
        asked = {ask.question.code for ask in plan.asks}
        same = _choices(before) == _choices(plan) or not _choices(plan)
        for task in before.tasks:
            if task.id in now or task.id in self.done or task.last_day < plan.planned_on:
                continue
            if task.show is not None and yard.events[task.show].home_day < plan.planned_on:
                over = followed_until(yard, yard.events[task.show]) < plan.planned_on
                assert over or task.kind in ("look", *FEEDING), f"{plan.planned_on}: {task.id}"
            elif same and task.first_day >= plan.planned_on and task.kind not in FEEDING:
                gone = task.kind in ("move", "look") and asked
                assert gone, f"{plan.planned_on}: {task.id}"

    def _names_are_kept(self, before: Plan, plan: Plan) -> None:
        old, new = _by_what(before), _by_what(plan)
        for what in old.keys() & new.keys():
            assert old[what] == new[what], f"{plan.planned_on}: {old[what]} is now {new[what]}"

    def _near_sessions_stand(self, yard: Yard, before: Plan, plan: Plan) -> None:
        """What was planned for this week is planned still: nothing that was obeyed bars it."""
        now = {(one.fish, one.show): one for one in plan.verdicts}
        for one in before.verdicts:
            day = one.touch_up.day if one.touch_up is not None else None
            if day is None or not plan.planned_on <= day <= plan.planned_on + timedelta(7):
                continue
            after = now.get((one.fish, one.show))
            done = any(old.touched for old in yard.state.fish[one.fish].defects)
            if after is None or after.touch_up is None or done:
                continue
            assert after.touch_up.day == day, f"{plan.planned_on}: {one.fish} {one.show} {day}"


def _choices(plan: Plan) -> frozenset[tuple[object, ...]]:
    """Who goes where, and touched up when."""
    return frozenset(
        (one.fish, one.show, one.touch_up.day if one.touch_up else None)
        for one in plan.verdicts
        if one.entered
    )


def _by_what(plan: Plan) -> Mapping[tuple[object, ...], str]:
    """The ids by what the jobs are, for jobs that nothing else in the plan is like."""
    every = [
        ((task.kind, task.show, task.water, task.fish, task.start), task.id) for task in plan.tasks
    ]
    count = Counter(what for what, _ in every)
    return {what: task_id for what, task_id in every if count[what] == 1}


@pytest.mark.parametrize(
    ("number", "writes"),
    [
        pytest.param(
            number,
            writes,
            id=f"{number}-{'writes' if writes else 'writes nothing'}",
            marks=() if number < YARDS else pytest.mark.storm,
        )
        for number in range(storm(YARDS, 20))
        for writes in (True, False)
    ],
)
def test_from_one_day_to_the_next(
    folder: Callable[[Mapping[str, str | bytes]], Path], number: int, writes: bool
) -> None:
    run = Run(read_season(folder(files(number)), FIRST).season, writes)
    for days in range(DAYS):
        run.live(FIRST + timedelta(days))
