"""Three newcomers, from an empty folder to a calendar: few questions, no faults.

Each answers at a real terminal (a pseudo-terminal), as people write: their own units, numbers and
letters. Yards, shows and fish are invented, and none is from the samples.
"""

from __future__ import annotations

import os
import re
import select
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from icalendar import Calendar
from typer.testing import CliRunner

from showprep.cli import app
from showprep.commands.start import run as start
from showprep.outputs.failure import Failure
from showprep.season.reading import read_season

pty = pytest.importorskip("pty", reason="no pseudo-terminals there")
ROOT = Path(__file__).resolve().parent.parent.parent
ON = date(2027, 3, 20)
MOST_QUESTIONS = 20
OHIO = (
    *("us", "America/New_York", "7400", "", "40 41 45 50 57 64 67 66 61 54 46 42", "", "vet"),
    *("300", "72", "3", "4", "Maple Run", "2027-06-12 10:00", "2.5", "2027-05-22"),
    *("Big Ben", "kohaku", "21", "80"),
)
OSAKA = (
    *("", "Asia/Tokyo", "12000", "", "6, 6, 9, 14, 19, 23, 26, 27, 24, 18, 12, 8", "sunday", ""),
    *("", "3", "若鯉品評会", "2027-10-10 09:00", "1", "", "紅梅", "紅白", "48", "77"),
)
ALLGAEU = (
    *("metric", "Europe/Berlin", "28000 L", "", "3,5 4 6,5 9 13,5 17 19 19 15,5 11 7 4,5"),
    *("samstag", "saturday", "keeper", "Österreich", "2000", "22", "2", "2"),
    *("Schau am Weiher", "2027-07-10 09:30", "3", "2027-06-19"),
    *("Rübe", "asagi", "52,5", "52.5", "70"),
)


def at_a_terminal(words: list[str], answers: tuple[str, ...]) -> tuple[str, int]:
    """What stands on the screen when each question is answered; how many answers were taken."""
    main, other = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "showprep", *words],
        stdin=other,
        stdout=other,
        stderr=other,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        start_new_session=True,
    )
    os.close(other)
    told, left = b"", list(answers)
    while True:
        ready = select.select([main], [], [], 20)[0]
        try:
            part = os.read(main, 4096) if ready else b""
        except OSError:  # the other end is closed
            break
        if not part:
            break
        told += part
        if told.rstrip(b" ").endswith(b"?") and left:
            os.write(main, left.pop(0).encode() + b"\n")
    os.close(main)
    process.wait(20)
    return told.decode(), len(answers) - len(left)


def printed(*words: object) -> str:
    done = CliRunner().invoke(app, [*map(str, words), "--on", ON.isoformat()])
    assert done.exit_code == 0, (words, done.output, done.exception)
    return done.output


@pytest.mark.parametrize(
    ("answers", "slips", "signs"),
    [
        (OHIO, 0, ("Maple", "Big Ben", "°F")),
        (OSAKA, 0, ("若鯉品評会", "紅梅")),
        (ALLGAEU, 2, ("Weiher", "Rübe")),  # a day in German, a decimal comma: asked again
    ],
    ids=["Ohio", "Osaka", "Allgäu"],
)
def test_from_nothing_to_a_calendar(
    tmp_path: Path, answers: tuple[str, ...], slips: int, signs: tuple[str, ...]
) -> None:
    season = tmp_path / "koi"
    screen, taken = at_a_terminal(["start", str(season), "--on", ON.isoformat()], answers)
    assert taken == len(answers) and taken - slips <= MOST_QUESTIONS, screen
    assert "showprep plan" in screen and "docs/law.md" in screen
    assert printed("check", season).startswith("No faults: 1 show, 1 fish")
    plan = printed("plan", season, "--full")
    assert all(sign in plan for sign in signs), plan
    printed("calendar", season, "--to", tmp_path / "koi.ics")
    jobs = Calendar.from_ical((tmp_path / "koi.ics").read_bytes()).walk("VEVENT")
    assert len(jobs) > 10
    touch_up = read_season(season, ON).season.keeper.touch_up
    assert touch_up.law_stated == (touch_up.by == "keeper")


def test_nothing_dangerous_is_the_easy_answer(tmp_path: Path) -> None:
    """Who only presses return may touch no fish."""
    needed = iter(["", "Europe/Dublin", "20000", "18", "", "", "", "", "", ""])
    start(tmp_path / "koi", ON, ask=lambda _: next(needed))
    keeper = read_season(tmp_path / "koi", ON).season.keeper
    assert (keeper.touch_up.by, keeper.touch_up.law_checked) == ("nobody", False)
    assert keeper.isolation is None and keeper.waters["pond"].steady_c == 18


def test_options_ask_nothing(tmp_path: Path) -> None:
    said = {
        "time_zone": "Asia/Tokyo",
        "pond": "12000",
        "steady": "20",
        "vat": "900",
        "units": "metric",
    }
    with pytest.raises(Failure, match="--vat-c; --vat-holds"):
        start(tmp_path / "koi", ON, said)
    assert not (tmp_path / "koi").exists()
    start(tmp_path / "koi", ON, {**said, "vat_c": "22", "vat_holds": "2"})
    assert read_season(tmp_path / "koi", ON).season.keeper.isolation is not None
    with pytest.raises(Failure, match="--time-zone"):
        start(tmp_path / "other", ON, {**said, "time_zone": "EST"})


def test_given_up_nothing_is_written(tmp_path: Path) -> None:
    with pytest.raises(Failure, match="Nothing was written"):
        start(tmp_path / "koi", ON, ask=lambda _: "no idea")
    assert not (tmp_path / "koi").exists()


def test_the_example_is_written_where_nobody_can_be_asked(tmp_path: Path) -> None:
    printed("start", tmp_path / "koi")
    assert "aoi" in read_season(tmp_path / "koi", ON).season.fish
    assert printed("start", tmp_path / "other", "--quiet") == ""
    first, second = ((tmp_path / one / "keeper.yaml").read_bytes() for one in ("koi", "other"))
    assert first == second and re.search(rb"law_checked: no", first)
