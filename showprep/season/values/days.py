"""Days, wall-clock times and weekdays as a keeper writes them."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, datetime

from showprep.season.values.wording import listed, nearest, shown, wrong

FIRST_YEAR, LAST_YEAR = 1900, 2100
DAY_ADVICE = "write year-month-day, such as 2027-06-12"
TIME_ADVICE = "write day and time, such as 2027-06-12 10:00"
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)
_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_TIME = re.compile(rf"({_DAY.pattern})[ Tt]+([0-9]{{1,2}}):([0-9]{{2}})(?::([0-9]{{2}}))?")
_LOOSE_DAY = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})")
_TURNED_DAY = re.compile(r"([0-9]{1,2})[-/. ]([0-9]{1,2})[-/. ]([0-9]{4})")


def day(value: object) -> date:
    """A day, written year-month-day."""
    if isinstance(value, str):
        text = value.strip()
        found = _DAY.fullmatch(text)
        if found is None:
            raise wrong(f"{shown(value)} is not a day", _day_advice(text))
        return _a_day(int(found[1]), int(found[2]), int(found[3]), value)
    if isinstance(value, date) and not isinstance(value, datetime):
        return _a_day(value.year, value.month, value.day, value)
    raise wrong(f"{shown(value)} is not a day", DAY_ADVICE)


def _a_day(year: int, month: int, day_: int, written: object) -> date:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        right = f"{FIRST_YEAR} to {LAST_YEAR} is plausible"
        raise wrong(f"{shown(written)} is not in a likely year", right)
    if not 1 <= month <= 12:
        raise wrong(f"{shown(written)}: there is no month {month}", "months are 01 to 12")
    last = monthrange(year, month)[1]
    if not 1 <= day_ <= last:
        right = f"{MONTHS[month - 1]} {year} has {last} days"
        raise wrong(f"{shown(written)}: there is no day {day_} in that month", right)
    return date(year, month, day_)


def _day_advice(text: str) -> str:
    if _TIME.fullmatch(text):
        return f"only the day belongs here: {text[:10]}"
    if found := _LOOSE_DAY.fullmatch(text):
        return f"write {found[1]}-{int(found[2]):02d}-{int(found[3]):02d}"
    if found := _TURNED_DAY.fullmatch(text):
        first, second = int(found[1]), int(found[2])
        ways = dict.fromkeys(
            f"{found[3]}-{month:02d}-{day_:02d}"
            for day_, month in ((first, second), (second, first))
            if month <= 12
        )
        return f"write year-month-day: {listed(ways)}" if ways else DAY_ADVICE
    return DAY_ADVICE


def wall_time(value: object) -> datetime:
    """A wall-clock time without a zone: the show's zone, or the yard's, goes with it."""
    if isinstance(value, str):
        text = value.strip()
        found = _TIME.fullmatch(text)
        if found is None:
            raise wrong(f"{shown(value)} is not a day and time", _time_advice(text))
        on = _a_day(int(found[2]), int(found[3]), int(found[4]), value)
        hour, minute, second = int(found[5]), int(found[6]), int(found[7] or 0)
        if hour > 23 or minute > 59 or second > 59:
            right = "times run from 00:00 to 23:59"
            raise wrong(f"{shown(value)}: there is no time {hour}:{minute:02d}", right)
        return datetime(on.year, on.month, on.day, hour, minute, second)
    if isinstance(value, datetime) and value.tzinfo is None:
        _a_day(value.year, value.month, value.day, value)
        return value
    raise wrong(f"{shown(value)} is not a day and time", TIME_ADVICE)


def _time_advice(text: str) -> str:
    if _DAY.fullmatch(text):
        return f"a time is missing: {text} 10:00"
    if re.search(r"[ap]\.?m\.?$", text, re.IGNORECASE):
        return "write the hour from 0 to 23, such as 14:00"
    begun = _TIME.match(text)
    if begun and re.fullmatch(r"\s*(Z|z|[+-][0-9:]+)(\[.*\])?", text[begun.end() :]):
        return "leave the zone out; time_zone says it"
    return TIME_ADVICE


def day_or_time(value: object) -> date | datetime:
    """A day, or a wall-clock time."""
    if isinstance(value, datetime):
        return wall_time(value)
    if isinstance(value, str) and not _DAY.fullmatch(value.strip()):
        return wall_time(value)
    return day(value)


def born(value: object) -> date | int:
    """The year a fish was hatched, or the day."""
    if isinstance(value, str) and re.fullmatch(r"[0-9]{1,6}", value.strip()):
        value = int(value.strip())
    if isinstance(value, int) and not isinstance(value, bool):
        if FIRST_YEAR <= value <= LAST_YEAR:
            return value
        right = f"{FIRST_YEAR} to {LAST_YEAR} is plausible"
        raise wrong(f"{shown(value)} is not a likely year", right)
    if isinstance(value, date) and not isinstance(value, datetime):
        return day(value)
    if isinstance(value, str) and _DAY.fullmatch(value.strip()):
        return day(value)
    raise wrong(f"{shown(value)} is neither a year nor a day", "write 2022, or 2022-05-14")


def weekday(value: object) -> int:
    """A day of the week by its English name (or its first three letters): 0 is Monday."""
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= 6:
        return value
    word = value.strip().casefold() if isinstance(value, str) else ""
    if word in WEEKDAYS:
        return WEEKDAYS.index(word)
    for at, name in enumerate(WEEKDAYS):
        if word == name[:3]:
            return at
    near = nearest(word, WEEKDAYS)
    right = f"did you mean {near}?" if near else f"write {listed(WEEKDAYS)}"
    raise wrong(f"{shown(value)} is not a day of the week", right)
