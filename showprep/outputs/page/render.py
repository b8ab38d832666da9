"""A Plan as one HTML file that opens from anywhere, asks nothing of any network, and prints."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from showprep.husbandry.reason import Reason
from showprep.outputs.page import board, colours, words
from showprep.outputs.page.agenda import agenda_of
from showprep.outputs.page.healing import healing_curves
from showprep.outputs.page.photos import Album, album_of
from showprep.outputs.page.plan_sheets import cage_cards, session_pages
from showprep.outputs.page.season_line import season_line
from showprep.outputs.page.sheets import Page
from showprep.outputs.page.show_sheets import show_pages
from showprep.outputs.page.worksheet_pages import worksheet_pages
from showprep.outputs.words.changes import why_text
from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.season_line import span_text
from showprep.outputs.words.sheet import Sheet
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import LEVELS, VERDICTS
from showprep.planning.plan import Plan
from showprep.season.quantities import show_length, show_number, show_temperature, show_weight

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).parent / "templates"


def render_page(
    plan: Plan, photos: Mapping[str, bytes] | None = None, sheets: Sequence[Sheet] = ()
) -> str:
    """The page of a plan.

    `photos` holds the journal's photos by the names the plan gives them; `sheets` are worksheets
    that are printed with the plan's own. The same plan gives the same text.
    """
    speaker = Speaker.of(plan)
    environment = _environment(plan, speaker)
    album = album_of(plan, photos or {})
    style = _style()
    script = (TEMPLATES / "page.js").read_text(encoding="utf-8").strip()
    return environment.get_template("page.html.j2").render(
        plan=plan,
        style=style,
        script=script,
        policy=_policy(style, script),
        agenda=agenda_of(plan),
        board=board.board_of(plan),
        used=board.verdicts_used(plan),
        line=season_line(plan),
        curves=healing_curves(plan),
        sheets=_sheets(plan, album, sheets),
        album=album,
        fish_names={fish.id: fish.name for fish in plan.fish},
        show_names={show.id: show.name for show in plan.shows},
        places={fish.id: at for at, fish in enumerate(plan.fish)},
    )


def _sheets(plan: Plan, album: Album, worksheets: Sequence[Sheet]) -> tuple[Page, ...]:
    with_photos = frozenset(fish for fish, photos in album.by_fish.items() if photos)
    return (
        *session_pages(plan),
        *worksheet_pages(worksheets),
        *show_pages(plan),
        *cage_cards(plan, with_photos),
    )


def _environment(plan: Plan, speaker: Speaker) -> Environment:
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
        day=words.day_writer(year),
        long_day=words.long_day_writer(year),
        moment=words.moment_writer(year, plan.time_zone),
        until=words.end_writer(year, plan.time_zone),
        cm=partial(show_length, units=plan.units),
        kg=partial(show_weight, units=plan.units),
        celsius=partial(show_temperature, units=plan.units),
        figure=partial(show_number, places=1),
        in_days=words.in_days,
        days=words.days_words,
        sentence=lambda told: words.sentence(speaker.say(told)),
        said=speaker.say,
        clause=speaker.clause,
        of_kind=of_kind,
        span=partial(span_text, speaker),
        reasons=partial(why_text, speaker),
    )
    environment.globals.update(
        VERDICTS=VERDICTS,
        LEVELS=LEVELS,
        MILESTONES=words.MILESTONES,
    )
    return environment


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
