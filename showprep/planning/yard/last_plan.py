"""What has to be remembered of a plan, to say later what changed: jobs and verdicts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from msgspec import Struct

from showprep.planning.entries.records import PresumedForm
from showprep.planning.plan import Plan, Task, TaskMoment, Told

CUT_NOT_NOTED = "cut-not-noted"
HealsIn = Mapping[str, Mapping[date, str]]
"""By fish: the water in which a touch-up was planned to heal, by the day of it."""


@dataclass(frozen=True, slots=True)
class LastJob:
    """One dated job of an earlier plan."""

    id: str
    kind: str
    title: Told = field(compare=False)  # data in a plan at hand, words in one read from a file
    fish: tuple[str, ...]
    show: str | None
    water: str | None
    start: TaskMoment
    late: bool

    @property
    def first_day(self) -> date:
        return self.start.date() if isinstance(self.start, datetime) else self.start


@dataclass(frozen=True, slots=True)
class LastVerdict:
    """What an earlier plan said of one fish for one show."""

    verdict: str
    entered: bool
    touch_up_day: date | None
    touch_up_chance: float | None = field(default=None, compare=False)  # nothing shows, 0 to 1
    touch_up_water: str | None = field(default=None, compare=False)  # where it heals


class PresumedCut(Struct, frozen=True):
    """A touch-up whose day passed without a note: its job, its day and its fish."""

    job: str
    on: date
    fish: tuple[str, ...]


class LastPlan(Struct, frozen=True):
    """An earlier plan: the day it was made, its jobs by id, its verdicts by fish and show."""

    planned_on: date
    jobs: Mapping[str, LastJob]
    verdicts: Mapping[tuple[str, str], LastVerdict]
    cuts: tuple[PresumedCut, ...] = ()  # that were due and asked about
    gone: Mapping[str, frozenset[str]] = {}  # presumed, by show
    forms: Mapping[str, PresumedForm] = {}  # by show
    reserves: Mapping[str, str] = {}  # by show
    healed_in: HealsIn = {}  # by the plans before it

    def heals_in(self, fish: str) -> Mapping[date, str]:
        """The water in which the touch-ups of a fish were planned to heal, by their day."""
        own = {
            one.touch_up_day: one.touch_up_water
            for (of, _), one in self.verdicts.items()
            if of == fish and one.touch_up_day is not None and one.touch_up_water is not None
        }
        return {**self.healed_in.get(fish, {}), **own}

    def going(self, show: str) -> frozenset[str] | None:
        """The fish it sends to a show, or takes to have gone; None where it says nothing of it."""
        if show in self.gone:
            return self.gone[show]
        told = {fish: one for (fish, where), one in self.verdicts.items() if where == show}
        return frozenset(fish for fish, one in told.items() if one.entered) if told else None


def last_of(plan: Plan) -> LastPlan:
    """What to remember of a plan at hand."""
    return LastPlan(
        planned_on=plan.planned_on,
        jobs={task.id: _job(task) for task in plan.tasks},
        verdicts={
            (one.fish, one.show): LastVerdict(
                one.verdict,
                one.entered,
                one.touch_up.day if one.touch_up else None,
                one.touch_up.chance if one.touch_up else None,
                one.touch_up.water if one.touch_up else None,
            )
            for one in plan.verdicts
        },
        cuts=tuple(
            PresumedCut(str(values["job"]), values["on"], one.fish)  # type: ignore[arg-type]
            for one in plan.asks
            if one.question.code == CUT_NOT_NOTED
            for values in [dict(one.question.values)]
        ),
        gone={show: frozenset(fish) for show, fish in plan.presumed_gone.items()},
        forms=plan.presumed_forms,
        reserves=dict(plan.choice.reserves),
        healed_in=plan.healed_in,
    )


def last_from(data: object) -> LastPlan | None:
    """The plan in a `plan.json` that was read; None when it holds none."""
    try:
        assert isinstance(data, Mapping)
        jobs = [_read_job(one) for one in data["tasks"]]
        return LastPlan(
            planned_on=date.fromisoformat(data["planned_on"]),
            jobs={job.id: job for job in jobs},
            verdicts={(one["fish"], one["show"]): _read_verdict(one) for one in data["verdicts"]},
            cuts=tuple(
                PresumedCut(
                    str(one["values"]["job"]),
                    date.fromisoformat(one["values"]["on"]),
                    tuple(map(str, one["fish"])),
                )
                for one in data.get("asks", ())
                if one["code"] == CUT_NOT_NOTED
            ),
            gone={
                str(show): frozenset(map(str, fish))
                for show, fish in data.get("presumed_gone", {}).items()
            },
            forms={
                str(show): PresumedForm(frozenset(map(str, form["fish"])), form["reserve"])
                for show, form in data.get("presumed_forms", {}).items()
            },
            reserves={
                str(one["show"]): str(one["fish"])
                for one in data.get("choice", {}).get("reserves", ())
            },
            healed_in={
                str(fish): {date.fromisoformat(day): str(water) for day, water in days.items()}
                for fish, days in data.get("healed_in", {}).items()
            },
        )
    except (AssertionError, KeyError, TypeError, ValueError, AttributeError):
        return None


def _job(task: Task) -> LastJob:
    return LastJob(
        task.id, task.kind, task.title, task.fish, task.show, task.water, task.start, task.late
    )


def _read_job(one: Mapping[str, Any]) -> LastJob:
    start = one["start"]
    return LastJob(
        id=str(one["id"]),
        kind=str(one["kind"]),
        title=str(one["title"]),
        fish=tuple(map(str, one["fish"])),
        show=one["show"],
        water=one["water"],
        start=date.fromisoformat(start) if one["all_day"] else datetime.fromisoformat(start),
        late=bool(one["late"]),
    )


def _read_verdict(one: Mapping[str, Any]) -> LastVerdict:
    touch_up = one.get("touch_up") or {}
    day, healed, away = (touch_up.get(name) for name in ("day", "chance_healed", "chance_not_back"))
    return LastVerdict(
        str(one["verdict"]),
        bool(one["entered"]),
        date.fromisoformat(day) if day else None,
        None if healed is None or away is None else round(float(healed) * float(away), 4),
        touch_up.get("water"),
    )
