"""The day a command is asked for: a date, or a day told from today.

| written | day |
|---|---|
| `2027-06-12` | that day |
| `today`, `tomorrow`, `yesterday` | as they say |
| `saturday` | the first Saturday from today on |
| `next saturday`, `last saturday` | the first one after today, the last one before it |
| `+3w`, `-10d`, `+2m`, `+1y` | so many weeks, days, months or years from today |
"""

from __future__ import annotations

import re
from datetime import date

from dateutil import relativedelta
from pydantic_core import PydanticCustomError

from showprep.season.values import days
from showprep.season.values.wording import shown, wrong

ADVICE = "write year-month-day, such as 2027-06-12, or tomorrow, next saturday, +3w"
_STEPS = {"today": 0, "tomorrow": 1, "yesterday": -1}


def day_asked(text: object, today: date) -> date:
    """The day that is meant. Raises a fault in plain words, for `4/10/2027` with both readings."""
    words = " ".join(text.casefold().split()) if isinstance(text, str) else ""
    span = _span(words)
    if span is None:  # a span of no days is false
        span = _to_weekday(words)
    if span is None:
        try:
            return days.day(text)
        except PydanticCustomError as error:
            right = str((error.context or {})["right"])
            if right != days.DAY_ADVICE:
                raise
            raise wrong(f"{shown(text)} is not a day", ADVICE) from None
    try:
        return days.day(today + span)
    except (OverflowError, ValueError):
        right = f"{days.FIRST_YEAR} to {days.LAST_YEAR} is plausible"
        raise wrong(f"{shown(text)} is not in a likely year", right) from None


def _span(words: str) -> relativedelta.relativedelta | None:
    if words in _STEPS:
        return relativedelta.relativedelta(days=_STEPS[words])
    found = re.fullmatch(r"([+-][0-9]{1,5}) ?([a-z]+)", words)
    if found is None:
        return None
    many, unit = int(found[1]), found[2]
    for name in ("days", "weeks", "months", "years"):
        if unit in (name[0], name[:-1], name):
            return relativedelta.relativedelta(**{name: many})  # type: ignore[arg-type]
    return None


def _to_weekday(words: str) -> relativedelta.relativedelta | None:
    found = re.fullmatch(r"(?:(next|last) )?([a-z]+)", words)
    if found is None:
        return None
    try:
        weekday = relativedelta.weekday(days.weekday(found[2]))
    except PydanticCustomError:
        return None
    if found[1] == "next":
        return relativedelta.relativedelta(days=1, weekday=weekday(1))
    if found[1] == "last":
        return relativedelta.relativedelta(days=-1, weekday=weekday(-1))
    return relativedelta.relativedelta(weekday=weekday(1))
