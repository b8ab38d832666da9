"""Every example of the pages runs: commands against a season, files through the reader.

`docs/a-season-played-through.md` and the Python of `docs/python.md` have tests of their own.
"""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from typer.main import get_command
from typer.testing import CliRunner

from showprep.cli import app
from showprep.season.reading import read_season

ROOT = Path(__file__).resolve().parent.parent
ELSEWHERE = ("a-season-played-through.md",)  # run by a test of its own
PAGES = [
    ROOT / "README.md",
    *(page for page in sorted((ROOT / "docs").glob("*.md")) if page.name not in ELSEWHERE),
]
BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PROGRAM = re.compile(r"(?:\.venv/(?:bin|Scripts)/)?showprep ")
ON = "2027-04-01"
# They need a server or a phone: read, but not run.
NOT_RUN = ("publish", "collect", "share", "pondside")
WITHOUT_A_DAY = ("schema", "start", "--install-completion")
YARD = {
    "keeper.yaml": "time_zone: UTC\nwaters: {main pond: {steady_c: 18}, vat: {steady_c: 22}}\n",
    "shows.yaml": "larkfield: {name: Larkfield, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish.yaml": (
        "aoi: {name: Aoi, variety: kohaku, lives_in: main pond, merit: 82,\n"
        "  lengths_cm: {2026-09-20: 51}, defects: [{kind: split-fin, seen: 2027-03-20}]}\n"
    ),
    "photos/aoi.jpg": b"not a picture",
}


def commands_of(page: Path) -> Iterator[str]:
    """Every command line in the page's blocks, without its comment."""
    whole = page.read_text("utf-8")
    indented = "\n".join(re.findall(r"^    (showprep .*)$", whole, re.MULTILINE))
    for language, text in [*BLOCK.findall(whole), ("", indented)]:
        if language not in ("", "sh", "powershell"):
            continue
        for line in text.splitlines():
            for part in re.split(r"&&|;", line.partition(" #")[0].replace("\\", "/")):
                if PROGRAM.match(part.strip()):
                    yield PROGRAM.sub("", part.strip(), count=1)


EXAMPLES = [(page.name, line) for page in PAGES for line in dict.fromkeys(commands_of(page))]


def test_the_pages_have_examples() -> None:
    assert {page for page, _ in EXAMPLES} >= {
        "README.md", "files.md", "calendar-on-your-phone.md", "python.md"}  # fmt: skip
    assert len(EXAMPLES) > 12


@pytest.mark.parametrize(("page", "line"), EXAMPLES)
def test_a_command_runs(page: str, line: str, folder, tmp_path, monkeypatch) -> None:
    shutil.copytree(ROOT / "samples", tmp_path / "samples")
    words = shlex.split(line.partition(">")[0])
    if words[0] not in ("start",):
        folder(YARD).rename(tmp_path / "my-season")
    monkeypatch.chdir(tmp_path)
    words = ["my-season" if word == "SEASON" else word for word in words]
    if words[0] in NOT_RUN:
        command = get_command(app).commands[words[0]]  # type: ignore[attr-defined]
        season = command.make_context(words[0], words[1:]).params["season"]
        assert str(season) == "my-season"  # older typers make a path of it later
        return
    if words[:2] == ["note", "my-season"] and "--undo" in words:
        noted = CliRunner().invoke(app, ["note", "my-season", "--note", "x", "--on", ON])
        assert noted.exit_code == 0
    if words[0] in ("bath", "bags") and "my-season" in words:
        words[words.index("my-season")] = "samples/spring-circuit"  # in which a fish goes
    if words[0] not in WITHOUT_A_DAY and "--on" not in words and on_paper(words):
        words += ["--on", ON]
    done = CliRunner().invoke(app, words)
    assert done.exit_code == 0, f"{done.output}{done.exception}"


def on_paper(words: list[str]) -> bool:
    """Does the command take a day? A sheet from options alone is of no day."""
    return words[0] not in ("bath", "bags") or any("samples" in word for word in words)


FILES = [
    (page.name, text)
    for page in PAGES
    for language, text in BLOCK.findall(page.read_text("utf-8"))
    if language == "yaml"
]


@pytest.mark.parametrize(("page", "text"), FILES)
def test_a_file_is_read_without_a_fault(page: str, text: str, folder) -> None:
    files = dict(YARD)
    if text.startswith("- "):
        files["journal.yaml"] = text
    elif text.startswith("time_zone"):
        files = {"keeper.yaml": text}
    else:
        files["keeper.yaml"] = f"{YARD['keeper.yaml']}{text}"
    assert read_season(folder(files), date(2027, 7, 1)).season


def test_windows_commands_stand_beside_the_others() -> None:
    """Each block of commands in the README has the same ones for Windows below it."""
    blocks = BLOCK.findall((ROOT / "README.md").read_text("utf-8"))
    shell = [text for language, text in blocks if language == "sh"]
    windows = [text for language, text in blocks if language == "powershell"]
    assert len(shell) == len(windows) >= 1

    def plain(text: str) -> list[str]:
        for old, new in (("\\", "/"), ("Scripts/", "bin/"), ("py -m", "python3 -m"), (";", " &&")):
            text = text.replace(old, new)
        return [line.partition("  #")[0].split() for line in text.splitlines()]

    for one, other in zip(shell, windows, strict=True):
        assert plain(one) == plain(other)
