"""`why`: everything about one fish for one show, in the order a keeper would ask."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from showprep.husbandry.reason import Reason
from showprep.outputs.terminal import length_text, plain_console
from showprep.outputs.words.answer import leave_text
from showprep.outputs.words.chances import curve_lines, doubt_lines, touch_up_lines
from showprep.outputs.words.healing import healing_amount, healing_unit, skin_days
from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.plain import counted, listed, spoken, spoken_with_year
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.plan import HealingLine, Plan, Task, Verdict


def print_why(plan: Plan, fish: str, show: str, console: Console | None = None) -> None:
    """Print all that stands behind one pair."""
    out = console or plain_console()
    verdict = next(one for one in plan.verdicts if one.fish == fish and one.show == show)
    for heading, lines in _parts(Speaker.of(plan), plan, verdict):
        out.print()
        out.print(Text(heading, style="bold"))
        for line in lines:
            out.print(Padding(Text(line), (0, 0, 0, 2)))


def _parts(speaker: Speaker, plan: Plan, one: Verdict) -> Iterator[tuple[str, list[str]]]:
    fish = next(fish for fish in plan.fish if fish.id == one.fish)
    show = next(show for show in plan.shows if show.id == one.show)
    goes = "goes" if one.entered else "stays at home"
    merit = "" if one.merit is None else f", merit {one.merit:g} of {fish.merit:g}"
    yield (
        f"{fish.name} for {show.name}: {VERDICTS[one.verdict].text}; {goes}{merit}",
        list(speaker.texts(one.reasons)),
    )
    yield (
        "The show's days",
        [
            f"{leave_text(speaker, show)}; benching {speaker.say(show.benching)}, "
            f"judging {speaker.say(show.judging)}",
            f"home {speaker.say(show.home)}; altered fish: {show.altered_fish}",
        ],
    )
    if one.touch_up is not None:
        yield "The touch-up", list(touch_up_lines(speaker, one.touch_up, one.entered))
        curve = list(curve_lines(one.touch_up))
        if curve:
            yield (
                "Of 10 such fish, by the day of the touch-up, so many show nothing at judging",
                curve,
            )
        doubts = list(doubt_lines(one.touch_up))
        if doubts:
            yield "Of 100 such fish", doubts
    for healing in one.healing:
        planned = one.is_planned(healing)
        if planned or not healing.after_touch_up or show.altered_fish != "excluded":
            yield _healing_heading(healing, planned), _healing(speaker, healing)
    if one.length is not None:
        yield "Size on the day", _size(speaker, plan, one)
    homecoming = _homecoming(speaker, plan, one)
    if homecoming:
        yield "When it is home again", homecoming
    if show.declaration:
        yield "May the declaration be signed?", list(speaker.texts(show.declaration))
    if one.cautions:
        yield "Cautions", list(speaker.texts(one.cautions))
    choice = _choice(speaker, plan, one)
    if choice:
        yield "The choice", choice
    if one.ways_out:
        yield "What would change the answer", [speaker.text(way.reason) for way in one.ways_out]
    if plan.cautions:
        yield "Always", list(speaker.texts(plan.cautions))


def _healing_heading(healing: HealingLine, planned: bool) -> str:
    what = of_kind(healing.defect)
    where = f", {healing.where}" if healing.where else ""
    start = spoken(healing.start)
    since = f"from {start}"
    if healing.after_touch_up:
        since = f"after the touch-up on {start}" if planned else f"if it were taken off on {start}"
    return f"{what.capitalize()}{where}: {healing.milestone}, {since}"


def _healing(speaker: Speaker, healing: HealingLine) -> list[str]:
    unit = healing_unit(healing.unit, speaker.units)

    def told(amount: float) -> str:
        return healing_amount(amount, healing.unit, speaker.units)

    needs = " / ".join(map(told, (healing.low, healing.usual, healing.high)))
    needs += f" {unit} (low / usual / high)"
    lines = [
        f"needs {needs}, at least {counted(healing.least_days, 'day')}; {healing.grade}",
        f"by {spoken(healing.deadline)} the {healing.water} gives "
        f"{told(healing.gathered_by_deadline)} {unit}",
        f"usual: {_on(healing, 'usual')}; slow case: {_on(healing, 'high')}",
    ]
    if healing.unit == "skin-days":
        lines.insert(1, skin_days(speaker))
    if healing.short_days is not None:
        lines.append(f"short by {counted(healing.short_days, 'day')} at the usual pace")
    days = _days_that_matter(healing)
    if days:
        thermal = healing.unit == "degree-days"
        lines.append("thermal time gathered:" if thermal else f"{unit} gathered:")
        lines.extend(f"  {day}  {told(gathered):>6}" for day, gathered in days)
    return lines


def _on(healing: HealingLine, level: str) -> str:
    day = healing.usual_on if level == "usual" else healing.high_on
    if day is not None:
        return spoken_with_year(day)
    return "too slow to plan" if healing.too_slow else "no day can be named"


def _days_that_matter(healing: HealingLine) -> list[tuple[str, float]]:
    """Every week until it is healed for sure, and the days of the requirements and the deadline."""
    marks = {healing.high_on: "slow case", healing.deadline: "deadline"}
    last = min(healing.high_on or healing.deadline, healing.deadline)
    rows = []
    for number, (day, gathered) in enumerate(healing.curve):
        words = [word for marked, word in marks.items() if marked == day]
        if words or (number % 7 == 0 and day < last):
            note = f" ({listed(words)})" if words else ""
            rows.append((f"{spoken(day) + note:<34}", gathered))
    return rows


def _size(speaker: Speaker, plan: Plan, one: Verdict) -> list[str]:
    length = one.length
    assert length is not None
    low, high = length_text(length.low, plan.units), length_text(length.high, plan.units)
    expected, how = length_text(length.expected, plan.units), speaker.clause(length.how)
    lines = [f"{expected} (95 %: {low} to {high}); {how}"]
    if one.size_class is not None:
        classes = listed(one.size_class.possible, "or") or "none"
        lines.append(f"{one.size_class.expected or 'no class'}; possible: {classes}")
    return lines


def _homecoming(speaker: Speaker, plan: Plan, one: Verdict) -> list[str]:
    """How long it stays apart after the show, and what the end of that time does not say."""
    show = next(show for show in plan.shows if show.id == one.show)
    for task in plan.tasks:
        if task.kind == "isolation-clear" and task.show == one.show and one.fish in task.fish:
            told = [speaker.say(text) for text in (task.note, *task.cautions)]
            return [_may_join(speaker, task, show.home.date()), *told]
    return []


def _may_join(speaker: Speaker, task: Task, home: date) -> str:
    """The day it is cleared, and the first with free hands to move it, each with its true count."""
    first, cleared = task.first_day, task.counts_from
    told = f"may join the others from {spoken_with_year(first)}"
    after = f"{counted((first - home).days, 'day')} after coming home"
    if not isinstance(cleared, Reason) or cleared["clear"] == first:
        return f"{told}, {after}"
    return f"{told}, {after}, as hands are free: {speaker.say(cleared)}"


def _choice(speaker: Speaker, plan: Plan, one: Verdict) -> list[str]:
    lines = [
        speaker.say(left.because)
        for left in plan.choice.left_out
        if left.fish == one.fish and left.show == one.show
    ]
    return lines + [speaker.say(bound.text) for bound in plan.choice.binding]
