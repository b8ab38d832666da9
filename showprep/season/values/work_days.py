"""Days with hands free: days of the week, and days that recur by an iCalendar rule."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime
from functools import lru_cache
from typing import Annotated

from pydantic import Discriminator, Field, PlainValidator, Tag, WithJsonSchema

from showprep.season.record import Record
from showprep.season.values.days import WEEKDAYS, weekday
from showprep.season.values.fields import Day
from showprep.season.values.wording import listed, shown, wrong

# Where a rule without `from` begins to count: a Monday, and the first day of a month and a year.
COUNTED_FROM = date(2001, 1, 1)
_LONGEST = 200
# A rule with no day at all (the 30th of February) is searched for up to the year 9999. So rules
# are followed near that end: the calendar turns in 400 years, of 20,871 whole weeks.
_LATER = 19 * 400
_EXAMPLE = "write one such as FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"
_DAYS = "MO|TU|WE|TH|FR|SA|SU"


def _list(item: str) -> str:
    return rf"(?:{item})(?:,(?:{item}))*"


# RFC 5545, section 3.3.10: what each part of a rule may hold, and beside which FREQ it may stand.
# Days and weeks counted through the year are left out: nobody has hands free by those.
_EVERY = frozenset(("DAILY", "WEEKLY", "MONTHLY", "YEARLY"))
_NUMBER = "[+-]?(?:[1-9]|[1-4][0-9]|5[0-3])"
_PARTS: dict[str, tuple[str, frozenset[str]]] = {
    "FREQ": ("|".join(sorted(_EVERY)), _EVERY),
    "INTERVAL": ("[1-9][0-9]?", _EVERY),
    "BYDAY": (_list(f"(?:{_NUMBER})?(?:{_DAYS})"), _EVERY),
    "BYMONTHDAY": (_list("[+-]?(?:[1-9]|[12][0-9]|3[01])"), _EVERY - {"WEEKLY"}),
    "BYMONTH": (_list("[1-9]|1[0-2]"), _EVERY),
    "BYSETPOS": (_list("[+-]?(?:[1-9]|[1-9][0-9])"), _EVERY),
    "WKST": (_DAYS, _EVERY),
    "UNTIL": ("[12][0-9]{3}(?:0[1-9]|1[0-2])(?:0[1-9]|[12][0-9]|3[01])", _EVERY),
}


def rule(value: object) -> str:
    """The text of a recurrence rule (RRULE of RFC 5545) of whole days, in capitals.

    Hours, minutes and seconds are refused, and a count, as it would hang on a first day. So is a
    rule that leaves the day itself to the day from which it counts.
    """
    if not isinstance(value, str):
        raise wrong(f"{shown(value)} is not a rule", _EXAMPLE)
    text = value.strip().upper().removeprefix("RRULE:").rstrip(";")
    if len(text) > _LONGEST:
        raise wrong(f"{shown(value)} is too long for a rule", f"write at most {_LONGEST} letters")
    parts: dict[str, str] = {}
    for part in text.split(";"):
        key, sign, content = part.partition("=")
        if not sign or not key:
            raise wrong(f"{shown(part)} is no part of a rule", _EXAMPLE)
        if key in parts:
            raise wrong(f"{key} stands twice in the rule", "keep one of the two")
        parts[key] = content
    often = parts.get("FREQ", "")
    if often not in _EVERY:
        right = f"write FREQ={listed(('DAILY', 'WEEKLY', 'MONTHLY', 'YEARLY'))}"
        raise wrong(f"{shown(value)} does not say how often", right)
    for key, content in parts.items():
        _look_at(key, content, often)
    if often != "DAILY" and "BYDAY" not in parts and "BYMONTHDAY" not in parts:
        raise wrong(f"{shown(value)} does not say which day", "add one, such as BYDAY=SA")
    return text


def _look_at(key: str, content: str, often: str) -> None:
    """Raise unless the part is one that a rule of whole days may have."""
    if key == "COUNT":
        raise wrong("COUNT hangs on a first day", "write the last day, such as UNTIL=20271031")
    if key not in _PARTS:
        right = f"a rule may have {listed(_PARTS, 'and')}"
        raise wrong(f"{shown(key)} is not known in a rule of days", right)
    pattern, beside = _PARTS[key]
    written = f"{key}={content}"
    if key == "UNTIL" and not re.fullmatch(pattern, content):
        raise wrong(f"{shown(written)} is not a last day", "write it as in UNTIL=20271031")
    if not re.fullmatch(pattern, content):
        raise wrong(f"{shown(written)} cannot be right in a rule", _EXAMPLE)
    if often not in beside:
        right = f"it goes with FREQ={listed(sorted(beside))}"
        raise wrong(f"{key} does not go with FREQ={often}", right)
    if key == "BYDAY" and often in ("DAILY", "WEEKLY") and re.search("[0-9]", content):
        right = "it goes with FREQ=MONTHLY or YEARLY; every second week is INTERVAL=2"
        raise wrong(f"{shown(written)}: a number does not go with FREQ={often}", right)
    if key == "UNTIL":
        _until(content)


def _until(content: str) -> date:
    try:
        return date.fromisoformat(f"{content[:4]}-{content[4:6]}-{content[6:]}")
    except ValueError:
        raise wrong(f"UNTIL={content}: there is no such day", "write a day that there is") from None


class WorkRule(Record):
    """Days that recur by a rule, counted from a day; before that day there are none."""

    rule: Annotated[
        str,
        PlainValidator(rule),
        WithJsonSchema(
            {"type": "string", "pattern": "FREQ=", "examples": ["FREQ=WEEKLY;INTERVAL=2;BYDAY=SA"]}
        ),
    ]
    from_: Day | None = Field(alias="from", default=None)

    def has(self, day: date) -> bool:
        """Is `day` one of the days of the rule?"""
        return day in _days_of(self.rule, self.from_ or COUNTED_FROM, day.year)

    def hangs_on_its_start(self) -> bool:
        """Would the days be others if the rule were counted from another day?"""
        return self.from_ is None and re.search("INTERVAL=(?!1(?:;|$))", self.rule) is not None


def work_day(value: object) -> int | WorkRule:
    """A day of the week by its English name, or the text of a rule."""
    if isinstance(value, str) and "=" in value:
        return WorkRule.model_construct(rule=rule(value), from_=None)
    if isinstance(value, str) and re.fullmatch(rf"[0-9+-]*(?:{_DAYS})", value.strip()):
        # The rest of a rule after a comma, which in a list begins the next item.
        raise wrong(f"{shown(value)} is not a day of the week", "put quotes round the whole rule")
    return weekday(value)


# Told apart by what is written, so that a fault is told of that shape alone.
WorkDay = Annotated[
    Annotated[
        int | WorkRule,
        PlainValidator(work_day),
        WithJsonSchema(
            {"anyOf": [{"enum": list(WEEKDAYS)}, {"type": "string"}], "examples": ["saturday"]}
        ),
        Tag("words"),
    ]
    | Annotated[WorkRule, Tag("mapping")],
    Discriminator(lambda value: "mapping" if isinstance(value, dict | WorkRule) else "words"),
]


def is_among(day: date, work_days: Iterable[int | WorkRule]) -> bool:
    """Is `day` one of the days of the week, or of the days that recur?"""
    return any(
        one.has(day) if isinstance(one, WorkRule) else one == day.weekday() for one in work_days
    )


@lru_cache(maxsize=256)
def _days_of(text: str, start: date, year: int) -> frozenset[date]:
    """The days of one year by the rule, counted from `start`."""
    from dateutil.rrule import rrule, rrulestr

    last = date(year, 12, 31)
    until = re.search("UNTIL=([0-9]+)", text)
    if until is not None:
        last = min(last, _until(until[1]))
        text = ";".join(part for part in text.split(";") if not part.startswith("UNTIL="))
    found = rrulestr(text, dtstart=_late(start))
    assert isinstance(found, rrule)
    return frozenset(
        moment.date().replace(year=year)
        for moment in found.replace(until=_late(last))
        if moment.year == year + _LATER
    )


def _late(day: date) -> datetime:
    """The same day, many whole turns of the calendar later."""
    return datetime(day.year + _LATER, day.month, day.day)
