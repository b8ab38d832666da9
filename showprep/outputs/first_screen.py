"""The answer on one screen: what to do, who goes where, and why the best of the others stays.

Eight fish and three shows take 24 lines of 80 columns, each fish more a line. Where a grid does not
fit, or under 70 columns, it is told show by show; no word is broken down to 40 columns.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from rich.console import Console
from rich.text import Text

from showprep.outputs.terminal import plain_console
from showprep.outputs.words.answer import Cell, ShortAnswer, timed_title
from showprep.outputs.words.plain import counted, listed, spoken_from, spoken_with_year
from showprep.outputs.words.verdicts import LEVELS
from showprep.planning.follow_up.agenda import Agenda, DayJobs, agenda_of
from showprep.planning.plan import SESSION_KINDS, Plan, Task

LINES, FISH = 24, 8  # so many lines for so many fish; each fish more is a line more
STACKED = 70  # columns: below, everything stands one below the other
NARROWEST = 40
MOST = 3  # lines of a kind that may give way
WEEK = 7  # days
CHANCE = "9 in 10: of 10 such fish about 9 show no blemish at judging. No figure: nearly sure."
LEAST_COLUMN, WIDEST_COLUMN = 13, 34
LABEL = "        "
STYLES = {"go": "", "care": "yellow", "no": "red", "faint": "dim"}

Line = Text


@dataclass(slots=True)
class Block:
    """Lines of one kind; items that find no room are counted."""

    items: Sequence[Sequence[Line]]
    width: int
    more: str = ""  # of those left out: "{n} more"
    least: int = 1  # items that are told whatever the room
    beyond: int = 0  # items besides, that are only counted
    shown: int = 0

    def lines(self) -> list[Line]:
        """Those shown; the count of the others ends the last line, or has one of its own."""
        found = [line for item in self.items[: self.shown] for line in item]
        left = len(self.items) - self.shown + self.beyond
        if left and found and self.more:
            told = self.more.format(n=left)
            if len(found[-1]) + len(told) + 2 <= self.width:
                joint = " " if found[-1].plain.endswith((".", "?", "!")) else "; "
                found[-1] = found[-1] + Text(joint + told)
            else:
                found.append(Text(f"  {told}"))
        return found


def print_first_screen(plan: Plan, console: Console | None = None) -> None:
    """Print the answer."""
    out = console or plain_console()
    width = max(NARROWEST, out.width)
    for line in screen_lines(plan, width):
        out.print(line, soft_wrap=True)


def screen_lines(plan: Plan, width: int) -> list[Line]:
    """The lines, each at most `width` columns wide."""
    answer, agenda = ShortAnswer(plan), agenda_of(plan)
    grid = [*_who_goes(answer, width)]
    head = [*_head(answer, agenda, width)]
    stops = [*_stops(answer, width)]
    reasons = [line for show in answer.shows for line in _wrapped(answer.nobody(show), width)]
    tail = [*_tail(plan, width)]
    changes = Block(_changes(answer, width), width, "{n} more changes")
    asks = Block(_labelled("ASK", _asks(answer), width), width, "{n} more")
    late = Block(_labelled("LATE", _late(answer, agenda), width), width, "{n} more late")
    today = Block(_labelled("TODAY", _today(answer, agenda), width), width, "{n} more")
    days, later = _nexts(answer, agenda)
    nexts = Block(_labelled("NEXT", days, width), width, "{n} more days", beyond=later)
    stays = Block([_wrapped(told, width) for _, told in answer.stays()], width)
    cautions = Block(_cautions(answer, width), width, "{n} more: --full")
    most = [] if plan.tells_most is None else [answer.speaker.say(plan.tells_most)]
    tells = Block(_labelled("LOOK", most, width), width, least=0)
    chances = [_wrapped(CHANCE, width)] if any("in 10" in line.plain for line in grid) else []
    means = Block(chances, width, least=0)
    blocks = (changes, asks, late, today, stays, nexts, cautions, means, tells)
    fixed = len(head) + len(stops) + len(grid) + len(reasons) + len(tail) + 1
    room = LINES + max(0, len(answer.fish) - FISH) if width >= STACKED else 10_000
    _share_out(blocks, room - fixed)
    above = (*head, *changes.lines(), *stops, *asks.lines(), *late.lines())
    body = (*today.lines(), *nexts.lines(), *tells.lines(), Text(""), *grid)
    return [*above, *body, *means.lines(), *reasons, *stays.lines(), *cautions.lines(), *tail]


def _share_out(blocks: Sequence[Block], room: int) -> None:
    """Each kind gets one item, whatever the room; then in their order as many as find room."""
    for block in blocks:
        block.shown = min(block.least, len(block.items))
    for block in blocks:
        while block.shown < min(MOST, len(block.items)):
            block.shown += 1
            if sum(len(one.lines()) for one in blocks) > room:
                block.shown -= 1
                break


def _wrapped(text: str, width: int, indent: str = "  ", style: str = "") -> list[Line]:
    """The text in lines; no word is broken but one longer than a line."""
    return [
        Text(line, style=style)
        for line in textwrap.wrap(text, width, subsequent_indent=indent, break_on_hyphens=False)
    ]


def _labelled(label: str, items: Iterable[str], width: int) -> list[list[Line]]:
    """The items, with a label before the first."""
    found = []
    for number, item in enumerate(items):
        lines = textwrap.wrap(
            item,
            width,
            initial_indent=f"{label:<8}" if number == 0 else LABEL,
            subsequent_indent=LABEL + "  ",
            break_on_hyphens=False,
        )
        texts = [Text(line) for line in lines]
        if number == 0:
            texts[0].stylize("bold", 0, len(label))
        found.append(texts)
    return found


def _head(answer: ShortAnswer, agenda: Agenda, width: int) -> Iterator[Line]:
    plan = answer.plan
    told = f"{plan.season}, {spoken_with_year(plan.planned_on)}"
    show = agenda.next_show
    if show is not None:
        days = (show.judging.date() - plan.planned_on).days
        when = {0: "today", 1: "tomorrow"}.get(days, f"in {counted(days, 'day')}")
        told += f". {answer.short[show.id]} {when}, {counted(len(show.entered), 'fish', 'fish')}."
    yield from _wrapped(told, width, style="bold")
    if not plan.fish:
        yield from _wrapped(
            "There are no fish in this season yet: write one file a fish into fish/.", width
        )
    if not plan.shows:
        yield from _wrapped("There are no shows in this season yet: write shows.yaml.", width)
    if not plan.choice.proven and plan.verdicts:
        short = f"{plan.choice.bound - plan.choice.worth:.1f}"
        stopped = ", stopped before the end" if plan.choice.interrupted else ""
        told = f"The choice is not proven{stopped}: at most {short} points short of the best."
        yield from _wrapped(told, width)
    for one in plan.shows:
        if one.standing == "cancelled":
            yield from _wrapped(f"{one.name}: cancelled", width)


def _stops(answer: ShortAnswer, width: int) -> Iterator[Line]:
    for one in answer.plan.warnings:
        if one.level == "stop":
            text = f"{LEVELS['stop']}: {answer.speaker.say(one.reason)}"
            yield from _wrapped(text, width, style="bold red")


def _changes(answer: ShortAnswer, width: int) -> list[list[Line]]:
    told = (answer.speaker.say(one.what) for one in answer.plan.changes)
    return _labelled("CHANGED", told, width)


def _title(answer: ShortAnswer, task: Task) -> str:
    hands = " (hands)" if task.hands else ""
    return f"{timed_title(answer.speaker, task)}{hands}"


def _late(answer: ShortAnswer, agenda: Agenda) -> Iterator[str]:
    for task in agenda.late:
        yield f"{_title(answer, task)}, due {_day(answer.plan, task.last_day)}"


def _today(answer: ShortAnswer, agenda: Agenda) -> Iterator[str]:
    begin = [task for task in agenda.today if not task.late]
    for task in sorted(begin, key=lambda one: not one.hands):
        yield f"[ ] {_title(answer, task)}"


def _asks(answer: ShortAnswer) -> Iterator[str]:
    """What nobody wrote down; the first says where the line to write stands."""
    for number, one in enumerate(answer.plan.asks):
        asked = answer.speaker.say(one.question)
        yield asked if number else f"{asked} What to note: showprep today"


def _nexts(answer: ShortAnswer, agenda: Agenda) -> tuple[list[str], int]:
    """The next day with something to do, the next with hands, the next touch-up, then the days of
    this week; and how many of these are not among them."""
    days = [one for one in agenda.coming if one.days_off > 0]
    hands = [one for one in days if any(task.hands for task in one.tasks)]
    cuts = [one for one in days if any(t.kind in SESSION_KINDS for t in one.tasks)]
    week = [one for one in days if one.days_off <= WEEK]
    first = {one.day: one for one in (*days[:1], *cuts[:1], *hands[:2])}
    wanted = {day: first[day] for day in sorted(first)[:MOST]}
    for one in week:
        if len(wanted) < MOST:
            wanted[one.day] = one
    return list(_days_told(answer, wanted)), sum(one.day not in wanted for one in week)


def _days_told(answer: ShortAnswer, wanted: Mapping[date, DayJobs]) -> Iterator[str]:
    for day in sorted(wanted):
        tasks = sorted(wanted[day].tasks, key=_weight)
        titles = [_title(answer, one) for one in tasks[:1]]
        more = f"; {len(tasks) - 1} more" if len(tasks) > 1 else ""
        yield f"{_day(answer.plan, day)}: {titles[0]}{more}"


def _weight(task: Task) -> tuple[bool, bool]:
    return task.kind not in SESSION_KINDS, not task.hands


def _day(plan: Plan, day: date) -> str:
    return spoken_from(day, plan.planned_on)


def _who_goes(answer: ShortAnswer, width: int) -> Iterator[Line]:
    if not answer.shows or not answer.fish:
        return
    names = max(6, *(len(one.name) for one in answer.fish))
    column = (width - names - 1) // len(answer.shows)
    if width < STACKED or column < LEAST_COLUMN or names > width // 3:
        yield from _show_by_show(answer, width)
        return
    column = min(column, WIDEST_COLUMN)
    told = {
        (fish.id, show.id): _fitting(answer.cell(fish.id, show.id), column - 1)
        for fish in answer.fish
        for show in answer.shows
    }
    if any(text is None for text in told.values()):
        yield from _show_by_show(answer, width)
        return
    heads = [
        [answer.short[one.id] for one in answer.shows],
        [f"leave {_day(answer.plan, one.departure.date())}" for one in answer.shows],
    ]
    for number, head in enumerate(heads):
        yield _row(
            "", [Text(one, style="bold" if not number else "") for one in head], names, column
        )
    for fish in answer.fish:
        cells = [told[fish.id, show.id] or Text("") for show in answer.shows]
        yield _row(fish.name, cells, names, column)
    places = [answer.places(one) for one in answer.shows]
    closes = [answer.form(one, short=True) for one in answer.shows]
    both = [", ".join(filter(None, pair)) for pair in zip(places, closes, strict=True)]
    if all(len(one) < column for one in both):
        yield _row("places", [Text(one) for one in both], names, column, "dim")
    else:
        yield _row("places", [Text(one) for one in places], names, column, "dim")
        yield _row("", [Text(one) for one in closes], names, column, "dim")


def _row(name: str, cells: Sequence[Line], names: int, column: int, style: str = "") -> Line:
    line = Text(f"{name:<{names}} ", style=style)
    for cell in cells:
        shown = cell.copy()
        shown.truncate(column - 1)
        line += shown + Text(" " * (column - len(shown)))
    line.rstrip()
    return line


def _fitting(cell: Cell | None, room: int) -> Line | None:
    """The cell's words, as many as have room; None where not even its first word has."""
    if cell is None:
        return Text("")
    word = "GOES" if cell.goes else cell.word
    parts = cell.detail.split(", ")
    details = [cell.detail, parts[-1]]
    if cell.touch_up and not cell.vet and cell.tone != "go":  # a doubt is left out last
        details.insert(1, cell.detail.replace("touch-up ", ""))
    if not cell.touch_up:
        details.append("")
    elif cell.vet:  # who does it is never left out, nor that there is one
        details += [parts[-1].removeprefix("touch-up "), cell.vet]
    for detail in details:
        told = f"{word}, {detail}" if detail else word
        if len(told) <= room:
            return Text(told, style="bold" if cell.goes else STYLES[cell.tone])
    return None


def _show_by_show(answer: ShortAnswer, width: int) -> Iterator[Line]:
    """Each show with its goers, then the others by what is said of them."""
    for number, show in enumerate(answer.shows):
        if number:
            yield Text("")
        head = f"{show.name}: leave {_day(answer.plan, show.departure.date())}"
        parts = (head, answer.places(show), answer.form(show, short=True))
        yield from _wrapped(", ".join(filter(None, parts)), width, style="bold")
        others: dict[str, list[str]] = {}
        for fish in answer.fish:
            cell = answer.cell(fish.id, show.id)
            if cell is None:
                continue
            told = f", {cell.detail}" if cell.detail else ""
            if cell.goes:
                yield from _wrapped(f"  GOES {fish.name}{told}", width, "       ", "bold")
            else:
                others.setdefault(f"{cell.word}{told}", []).append(fish.name)
        for told, names in others.items():
            yield from _wrapped(f"  {told}: {listed(names)}", width, "    ")


def _cautions(answer: ShortAnswer, width: int) -> list[list[Line]]:
    return [
        _wrapped(f"{LEVELS[one.level]}: {answer.speaker.say(one.reason)}", width)
        for one in answer.plan.warnings
        if one.level == "warn"
    ]


def _tail(plan: Plan, width: int) -> Iterator[Line]:
    if plan.verdicts:
        law = "Look at the fish, not at the date. Ask before a touch-up whether it is lawful."
        yield from _wrapped(law, width, style="dim")
    yield from _wrapped(
        "Why: showprep why SEASON FISH SHOW. All of it: showprep plan --full", width
    )
