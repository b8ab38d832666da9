"""The answer on one screen, as a terminal shows it: drawn by pyte, an emulator from outside."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.husbandry.reason import FishId, ShowId, reason
from showprep.outputs.first_screen import FISH, LINES, screen_lines
from showprep.outputs.words.answer import ShortAnswer, short_names
from showprep.planning.plan import Change, Plan, Warning_
from tests.outputs.page import large
from tests.outputs.page.plans import cold_pond, first_show, spring_circuit
from tests.storms import storm

ROOT = Path(__file__).parents[2]
PLAN = ("plan", "samples/spring-circuit", "--on", "2027-03-20")


@cache
def at_terminal(columns: int, **environment: str) -> bytes:
    """What the command writes to a terminal of that width."""
    ours, theirs = pty.openpty()
    env = {**os.environ, "TERM": "xterm-256color", "COLUMNS": str(columns), **environment}
    process = subprocess.Popen(
        [sys.executable, "-m", "showprep", *PLAN], cwd=ROOT, env=env, stdout=theirs, stderr=theirs
    )
    os.close(theirs)
    written = b""
    while True:
        try:
            piece = os.read(ours, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        written += piece
    os.close(ours)
    assert process.wait() == 0
    return written


def drawn(written: bytes, columns: int, outside: Any) -> list[str]:
    """The lines that stand on the screen of the emulator."""
    pyte = outside.module("pyte")
    screen = pyte.Screen(columns, 400)
    pyte.ByteStream(screen).feed(written)
    lines = [line.rstrip() for line in screen.display]
    while lines and not lines[-1]:
        lines.pop()
    return lines


@pytest.mark.parametrize("columns", [40, 80, 120][: storm(2, 3)])
def test_a_terminal_shows_it_without_a_broken_word(columns: int, outside: Any) -> None:
    lines = drawn(at_terminal(columns), columns, outside)
    whole = " ".join(line for line in drawn(at_terminal(300), 300, outside))
    others = " ".join(drawn(at_terminal(60), 60, outside))
    words = {word.rstrip(";,.:") for word in (*whole.split(), *others.split())}
    found = [word.rstrip(";,.:") for line in lines for word in line.split()]
    assert [word for word in found if word not in words and not word.isdigit()] == []
    if columns >= 80:
        assert len(lines) <= LINES
        assert lines[0].startswith("spring-circuit, Sat 20 March 2027")
        (row,) = [line for line in lines if line.startswith("Benkei")]
        assert row.count("GOES") == 2


def test_colour_says_nothing_that_words_do_not(outside: Any) -> None:
    """Without the escapes the text is the same; with NO_COLOR none sets a colour."""
    coloured, plain = at_terminal(80), at_terminal(80, NO_COLOR="1")
    assert drawn(coloured, 80, outside) == drawn(plain, 80, outside)
    sgr = re.findall(rb"\x1b\[([\d;]*)m", plain)
    assert not [one for one in sgr if re.search(rb"(^|;)(3[0-8]|4[0-8]|9[0-7])(;|$)", one)]
    piped = subprocess.run(
        [sys.executable, "-m", "showprep", *PLAN], cwd=ROOT, capture_output=True, check=True
    ).stdout
    assert b"\x1b" not in piped
    assert piped.decode().splitlines() == drawn(plain, 80, outside)


@pytest.mark.parametrize("make", [spring_circuit, first_show, cold_pond])
@pytest.mark.parametrize("width", [40, 55, 69, 70, 80, 100, 120])
def test_no_line_is_wider_than_the_screen(make: Any, width: int) -> None:
    assert max(len(line) for line in screen_lines(make(), width)) <= width


@pytest.mark.parametrize("shows", [1, 3, 5, 12])
@pytest.mark.parametrize("fish", [8, 30])
def test_many_fish_and_shows_are_all_told(fish: int, shows: int) -> None:
    plan = large.large_plan(fish, shows, 3)
    lines = [line.plain for line in screen_lines(plan, 80)]
    text = " ".join(" ".join(lines).split())
    assert all(one.name in text for one in plan.fish)
    assert max(map(len, lines)) <= 80
    if shows <= 3:
        assert len(lines) <= LINES + max(0, fish - FISH) + 2


def test_a_stop_is_told_whole_and_what_changed_comes_first() -> None:
    plan = spring_circuit()
    stop = Warning_("stop", reason("parasites-stop", water="pond", since=date(2027, 4, 1)))
    moved = Change("verdict", reason("no-longer-goes", fish=FishId("aoi"), show=ShowId("x")))
    lines = [
        one.plain for one in screen_lines(replace(plan, warnings=(stop,), changes=(moved,)), 80)
    ]
    text = " ".join(" ".join(lines).split())
    assert "Ask a vet before you treat." in text
    assert lines.index(next(one for one in lines if one.startswith("CHANGED"))) == 1


def _tasks(plan: Plan, *days_off: int) -> Plan:
    """The plan as of 20 March, with a job so many days from then each; the last is a touch-up."""
    day = date(2027, 3, 20)
    one = next(task for task in plan.tasks if task.kind == "parasite-check")
    starts = [day + timedelta(days=number) for number in days_off]
    tasks = [replace(one, id=f"{at}", start=at, end=at, late=at < day) for at in starts]
    last = replace(tasks[-1], kind="touch-up")
    return replace(plan, planned_on=day, tasks=(*tasks[:-1], last))


@pytest.mark.parametrize(
    ("days_off", "told"),
    [
        ((0,), []),
        ((9,), ["NEXT    nothing before Mon 29 March:"]),
        ((3,), ["WEEK    only Tue 23 March:"]),
        ((3, 7), ["WEEK    Tue 23 March:", "        Sat 27 March:"]),
        ((3, 9), ["WEEK    only Tue 23 March:", "THEN    Mon 29 March:"]),
    ],
)
def test_the_week_says_which_days_are_free(days_off: tuple[int, ...], told: list[str]) -> None:
    """Every day of the coming seven that has a job, and the next touch-up after them."""
    lines = [one.plain for one in screen_lines(_tasks(spring_circuit(), *days_off), 80)]
    days = [line for line in lines if re.search("2[379] March: ", line)]
    assert [line[: len(one)] for line, one in zip(days, told, strict=True)] == told


def test_late_jobs_are_named_with_their_days_before_anything_is_told_at_length() -> None:
    plan = _tasks(spring_circuit(), -20, -9, 0)
    text = " ".join(" ".join(one.plain for one in screen_lines(plan, 80)).split())
    assert "due 28 February" in text and "due 11 March" in text


def test_a_look_at_a_wound_is_a_job_of_its_day_and_what_goes_on_is_told() -> None:
    """A look that is due or late, and a fast that began before, are no free days."""
    plan = spring_circuit()
    day = date(2027, 3, 20)
    look = next(task for task in plan.tasks if task.kind == "look-back")
    fast = next(task for task in plan.tasks if task.kind == "stop-feeding")
    ends = day + timedelta(days=2)
    for off, told in ((0, "TODAY   [ ] Look at"), (3, "WEEK    only Tue 23 March: Look at")):
        at = day + timedelta(days=off)
        going_on = replace(fast, start=day - timedelta(days=3), end=ends)
        tasks = (replace(look, start=at, end=at), going_on)
        text = [one.plain for one in screen_lines(replace(plan, planned_on=day, tasks=tasks), 80)]
        assert [line for line in text if line.startswith(told)], text
        assert [line for line in text if line.startswith("STILL   No food")], text
    ago = day - timedelta(days=4)
    late = (replace(look, start=ago, end=ago, late=True),)
    text = [one.plain for one in screen_lines(replace(plan, planned_on=day, tasks=late), 80)]
    assert [line for line in text if line.startswith("LATE    Look at")], text


def _of_vet(plan: Plan, code: str) -> Plan:
    tasks = tuple(
        replace(one, title=reason(code, fish=tuple(map(FishId, one.fish))))
        if one.kind in ("touch-up", "ask-a-vet")
        else one
        for one in plan.tasks
    )
    return replace(plan, tasks=tasks)


@pytest.mark.parametrize(
    ("code", "told"),
    [("touch-up-by-vet", "by the vet"), ("touch-up-if-vet-agrees", "ask a vet")],
)
def test_a_touch_up_that_is_a_vets_says_so_in_its_row(code: str, told: str) -> None:
    lines = [one.plain for one in screen_lines(_of_vet(first_show(), code), 80)]
    (row,) = [one for one in lines if one.startswith("Aoi ")]
    assert "GOES" in row and told in row
    three = [one.plain for one in screen_lines(_of_vet(spring_circuit(), code), 80)]
    (row,) = [one for one in three if one.startswith("Fenn ")]
    assert "GOES" in row and told in row


@cache
def sample(on: date) -> Plan:
    from showprep.commands.loading import load_yard_and_plan

    return load_yard_and_plan(ROOT / "samples/spring-circuit", on, costs=True)[1]


def test_on_the_busiest_day_every_job_is_named_and_the_cautions_are_counted() -> None:
    """Two days before the touch-up; of jobs with one name each says for which show it is."""
    plan = sample(date(2027, 5, 13))
    lines = [one.plain for one in screen_lines(plan, 80)]
    text = " ".join(" ".join(lines).split())
    cautions = sum(one.level == "warn" for one in plan.warnings)
    assert len(lines) == LINES
    assert lines[0].endswith(f"{cautions} cautions: --full")
    assert " more" not in text
    assert "LATE Larkfield: Double the water changes, due 28 April; Decide" in text
    assert "Decide to enter, get the rules: Otterby" in text
    assert "Touch-up, into the isolation vat: Fumi;" in text
    assert "25 % ration: isolation vat, koi house" in text
    assert "Send the entry form: Larkfield" in text


def test_an_empty_show_and_the_best_at_home_have_their_reason() -> None:
    plan = sample(date(2027, 3, 20))
    answer = ShortAnswer(plan)
    (empty,) = [one for one in answer.shows if not one.entered]
    none = "no vat is free to come home to"
    by_whom = f"{none} until 17 July: fish from Larkfield are in it."
    assert answer.nobody(empty).endswith(by_whom)
    assert answer.nobody(empty, short=True).endswith(f"{none}.")
    kept = tuple(
        replace(one, show="otterby") if one.kind == "isolation-clear" else one for one in plan.tasks
    )
    assert ShortAnswer(replace(plan, tasks=kept)).nobody(empty).endswith("the vat is taken.")
    assert all(told for _, told in answer.stays())
    best = next(iter(told for _, told in answer.stays()))
    assert f"Whitebeam: {none}." in best
    ready = answer.cell("ginjiro", empty.id)
    assert ready is not None and (ready.word, ready.stays) == ("ready", "no vat after")
    resting = answer.cell("benkei", empty.id)
    assert resting is not None and resting.word == "resting"
    larkfield = next(one for one in answer.shows if one.id == "larkfield")
    assert larkfield.free_from is not None
    assert str(larkfield.free_from.day) in resting.detail


def test_a_show_is_called_by_as_many_words_as_tell_it_apart() -> None:
    names = {"a": "Otterby Harbour Koi Day", "b": "Otterby Spring Show", "c": "Larkfield Show"}
    assert short_names(names) == {"a": "Otterby Harbour", "b": "Otterby Spring", "c": "Larkfield"}


def test_a_form_that_is_in_is_not_told_as_due() -> None:
    plan = spring_circuit()
    show = plan.shows[0]
    closes = date(2027, 5, 22)
    open_ = replace(show, entries_close=closes, form_in=None)
    answer = ShortAnswer(plan)
    assert answer.form(open_).startswith("form by") and answer.form(open_, short=True) != ""
    assert answer.form(replace(open_, form_in=closes)) == "entries closed"
    assert answer.form(replace(open_, form_in=date(2027, 5, 10))) == "form sent"
    assert answer.form(replace(open_, entries_close=None)) == ""
