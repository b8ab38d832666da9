"""What to do on the day of the plan and in the week after it, sorted for the pond side."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from showprep.husbandry.reason import FishId, Reason, reason
from showprep.planning.plan import Ask, Plan, ShowLine, Task, Told, Verdict

WEEK = timedelta(days=7)
LOOKS = ("look", "look-back")
FRESH_DAYS = 3  # a reading this young needs no other
NEAR_DAYS = 10  # a slow case this near its deadline hangs on the warmth of the water
STALE_DAYS = 21  # from here on a reading says next to nothing any more


@dataclass(frozen=True, slots=True)
class WaterJobs:
    """Jobs of one water (None: of no water in particular)."""

    water: str | None
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class DayJobs:
    """The jobs that begin on one day."""

    day: date
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True)
class WantedReading:
    """The water whose temperature would tell most, and why."""

    water: str
    last_on: date | None
    why: Reason


@dataclass(frozen=True, slots=True)
class Today:
    """A plan as it is worked through: today, this week, what is late, what to look at."""

    season: str
    on: date
    stop: tuple[Told, ...]
    asks: tuple[Ask, ...]  # what nobody wrote down
    late: tuple[Task, ...]  # the ill first; then what was due last: most can be saved of it
    hands: tuple[WaterJobs, ...]  # today, with hands free
    besides: tuple[WaterJobs, ...]  # today, in passing
    going_on: tuple[Task, ...]  # begun before, not over
    week: tuple[DayJobs, ...]
    look_at: tuple[Task, ...]  # look-backs due by the end of the week, or late
    reading: WantedReading | None
    next_show: ShowLine | None


def today_of(plan: Plan) -> Today:
    """The plan's own day and the seven days after it."""
    on = plan.planned_on
    look_at = [one for one in plan.tasks if one.kind in LOOKS and one.first_day <= on + WEEK]
    rest = [one for one in plan.tasks if one.kind not in LOOKS]
    now = [one for one in rest if not one.late and one.first_day == on]
    return Today(
        season=plan.season,
        on=on,
        stop=tuple(one.reason for one in plan.warnings if one.level == "stop"),
        asks=plan.asks,
        late=tuple(sorted((one for one in rest if one.late), key=_latest_due_first)),
        hands=_by_water(one for one in now if one.hands),
        besides=_by_water(one for one in now if not one.hands),
        going_on=tuple(one for one in rest if not one.late and one.first_day < on <= one.last_day),
        week=_by_day(one for one in rest if on < one.first_day <= on + WEEK),
        look_at=tuple(look_at),
        reading=wanted_reading(plan),
        next_show=next((one for one in plan.shows if one.standing == "planned"), None),
    )


def _latest_due_first(task: Task) -> tuple[bool, int, str]:
    return task.kind != "vet", -task.last_day.toordinal(), task.id


def wanted_reading(plan: Plan) -> WantedReading | None:
    """The reading that would help most: where most hangs on a water that was not read for long.

    A fish counts for the water it heals in, three times over where the slow case ends within
    ten days of its deadline. Readings of the last three days are good enough.
    """
    best: tuple[float, str] | None = None
    last_on: dict[str, date | None] = {}
    hanging = _hanging(plan)
    for water in plan.waters:
        last_on[water.name] = max((day for day, _ in water.readings), default=None)
        age = _age(last_on[water.name], plan.planned_on)
        weight = sum(hanging.get(water.name, {}).values()) * min(age, STALE_DAYS)
        if age > FRESH_DAYS and weight > 0 and (best is None or weight > best[0]):
            best = (weight, water.name)
    if best is None:
        return None
    name = best[1]
    why = _why(plan, last_on[name], hanging[name])
    return WantedReading(name, last_on[name], why)


def _hanging(plan: Plan) -> dict[str, dict[str, float]]:
    """By water: the fish whose healing or touch-up is still to come in it, with their weight."""
    found: dict[str, dict[str, float]] = {}
    for verdict in plan.verdicts:
        for water, weight in _of_verdict(verdict, plan.planned_on):
            weights = found.setdefault(water, {})
            weights[verdict.fish] = max(weight, weights.get(verdict.fish, 0))
    return found


def _of_verdict(verdict: Verdict, on: date) -> Iterable[tuple[str, float]]:
    planned = verdict.touch_up is not None and verdict.touch_up.day is not None
    for healing in verdict.healing:
        supposed = healing.after_touch_up and not planned and healing.start >= on
        if healing.unit != "degree-days" or supposed:
            continue
        slow = healing.high_on
        if slow is not None and slow <= on:
            continue
        near = slow is None or abs((healing.deadline - slow).days) <= NEAR_DAYS
        yield healing.water, 3.0 if near else 1.0


def _age(last: date | None, on: date) -> int:
    return STALE_DAYS if last is None else (on - last).days


def _why(plan: Plan, last: date | None, weights: dict[str, float]) -> Reason:
    first = sorted(weights, key=lambda one: (-weights[one], one))
    fish, more = tuple(FishId(one) for one in first[:3]), max(0, len(first) - 3)
    if last is None:
        return reason("not-read-of-late", fish=fish, more=more)
    age = (plan.planned_on - last).days
    return reason("reading-is-old", last=last, days=age, fish=fish, more=more)


def _by_water(tasks: Iterable[Task]) -> tuple[WaterJobs, ...]:
    """By water in the order of the alphabet, jobs of no water last."""
    found: dict[str, list[Task]] = {}
    for task in tasks:
        found.setdefault(task.water or "", []).append(task)
    order = sorted(found, key=lambda name: (not name, name))
    return tuple(WaterJobs(name or None, tuple(found[name])) for name in order)


def _by_day(tasks: Iterable[Task]) -> tuple[DayJobs, ...]:
    found: dict[date, list[Task]] = {}
    for task in tasks:
        found.setdefault(task.first_day, []).append(task)
    return tuple(DayJobs(day, tuple(found[day])) for day in sorted(found))
