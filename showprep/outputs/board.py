"""The board in the terminal: who goes where, what is next, what to look out for.

Reads at 80 columns, and in a pipe just the same: nothing is said by colour alone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime
from itertools import groupby

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from showprep.outputs.terminal import length_text, plain_console
from showprep.outputs.words.answer import leave_text
from showprep.outputs.words.asks import ask_text
from showprep.outputs.words.changes import why_text
from showprep.outputs.words.healing import healing_amount, healing_unit
from showprep.outputs.words.kinds import KINDS
from showprep.outputs.words.plain import counted, spoken, spoken_with_year
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import LEVELS, VERDICTS
from showprep.planning.plan import Choice, PaceRow, Plan, ShowLine, Task, Verdict

NEXT_JOBS = 12


def print_board(plan: Plan, console: Console | None = None) -> None:
    """Print the whole board."""
    out, speaker = console or plain_console(), Speaker.of(plan)
    out.print(Text(f"{plan.season}, planned on {spoken_with_year(plan.planned_on)}", style="bold"))
    if not plan.fish:
        out.print("There are no fish in this season yet: write one file a fish into fish/.")
    if not plan.shows:
        out.print("There are no shows in this season yet: write them into shows.yaml.")
    _print_asks(out, speaker, plan)
    for show in plan.shows:
        _print_show(out, speaker, plan, show)
    if plan.fish and any(show.standing == "planned" for show in plan.shows):
        _print_choice(out, speaker, plan)
        _print_jobs(out, speaker, plan)
        if plan.tells_most is not None:
            out.print()
            out.print(Text("What would tell most", style="bold"))
            out.print(Padding(Text(speaker.say(plan.tells_most)), (0, 0, 0, 2)))
    _print_changes(out, speaker, plan)
    _print_pace(out, speaker, plan)
    _print_warnings(out, speaker, plan)
    _print_cautions(out, speaker, plan)


def _print_asks(out: Console, speaker: Speaker, plan: Plan) -> None:
    """What was presumed because nobody wrote it down."""
    if not plan.asks:
        return
    out.print()
    out.print(Text("Not written down", style="bold"))
    for ask in plan.asks:
        out.print(Padding(Text(ask_text(speaker, ask)), (0, 0, 0, 2)))


def _print_show(out: Console, speaker: Speaker, plan: Plan, show: ShowLine) -> None:
    out.print()
    if show.standing != "planned":
        word = "past" if show.standing == "past" else "cancelled"
        out.print(Text(f"{show.name}, {spoken_with_year(show.judging.date())}: {word}"))
        return
    head = f"{show.name}, judging {spoken_with_year(show.judging.date())}"
    out.print(Text(head, style="bold"))
    out.print(
        Text(f"{leave_text(speaker, show)}; benching {speaker.say(show.benching)}; ")
        + Text("; ".join(map(speaker.clause, show.limits)) or "no limits stated")
    )
    verdicts = [one for one in plan.verdicts if one.show == show.id]
    if not verdicts:
        return
    table = Table(box=None, show_header=True, header_style="", pad_edge=False, padding=(0, 2, 0, 0))
    for title, options in (
        ("", {"width": 5}),
        ("fish", {"overflow": "fold", "max_width": 14}),
        ("verdict", {"width": 12}),
        ("why", {"ratio": 1, "overflow": "fold"}),
        ("merit", {"justify": "right", "width": 5}),
    ):
        table.add_column(title, **options)
    names = {fish.id: fish.name for fish in plan.fish}
    for one in sorted(verdicts, key=lambda v: (not v.entered, -(v.merit or 0), v.fish)):
        table.add_row(*_row(speaker, plan, one, names[one.fish]))
    out.print(Padding(table, (0, 0, 0, 2)))


def _row(speaker: Speaker, plan: Plan, one: Verdict, name: str) -> tuple[str | Text, ...]:
    goes = Text("goes", style="bold") if one.entered else Text("stays", style="dim")
    merit = "" if one.merit is None else f"{one.merit:g}"
    return (
        goes,
        Text(name),
        Text(VERDICTS[one.verdict].text),
        Text(_short(speaker, plan, one)),
        merit,
    )


def _short(speaker: Speaker, plan: Plan, one: Verdict) -> str:
    """The reason in one line or two: what is done or what is short, then size."""
    reason = speaker.say(one.reasons[0])
    size = ""
    if one.size_class is not None and one.length is not None:
        classes = " or ".join(one.size_class.possible) or "none"
        if one.size_class.expected is None:
            classes = "no class"
        size = f" {length_text(one.length.expected, plan.units)}, {classes}."
    return f"{reason}{size}"


def _print_choice(out: Console, speaker: Speaker, plan: Plan) -> None:
    choice = plan.choice
    entered = sum(1 for one in plan.verdicts if one.entered)
    out.print()
    text = f"Choice: {counted(entered, 'entry', 'entries')}, worth {choice.worth:g} points"
    out.print(Text(f"{text} (merit {choice.merit:g}), {_proof(choice)}.", style="bold"))
    if not choice.costs_known:
        out.print(Padding(Text("Costs not proven: stopped before the end."), (0, 0, 0, 2)))
    for line in (*_prices(plan), *_touch_up_worths(plan), *_reserves(plan), *_left_out(plan)):
        out.print(Padding(Text(line), (0, 0, 0, 2)))
    for bound in choice.binding:
        told = speaker.say(bound.text).rstrip(".")
        text = f"{told[:1].upper()}{told[1:]}."
        out.print(Padding(Text(text), (0, 0, 0, 2)))
    if choice.left_out:
        out.print(Padding(Text("Why, fish by fish: showprep why SEASON FISH SHOW."), (0, 0, 0, 2)))


def _proof(choice: Choice) -> str:
    if choice.proven:
        return "proven best"
    short = f"at most {choice.bound - choice.worth:.1f} points short of the best"
    return f"not proven{', stopped before the end' if choice.interrupted else ''}, {short}"


def _prices(plan: Plan) -> Iterator[str]:
    """What the choice went by: all of it are settings of the keeper."""
    prices, shows = plan.choice.prices, {show.id: show.name for show in plan.shows}
    if prices is None or not prices.journeys:
        return
    fish = dict(prices.fish)
    journeys = ", ".join(
        f"{shows[show]} {price:g} and {fish[show]:g} a fish" for show, price in prices.journeys
    )
    yield (
        f"Prices, in points: a touch-up {prices.touch_up:g}, a session {prices.session:g}; "
        f"going to {journeys}. Showing is worth it from merit {prices.worth_showing:g}; each "
        f"further fish of one class keeps a share of {prices.same_class_share:g}. All are in your "
        "preferences."
    )


def _touch_up_worths(plan: Plan) -> Iterator[str]:
    """What each touch-up gains, beside its price."""
    if plan.choice.prices is None:
        return
    names = {fish.id: fish.name for fish in plan.fish}
    gains: dict[tuple[str, date], float] = {}
    for one in plan.choice.entries:
        if one.touch_up_on is not None:
            key = (one.fish, one.touch_up_on)
            gains[key] = gains.get(key, 0.0) + one.touch_up_gains
    for (fish, day), gain in sorted(gains.items(), key=lambda item: (item[0][1], item[0][0])):
        price = plan.choice.prices.touch_up
        told = f"touch-up on {spoken(day)} gains {gain:.1f} points, price {price:g}"
        yield f"{names[fish]}: {told}."


def _reserves(plan: Plan) -> Iterator[str]:
    names = {fish.id: fish.name for fish in plan.fish}
    shows = {show.id: show.name for show in plan.shows}
    for show, fish in plan.choice.reserves:
        yield f"First reserve for {shows[show]}, should a fish stay at home: {names[fish]}."


def _left_out(plan: Plan) -> Iterator[str]:
    """One line a fish that could have gone further: what each more entry would cost."""
    shows = {show.id: show.name for show in plan.shows}
    for fish in plan.fish:
        costs = sorted(
            (one.cost, shows[one.show], one.at_most)
            for one in plan.choice.left_out
            if one.fish == fish.id and one.cost is not None
        )
        if costs:
            told = "; ".join(f"{show} {_told(cost, at_most)}" for cost, show, at_most in costs)
            yield f"{fish.name}: {told}."


def _told(cost: float, at_most: bool) -> str:
    if cost <= 0:
        return "at no loss instead of another"
    return f"would cost {'at most ' if at_most else ''}{cost:g}"


def _print_jobs(out: Console, speaker: Speaker, plan: Plan) -> None:
    late = [task for task in plan.tasks if task.late]
    coming = [task for task in plan.tasks if not task.late and task.last_day >= plan.planned_on]
    if late:
        out.print()
        out.print(Text("Late", style="bold"))
        for task in late:
            line = f"{_when(task)}  {speaker.say(task.title)}. {speaker.say(task.late_cost)}"
            out.print(Padding(Text(line.rstrip()), (0, 0, 0, 2)))
    out.print()
    out.print(Text("Next jobs", style="bold"))
    if not coming:
        out.print(Padding(Text("None."), (0, 0, 0, 2)))
    for day, tasks in groupby(coming[:NEXT_JOBS], key=lambda task: task.first_day):
        _print_day(out, speaker, day, list(tasks))
    if len(coming) > NEXT_JOBS:
        more = counted(len(coming) - NEXT_JOBS, "more job")
        out.print(Padding(Text(f"and {more}: see the calendar or the page."), (0, 0, 0, 2)))


def _print_day(out: Console, speaker: Speaker, day: date, tasks: Sequence[Task]) -> None:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(width=16)
    table.add_column(overflow="fold")
    for number, task in enumerate(tasks):
        start = task.start
        clock = f"{speaker.formatted(start, 'time')} " if isinstance(start, datetime) else ""
        until = f" (to {spoken(task.last_day)})" if task.last_day > task.first_day else ""
        hands = " (hands)" if task.hands else ""
        text = f"{clock}{speaker.say(task.title)}{until}{hands}"
        table.add_row(Text(spoken(day) if number == 0 else ""), Text(text))
    out.print(Padding(table, (0, 0, 0, 2)))


def _when(task: Task) -> str:
    return spoken(task.first_day)


def _print_changes(out: Console, speaker: Speaker, plan: Plan) -> None:
    if not plan.changes:
        return
    out.print()
    out.print(Text("Changed since the last plan", style="bold"))
    reasons = dict.fromkeys(change.why for change in plan.changes)
    for why in reasons:
        if why:
            out.print(Padding(Text(why_text(speaker, why)), (0, 0, 0, 2)))
        for change in plan.changes:
            if change.why == why:
                out.print(Padding(Text(speaker.say(change.what)), (0, 0, 0, 4 if why else 2)))


def _print_pace(out: Console, speaker: Speaker, plan: Plan) -> None:
    """The table's figures beside the yard's own, usual and high."""
    if not plan.pace:
        return
    out.print()
    out.print(Text("Your yard's own pace (usual / high)", style="bold"))
    for row in plan.pace:
        table, own = (
            " / ".join(healing_amount(one, row.unit, speaker.units, 0) for one in figures[1:])
            for figures in (row.table, row.own)
        )
        unit = healing_unit(row.unit, speaker.units)
        looks = counted(row.looks, "look")
        used = "used" if row.used else "not used yet"
        line = f"{_pace_of(row)}: table {table}, own {own} {unit} from {looks}, {used}"
        out.print(Padding(Text(line), (0, 0, 0, 2)))


def _pace_of(row: PaceRow) -> str:
    if row.milestone == "back":
        return "speck come back"
    return f"{KINDS[row.kind].name}: {row.milestone}"


def _print_warnings(out: Console, speaker: Speaker, plan: Plan) -> None:
    if not plan.warnings:
        return
    out.print()
    out.print(Text("Warnings", style="bold"))
    for warning in plan.warnings:
        line = Text(f"{LEVELS[warning.level]}: ", style="bold")
        line += Text(speaker.say(warning.reason))
        out.print(Padding(line, (0, 0, 0, 2)))


def _print_cautions(out: Console, speaker: Speaker, plan: Plan) -> None:
    if not plan.cautions or not plan.verdicts:
        return
    out.print()
    for caution in plan.cautions:
        out.print(Text(speaker.say(caution), style="dim"))
