"""The sheets to print: what each is made of, dealt out over pages that it fits on.

Sheets of touch-up sessions, of the week before a show, of packing and journey, cards of the fish,
and worksheets. How much room things take is estimated in lines of the page's text, on the wide
side: a page is as wide as A4 and as high as Letter, the typeface a wide one. The tests print the
sheets and count the pages.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from functools import partial
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import Reason, Value
from showprep.outputs.page.wall import WallPage, wall_pages
from showprep.outputs.words.kinds import blemish_text
from showprep.outputs.words.sheet import Section, Sheet
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.agenda import by_start, most_first
from showprep.planning.plan import SESSION_KINDS, FishLine, Plan, ShowLine, Task, Verdict
from showprep.season.values.days import MONTHS

Say = Callable[[Value], str]  # puts what is told into words

POINT = 25.4 / 72  # mm
LEAST_POINTS = 12.0  # of what is read beside the water, with wet hands and reading glasses
HEIGHT = 279.4 - 24 - 12  # mm of a Letter page, less its margins and the foot of the sheet
TITLE = 10.0  # mm a line of a sheet's title
TITLE_ACROSS = 42  # letters in it
LOG_DAYS = 9  # rows
AROUND = 6  # jobs around a session
CARD_SHOWS = 4
CARD_LOG = 58.0  # mm of its log, headings and foot
# The dates that matter to one fish: touch-up and what leads to it, looks, a vet, fasts, leaving
# and home.
CARD_KINDS = (
    *SESSION_KINDS,
    *("unfed-before-touch-up", "into-vat", "vat-back", "look", "look-back"),
    *("vet", "ring-vet", "red-spots", "stop-feeding"),
    *("departure", "isolation", "isolation-clear", "clear-check"),
)
CARD_PHOTO = 60.0  # mm
CARD_TITLE = 20.0  # mm a line, in large type
WEEK = 7  # days before departure
FACTS = 42.0  # mm
TABLE_HEAD = 20.0  # mm
TWO_COLUMNS = 0.86  # of the room of both is used, as no line is broken between them
HEADING = 1.8  # lines
LARGE_LINES = 1.5  # more than another line
WIDER = 1.08  # lines without a box to tick are this much longer


class Entrant(Struct, frozen=True):
    """A fish on a sheet, with what was said of it."""

    fish: FishLine
    verdict: Verdict | None = None


class Page(Struct, frozen=True):
    """One printed page: `kind` picks its layout; `number` of `count` when it is dealt out.

    `brief` leaves the notes of jobs out, `log` gives room to write day by day, `style` is the
    size of its type, `columns` deals the sections out side by side. `always` stands at the top and
    at the bottom.
    """

    kind: str
    key: str
    title: str
    number: int = 1
    count: int = 1
    day: date | None = None
    show: ShowLine | None = None
    entrants: tuple[Entrant, ...] = ()
    tasks: tuple[Task, ...] = ()
    more_tasks: int = 0
    cautions: tuple[Reason, ...] = ()
    sections: tuple[Section, ...] = ()
    verdicts: tuple[tuple[ShowLine, Verdict], ...] = ()
    brief: bool = False
    log: bool = False
    style: str = ""
    columns: int = 1
    always: str = ""
    foot: str = ""
    wall: WallPage | None = None
    months: tuple[tuple[str, tuple[Task, ...]], ...] = ()
    large: frozenset[str] = frozenset()  # lines that stand alone, in large type
    unlike: str = ""  # how it differs from the last plan, said first

    @property
    def group(self) -> str:
        """What is printed together: the season, a show, the sessions, the worksheets, the cards."""
        if self.kind in ("wall", "jobs"):
            return "season"
        if self.show is not None:
            return self.show.id
        return {"card": "cards", "worksheet": "worksheets"}.get(self.kind, "sessions")

    @property
    def anchor(self) -> str:
        return f"sheet-{self.key}" + (f"-{self.number}" if self.number > 1 else "")


def numbered(pages: Sequence[Page]) -> Iterable[Page]:
    """Pages of one sheet, each saying which it is of how many."""
    for number, page in enumerate(pages, start=1):
        yield replace(page, number=number, count=len(pages))


Item = TypeVar("Item")


class Paper(Struct, frozen=True):
    """A page set in type of a given size [pt], its lines `leading` times as high."""

    style: str  # the sheet's class
    size: float
    leading: float = 1.35

    def mm(self, height: float) -> float:
        """Lines that a height [mm] takes."""
        return height / (self.size * POINT * self.leading)

    def room(self, title: str) -> float:
        """Lines below a sheet's title."""
        return self.mm(HEIGHT - 6 - TITLE * lines(title, TITLE_ACROSS))

    @property
    def aside(self) -> float:
        """How large what stands beside is set, of the text; never below LEAST_POINTS."""
        return max(0.9, min(1.0, LEAST_POINTS / self.size))

    @property
    def across(self) -> int:
        """Letters in a line."""
        return round(80 * 12.5 / self.size)

    @property
    def heading(self) -> float:
        """Lines of a heading within a sheet."""
        return 1.4 + self.mm(5)

    @property
    def log_days(self) -> float:
        """Lines of the table that is filled in day by day."""
        return self.heading + self.mm(9.4) * LOG_DAYS + 2

    def text(self, text: str, indent: int = 0) -> float:
        return lines(text, self.across - indent)

    def job(self, say: Say, task: Task, *, brief: bool, cautions: bool = False) -> float:
        """Lines of a job with its day, and its note unless `brief`."""
        height = self.text(written(say, task), 5) + self.mm(1.7)
        if task.note and not brief:
            height += self.aside * lines(say(task.note), round(self.across / self.aside) - 3)
        if cautions:
            across = round(self.across / self.aside) - 5
            height += sum(self.aside * lines(say(one), across) for one in task.cautions[:2])
        return height

    def cautions(self, say: Say, cautions: Iterable[Reason]) -> float:
        return sum(self.text(say(caution), 4) + 0.3 for caution in cautions)


NORMAL, TIGHT = Paper("", 12.5), Paper("tight", LEAST_POINTS, 1.24)
DENSE = Paper("dense", 10.5)  # the list of all jobs, which nobody reads with wet hands


def written(say: Say, task: Task) -> str:
    """A job's title with as many letters before it as its day and time take."""
    days = 14 if task.all_day else 21
    if task.start != task.end:
        days += 17 if task.all_day else 9
    return f"{'.' * days}{say(task.title)}"


def lines(text: str, across: int) -> float:
    """Lines that a text takes; the letters of some scripts are twice as wide as Latin ones."""
    wide = sum(2 if ord(letter) > 0x2E7F else 1 for letter in text)
    return float(max(1, -(-wide // across)))


def dealt(
    items: Sequence[Item], height: Callable[[Item], float], first: float, others: float
) -> list[tuple[Item, ...]]:
    """Deal items out to pages in order: so much room on the first page, so much on the others.

    The first page may stay without an item; every other page gets one at least.
    """
    pages: list[tuple[Item, ...]] = []
    hand: list[Item] = []
    room = first
    for item in items:
        need = height(item)
        if need > room and (hand or not pages):
            pages.append(tuple(hand))
            hand, room = [], others
        hand.append(item)
        room -= need
    pages.append(tuple(hand))
    return pages


def season_pages(plan: Plan) -> Iterator[Page]:
    """The season on one sheet, and behind it every job by month, to tick."""
    title = f"{plan.season}: the season on one sheet"
    for wall in wall_pages(plan):
        yield Page("wall", "wall", title, number=wall.number, count=wall.count, wall=wall)
    yield from numbered(list(_job_pages(plan)))


def _job_pages(plan: Plan) -> Iterator[Page]:
    title, say = f"{plan.season}: jobs by month", Speaker.of(plan).say
    tasks = sorted(plan.tasks, key=by_start)
    months: dict[str, list[Task]] = {}
    for task in tasks:
        months.setdefault(_month(max(task.first_day, plan.planned_on)), []).append(task)
    if not tasks:
        return
    room = DENSE.room(title)
    rows = [(month, task) for month, some in months.items() for task in some]
    heads = {id(some[0]) for some in months.values()}

    def height(row: tuple[str, Task]) -> float:
        head = DENSE.heading if id(row[1]) in heads else 0.0
        return head + DENSE.job(say, row[1], brief=True)

    for hand in dealt(rows, height, room, room - DENSE.heading):
        dealt_months: dict[str, list[Task]] = {}
        for month, task in hand:
            dealt_months.setdefault(month, []).append(task)
        kept = tuple((month, tuple(some)) for month, some in dealt_months.items())
        yield Page("jobs", "jobs", title, months=kept, style=DENSE.style)


def _month(day: date) -> str:
    return f"{MONTHS[day.month - 1]} {day.year}"


def session_pages(plan: Plan, baths: Collection[date] = ()) -> Iterator[Page]:
    """A sheet for each touch-up session, or for each one that a vet is to be asked about.

    Session and bath are one sheet: on the days of `baths` the worksheet of the bath is it.
    """
    said, say = said_of(plan), Speaker.of(plan).say
    for at, task in enumerate(plan.tasks):
        if task.kind not in SESSION_KINDS or (task.kind == "touch-up" and task.first_day in baths):
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
    for paper in (NORMAL, TIGHT):
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
    """A card for each fish with a date ahead: who it is, where it goes, and what matters to it."""
    shows = {show.id: show for show in plan.shows if show.standing == "planned"}
    said, job_lines = said_of(plan), partial(_card_job_lines, Speaker.of(plan).say)
    jobs: dict[str, list[Task]] = {}
    for task in sorted(most_first(plan.tasks), key=lambda one: by_start(one)[:2]):
        for fish_id in task.fish:
            jobs.setdefault(fish_id, []).append(task)
    for at, fish in enumerate(plan.fish):
        if fish.gone is not None:
            continue
        known = [(shows[one.show], one) for one in said.get(fish.id, []) if one.show in shows]
        going = [pair for pair in known if fish.id in pair[0].entered]
        ahead = [task for task in jobs.get(fish.id, []) if task.last_day >= plan.planned_on]
        if not (going or ahead):
            continue
        photos = CARD_PHOTO if fish.id in with_photos else 0.0
        room = NORMAL.mm(HEIGHT - photos) - _card_lines(fish)
        verdicts = dealt((going or known)[:CARD_SHOWS], _card_show_lines, room, room)[0]
        room -= sum(_card_show_lines(pair) for pair in verdicts)
        matters = [task for task in ahead if task.kind in CARD_KINDS]
        told = dealt(matters, job_lines, room, room)[0] if matters else ()
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
    blemishes = 1.4 * lines(_blemishes(fish), 46) if fish.defects else 0.0
    title = NORMAL.mm(CARD_TITLE) * lines(fish.name, 22)
    home = 1.4 * lines(f"{fish.variety}, 00.0 cm, about 0.00 kg; lives in {fish.lives_in}", 46)
    return title + home + 1 + blemishes + NORMAL.mm(CARD_LOG)


def _card_show_lines(pair: tuple[ShowLine, Verdict]) -> float:
    show, verdict = pair
    return 1.5 * lines(f"{show.name}, Sat 00 September: {verdict.verdict}, stays at home", 46)


def _card_job_lines(say: Say, task: Task) -> float:
    return 1.15 * lines(written(say, task), 62) + 0.4


# Which way of setting a sheet comes first: with notes, in smaller type, then without notes.
WAYS: tuple[tuple[Paper, bool], ...] = ((NORMAL, False), (TIGHT, False), (TIGHT, True))


def show_pages(plan: Plan, packing: Mapping[str, Sheet]) -> Iterator[Page]:
    """For each planned show with entries: the week before it, then packing and journey in one.

    `packing` are the packing lists, by show.
    """
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
        journey = list(_journey(plan, show, f"journey-{at}", entrants))
        lists = [packing[show.id]] if show.id in packing else []
        packed = (
            replace(page, key=journey[0].key, title=journey[0].title, show=show)
            for page in worksheet_pages(lists)
        )
        yield from numbered([*journey, *packed])


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
        used = paper.mm(FACTS + TABLE_HEAD) + paper.cautions(say, cautions)
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


SETTINGS: tuple[tuple[Paper, int], ...] = ((NORMAL, 1), (TIGHT, 1), (TIGHT, 2))


def worksheet_pages(worksheets: Sequence[Sheet]) -> Iterable[Page]:
    """Each worksheet's pages; a long one goes on over a second page, at a line's end."""
    for at, sheet in enumerate(worksheets):
        body = (("", sheet.notices), *sheet.sections) if sheet.notices else sheet.sections
        for paper, columns in SETTINGS:
            beside = 2 * (paper.text(sheet.always) + 0.8) if sheet.always else 0.0
            beside += paper.text(sheet.foot) if sheet.foot else 0.0
            beside += len(sheet.large) * LARGE_LINES
            room = (paper.room(sheet.title) - beside) * (2 * TWO_COLUMNS if columns == 2 else 1)
            hands = list(_filled(body, int(WIDER * paper.across / columns), room))
            if len(hands) == 1:
                break
        pages = [
            Page(
                kind="worksheet",
                key=f"work-{at}",
                title=sheet.title,
                sections=hand,
                style=paper.style,
                columns=columns,
                always=sheet.always,
                foot=sheet.foot,
                day=sheet.day,
                large=frozenset(sheet.large),
            )
            for hand in hands
        ]
        yield from numbered(pages)


def _filled(sections: Iterable[Section], across: int, room: float) -> Iterable[tuple[Section, ...]]:
    """Deal lines out to pages, repeating a heading where its lines go on."""
    page: list[Section] = []
    used = 0.0
    for heading, texts in sections:
        kept: list[str] = []
        used += HEADING if heading else 0.5
        for text in texts:
            height = lines(text, across) + 0.1
            if used + height > room and (page or kept):
                if kept:
                    page.append((heading, tuple(kept)))
                yield tuple(page)
                page, kept, used = [], [], HEADING
            kept.append(text)
            used += height
        page.append((heading, tuple(kept)))
    yield tuple(page)
