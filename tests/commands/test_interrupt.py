"""Ctrl-C at any moment of a real process: the best plan so far, or "no plan yet"; status 1."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.storms import storm

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
import sys
from showprep.cli import main
print("begun", file=sys.stderr, flush=True)
main()
"""
MOMENTS = storm(3, 20)


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A yard large enough that choosing and its costs take a while: 24 fish, 5 shows."""
    folder = tmp_path_factory.mktemp("interrupt") / "yard"
    folder.mkdir()
    (folder / "keeper.yaml").write_text(
        "time_zone: Europe/Dublin\nwork_days: [saturday, sunday]\nwaters:\n"
        "  pond: {litres: 30000, steady_c: 20}\n  vat: {litres: 2000, steady_c: 22}\n"
        "isolation: {water: vat, holds: 6}\n"
        "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, bath_litres: 30,\n"
        "  strength_percent: 10}\n"
        "carrying: {boxes: 4}\npreferences: {days_between_shows: 14, fees_at_most: 300}\n",
        "utf-8",
    )
    shows = [
        f"show{at}:\n  name: Show {at}\n  judging: 2027-0{5 + at}-15 10:00\n  travel_hours: 2\n"
        f"  fee: {20 + at}\n  fee_per_fish: {7 + at}\n  limits: {{total_cm: {181 + 7 * at}}}\n"
        for at in range(5)
    ]
    (folder / "shows.yaml").write_text("\n".join(shows), "utf-8")
    varieties = ("kohaku", "sanke", "showa")
    fish = [
        f"fish{at}:\n  name: Fish {at}\n  variety: {varieties[at % 3]}\n  sex: female\n"
        f"  born: 2023\n  lives_in: pond\n  merit: {60 + at * 7 % 31}\n"
        f"  lengths_cm: {{2027-03-01: {35 + at * 11 % 29}}}\n"
        + (
            f"  defects:\n  - {{kind: shimi, where: left shoulder, size_mm: 2, "
            f"seen: 2027-03-01, merit_lost: {4 + at % 9}}}\n"
            if at % 2
            else ""
        )
        for at in range(24)
    ]
    (folder / "fish.yaml").write_text("\n".join(fish), "utf-8")
    return folder


def begun(yard: Path, *more: str) -> subprocess.Popen[str]:
    """The program, past the loading of its own command line."""
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, "plan", str(yard), "--on", "2027-03-20", "--full", *more],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "100"},
    )
    assert process.stderr is not None
    assert process.stderr.readline() == "begun\n"
    return process


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT to one process there")
def test_at_any_moment(yard: Path) -> None:
    began = time.monotonic()
    whole, faults = begun(yard).communicate(timeout=120)
    lasts = time.monotonic() - began
    assert "proven best" in whole
    assert faults == ""
    seen = set()
    for number in range(2 * MOMENTS):
        if number >= MOMENTS and {"no plan yet", "told"} <= seen:
            break  # a busy machine may need a second round to be met while it chooses
        moment = number % MOMENTS
        process = begun(yard)
        time.sleep(lasts * ((moment + 0.5) / MOMENTS) ** 2 * 0.8)  # more of them early
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=120)
        assert "Traceback" not in err
        assert "terminate" not in err
        if process.returncode == 0:  # it was done, or as good as
            assert out == whole
            continue
        assert process.returncode == 1, (moment, process.returncode, err)
        if not out:
            assert "no plan yet" in err
            seen.add("no plan yet")
            continue
        assert "Choice: " in out
        assert out.endswith(whole[-200:])  # told to its end
        told = "stopped before the end" in " ".join(out.split())
        seen.add("told" if told else "whole")
        assert told or out == whole
    assert "no plan yet" in seen
    assert "told" in seen


@pytest.mark.skipif(os.name == "nt", reason="no SIGINT to one process there")
def test_json_is_whole_too(yard: Path) -> None:
    process = begun(yard, "--json")
    time.sleep(1.0)
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=120)
    assert process.returncode in (0, 1)
    assert "Traceback" not in err
    assert not out or json.loads(out)["season"] == "yard"
