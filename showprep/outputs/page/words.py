"""What the page calls things, and how it writes a day, a time and a name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from markupsafe import Markup

from showprep.planning.plan import Healing, VerdictWord
from showprep.planning.words import spoken, spoken_with_year
from showprep.season.days import WEEKDAYS

VERDICTS: dict[VerdictWord, tuple[str, str]] = {
    "ready": ("Ready", "go"),
    "ready-after-touch-up": ("Ready after touch-up", "go"),
    "tight": ("Tight", "care"),
    "as-it-is": ("As it is", "care"),
    "too-late": ("Too late", "no"),
    "vet-first": ("Vet first", "no"),
    "not-eligible": ("Not eligible", "no"),
}
MEANINGS: dict[VerdictWord, str] = {
    "ready": "nothing to do, or heals by itself in time even in a slow case",
    "ready-after-touch-up": "a speck can come off and be clean in time, even in a slow case",
    "tight": "in time at the usual pace, not in a slow case",
    "as-it-is": "can go, with a blemish the judge will see",
    "too-late": "a wound will not be closed by the journey: stays at home",
    "vet-first": "something only a vet may deal with",
    "not-eligible": "a rule, papers, isolation or rest stands against it",
}
SPANS: dict[str, str] = {
    "touch-up": "touch-up",
    "closed": "wound closing",
    "clean": "wound until clean",
    "fast": "no food",
    "isolation": "kept apart",
    "look-back": "look back",
    "at-show": "at the show",
}
MILESTONES = {"closed": "closed, so that it may be netted and travel", "clean": "clean to a judge"}


@dataclass(frozen=True, slots=True)
class Outcome:
    """Whether a healing is in time: a word, a shape's name and a tone."""

    word: str
    shape: str
    tone: str


IN_TIME = Outcome("in time", "in-time", "go")
TIGHT = Outcome("tight", "only-just", "care")
NOT_IN_TIME = Outcome("not in time", "not-in-time", "no")
NOT_CLEAN = Outcome("not yet clean", "as-it-is", "care")


def outcome_of(healing: Healing) -> Outcome:
    """In time in a slow case too, in time at the usual pace only, or not in time."""
    if healing.usual_on is None or healing.usual_on > healing.deadline:
        return NOT_IN_TIME
    if healing.high_on is None or healing.high_on > healing.deadline:
        return TIGHT
    return IN_TIME


def sentence(text: str) -> str:
    """A text with a capital at its start and a stop at its end."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def in_days(days: int) -> str:
    """How far off a day is."""
    near = {0: "today", 1: "tomorrow"}
    return near.get(days) or (f"in {days} days" if days > 0 else f"{-days} days ago")


def days_words(days: int) -> str:
    return f"{days} day" if days == 1 else f"{days} days"


def day_writer(this_year: int) -> Callable[[date], Markup]:
    """Writes `Sat 12 June` as a time element, with the year when it is another."""

    def write(moment: date | datetime) -> Markup:
        day = moment.date() if isinstance(moment, datetime) else moment
        text = spoken(day) if day.year == this_year else spoken_with_year(day)
        return Markup('<time datetime="{}">{}</time>').format(day.isoformat(), text)

    return write


def long_day_writer(this_year: int) -> Callable[[date], Markup]:
    """Writes `Saturday 12 June`."""

    def write(day: date) -> Markup:
        text = spoken(day) if day.year == this_year else spoken_with_year(day)
        whole = WEEKDAYS[day.weekday()].title() + text[3:]
        return Markup('<time datetime="{}">{}</time>').format(day.isoformat(), whole)

    return write


def end_writer(this_year: int, home_zone: str) -> Callable[..., Markup]:
    """Writes where a stretch of time ends: only the time when that is on the day it began."""
    write_whole = moment_writer(this_year, home_zone)

    def write(end: date | datetime, start: date | datetime, zone: str | None = None) -> Markup:
        if isinstance(end, datetime) and isinstance(start, datetime) and end.date() == start.date():
            return Markup('<time datetime="{}">{}</time>').format(
                end.isoformat(timespec="minutes"), f"{end:%H:%M}"
            )
        return write_whole(end, zone)

    return write


def moment_writer(this_year: int, home_zone: str) -> Callable[..., Markup]:
    """Writes `Fri 11 June, 13:00`, with the zone's name when it is not the keeper's."""

    def write(moment: date | datetime, zone: str | None = None) -> Markup:
        if not isinstance(moment, datetime):
            return day_writer(this_year)(moment)
        text = spoken(moment) if moment.year == this_year else spoken_with_year(moment)
        where = f" ({zone})" if zone is not None and zone != home_zone else ""
        return Markup('<time datetime="{}">{}, {}{}</time>').format(
            moment.isoformat(timespec="minutes"), text, f"{moment:%H:%M}", where
        )

    return write
