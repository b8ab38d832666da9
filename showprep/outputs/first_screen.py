"""The answer on one screen: what to do, who goes where, and why the best of the others stays.

Eight fish and three shows take 24 lines of 80 columns, each fish more a line. Where a grid does not
fit, or under 70 columns, it is told show by show; no word is broken down to 40 columns.
"""

from __future__ import annotations

import operator
import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date
from functools import lru_cache

from msgspec import Struct, field
from rich.console import Console
from rich.text import Text

from showprep.outputs.terminal import plain_console
from showprep.outputs.words.answer import CHANCE, Cell, ShortAnswer, timed_title
from showprep.outputs.words.plain import counted, listed, spoken_from, spoken_with_year
from showprep.outputs.words.verdicts import LEVELS
from showprep.planning.follow_up.agenda import Agenda, agenda_of, most_first
from showprep.planning.plan import Plan, Task

LINES, FISH = 24, 8  # so many lines for so many fish; each fish more is a line more
STACKED = 70  # columns: below, everything stands one below the other
NARROWEST = 40
MOST = 3  # items of a kind that may give way
MOST_DAYS, MOST_OF_A_DAY = 7, 3  # days, and the lines of one
LAW = "Look at the fish, not at the date. Ask before a touch-up whether it is lawful."
WHY = "Why: showprep why SEASON FISH SHOW. All of it: showprep plan --full"
LEAST_COLUMN, WIDEST_COLUMN = 13, 34
LABEL = "        "
BOX = "[ ] "
_WHOLE_BOX = BOX.replace(" ", "\N{NO-BREAK SPACE}")
STYLES = {"go": "", "care": "yellow", "no": "red", "faint": "dim"}

Line = Text


class Item(Struct, frozen=True):
    """Something told in a line or more: whole where it has room, else its parts in brief.

    Parts that find no room at all are counted.
    """

    whole: str
    width: int
    label: str = LABEL
    brief: Sequence[str] = ()
    joint: str = "; "
    most: int = MOST  # lines

    def lines(self, most: int) -> list[Line]:
        """At most so many lines, where one part has room in them."""
        found = self._wrapped(self.whole)
        for count in range(len(self.brief), 0, -1):
            if len(found) <= most:
                break
            left = len(self.brief) - count
            more = [f"{left} more"] if left else []
            found = self._wrapped(self.joint.join((*self.brief[:count], *more)))
        return found

    @property
    def needs(self) -> int:
        """How many lines it can fill."""
        return min(len(self._wrapped(self.whole)), self.most) if self.brief else 1

    @property
    def needs_in_brief(self) -> int:
        """How many lines it fills with every part named in brief."""
        return min(self.needs, len(self._wrapped(self.joint.join(self.brief))))

    def _wrapped(self, text: str) -> list[Line]:
        lines = [Text(one) for one in _filled(text, self.width, self.label)]
        lines[0].stylize("bold", 0, len(self.label.rstrip()))
        return lines


@lru_cache(maxsize=10_000)  # room is shared out line by line, and the same is filled each time
def _filled(text: str, width: int, label: str) -> tuple[str, ...]:
    """The text in lines of a width, the first behind the label."""
    told = textwrap.wrap(
        text.replace(BOX, _WHOLE_BOX),
        width,
        initial_indent=f"{label:<8}" if label else "",
        subsequent_indent=LABEL + " " if label else "  ",
        break_on_hyphens=False,
    )
    return tuple(one.replace(_WHOLE_BOX, BOX) for one in told or [""])


class Block(Struct):
    """Items of one kind; `more` tells how many found no room, by `name` where none did."""

    items: Sequence[Item]
    more: Callable[[int], str] | None = "{} more".format
    name: str = ""
    least: int = 1  # items that are told whatever the room
    most: int = MOST
    room: list[int] = field(default_factory=list)  # lines for each item that is shown

    def lines(self) -> list[Line]:
        """Those shown; the count of the others ends the last line, or has one of its own."""
        shown = zip(self.items, self.room, strict=False)
        found = [line for item, most in shown for line in item.lines(most)]
        left = len(self.items) - len(self.room)
        if left and not found and self.name:
            found.append(Text(f"{counted(left, self.name)}: --full"))
        elif left and found and self.more is not None:
            told = self.more(left)
            if len(found[-1]) + len(told) + 2 <= self.items[0].width:
                joint = " " if found[-1].plain.endswith((".", "?", "!")) else "; "
                found[-1] = found[-1] + Text(joint + told)
            else:
                found.append(Text(f"  {told}"))
        return found

    @property
    def named(self) -> bool:
        """Whether every part of every item has room, in brief at least."""
        least = [one.needs_in_brief for one in self.items]
        return len(self.room) == len(least) and all(map(operator.ge, self.room, least))

    def larger(self, whole: bool) -> Iterator[list[int]]:
        """The room it would take next: an item more, or a line more for one of them.

        Not `whole`: until everything is named in brief.
        """
        if len(self.room) < min(self.most, len(self.items)):
            yield [*self.room, 1]
        for at, (item, lines) in enumerate(zip(self.items, self.room, strict=False)):
            if lines < (item.needs if whole else item.needs_in_brief):
                yield [*self.room[:at], lines + 1, *self.room[at + 1 :]]


def more_of(what: str) -> Callable[[int], str]:
    return lambda number: counted(number, f"more {what}")


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
    nobody = [one for one in answer.shows if answer.nobody(one)]
    why_nobody = [
        Item(answer.nobody(one), width, "", [answer.nobody(one, short=True)]) for one in nobody
    ]
    reasons = Block(why_nobody, least=len(nobody), most=len(nobody))
    tail = _wrapped(LAW, width, style="dim") if plan.verdicts else []
    changes = Block([*_labelled("CHANGED", _changes(answer), width)], more_of("change"))
    asks = Block([*_labelled("ASK", _asks(answer), width)], more=None)
    late = Block([*_late(answer, agenda, width)])
    today = Block([*_today(answer, agenda, width)])
    still = Block([*_going_on(answer, agenda, width)])
    days, of_week = [*_ahead(answer, agenda, width)], len(agenda.days_of_week)
    week = Block(days[:of_week], more_of("day"), most=MOST_DAYS)
    later = Block(days[of_week:], more_of("day"), least=0 if of_week else 1)
    stays = Block([Item(told, width, "") for _, told in answer.stays()], more=None)
    cautions = Block([*_cautions(answer, width)], "{} more: --full".format, "caution")
    most = [] if plan.tells_most is None else [answer.speaker.say(plan.tells_most)]
    tells = Block([*_labelled("LOOK", most, width)], least=0)
    chances = [Item(CHANCE, width, "")] if any("in 10" in line.plain for line in grid) else []
    means = Block(chances, least=0)
    why, gap = Block([Item(WHY, width, "")], least=0), Block([Item("", width)], least=0)
    most_wanted = (changes, asks, today, late, week, still)
    blocks = (*most_wanted, why, later, reasons, stays, gap, means, cautions, tells)
    fixed = len(head) + len(stops) + len(grid) + len(tail)
    room = LINES + max(0, len(answer.fish) - FISH) if width >= STACKED else 10_000
    _share_out(blocks, room - fixed)
    if cautions.items and not all(one.named for one in (today, late, week, still)):
        cautions.least = 0
        with_count = [*_head(answer, agenda, width, len(cautions.items))]
        if len(with_count) <= len(head):
            head, cautions.items = with_count, []
        _share_out(blocks, room - fixed)
    if len(week.room) < len(week.items):
        week.items = [_week_in_one(answer, agenda, width)]
        _share_out((week, *(one for one in blocks if one is not week)), room - fixed)
    above = (*head, *changes.lines(), *stops, *asks.lines(), *late.lines())
    jobs = (*today.lines(), *still.lines(), *week.lines(), *later.lines())
    body = (*jobs, *tells.lines(), *gap.lines(), *grid)
    below = (*means.lines(), *reasons.lines(), *stays.lines(), *cautions.lines())
    return [*above, *body, *below, *tail, *why.lines()]


def _share_out(blocks: Sequence[Block], room: int) -> None:
    """Each kind gets its least, whatever the room; then in their order what finds room.

    That is first everything in brief, then as much as there is to say.
    """
    for block in blocks:
        block.room = [1] * min(block.least, len(block.items))
    for whole in (False, True):
        for block in blocks:
            while _grown(block, blocks, room, whole):
                pass


def _grown(block: Block, blocks: Sequence[Block], room: int, whole: bool) -> bool:
    before = block.room
    for larger in block.larger(whole):
        block.room = larger
        if sum(len(one.lines()) for one in blocks) <= room:
            return True
    block.room = before
    return False


def _wrapped(text: str, width: int, indent: str = "  ", style: str = "") -> list[Line]:
    """The text in lines; no word is broken but one longer than a line."""
    return [
        Text(line, style=style)
        for line in textwrap.wrap(text, width, subsequent_indent=indent, break_on_hyphens=False)
    ]


def _labelled(label: str, items: Iterable[str], width: int) -> Iterator[Item]:
    """The items, with a label before the first."""
    for number, item in enumerate(items):
        yield Item(item, width, LABEL if number else label)


def _head(answer: ShortAnswer, agenda: Agenda, width: int, cautions: int = 0) -> Iterator[Line]:
    """The season, the day and the next show; `cautions` that find no other room are counted."""
    plan = answer.plan
    told = f"{plan.season}, {spoken_with_year(plan.planned_on)}"
    show = agenda.next_show
    if show is not None:
        days = (show.judging.date() - plan.planned_on).days
        when = {0: "today", 1: "tomorrow"}.get(days, f"in {counted(days, 'day')}")
        told += f". {answer.short[show.id]} {when}"
        told += "." if cautions else f", {counted(len(show.entered), 'fish', 'fish')}."
    if cautions:
        told += f" {counted(cautions, 'caution')}: --full"
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


def _changes(answer: ShortAnswer) -> Iterator[str]:
    return (answer.speaker.say(one.what) for one in answer.plan.changes)


def _late(answer: ShortAnswer, agenda: Agenda, width: int) -> Iterator[Item]:
    late = agenda.overdue
    if late:
        whole = [f"{timed_title(answer.speaker, one)}{answer.due(one)}" for one in late]
        yield Item("; ".join(whole), width, "LATE", answer.late_in_brief(late))


def _going_on(answer: ShortAnswer, agenda: Agenda, width: int) -> Iterator[Item]:
    """A ration, a fast or a ramp that began before: it is part of every day it lasts."""
    yield from _jobs(answer, "STILL", agenda.going_on, width)


def _today(answer: ShortAnswer, agenda: Agenda, width: int) -> Iterator[Item]:
    begin = most_first(agenda.begin)
    yield from _jobs(answer, "TODAY", begin, width, box=BOX, joint="  ", most=MOST)


def _asks(answer: ShortAnswer) -> Iterator[str]:
    """What nobody wrote down; the first says how many there are, and where the line to write is."""
    count = len(answer.plan.asks)
    note = f"{count} questions" if count > 1 else "What to note"
    for number, one in enumerate(answer.plan.asks):
        asked = answer.speaker.say(one.question)
        yield asked if number else f"{asked} {note}: showprep today"


def _ahead(answer: ShortAnswer, agenda: Agenda, width: int) -> Iterator[Item]:
    """The days of this week on which a job begins, and the next after them."""
    of_week = len(agenda.days_of_week)
    for number, one in enumerate(agenda.ahead):
        day = f"{_day(answer.plan, one.day)}: "
        if number == 0 and of_week < 2:
            day = f"{'only' if of_week else 'nothing before'} {day}"
        label = LABEL if number else "WEEK" if of_week else "NEXT"
        if number == of_week > 0:
            label = "THEN"
        yield from _jobs(answer, label, most_first(one.tasks), width, day)


def _week_in_one(answer: ShortAnswer, agenda: Agenda, width: int) -> Item:
    """The days of the week one behind the other, each by the first of its jobs."""
    told = []
    for one in agenda.days_of_week:
        first, *others = most_first(one.tasks)
        brief = answer.in_brief(first)
        more = f" and {len(others)} more" if others else ""
        told.append(f"{_day(answer.plan, one.day)}: {brief}{more}")
    return Item("; ".join(told), width, "WEEK", told)


def _jobs(
    answer: ShortAnswer,
    label: str,
    tasks: Sequence[Task],
    width: int,
    day: str = "",
    box: str = "",
    joint: str = "; ",
    most: int = MOST_OF_A_DAY,
) -> Iterator[Item]:
    """Jobs in one item, by their titles or, without fish and show, in brief."""
    if not tasks:
        return
    whole = [f"{box}{timed_title(answer.speaker, one)}" for one in tasks]
    parts = [f"{box}{one}" for one in answer.all_in_brief(tasks)]
    parts[0] = f"{day}{parts[0]}"
    yield Item(f"{day}{joint.join(whole)}", width, label, parts, joint, most)


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
    details = [cell.detail, *filter(None, [cell.stays]), parts[-1]]
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


def _cautions(answer: ShortAnswer, width: int) -> Iterator[Item]:
    for one in answer.plan.warnings:
        if one.level == "warn":
            yield Item(f"{LEVELS[one.level]}: {answer.speaker.say(one.reason)}", width, "")
