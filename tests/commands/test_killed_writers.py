"""Every command that writes, killed at random points: each file is the old one or the new one.

Nothing that the keeper wrote is changed, and the next run puts all right. A few kills by default,
more with SHOWPREP_STORMS=full. (The journal and the calendar server have tests of their own.)
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from showprep.season.own_files import STILL_WRITTEN_S
from tests.commands.test_option_storm import FILES, end_with, status_of
from tests.storms import storm

Folder = Callable[[Mapping[str, str | bytes]], Path]
KILLS = storm(2, 40)
ON = ("--on", "2027-05-01")
LATER = ("--on", "2027-05-03")
WRITERS: Mapping[str, tuple[str, ...]] = {
    "plan": ("plan", "SEASON", "--out", "OUT"),
    "page": ("page", "SEASON", "--to", "OUT/page.html"),
    "sheets": ("page", "SEASON", "--to", "OUT/sheets.html", "--sheets", "season"),
    "calendar": ("calendar", "SEASON", "--to", "OUT/koi.ics"),
}


def contents(*roots: Path) -> dict[str, bytes]:
    """Every file that is not the tool's own hidden one."""
    return {
        f"{root.name}/{path.relative_to(root)}": path.read_bytes()
        for root in roots
        for path in root.rglob("*")
        if path.is_file() and not any(part.startswith(".") for part in path.relative_to(root).parts)
    }


def left_over(*roots: Path) -> list[Path]:
    """What a killed run had not yet put in place."""
    return [path for root in roots for path in root.rglob(".*.showprep-*")]


def killed(words: list[str], after: float) -> None:
    """Run the command in a child process and kill it some seconds later."""
    child = os.fork()
    if child == 0:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        sys.stdout, sys.stderr = (os.fdopen(os.dup(nowhere), "w") for _ in range(2))
        end_with(words)
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork there")
@pytest.mark.parametrize("writer", WRITERS)
def test_what_is_killed_leaves_the_old_or_the_new(
    folder: Folder, tmp_path: Path, capsys: pytest.CaptureFixture[str], writer: str
) -> None:
    season, out = folder(dict(FILES)), tmp_path / "out"
    out.mkdir()
    words = [
        word.replace("SEASON", str(season)).replace("OUT", str(out)) for word in WRITERS[writer]
    ]
    assert status_of([*words, *ON]) == 0  # what is imported on first use is no part of a usual run
    began = time.perf_counter()
    assert status_of([*words, *ON]) == 0
    usual = time.perf_counter() - began
    capsys.readouterr()
    own = {name for name in contents(season) if "journal" not in name}
    chance = random.Random(writer)
    for number in range(KILLS):
        old = contents(season, out)
        killed([*words, *(LATER if number % 2 else ON)], chance.uniform(0.3, 1.3) * usual)
        now = contents(season, out)
        assert now.keys() >= old.keys()
        for name, data in now.items():
            whole = data[-200:].rstrip().endswith((b"</html>", b"END:VCALENDAR", b"}"))
            assert data == old.get(name) or (name not in own and whole), (name, data[-80:])
    for path in left_over(season, out):
        os.utime(path, times=(path.stat().st_atime, path.stat().st_mtime - 2 * STILL_WRITTEN_S))
    assert status_of([*words, *LATER]) == 0
    assert not [path for path in left_over(season, out) if path.parent == out]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork there")
def test_a_new_season_that_is_killed_is_whole_or_not_there(tmp_path: Path) -> None:
    status_of(["start", str(tmp_path / "first")])
    began = time.perf_counter()
    status_of(["start", str(tmp_path / "second")])
    usual = time.perf_counter() - began
    whole = contents(tmp_path / "second").keys()
    names = {name.partition("/")[2] for name in whole}
    chance = random.Random(1)
    for number in range(3 * KILLS):
        new = tmp_path / f"new-{number}"
        killed(["start", str(new)], chance.uniform(0, 1.5) * usual)
        left = {name.partition("/")[2] for name in contents(new)} if new.exists() else set()
        assert left in (set(), names)
        if not left:
            for path in left_over(tmp_path):
                os.utime(path, times=(0, 0))
            assert status_of(["start", str(new)]) == 0
            assert {name.partition("/")[2] for name in contents(new)} == names
            left_of_it = f".{new.name}."
            assert not [one for one in left_over(tmp_path) if one.name.startswith(left_of_it)]
