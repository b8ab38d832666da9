"""Days, counts and lists in plain words, the same whatever the machine's language."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from zoneinfo import ZoneInfo

from showprep.season.values import wording
from showprep.season.values.days import MONTHS, WEEKDAYS


def spoken(day: date) -> str:
    """`Sat 12 June`."""
    return f"{WEEKDAYS[day.weekday()][:3].title()} {day.day} {MONTHS[day.month - 1]}"


def spoken_with_year(day: date) -> str:
    """`Sat 12 June 2027`."""
    return f"{spoken(day)} {day.year}"


def spoken_from(day: date, on: date) -> str:
    """The day as spoken of on the day `on`: with its year where that is another one."""
    return spoken(day) if day.year == on.year else spoken_with_year(day)


def clock(moment: datetime, home_zone: str) -> str:
    """`13:00`; abroad with the zone, and beside it what the clocks at home say.

    `13:00 Europe/Berlin (12:00 at home)`, with the day where that is another one. Nothing is added
    to a time of no zone, or where no home is known.
    """
    zone = getattr(moment.tzinfo, "key", None) if moment.tzinfo is not None else None
    if zone is None or home_zone in ("", zone):
        return f"{moment:%H:%M}"
    home = moment.astimezone(ZoneInfo(home_zone))
    day = "" if home.date() == moment.date() else f"{spoken(home.date())} "
    return f"{moment:%H:%M} {zone} ({day}{home:%H:%M} at home)"


def counted(number: int, one: str, more: str | None = None) -> str:
    """`1 day`, `2 days`."""
    return f"{number} {one if number == 1 else more or one + 's'}"


def points(value: float) -> str:
    """`1 point`, `2.5 points`, of a hundred that a fish can have."""
    return f"{value:g} {'point' if value == 1 else 'points'}"


def listed(words: Iterable[str], joint: str = "and") -> str:
    """`Aoi, Ben and Cho`."""
    return wording.listed(words, joint)
