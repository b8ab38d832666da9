"""Text comes through as it was meant: RFC 5545 §3.3.11 (TEXT) and §3.1 (folding)."""

from __future__ import annotations

import unicodedata
from datetime import datetime
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.outputs.calendar.export import write_calendar
from showprep.outputs.calendar.jobs import MOMENT, jobs_of
from showprep.outputs.calendar.text import SUMMARY_LONGEST, clean, clean_line, shorten
from tests.outputs.said import in_reasons


@pytest.mark.parametrize(
    ("given", "cleaned"),
    [
        ("plain", "plain"),
        ("  outer \t", "outer"),
        ("a\r\nb\rc\u2028d\x85e", "a\nb\nc\nd\ne"),
        ("a\tb", "a b"),
        ("C:\\New", "C:/New"),
        ("\x00a\x1bb\x7fc\x9bd", "abcd"),
        ("\ufeffa\ud800b\ufffec", "abc"),
        ("鯉 👨‍👩‍👧 e\u0301", "鯉 👨‍👩‍👧 e\u0301"),
        ("", ""),
        ("\x00", ""),
    ],
)
def test_clean(given: str, cleaned: str) -> None:
    assert clean(given) == cleaned


def test_a_line_has_no_breaks_and_single_spaces() -> None:
    assert clean_line(" a\r\n b\u2029  c\t") == "a b c"


def test_nothing_that_breaks_a_reader_is_left(build: Any) -> None:
    every = ("".join(map(chr, range(at, at + 64))) for at in range(0, 0x110000, 64))
    for text in (*build.hostile, *every):
        for character in clean(text):
            category = unicodedata.category(character)
            assert character == "\n" or category not in ("Cc", "Cs", "Zl", "Zp"), repr(text)
            assert character not in "\\\ufeff\ufffe\uffff"


def test_shortening_keeps_short_lines_and_words() -> None:
    assert shorten("x" * SUMMARY_LONGEST) == "x" * SUMMARY_LONGEST
    assert shorten("Touch up the speck on the left shoulder of Aoi before Larkfield", 40) == (
        "Touch up the speck on the left shoulder…"
    )
    assert len(shorten("word " * 40)) <= SUMMARY_LONGEST


def test_shortening_parts_no_character() -> None:
    assert shorten("e\u0301" * 40, 20) == "e\u0301" * 9 + "…"
    family = "👨‍👩‍👧‍👦"
    assert shorten(family * 10, 20).rstrip("…").replace(family, "") == ""


def test_a_title_that_was_cut_is_whole_in_the_description(build: Any) -> None:
    title = "A very long title about " + "many fish and " * 10
    data = write_calendar(build.plan([build.task(title=title)])).replace(b"\r\n ", b"")
    assert f"DESCRIPTION:{title.strip()}".encode() in data


def test_no_line_is_longer_than_75_octets_nor_folded_inside_a_character(build: Any) -> None:
    """RFC 5545 §3.1."""
    for number in range(3):
        data = write_calendar(build.random_plan(number, 60, hostile=True))
        assert data.endswith(b"\r\n")
        for line in data.split(b"\r\n"):
            assert len(line) <= 75
            line.decode("utf-8")


def test_cautions_and_the_note_are_told(build: Any) -> None:
    task = build.task(grade="published")
    late = build.task(1, late=True, late_cost="She travels fed.", note="Net her out.")
    data = write_calendar(build.plan([task, late])).replace(b"\r\n ", b"").decode()
    assert "SUMMARY:Late: Stop feeding 1" in data
    assert "She travels fed.\\nNet her out.\\nCaution: A fed fish" in data
    for words in (task.note, *task.cautions, "Fish: Aoi", task.counts_from):
        assert words.replace(",", "\\,").replace(";", "\\;") in data


def test_where_a_show_is_and_when_to_be_there(build: Any) -> None:
    """RFC 5545 §3.8.1.7: LOCATION. To arrive is a moment, not the hours the doors are open."""
    plan = build.plan(
        [
            build.timed(1, kind="arrive", title="Arrive"),
            build.timed(2, kind="departure", title="Leave"),
            build.task(3),
        ]
    )
    show = replace(plan.shows[0], place="Mill Lane 3, Larkfield")
    plan = replace(plan, shows=(show,))
    jobs = {job.about.kind: job for job in jobs_of(in_reasons(plan), in_reasons(plan).tasks)}
    assert jobs["arrive"].place == jobs["departure"].place == "Mill Lane 3, Larkfield"
    assert jobs["stop-feeding"].place == ""
    arrive = jobs["arrive"]
    assert isinstance(arrive.start, datetime) and isinstance(arrive.end, datetime)
    assert arrive.end - arrive.start == MOMENT
    data = write_calendar(in_reasons(plan))
    assert data.count(b"\r\nLOCATION:Mill Lane 3\\, Larkfield\r\n") == 2
    assert b"Figure" not in data
