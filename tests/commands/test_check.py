"""`check` and the options that all commands share."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest
import typer

from showprep.commands.check import run
from showprep.commands.options import day_on

Folder = Callable[[Mapping[str, str | bytes]], Path]
FILES = {
    "keeper.yaml": "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\n",
    "shows.yaml": "elm: {name: Elm, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish.yaml": "aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80}\n",
    "journal.yaml": "- {on: 2027-03-01, fish: aoi, saw: spawned}\n",
}


def test_counts_in_words(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    run(folder(FILES), date(2027, 3, 20), as_json=False)
    assert capsys.readouterr().out == "No faults: 1 show, 1 fish, 1 entry in the journal.\n"


def test_the_day_of_a_plan_is_of_our_time() -> None:
    assert day_on("2027-03-20") == date(2027, 3, 20)
    for wrong in ("2027-02-29", "x", "9999-12-31", "0001-01-01"):
        with pytest.raises(typer.BadParameter):
            day_on(wrong)


def test_an_earlier_plan_that_never_ends_is_not_read(folder: Folder) -> None:
    words = ["plan", str(folder(FILES)), "--on", "2027-03-20", "--since", "/dev/zero"]
    done = subprocess.run(
        [sys.executable, "-m", "showprep.cli", *words],
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (
        2,
        "/dev/zero is not a plan.json that can be read.\n",
    )
