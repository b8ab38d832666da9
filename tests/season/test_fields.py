"""Days, times, names and the other values a keeper writes, right and wrong."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from showprep.season.values import days, fields, zones


def told(read, written: object) -> str:
    with pytest.raises(PydanticCustomError) as caught:
        read(written)
    context = caught.value.context or {}
    return f"{context['what']}. {context['right']}"


def test_days() -> None:
    assert days.day("2027-06-12") == date(2027, 6, 12)
    assert days.day(" 2028-02-29 ") == date(2028, 2, 29)
    assert days.day(date(2027, 6, 12)) == date(2027, 6, 12)


@given(st.dates(date(1900, 1, 1), date(2100, 12, 31)))
def test_every_iso_8601_day_is_read(on: date) -> None:
    assert days.day(on.isoformat()) == on


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("2027-02-30", "February 2027 has 28 days"),
        ("2027-13-01", "no month 13"),
        ("2027-06-00", "no day 0"),
        ("0027-06-12", "1900 to 2100"),
        ("2270-06-12", "1900 to 2100"),
        ("2027-6-2", "2027-06-02"),
        ("2027/06/12", "2027-06-12"),
        ("13/06/2027", "2027-06-13"),
        ("05/06/2027", "2027-06-05 or 2027-05-06"),
        ("12 June 2027", "year-month-day"),
        ("20270612", "year-month-day"),
        ("1700000000", "year-month-day"),
        ("2027-06-12 10:00", "only the day belongs here: 2027-06-12"),
        ("٢٠٢٧-٠٦-١٢", "year-month-day"),
        ("", "year-month-day"),
        (5, "year-month-day"),
        (None, "year-month-day"),
        (datetime(2027, 6, 12), "year-month-day"),
        (["2027-06-12"], "a list"),
    ],
)
def test_days_that_are_none(written: object, words: str) -> None:
    assert words in told(days.day, written)


def test_times() -> None:
    ten = datetime(2027, 6, 12, 10)
    assert days.wall_time("2027-06-12 10:00") == ten
    assert days.wall_time("2027-06-12T10:00") == ten
    assert days.wall_time("2027-06-12T10:00:00") == ten
    assert days.wall_time("2027-06-12 9:30") == datetime(2027, 6, 12, 9, 30)
    assert days.wall_time(ten) == ten


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("2027-06-12 25:00", "00:00 to 23:59"),
        ("2027-06-12 24:00", "00:00 to 23:59"),
        ("2027-06-12 10:60", "00:00 to 23:59"),
        ("2027-02-30 10:00", "February 2027 has 28 days"),
        ("2027-06-12", "a time is missing: 2027-06-12 10:00"),
        ("10:00", "day and time"),
        ("2027-06-12 10:00 am", "0 to 23"),
        ("2027-06-12T10:00Z", "time_zone says it"),
        ("2027-06-12 10:00+01:00", "time_zone says it"),
        (datetime(2027, 6, 12, 10, tzinfo=UTC), "day and time"),
        (date(2027, 6, 12), "day and time"),
    ],
)
def test_times_that_are_none(written: object, words: str) -> None:
    assert words in told(days.wall_time, written)


def test_day_or_time_and_born() -> None:
    assert days.day_or_time("2027-06-12") == date(2027, 6, 12)
    assert days.day_or_time("2027-06-12 10:00") == datetime(2027, 6, 12, 10)
    assert days.day_or_time(datetime(2027, 6, 12, 10)) == datetime(2027, 6, 12, 10)
    assert days.born("2022") == 2022
    assert days.born(2022) == 2022
    assert days.born("2022-05-14") == date(2022, 5, 14)
    assert "1900 to 2100" in told(days.born, "20222")
    assert "write 2022" in told(days.born, "last year")
    assert "February" in told(days.born, "2022-02-30")


def test_weekdays() -> None:
    # ISO 8601 counts from Monday; Python's date.weekday() gives Monday as 0.
    names = ["Monday", "tuesday", "wed", "THU", "friday", "sat", "sunday"]
    assert [days.weekday(name) for name in names] == list(range(7))
    assert days.weekday(5) == 5
    assert "did you mean saturday?" in told(days.weekday, "saterday")
    assert "monday, tuesday" in told(days.weekday, "9")
    assert "monday, tuesday" in told(days.weekday, "")


def test_text() -> None:
    assert fields.text("  main \t pond\n ") == "main pond"
    assert fields.text("e\N{COMBINING ACUTE ACCENT}") == "é"
    assert fields.text("青い 🐟‍ مرحبا") == "青い 🐟‍ مرحبا"
    assert fields.text(10) == "10"
    for nothing in ("", "  ", "\n"):
        assert "nothing written" in told(fields.text, nothing)
    for wrong in ("a\0b", "a\x07", "\ud800"):
        assert "cannot be printed" in told(fields.text, wrong)
    assert "turns text round" in told(fields.text, "\N{RIGHT-TO-LEFT OVERRIDE}ioA")
    assert "can be seen" in told(fields.text, "\N{ZERO WIDTH SPACE}")
    assert "at most" in told(fields.text, "a" * 20_000)
    assert "a mapping found" in told(fields.text, {})
    assert "words belong" in told(fields.text, True)


def test_ids() -> None:
    for good in ("aoi", "red-lass-2", "4u", "a"):
        assert fields.valid_id(good) == good
    assert "write elm-park" in told(fields.valid_id, "Elm Park")
    assert "write elm-park" in told(fields.valid_id, "elm_park")
    assert "fish-12" in told(fields.valid_id, "12")
    for wrong in ("", "../x", "a/b", "a.b", "-a", "a--b", "a\n", "é", "a" * 100, 3, None, "1-2"):
        assert "cannot be an id" in told(fields.valid_id, wrong)


def test_terms_of_the_trade_are_one_however_written() -> None:
    for written in ("split-fin", "Split fin", "split_fin", " SPLIT  FIN "):
        assert fields.term(written) == "split-fin"
    assert "is no word" in told(fields.term, "-")


def test_yes_and_no() -> None:
    assert [fields.yes_no(word) for word in ("yes", "Yes", "true", True)] == [True] * 4
    assert [fields.yes_no(word) for word in ("no", "NO", "false", False)] == [False] * 4
    for wrong in ("on", "off", "y", "1", 1, 0, "", None, "oui"):
        assert "write yes or no" in told(fields.yes_no, wrong)


READERS = (
    *(days.day, days.wall_time, days.day_or_time, days.born, days.weekday, zones.time_zone),
    *(fields.text, fields.valid_id, fields.term, fields.yes_no),
)


@given(st.one_of(st.text(), st.integers(), st.none(), st.lists(st.text(max_size=3), max_size=2)))
def test_only_faults_in_words_come_out(written: object) -> None:
    for read in READERS:
        try:
            read(written)
        except PydanticCustomError as error:
            assert error.context
            assert "\n" not in str(error)
