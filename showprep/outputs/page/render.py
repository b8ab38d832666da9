"""A Plan as one HTML file that opens from anywhere, asks nothing of any network, and prints."""

from __future__ import annotations

import base64
import hashlib
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup
from msgspec.structs import replace

from showprep.husbandry.reason import Reason
from showprep.outputs.page import board, colours
from showprep.outputs.page.chance_curve import chance_curve
from showprep.outputs.page.healing import healing_curves
from showprep.outputs.page.photos import Album, album_of
from showprep.outputs.page.season_line import Thing, season_line
from showprep.outputs.page.sheets import (
    Page,
    cage_cards,
    season_pages,
    session_pages,
    show_pages,
    worksheet_pages,
)
from showprep.outputs.words.answer import GRID_KEY, ShortAnswer, timed_title
from showprep.outputs.words.asks import ask_text
from showprep.outputs.words.chances import in_ten
from showprep.outputs.words.changes import why_text
from showprep.outputs.words.healing import IN_TIME, healing_amount, healing_unit, skin_days
from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.plain import clock, spoken, spoken_with_year
from showprep.outputs.words.season_line import outcome_text, span_text
from showprep.outputs.words.sheet import Sheet, with_its_word
from showprep.outputs.words.sheet_changes import not_as_planned
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import LEVELS, VERDICTS
from showprep.outputs.words.wall import CAUTION, KEY
from showprep.planning.follow_up.agenda import SATURDAY, DayJobs, agenda_of, most_first
from showprep.planning.plan import SESSION_KINDS, Plan
from showprep.season.values.days import MONTHS, WEEKDAYS
from showprep.season.values.quantities import (
    show_length,
    show_number,
    show_temperature,
    show_weight,
)

if TYPE_CHECKING:
    from jinja2 import Environment

FAR = 9  # days: beyond this the next working day is not "the coming weekend"
MILESTONES = {"closed": "closed, so that it may be netted and travel", "clean": "clean to a judge"}


def sentence(text: str) -> str:
    """A text with a capital at its start and a stop at its end."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def in_days(days: int) -> str:
    """How far off a day is."""
    near = {0: "today", 1: "tomorrow"}
    return near.get(days) or (f"in {days} days" if days > 0 else f"{-days} days ago")


def next_heading(days: Sequence[DayJobs]) -> str:
    """What the next days that need hands are called, as a keeper would."""
    if not days:
        return "Nothing more needs your hands"
    first = days[0]
    weekend = first.day.weekday() >= SATURDAY
    if first.days_off > FAR:
        return f"Nothing needs your hands for {first.days_off} days"
    if first.days_off == 0:
        return "This weekend" if weekend else "Today"
    if first.days_off == 1:
        return "Tomorrow"
    if not weekend:
        return f"Next, on {WEEKDAYS[first.day.weekday()].title()}"
    return "The coming weekend" if first.days_off < 7 else "Next weekend"


def month_name(day: date) -> str:
    """`June 2027`."""
    return f"{MONTHS[day.month - 1]} {day.year}"


def days_words(days: int) -> str:
    return f"{days} day" if days == 1 else f"{days} days"


def isolated(text: str) -> str:
    """A text that runs from right to left, or turns what is around it, kept to itself."""
    turns = any(unicodedata.bidirectional(mark) not in _LEFT_TO_RIGHT for mark in text)
    return Markup("<bdi>{}</bdi>").format(text) if turns else text


_LEFT_TO_RIGHT = frozenset(("L", "EN", "ES", "ET", "CS", "NSM", "BN", "B", "S", "WS", "ON"))
"""Classes of characters that leave a line from left to right as it is (Unicode Annex 9)."""


def day_writer(this_year: int) -> Callable[[date], str]:
    """Writes `Sat 12 June`, with the year when it is another."""

    def write(moment: date | datetime) -> str:
        day = moment.date() if isinstance(moment, datetime) else moment
        return spoken(day) if day.year == this_year else spoken_with_year(day)

    return write


def long_day_writer(this_year: int) -> Callable[[date], str]:
    """Writes `Saturday 12 June`."""

    def write(day: date) -> str:
        text = spoken(day) if day.year == this_year else spoken_with_year(day)
        return WEEKDAYS[day.weekday()].title() + text[3:]

    return write


def end_writer(this_year: int, home_zone: str) -> Callable[..., str]:
    """Writes where a stretch of time ends: only the time when that is on the day it began."""
    write_whole = moment_writer(this_year, home_zone)

    def write(end: date | datetime, start: date | datetime) -> str:
        if isinstance(end, datetime) and isinstance(start, datetime) and end.date() == start.date():
            return clock(end, home_zone)
        return str(write_whole(end))

    return write


def moment_writer(this_year: int, home_zone: str) -> Callable[..., str]:
    """Writes `Fri 11 June, 13:00`; abroad with the zone, and the time at home beside it."""

    def write(moment: date | datetime) -> str:
        text = day_writer(this_year)(moment)
        if not isinstance(moment, datetime):
            return text
        return f"{text}, {clock(moment, home_zone)}"

    return write


Unlike = Mapping[str, tuple[Reason, ...]]
NOTHING_CHANGED: Unlike = {}
TEMPLATES = Path(__file__).parent / "templates"


def render_page(
    plan: Plan,
    photos: Mapping[str, bytes] | None = None,
    sheets: Sequence[Sheet] = (),
    unlike: Unlike = NOTHING_CHANGED,
) -> str:
    """The page of a plan.

    `photos` holds the journal's photos by the names the plan gives them; `sheets` are worksheets
    that are printed with the plan's own; `unlike` tells how sheets differ from the last plan, by
    the show or the session's job they are of. The same plan gives the same text.
    """
    speaker, answer = Speaker.of(plan), ShortAnswer(plan)
    environment = _environment(plan, speaker, answer)
    album = album_of(plan, photos or {})
    line = season_line(plan)
    style = _style() + line.style
    script = (TEMPLATES / "page.js").read_text(encoding="utf-8").strip()
    return environment.get_template("page.html.j2").render(
        plan=plan,
        style=style,
        script=script,
        policy=_policy(style, script),
        agenda=agenda_of(plan),
        answer=answer,
        board=board.board_of(plan),
        used=board.verdicts_used(plan),
        line=line,
        curves=healing_curves(plan),
        sheets=_sheets(plan, album, sheets, unlike),
        album=album,
        fish_names={fish.id: fish.name for fish in plan.fish},
        show_names={show.id: show.name for show in plan.shows},
        places={fish.id: at for at, fish in enumerate(plan.fish)},
        waters={one.name: at for at, one in enumerate(plan.waters, start=1)},
    )


def render_sheets(
    plan: Plan,
    groups: Sequence[str],
    photos: Mapping[str, bytes] | None = None,
    sheets: Sequence[Sheet] = (),
    unlike: Unlike = NOTHING_CHANGED,
) -> str:
    """Chosen sheets alone, to print: those of the groups that are named, in the page's order."""
    album = album_of(plan, photos or {})
    style = _style()
    chosen = [page for page in _sheets(plan, album, sheets, unlike) if page.group in groups]
    return (
        _environment(plan, Speaker.of(plan), ShortAnswer(plan))
        .get_template("sheets_only.html.j2")
        .render(
            plan=plan,
            style=style,
            policy=_policy(style, ""),
            sheets=chosen,
            album=album,
            fish_names={fish.id: fish.name for fish in plan.fish},
            show_names={show.id: show.name for show in plan.shows},
            places={fish.id: at for at, fish in enumerate(plan.fish)},
        )
    )


def sheet_groups(plan: Plan) -> tuple[str, ...]:
    """The names under which sheets can be chosen, in the page's order."""
    shows = [show.id for show in plan.shows if show.standing == "planned" and show.entered]
    return ("season", "sessions", "worksheets", *shows, "cards")


def _in_groups(pages: Sequence[Page]) -> list[tuple[str, list[Page]]]:
    """Pages that are printed together, in order."""
    groups: dict[str, list[Page]] = {}
    for page in pages:
        groups.setdefault(page.group, []).append(page)
    return list(groups.items())


def _sheets(
    plan: Plan, album: Album, worksheets: Sequence[Sheet], unlike: Unlike
) -> tuple[Page, ...]:
    pages = _as_planned(plan, album, worksheets)
    if not unlike:
        return pages
    sessions = {task.first_day: task.id for task in plan.tasks if task.kind in SESSION_KINDS}
    speaker = Speaker.of(plan)

    def told(page: Page) -> str:
        of = page.show.id if page.show is not None else sessions.get(page.day or date.min, "")
        return not_as_planned(speaker, unlike[of]) if of in unlike and page.number == 1 else ""

    return tuple(replace(page, unlike=told(page)) for page in pages)


def _as_planned(plan: Plan, album: Album, worksheets: Sequence[Sheet]) -> tuple[Page, ...]:
    with_photos = frozenset(fish for fish, photos in album.by_fish.items() if photos)
    return (
        *season_pages(plan),
        *session_pages(plan, [one.day for one in worksheets if one.day is not None]),
        *worksheet_pages([one for one in worksheets if one.packs_for is None]),
        *show_pages(plan, {one.packs_for: one for one in worksheets if one.packs_for is not None}),
        *cage_cards(plan, with_photos),
    )


def _environment(plan: Plan, speaker: Speaker, answer: ShortAnswer) -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=lambda value: speaker.text(value) if isinstance(value, Reason) else value,
    )
    year = plan.planned_on.year
    environment.filters.update(
        isolated=lambda told: isolated(
            speaker.text(told) if isinstance(told, Reason) else Markup.escape(told)
        ),
        boxed=with_its_word,
        chance_curve=chance_curve,
        in_ten=in_ten,
        day=day_writer(year),
        long_day=long_day_writer(year),
        moment=moment_writer(year, plan.time_zone),
        until=end_writer(year, plan.time_zone),
        cm=partial(show_length, units=plan.units),
        kg=partial(show_weight, units=plan.units),
        celsius=partial(show_temperature, units=plan.units),
        figure=partial(show_number, places=1),
        gathered=partial(healing_amount, units=plan.units),
        healing_unit=partial(healing_unit, units=plan.units),
        in_days=in_days,
        groupby_run=_in_groups,
        month=month_name,
        next_heading=next_heading,
        most_first=most_first,
        timed=partial(timed_title, answer.speaker),
        asked=partial(ask_text, speaker),
        days=days_words,
        sentence=lambda told: sentence(speaker.say(told)),
        said=speaker.say,
        clause=speaker.clause,
        of_kind=of_kind,
        thing=partial(_told, speaker, day_writer(year)),
        reasons=partial(why_text, speaker),
    )
    environment.globals.update(
        VERDICTS=VERDICTS,
        IN_TIME=IN_TIME,
        WALL_KEY=KEY,
        WALL_CAUTION=CAUTION,
        LEVELS=LEVELS,
        GRID_KEY=GRID_KEY,
        MILESTONES=MILESTONES,
        skin_days=skin_days(speaker),
        degree="°F" if plan.units == "us" else "°C",
        volume="L" if plan.units == "metric" else "gal",
    )
    return environment


def _told(speaker: Speaker, day: Callable[[date], str], thing: Thing) -> str:
    """The details of a thing drawn on the season line."""
    if thing.show is not None and thing.verdict is not None:
        return outcome_text(speaker, thing.show, thing.verdict)
    return span_text(speaker, day, thing.spans)


def _style() -> str:
    light, dark = (colours.custom_properties(palette) for palette in (colours.LIGHT, colours.DARK))
    sheets = "".join(
        (TEMPLATES / name).read_text(encoding="utf-8").strip() + "\n"
        for name in ("page.css", "drawings.css", "print.css")
    )
    return (
        f":root{{{light}}}\n@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}\n"
        + sheets
    )


def _policy(style: str, script: str) -> str:
    """Nothing may be fetched or sent; this style and this script alone may run."""
    return (
        f"default-src 'none'; style-src '{_hash(style)}'; script-src '{_hash(script)}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    """The digest a browser compares (Content Security Policy Level 3, hash-source)."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
