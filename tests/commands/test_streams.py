"""What is printed is the same whatever the machine's language, and closed streams harm nothing."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

Folder = Callable[[Mapping[str, str | bytes]], Path]
FILES = {
    "keeper.yaml": "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\n",
    "shows.yaml": "elm: {name: Elm, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish.yaml": "aoi: {name: 錦 🐟, variety: kohaku, lives_in: pond, merit: 80}\n",
}
PROGRAM = [sys.executable, "-m", "showprep.cli"]


def printed(folder: Path, command: str, **settings: str) -> bytes:
    done = subprocess.run(
        [*PROGRAM, command, str(folder), "--on", "2027-03-20"],
        capture_output=True,
        env={**os.environ, **settings},
        check=True,
    )
    return done.stdout


@pytest.mark.parametrize("command", ["plan", "today"])
def test_the_same_bytes_in_any_language(folder: Folder, command: str) -> None:
    season = folder(FILES)
    usual = printed(season, command, PYTHONUTF8="1")
    assert usual
    for settings in (
        {"LC_ALL": "POSIX", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "COLUMNS": "40"},
        {"PYTHONIOENCODING": "latin-1", "TZ": "Pacific/Kiritimati", "PYTHONHASHSEED": "7"},
        {"PYTHONIOENCODING": "ascii:strict", "FORCE_COLOR": "1", "TERM": "dumb"},
    ):
        assert printed(season, command, **settings) == usual, settings


@pytest.mark.parametrize("closed", [">&-", "2>&-", "<&- >&- 2>&-"])
def test_a_closed_stream_harms_nothing(folder: Folder, tmp_path: Path, closed: str) -> None:
    season = folder(FILES)
    before = {path: path.read_bytes() for path in season.rglob("*.yaml")}
    out = tmp_path / "out"
    words = f'exec "$@" --on 2027-03-20 --out {out} {closed}'
    done = subprocess.run(["sh", "-c", words, "sh", *PROGRAM, "plan", str(season)], check=False)
    assert done.returncode == 0
    assert (out / "plan.json").read_bytes().startswith(b'{\n  "season"')
    assert {path: path.read_bytes() for path in season.rglob("*.yaml")} == before


def test_controls_in_a_name_never_reach_the_terminal_raw(tmp_path: Path) -> None:
    """A folder's name may set the title or hide words: it is shown as it is spelled."""
    season = tmp_path / "\x1b]0;title\x07\x1b[8mpond\x9b"
    for command in (["check", str(season)], ["start", str(season)], ["summary", str(season)]):
        done = subprocess.run(
            [sys.executable, "-m", "showprep", *command], capture_output=True, check=False
        )
        said = (done.stdout + done.stderr).decode()
        assert "pond" in said
        assert not any(
            ord(letter) < 32 and letter not in "\n\t" for letter in said.replace("\x1b[8m", "")
        )
        assert "\x9b" not in said


def test_a_new_sheet_of_paper_begins_with_a_form_feed() -> None:
    """A printer goes by it; nothing of it is spelled out."""
    season = Path(__file__).parents[2] / "samples" / "spring-circuit"
    done = subprocess.run(
        [*PROGRAM, "bath", str(season), "--on", "2027-05-10"], capture_output=True, check=True
    )
    said = done.stdout.decode()
    assert said.count("\f\n") >= 1
    assert "\\x" not in said


def test_a_folder_whose_name_is_not_utf_8(folder: Folder, tmp_path: Path) -> None:
    season = Path(os.fsdecode(os.fsencode(tmp_path) + b"/k\xfeoi"))
    try:
        folder(FILES).rename(season)
    except OSError:
        pytest.skip("no such name can be given here")
    page, file = str(tmp_path / "p.html"), str(tmp_path / "p.ics")
    for words in (["page", "--to", page], ["calendar", "--to", file], ["plan"]):
        command = [*PROGRAM, words[0], str(season), *words[1:], "--on", "2027-03-20"]
        done = subprocess.run(command, capture_output=True, check=False)
        assert (done.returncode, b"went wrong inside" in done.stderr) == (0, False)
    assert "k\N{REPLACEMENT CHARACTER}oi" in (tmp_path / "p.html").read_text("utf-8")


def test_an_option_of_any_bytes(folder: Folder) -> None:
    words = ["bags", str(folder(FILES)), "--units", os.fsdecode(b"\xff"), "--on", "2027-03-20"]
    done = subprocess.run([*PROGRAM, *words], capture_output=True, check=False)
    assert done.returncode == 2 and b"--units" in done.stderr


def test_a_dash_is_standard_output_or_refused(folder: Folder, tmp_path: Path) -> None:
    """A page and a calendar can be printed; a folder cannot."""
    season = str(folder(FILES))
    for words, begins in (
        (["page", season, "--to", "-"], b"<!DOCTYPE html>"),
        (["page", season, "--to", "-", "--sheets", "season"], b"<!DOCTYPE html>"),
        (["calendar", season, "--to", "-"], b"BEGIN:VCALENDAR"),
        (["plan", season, "--out", "-"], b""),
    ):
        command = [*PROGRAM, *words, "--on", "2027-03-20"]
        done = subprocess.run(command, capture_output=True, check=False)
        assert done.stdout.startswith(begins) and bool(done.stdout) == bool(begins)
        assert done.returncode == (0 if begins else 2)
    assert not Path("-").exists()
