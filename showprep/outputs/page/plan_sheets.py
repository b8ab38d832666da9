"""Which sheets a plan gives: sessions, journeys, the week before a show, a card for each fish."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from showprep.outputs.page.sheets import Entrant, Page, dealt, numbered
from showprep.planning.plan import Plan, ShowLine, Task, Verdict

SESSION_FISH = 8
JOURNEY_FISH = 22
WEEK_JOBS = 10
CARD_JOBS = 9
WEEK = 7  # days before departure
SESSION_KINDS = ("touch-up", "ask-a-vet")


def session_pages(plan: Plan) -> Iterator[Page]:
    """A sheet for each touch-up session, or for each one that a vet is to be asked about."""
    said = _said(plan)
    for task in plan.tasks:
        if task.kind not in SESSION_KINDS:
            continue
        anchor = task.id.partition("/")[2]
        around = [one for one in plan.tasks if one != task and _is_of(one, anchor)]
        entrants = [
            Entrant(fish, _touched(said.get(fish.id, []), task))
            for fish in plan.fish
            if fish.id in task.fish
        ]
        title = "Touch-up session" if task.kind == "touch-up" else "To ask the vet: a touch-up"
        pages = [
            Page(
                kind=task.kind,
                key=f"session-{plan.tasks.index(task)}",
                title=title,
                day=task.first_day,
                entrants=hand,
                tasks=(task, *around[:6]),
                cautions=task.cautions,
            )
            for hand in dealt(entrants, SESSION_FISH)
        ]
        yield from numbered(pages)


def _is_of(task: Task, anchor: str) -> bool:
    rest = task.id.partition("/")[2]
    return rest == anchor or rest.startswith(f"{anchor}/")


def _touched(verdicts: Iterable[Verdict], task: Task) -> Verdict | None:
    """What is said of a fish for the first show this session serves."""
    for verdict in verdicts:
        if verdict.touch_up is not None and verdict.touch_up.day == task.first_day:
            return verdict
    return None


def _said(plan: Plan) -> dict[str, list[Verdict]]:
    said: dict[str, list[Verdict]] = {}
    for verdict in plan.verdicts:
        said.setdefault(verdict.fish, []).append(verdict)
    return said


def show_pages(plan: Plan) -> Iterator[Page]:
    """For each planned show with entries: the week before it, then packing and journey."""
    said = {(verdict.fish, verdict.show): verdict for verdict in plan.verdicts}
    for at, show in enumerate(plan.shows):
        if show.standing != "planned" or not show.entered:
            continue
        entrants = [
            Entrant(fish, said.get((fish.id, show.id)))
            for fish in plan.fish
            if fish.id in show.entered
        ]
        yield from numbered(
            [
                Page("week", f"week-{at}", f"The week before {show.name}", show=show, tasks=hand)
                for hand in dealt(_week_jobs(plan, show), WEEK_JOBS)
            ]
        )
        journey = [task for task in plan.tasks if task.show == show.id and not task.all_day]
        cautions = _cautions([*journey, *_after_home(plan, show)])
        hands = dealt(entrants, JOURNEY_FISH)
        yield from numbered(
            [
                Page(
                    kind="journey",
                    key=f"journey-{at}",
                    title=f"Packing and journey: {show.name}",
                    show=show,
                    entrants=hand,
                    tasks=tuple(journey) if number == 0 else (),
                    cautions=cautions if number == 0 else (),
                )
                for number, hand in enumerate(hands)
            ]
        )


def _week_jobs(plan: Plan, show: ShowLine) -> list[Task]:
    """The jobs of this show, or of its fish, that begin or go on in the week before it leaves."""
    leave = show.departure.date()
    fish = set(show.entered)
    return [
        task
        for task in plan.tasks
        if (task.show == show.id or (task.show is None and fish.intersection(task.fish)))
        and task.first_day <= leave
        and (leave - task.last_day).days <= WEEK
        and not task.late
    ]


def _after_home(plan: Plan, show: ShowLine) -> list[Task]:
    home = show.home.date()
    return [task for task in plan.tasks if task.show == show.id and task.first_day >= home]


def _cautions(tasks: Iterable[Task]) -> tuple[str, ...]:
    """Every caution once, in order."""
    return tuple(dict.fromkeys(caution for task in tasks for caution in task.cautions))


def cage_cards(plan: Plan) -> Iterator[Page]:
    """A card for each fish that is here: who it is, where it goes, its own dates."""
    shows = {show.id: show for show in plan.shows if show.standing == "planned"}
    said = _said(plan)
    jobs: dict[str, list[Task]] = {}
    for task in plan.tasks:
        for fish_id in task.fish:
            jobs.setdefault(fish_id, []).append(task)
    for at, fish in enumerate(plan.fish):
        if fish.gone is not None:
            continue
        known = [(shows[one.show], one) for one in said.get(fish.id, []) if one.show in shows]
        going = [pair for pair in known if fish.id in pair[0].entered]
        ahead = [task for task in jobs.get(fish.id, []) if task.last_day >= plan.planned_on]
        yield Page(
            kind="card",
            key=f"card-{at}",
            title=fish.name,
            entrants=(Entrant(fish),),
            tasks=tuple(ahead[:CARD_JOBS]),
            more_tasks=max(0, len(ahead) - CARD_JOBS),
            verdicts=tuple((going or known)[:4]),
        )
