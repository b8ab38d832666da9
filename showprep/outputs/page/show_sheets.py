"""The sheets of a show: the week before it, and packing and journey."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from showprep.husbandry.reason import Reason
from showprep.outputs.page.agenda import by_start
from showprep.outputs.page.paper import DENSE, NORMAL, Paper, dealt, lines
from showprep.outputs.page.plan_sheets import said_of
from showprep.outputs.page.sheets import Entrant, Page, numbered
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Plan, ShowLine, Task

WEEK = 7  # days before departure
FACTS = 32.0  # mm
IN_THE_VAN = 55.0  # mm
TABLE_HEAD = 20.0  # mm
# Which way of setting a sheet comes first: with notes, in smaller type, then without notes.
WAYS: tuple[tuple[Paper, bool], ...] = ((NORMAL, False), (DENSE, False), (DENSE, True))


def show_pages(plan: Plan) -> Iterator[Page]:
    """For each planned show with entries: the week before it, then packing and journey."""
    said = said_of(plan)
    for at, show in enumerate(plan.shows):
        if show.standing != "planned" or not show.entered:
            continue
        entrants = [
            Entrant(fish, next((one for one in said.get(fish.id, []) if one.show == show.id), None))
            for fish in plan.fish
            if fish.id in show.entered
        ]
        yield from numbered(list(_week(plan, show, f"week-{at}")))
        yield from numbered(list(_journey(plan, show, f"journey-{at}", entrants)))


def _week(plan: Plan, show: ShowLine, key: str) -> Iterator[Page]:
    """One page with notes if they fit, in smaller type if they must; else without the notes."""
    jobs, say = _week_jobs(plan, show), Speaker.of(plan).say
    title = f"The week before {show.name}"
    for paper, brief in WAYS:
        height = partial(paper.job, say, brief=brief, cautions=True)
        room = paper.room(title) - 2
        hands = dealt(jobs, height, room, room)
        if sum(height(task) for task in hands[-1]) + paper.log_days > room:
            hands.append(())
        if len(hands) == 1:
            break
    for number, hand in enumerate(hands, start=1):
        yield Page(
            kind="week",
            key=key,
            title=title,
            show=show,
            tasks=hand,
            brief=brief,
            log=number == len(hands),
            style=paper.style,
        )


def _week_jobs(plan: Plan, show: ShowLine) -> list[Task]:
    """The jobs of this show, or of its fish, that begin or go on in the week before it leaves."""
    leave = show.departure.date()
    fish = set(show.entered)
    return [
        task
        for task in sorted(plan.tasks, key=by_start)
        if (task.show == show.id or (task.show is None and fish.intersection(task.fish)))
        and task.first_day <= leave
        and (leave - task.last_day).days <= WEEK
        and not task.late
    ]


def _journey(plan: Plan, show: ShowLine, key: str, entrants: Sequence[Entrant]) -> Iterator[Page]:
    own = [task for task in sorted(plan.tasks, key=by_start) if task.show == show.id]
    tasks = [task for task in own if not task.all_day]
    home = show.home.date()
    cautions = _once([*tasks, *(task for task in own if task.all_day and task.first_day >= home)])
    title, say = f"Packing and journey: {show.name}", Speaker.of(plan).say
    for paper, brief in WAYS:
        height = partial(_row_lines, paper)
        used = paper.mm(FACTS + IN_THE_VAN + TABLE_HEAD) + paper.cautions(say, cautions)
        used += paper.heading + sum(paper.job(say, task, brief=brief) for task in tasks)
        room = paper.room(title)
        hands = dealt(entrants, height, room - used, room - paper.mm(TABLE_HEAD))
        if len(hands) == 1:
            break
    for number, hand in enumerate(hands):
        yield Page(
            kind="journey",
            key=key,
            title=title,
            show=show,
            entrants=hand,
            tasks=tuple(tasks) if number == 0 else (),
            cautions=cautions if number == 0 else (),
            brief=brief,
            style=paper.style,
        )


def _row_lines(paper: Paper, one: Entrant) -> float:
    name = lines(f"{one.fish.name} {one.fish.variety}", round(paper.across / 3.2))
    return max(paper.mm(8), 0.95 * name + paper.mm(3))


def _once(tasks: Iterable[Task]) -> tuple[Reason, ...]:
    """Every caution once, in order."""
    return tuple(dict.fromkeys(caution for task in tasks for caution in task.cautions))
