"""The sheets of touch-up sessions, and the cards of the fish."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial

from showprep.outputs.page.agenda import by_start
from showprep.outputs.page.paper import (
    DENSE,
    HEIGHT,
    NORMAL,
    Say,
    dealt,
    lines,
    written,
)
from showprep.outputs.page.sheets import Entrant, Page, numbered
from showprep.outputs.words.kinds import blemish_text
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import FishLine, Plan, ShowLine, Task, Verdict

SESSION_KINDS = ("touch-up", "ask-a-vet")
AROUND = 6  # jobs around a session
CARD_SHOWS = 4
CARD_LOG = 95.0  # mm of its log, headings and foot
CARD_PHOTO = 60.0  # mm
CARD_TITLE = 20.0  # mm a line, in large type


def session_pages(plan: Plan) -> Iterator[Page]:
    """A sheet for each touch-up session, or for each one that a vet is to be asked about."""
    said, say = said_of(plan), Speaker.of(plan).say
    for at, task in enumerate(plan.tasks):
        if task.kind not in SESSION_KINDS:
            continue
        anchor = task.id.partition("/")[2]
        around = tuple(one for one in plan.tasks if one is not task and _is_of(one, anchor))
        entrants = [
            Entrant(fish, _touched(said.get(fish.id, []), task))
            for fish in plan.fish
            if fish.id in task.fish
        ]
        yield from numbered(list(_session(say, task, f"session-{at}", around[:AROUND], entrants)))


def _session(
    say: Say, task: Task, key: str, around: tuple[Task, ...], entrants: list[Entrant]
) -> Iterator[Page]:
    """One page in the usual type if it fits, else in smaller type; only then more than one."""
    title = "Touch-up session" if task.kind == "touch-up" else "To ask the vet: a touch-up"
    for paper in (NORMAL, DENSE):
        always = paper.cautions(say, task.cautions) + paper.text(say(task.note)) + paper.mm(58)
        beside = sum(paper.job(say, one, brief=True) for one in around) + paper.heading
        room = paper.room(title)
        hands = dealt(entrants, _log_lines, room - always - beside, room - always)
        if len(hands) == 1:
            break
    for number, hand in enumerate(hands):
        yield Page(
            kind=task.kind,
            key=key,
            title=title,
            day=task.first_day,
            entrants=hand,
            tasks=(task, *(around if number == 0 else ())),
            cautions=task.cautions,
            style=paper.style,
        )


def _log_lines(one: Entrant) -> float:
    return lines(one.fish.name, 18) + lines(_blemishes(one.fish), 22) + 1.9


def _blemishes(fish: FishLine) -> str:
    return "; ".join(map(blemish_text, fish.defects))


def _is_of(task: Task, anchor: str) -> bool:
    rest = task.id.partition("/")[2]
    return rest == anchor or rest.startswith(f"{anchor}/")


def _touched(verdicts: Iterable[Verdict], task: Task) -> Verdict | None:
    """What is said of a fish for the first show this session serves."""
    for verdict in verdicts:
        if verdict.touch_up is not None and verdict.touch_up.day == task.first_day:
            return verdict
    return None


def said_of(plan: Plan) -> dict[str, list[Verdict]]:
    """The verdicts of each fish."""
    said: dict[str, list[Verdict]] = {}
    for verdict in plan.verdicts:
        said.setdefault(verdict.fish, []).append(verdict)
    return said


def cage_cards(plan: Plan, with_photos: frozenset[str]) -> Iterator[Page]:
    """A card for each fish that is here: who it is, where it goes, and its next dates."""
    shows = {show.id: show for show in plan.shows if show.standing == "planned"}
    said, job_lines = said_of(plan), partial(_card_job_lines, Speaker.of(plan).say)
    jobs: dict[str, list[Task]] = {}
    for task in sorted(plan.tasks, key=by_start):
        for fish_id in task.fish:
            jobs.setdefault(fish_id, []).append(task)
    for at, fish in enumerate(plan.fish):
        if fish.gone is not None:
            continue
        known = [(shows[one.show], one) for one in said.get(fish.id, []) if one.show in shows]
        going = [pair for pair in known if fish.id in pair[0].entered]
        ahead = [task for task in jobs.get(fish.id, []) if task.last_day >= plan.planned_on]
        photos = CARD_PHOTO if fish.id in with_photos else 0.0
        room = NORMAL.mm(HEIGHT - photos) - _card_lines(fish)
        verdicts = dealt((going or known)[:CARD_SHOWS], _card_show_lines, room, room)[0]
        room -= sum(_card_show_lines(pair) for pair in verdicts)
        told = dealt(ahead, job_lines, room, room)[0]
        yield Page(
            kind="card",
            key=f"card-{at}",
            title=fish.name,
            entrants=(Entrant(fish),),
            tasks=told,
            more_tasks=len(ahead) - len(told),
            verdicts=verdicts,
        )


def _card_lines(fish: FishLine) -> float:
    marks = 1.4 * lines(_blemishes(fish), 46) if fish.defects else 0.0
    title = NORMAL.mm(CARD_TITLE) * lines(fish.name, 22)
    home = 1.4 * lines(f"{fish.variety}, 00.0 cm, about 0.00 kg; lives in {fish.lives_in}", 46)
    return title + home + 1 + marks + NORMAL.mm(CARD_LOG)


def _card_show_lines(pair: tuple[ShowLine, Verdict]) -> float:
    show, verdict = pair
    return 1.5 * lines(f"{show.name}, Sat 00 September: {verdict.verdict}, stays at home", 46)


def _card_job_lines(say: Say, task: Task) -> float:
    return 1.15 * lines(written(say, task), 62) + 0.4
