"""What the page calls things, and how it writes a day, a time and a name."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime

from markupsafe import Markup

from showprep.planning.words import spoken, spoken_with_year
from showprep.season.days import WEEKDAYS

MILESTONES = {"closed": "closed, so that it may be netted and travel", "clean": "clean to a judge"}


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
