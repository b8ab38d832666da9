"""What a printed sheet rests on, and how it differs from an earlier plan or an earlier printing.

A sheet of a session rests on its day, its fish and its dose, the sheets of a show on the fish that
go, on when they leave and on the water in each bag. That is what people act by beside the water;
the rest is in the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, datetime

from msgspec import Struct

from showprep.husbandry.reason import FishId, Litres, Reason, ShowId, reason
from showprep.planning.plan import SESSION_KINDS, Change, Plan, TaskMoment
from showprep.planning.yard.last_plan import LastPlan

DOSE = "dose"


class SheetFact(Struct, frozen=True):
    """`of` is the id of a show, or of the job of a session; `start` its day, or when it leaves.

    `amounts` is what is measured out by it: the `DOSE` [mL] of a session, none where the sheet
    refuses one, or by fish the water in its bag [L]. None: not known.
    """

    of: str
    show: str | None  # None: of a session
    start: TaskMoment
    fish: tuple[str, ...]
    amounts: Mapping[str, float] | None = None

    @property
    def first_day(self) -> date:
        return self.start.date() if isinstance(self.start, datetime) else self.start


class PrintedSheet(Struct, frozen=True):
    """A sheet as it was printed, by the plan of one day."""

    on: date
    fact: SheetFact


def facts_of(plan: Plan) -> dict[str, SheetFact]:
    """What the sheets of this plan rest on, by what they are of."""
    sessions = {
        task.id: SheetFact(task.id, None, task.first_day, task.fish)
        for task in plan.tasks
        if task.kind in SESSION_KINDS
    }
    shows = {
        show.id: SheetFact(show.id, show.id, show.departure, tuple(sorted(show.entered)))
        for show in plan.shows
        if show.standing == "planned" and show.entered
    }
    return sessions | shows


def facts_of_last(last: LastPlan) -> dict[str, SheetFact]:
    """The same of an earlier plan, as far as it is remembered."""
    facts = {}
    for job in last.jobs.values():
        if job.kind in SESSION_KINDS:
            facts[job.id] = SheetFact(job.id, None, job.first_day, job.fish)
        elif job.kind == "departure" and job.show is not None:
            going = tuple(sorted(last.going(job.show) or ()))
            facts[job.show] = SheetFact(job.show, job.show, job.start, going)
    return facts


def unlike_last(last: LastPlan, plan: Plan) -> dict[str, tuple[Reason, ...]]:
    """For each sheet that differs from the last plan: how. One that is new is not told."""
    before, now = facts_of_last(last), facts_of(plan)
    found = {of: _unlike(before[of], fact, plan) for of, fact in now.items() if of in before}
    return {of: told for of, told in found.items() if told}


def out_of_date(
    printed: Mapping[str, PrintedSheet], now: Mapping[str, SheetFact], plan: Plan
) -> tuple[Change, ...]:
    """The printed sheets that are not true any more, those of days that passed left out.

    `now` is what the sheets of this plan rest on.
    """
    found = []
    for of, sheet in sorted(printed.items(), key=lambda pair: (pair[1].fact.first_day, pair[0])):
        fact = now.get(of)
        if sheet.fact.first_day < plan.planned_on:
            continue
        how = (reason("sheet-is-void"),) if fact is None else _unlike(sheet.fact, fact, plan)
        if how:
            what = reason("sheet-out-of-date", sheet=_named(sheet.fact), printed=sheet.on, how=how)
            found.append(Change("moved", what))
    return tuple(found)


def _named(fact: SheetFact) -> Reason:
    if fact.show is not None:
        return reason("sheets-of-show", show=ShowId(fact.show))
    return reason("sheet-of-session", day=fact.first_day)


def _unlike(old: SheetFact, new: SheetFact, plan: Plan) -> tuple[Reason, ...]:
    told = []
    if old.start != new.start:
        told.append(reason("sheet-day-otherwise", old=old.start, new=new.start))
    come = tuple(FishId(one) for one in new.fish if one not in old.fish)
    gone = tuple(FishId(one) for one in old.fish if one not in new.fish)
    if come or gone:
        told.append(reason("sheet-fish-otherwise", come=come, gone=gone))
    closes = next((show.entries_close for show in plan.shows if show.id == new.show), None)
    if (come or gone) and closes is not None and closes < plan.planned_on:
        told.append(reason("sheet-entries-closed", on=closes))
    if old.amounts is not None and new.amounts is not None:
        told += _measured_otherwise(old.amounts, new.amounts)
    return tuple(told)


def _measured_otherwise(old: Mapping[str, float], new: Mapping[str, float]) -> Iterator[Reason]:
    before, now = old.get(DOSE), new.get(DOSE)
    if before is not None and now is None:
        yield reason("sheet-no-dose")
    elif before is not None and now is not None and before != now:
        yield reason("sheet-dose-otherwise", old=before, new=now)
    for fish in sorted((old.keys() & new.keys()) - {DOSE}):
        if old[fish] != new[fish]:
            yield reason(
                "sheet-bag-otherwise",
                fish=FishId(fish),
                old=Litres(old[fish]),
                new=Litres(new[fish]),
            )
