"""A plan as the page beside the pond shows it: cards to tap, each with what a tap would note."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from msgspec import Struct

from showprep.outputs.words import pondside as words
from showprep.outputs.words.answer import timed_title
from showprep.outputs.words.bath_sheet import bath_words, refused_text, stop_rules
from showprep.outputs.words.kinds import blemish_text
from showprep.outputs.words.plain import spoken, spoken_with_year
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.agenda import Agenda
from showprep.planning.jobs.done_by import (
    INTO_VAT,
    MEASURED,
    OF_SHOWS,
    OF_WATERS,
    SEEN,
    told_by_a_tick,
)
from showprep.planning.plan import Plan, ShowLine, Task
from showprep.planning.worksheets.bath_records import BathSheet
from showprep.planning.worksheets.bath_season import NoBath
from showprep.season.values.unit_keys import key_in

BEFORE_SHOW, AFTER_SHOW = 2, 14  # days around a journey on which its fish stand on the page
OF_THE_DOSE = ("Water, dose, limits", "Steps")  # sections that hold the amount
OF_PAPER = ("Second person, before any fish goes in", "Log")  # the page has its own of them
STOP_RULES = "Stop"
Shown = dict[str, Any]


class PondSession(Struct, frozen=True):
    """A touch-up session of today, and its bath."""

    task: Task
    bath: BathSheet | NoBath


class LastPhoto(Struct, frozen=True):
    """The last photo of a fish: what the page asks for it by, and its day."""

    key: str
    on: date


def pond_state(
    plan: Plan,
    agenda: Agenda,
    home_water: str | None,
    sessions: Sequence[PondSession] = (),
    photos: Mapping[str, LastPhoto] | None = None,
) -> Shown:
    """All that the page shows, as plain lists and mappings; `home_water` keeps who comes home.

    `photos` are the last ones by fish; None where this computer cannot read any. No amount of a
    product is in it: `dose_of` gives that, after the check by a second person.
    """
    speaker = Speaker.of(plan)
    groups: dict[str, Sequence[Task]] = {
        "late": agenda.late,
        "today": agenda.today,
        "look_at": agenda.look_at,
        "going_on": agenda.going_on,
    }
    names = {one.id: one.name for one in plan.fish if one.gone is None}
    seen = [task for tasks in groups.values() for task in tasks if task.kind in SEEN - {*OF_WATERS}]
    asked = {fish for task in seen for fish in task.fish}
    return {
        "season": plan.season,
        "on": plan.planned_on.isoformat(),
        "day": spoken_with_year(plan.planned_on),
        "stop": [speaker.say(one) for one in agenda.stop],
        "groups": [
            {
                "title": words.GROUPS[name],
                "late": name == "late",
                "cards": [_card(speaker, name, task, names, photos) for task in tasks],
            }
            for name, tasks in groups.items()
            if tasks
        ],
        "sessions": [_session(speaker, one, names) for one in sessions],
        "week": [
            {"day": spoken(one.day), "jobs": [timed_title(speaker, task) for task in one.tasks]}
            for one in agenda.week
        ],
        "shows": [_show(plan, one, names, home_water) for one in _near(plan)],
        "looks": [
            {
                "lines": ["; ".join(map(blemish_text, one.defects))],
                "row": _look(one.id, names, photos),
            }
            for one in plan.fish
            if one.defects and one.id in names and one.id not in asked
        ],
        "fish": [
            {"id": one.id, "name": one.name, "last": words.last_length(one.length_cm, plan.units)}
            for one in plan.fish
            if one.gone is None
        ],
        "waters": [
            {"id": one.name, "last": words.last_reading(one.readings, plan.units)}
            for one in _first(agenda, plan)
        ],
        "length": _amount("measured_cm", plan),
        "reading": _amount("read_c", plan),
        "no_photos": words.NO_PHOTOS if photos is None else "",
        "labels": dict(words.LABELS),
    }


def _session(speaker: Speaker, session: PondSession, names: Mapping[str, str]) -> Shown:
    task, bath = session.task, session.bath
    shown: Shown = {"id": task.id, "title": speaker.say(task.title), "refused": ""}
    if isinstance(bath, NoBath):
        return {**shown, "refused": speaker.say(bath.why)}
    if bath.refused:
        return {**shown, "refused": refused_text(bath)}
    told = bath_words(bath)
    figures = bath.ask.figures
    return {
        **shown,
        "notices": [told.always, *told.notices],
        "sections": [
            {"title": title, "lines": lines}
            for title, lines in told.sections
            if title not in (*OF_THE_DOSE, *OF_PAPER, STOP_RULES)
        ],
        "stop": list(stop_rules(bath)),
        "word": bath.check_word,
        "target": f"{bath.target_mg_per_l:g}",
        "strength": words.strength_label(bath.ask),
        "litres": words.litres_label(bath.ask.units),
        "limits": {
            "fast_s": 60 * figures["induction_too_fast"],
            "bath_s": 60 * bath.longest_minutes,
            "air_s": figures["out_of_water"],
            "alarm_s": 60 * figures["recovery_alarm"],
            "vet_s": 60 * figures["recovery_vet"],
        },
        "fish": _in_order(task, bath, names),
    }


def _in_order(task: Task, bath: BathSheet, names: Mapping[str, str]) -> list[Shown]:
    """The fish in the order of the work, each with its id."""
    left = list(zip(task.fish, bath.ask.fish, strict=True))
    found = []
    for fish in bath.fish:
        one = next(pair for pair in left if pair[1] == fish)
        left.remove(one)
        if one[0] in names:
            found.append({"id": one[0], "name": names[one[0]]})
    return found


def dose_of(bath: BathSheet) -> Shown:
    """What a sheet says with the amount to measure out, and what a touch-up in it notes."""
    sections = dict(bath_words(bath).sections)
    return {
        "sections": [{"title": title, "lines": sections[title]} for title in OF_THE_DOSE],
        "given": {"did": "touch-up", "bath_mg_per_l": f"{bath.target_mg_per_l:g}"},
    }


def _first(agenda: Agenda, plan: Plan) -> list[Any]:
    """The waters, the one whose reading would tell most first."""
    wanted = agenda.reading.water if agenda.reading is not None else None
    return sorted(plan.waters, key=lambda one: (one.name != wanted, one.name))


def _amount(metric: str, plan: Plan) -> Shown:
    """The key an amount is written under in the keeper's units, and the unit beside the field."""
    key = key_in(metric, plan.units)
    return {"key": key, "unit": words.UNITS[key.rpartition("_")[2]]}


def _card(
    speaker: Speaker,
    group: str,
    task: Task,
    names: Mapping[str, str],
    photos: Mapping[str, LastPhoto] | None,
) -> Shown:
    lines = []
    if task.late:
        lines.append(words.due_text(task))
    elif group == "going_on":
        lines.append(words.until_text(task))
    if task.late_cost is not None:
        lines.append(speaker.say(task.late_cost))
    if task.note is not None:
        lines.append(speaker.say(task.note))
    return {
        "id": task.id,
        "title": timed_title(speaker, task),
        "late": task.late,
        "lines": lines,
        "cautions": [speaker.say(one) for one in task.cautions],
        "rows": list(_rows(task, names, photos)),
    }


def _rows(
    task: Task, names: Mapping[str, str], photos: Mapping[str, LastPhoto] | None
) -> Iterable[Shown]:
    """What can be tapped: a row for each fish where each has its own answer."""
    fish = [one for one in task.fish if one in names]
    if task.begun:
        return
    if task.kind in OF_WATERS:
        if task.water is not None:
            yield _row("", words.SCRAPES, {"water": task.water}, ())
        else:
            for one in fish:
                yield _row(names[one], words.SCRAPES, {}, (one,))
    elif task.kind in SEEN:
        for one in fish:
            yield _look(one, names, photos)
    elif task.kind in MEASURED:
        for one in fish:
            field = "result" if task.kind == "write-up" else "length"
            about = {"show": task.show} if field == "result" and task.show else {}
            yield {"who": names[one], "buttons": [], "field": field, "given": about, "fish": [one]}
    elif task.kind == "touch-up":
        for one in fish:
            yield _row(names[one], ((words.DONE, {"did": "touch-up"}),), {}, (one,))
    elif task.kind == INTO_VAT:
        yield _into_vat(task, fish)
    else:
        given, of = told_by_a_tick(task.id, task.kind, task.fish, task.show, task.water)
        label = words.SENT if task.kind in OF_SHOWS else words.DONE
        yield _row("", ((label, given),), {}, of)


def _into_vat(task: Task, fish: Sequence[str]) -> Shown:
    """Whether it went into the vat; once it was touched up, it may also have stayed."""
    on = {"on": task.first_day.isoformat()} if task.late else {}
    answers = [(words.INTO.format(water=task.water), {"did": "move", "to": str(task.water)})]
    if task.note is not None and task.note.code == "into-vat-asked":
        home = str(task.note["home"])
        answers.append((words.STAYED_IN.format(water=home), {"did": "move", "to": home}))
    return _row("", answers, on, fish)


def _row(
    who: str,
    answers: Iterable[tuple[str, Mapping[str, str]]],
    about: Mapping[str, str],
    fish: Sequence[str],
) -> Shown:
    buttons = [
        {"label": label, "given": {**given, **about}, "fish": list(fish)}
        for label, given in answers
    ]
    return {"who": who, "buttons": buttons}


def _look(fish: str, names: Mapping[str, str], photos: Mapping[str, LastPhoto] | None) -> Shown:
    """The answers to a look at one fish, and the photo beside which another may be taken."""
    last, photo = (photos or {}).get(fish), None
    if last is not None:
        told, alt = words.photo_texts(names[fish], last.on)
        photo = {"key": last.key, "told": told, "alt": alt}
    return {**_row(names[fish], words.LOOKS, {}, (fish,)), "look": True, "photo": photo}


def _near(plan: Plan) -> Iterable[ShowLine]:
    """Shows whose journey begins soon, or ended not long ago."""
    for show in plan.shows:
        ahead = (show.departure.date() - plan.planned_on).days
        since = (plan.planned_on - show.home.date()).days
        if show.standing != "cancelled" and ahead <= BEFORE_SHOW and since <= AFTER_SHOW:
            yield show


def _show(plan: Plan, show: ShowLine, names: Mapping[str, str], home_water: str | None) -> Shown:
    entered = (*show.entered, *plan.presumed_gone.get(show.id, ()))
    fish = [one for one in dict.fromkeys(entered) if one in names]
    rows = []
    for one in fish:
        row = _row(names[one], words.AT_SHOW, {"show": show.id}, (one,))
        if home_water is not None:
            label = words.HOME.format(water=home_water)
            given = {"did": "move", "to": home_water}
            row["buttons"].append({"label": label, "given": given, "fish": [one]})
        rows.append({**row, "field": "result", "given": {"show": show.id}, "fish": [one]})
    return {"id": show.id, "title": words.show_text(show, plan.planned_on), "rows": rows}
