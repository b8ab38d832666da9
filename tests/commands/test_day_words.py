"""Days told from today, by one small grammar; whatever could be two days is refused."""

from __future__ import annotations

import re
from datetime import date, timedelta
from pathlib import Path

import pytest
import typer
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from showprep.commands import day_words, options
from showprep.commands.day_words import day_asked
from showprep.season.values.days import WEEKDAYS

FRIDAY = date(2027, 3, 19)  # ISO 8601 week date 2027-W11-5
README = (Path(__file__).resolve().parent.parent.parent / "README.md").read_text("utf-8")


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("2027-06-12", date(2027, 6, 12)),
        ("today", FRIDAY),
        ("Tomorrow", date(2027, 3, 20)),
        ("yesterday", date(2027, 3, 18)),
        ("saturday", date(2027, 3, 20)),
        ("friday", FRIDAY),
        ("next saturday", date(2027, 3, 20)),
        ("next  friday", date(2027, 3, 26)),
        ("next fri", date(2027, 3, 26)),
        ("last friday", date(2027, 3, 12)),
        ("last saturday", date(2027, 3, 13)),
        ("+3w", date(2027, 4, 9)),
        ("+3 weeks", date(2027, 4, 9)),
        ("-10d", date(2027, 3, 9)),
        ("+1 day", date(2027, 3, 20)),
        ("+2m", date(2027, 5, 19)),
        ("-1y", date(2026, 3, 19)),
        ("+0d", FRIDAY),
    ],
)
def test_days_told_from_a_friday(words: str, day: date) -> None:
    assert day_asked(words, FRIDAY) == day


def test_a_month_on_from_its_last_day_is_the_next_last_day() -> None:
    assert day_asked("+1m", date(2027, 1, 31)) == date(2027, 2, 28)
    assert day_asked("+1y", date(2028, 2, 29)) == date(2029, 2, 28)


@pytest.mark.parametrize(
    ("words", "right"),
    [
        ("4/10/2027", "2027-10-04 or 2027-04-10"),
        ("13/06/2027", "2027-06-13"),
        ("2027-6-2", "2027-06-02"),
        ("2027-02-30", "28 days"),
        ("next week", day_words.ADVICE),
        ("next saterday", day_words.ADVICE),
        ("3w", day_words.ADVICE),
        ("+3", day_words.ADVICE),
        ("+3x", day_words.ADVICE),
        ("+1.5w", day_words.ADVICE),
        ("++3w", day_words.ADVICE),
        ("+3w+2d", day_words.ADVICE),
        ("tomorrow 10:00", day_words.ADVICE),
        ("", day_words.ADVICE),
        ("20270612", day_words.ADVICE),
        ("+99999y", "1900 to 2100"),
        ("+99999w", "1900 to 2100"),
        ("-500y", "1900 to 2100"),
        ("+999999999999d", day_words.ADVICE),
        ("\N{FULLWIDTH PLUS SIGN}3w", day_words.ADVICE),
        ("+\N{ARABIC-INDIC DIGIT THREE}w", day_words.ADVICE),
    ],
)
def test_what_is_no_day_is_refused(words: str, right: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        day_asked(words, FRIDAY)
    assert right in str(caught.value)


@given(st.dates(date(1910, 1, 1), date(2090, 12, 31)), st.sampled_from(WEEKDAYS))
def test_weekdays_lie_within_a_week(today: date, name: str) -> None:
    on = day_asked(name, today)
    later, before = day_asked(f"next {name}", today), day_asked(f"last {name}", today)
    for day in (on, later, before):
        assert f"{day:%A}".casefold() == name
    assert timedelta(0) <= on - today < timedelta(7)
    assert timedelta(0) < later - today <= timedelta(7)
    assert timedelta(0) < today - before <= timedelta(7)


@given(st.dates(date(1950, 1, 1), date(2050, 12, 31)), st.integers(-900, 900))
def test_weeks_and_days_are_so_many(today: date, many: int) -> None:
    assert day_asked(f"{many:+d}w", today) == today + timedelta(weeks=many)
    assert day_asked(f"{many:+d}d", today) == today + timedelta(days=many)


@given(st.text(max_size=40))
def test_any_text_is_a_day_or_a_fault_in_words(text: str) -> None:
    try:
        assert day_asked(text, FRIDAY).year
    except PydanticCustomError as error:
        assert error.context and error.context["right"]


def test_the_option_counts_from_the_day_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(options, "today", lambda: FRIDAY)
    assert options.day_on("+3w") == date(2027, 4, 9)
    with pytest.raises(typer.BadParameter, match="2027-10-04 or 2027-04-10"):
        options.day_on("4/10/2027")


def test_the_grammar_is_in_the_readme() -> None:
    rows = re.findall(r"^\| (`[^|]+`) \| [^|]+ \|$", str(day_words.__doc__), re.MULTILINE)
    assert len(rows) == 5
    for row in rows:
        assert row in README
        for words in re.findall("`([^`]+)`", row):
            assert day_asked(words, FRIDAY)
