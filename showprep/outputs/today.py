"""`today` for a phone held in a wet hand: short lines, the urgent first, text or JSON."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from showprep.outputs.json_plan import ask_json, reason_json
from showprep.outputs.words.answer import timed_title
from showprep.outputs.words.asks import ask_text
from showprep.outputs.words.plain import counted, spoken, spoken_with_year
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import LEVELS
from showprep.planning.follow_up.agenda import Agenda, WaterJobs
from showprep.planning.plan import Task
from showprep.planning.verdicts.cautions import USUAL

WIDTH = 60
MOST_LATE = 5
MOST_IN_WEEK = 10


def today_text(agenda: Agenda, speaker: Speaker, width: int = WIDTH) -> str:
    """The text, wrapped at `width` characters."""
    parts = [[f"{spoken_with_year(agenda.on)}, {agenda.season}", *_next_show(agenda)]]
    parts.append([f"{LEVELS['stop']}: {speaker.say(one)}" for one in agenda.stop])
    parts.append(
        _headed("Not written down", [f"- {ask_text(speaker, one)}" for one in agenda.asks])
    )
    parts.append(_headed("Late", _late(speaker, agenda.late)))
    parts.append(_headed("Today, with hands", _of_waters(speaker, agenda.hands)))
    parts.append(_headed("Today, in passing", _of_waters(speaker, agenda.besides)))
    parts.append(_headed("Going on", [f"- {_until(speaker, one)}" for one in agenda.going_on]))
    if not any(parts[3:]):
        parts.append(["Nothing is to be done today."])
    parts.append(_headed("Look at", _looks(speaker, agenda.look_at)))
    parts.append(_headed("The next seven days", _week(speaker, agenda)))
    if agenda.reading is not None:
        parts.append([f"Read the {agenda.reading.water}: {speaker.clause(agenda.reading.why)}."])
    if agenda.tells_most is not None:
        parts.append([f"What would tell most: {speaker.say(agenda.tells_most)}"])
    lines = (line for part in parts if part for line in (*part, ""))
    wrapped = "\n".join(_wrapped(line, width) for line in lines)
    return wrapped.rstrip("\n") + "\n"


FORMAT = 1  # of the JSON


def today_json(agenda: Agenda, speaker: Speaker) -> str:
    """The same as JSON, nothing left out. Dates are ISO 8601."""
    told: dict[str, Any] = {
        "season": agenda.season,
        "on": agenda.on.isoformat(),
        "stop": [speaker.say(one) for one in agenda.stop],
        "asks": [ask_json(speaker, one) for one in agenda.asks],
        "late": [_task(speaker, one) for one in agenda.late],
        "hands": [_jobs(speaker, one) for one in agenda.hands],
        "besides": [_jobs(speaker, one) for one in agenda.besides],
        "going_on": [_task(speaker, one) for one in agenda.going_on],
        "look_at": [_task(speaker, one) for one in agenda.look_at],
        "week": [
            {"day": one.day.isoformat(), "tasks": [_task(speaker, task) for task in one.tasks]}
            for one in agenda.week
        ],
        "reading": None,
        "tells_most": reason_json(speaker, agenda.tells_most) if agenda.tells_most else None,
        "next_show": agenda.next_show.id if agenda.next_show else None,
        "format": FORMAT,
    }
    if agenda.reading is not None:
        last = agenda.reading.last_on
        told["reading"] = {
            "water": agenda.reading.water,
            "last_on": last.isoformat() if last else None,
            "why": speaker.clause(agenda.reading.why),
        }
    return json.dumps(told, ensure_ascii=False, indent=2) + "\n"


def _next_show(agenda: Agenda) -> Iterator[str]:
    show = agenda.next_show
    if show is None:
        return
    days = (show.judging.date() - agenda.on).days
    when = {0: "today", 1: "tomorrow"}.get(days, f"in {counted(days, 'day')}")
    yield f"{show.name} is judged {when}, with {counted(len(show.entered), 'fish', 'fish')}."


def _headed(title: str, lines: Sequence[str]) -> list[str]:
    return [title, *lines] if lines else []


def _late(speaker: Speaker, tasks: Sequence[Task]) -> list[str]:
    lines = [
        f"- {speaker.say(task.title)}. Due {spoken(task.last_day)}. "
        f"{speaker.say(task.late_cost)}".rstrip()
        for task in tasks[:MOST_LATE]
    ]
    return [*lines, *_more(len(tasks) - MOST_LATE)]


def _of_waters(speaker: Speaker, groups: Sequence[WaterJobs]) -> list[str]:
    lines = []
    for group in groups:
        where = f"{group.water}: " if group.water else ""
        for task in group.tasks:
            lines.append(f"- {where}{timed_title(speaker, task)}")
            # The usual cautions stand on the sheet; what holds for this day alone stands here.
            cautions = [speaker.say(one) for one in task.cautions if one not in USUAL]
            lines += [f"- {LEVELS['warn']}: {caution}" for caution in cautions]
    return lines


def _looks(speaker: Speaker, tasks: Sequence[Task]) -> list[str]:
    return [
        f"- {speaker.say(task.title)}: {'late, due ' if task.late else ''}{spoken(task.first_day)}."
        for task in tasks
    ]


def _week(speaker: Speaker, agenda: Agenda) -> list[str]:
    every = [(one.day, task) for one in agenda.week for task in one.tasks]
    lines = [
        f"- {spoken(day)}: {timed_title(speaker, task)}{' (hands)' if task.hands else ''}"
        for day, task in every[:MOST_IN_WEEK]
    ]
    return [*lines, *_more(len(every) - MOST_IN_WEEK)]


def _more(number: int) -> list[str]:
    return [f"- and {number} more, in the plan"] if number > 0 else []


def _until(speaker: Speaker, task: Task) -> str:
    return f"{speaker.say(task.title)}, until {spoken(task.last_day)}"


def _wrapped(line: str, width: int) -> str:
    indent = "  " if line.startswith("- ") else ""
    return textwrap.fill(
        line, width, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


def _jobs(speaker: Speaker, group: WaterJobs) -> dict[str, Any]:
    return {"water": group.water, "tasks": [_task(speaker, task) for task in group.tasks]}


def _task(speaker: Speaker, task: Task) -> dict[str, Any]:
    return {
        "id": task.id,
        "kind": task.kind,
        "title": speaker.say(task.title),
        "fish": list(task.fish),
        "show": task.show,
        "water": task.water,
        "start": task.start.isoformat(),
        "end": task.end.isoformat(),
        "hands": task.hands,
        "late": task.late,
        "late_cost": speaker.say(task.late_cost) if task.late_cost is not None else None,
        "cautions": [speaker.say(one) for one in task.cautions],
        "note": speaker.say(task.note),
    }
