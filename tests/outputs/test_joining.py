"""Wherever a fish is said to join the others again, a reader is told what that does not say."""

from __future__ import annotations

import html
import json
import re
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from showprep.cli import app

ROOT = Path(__file__).resolve().parent.parent.parent
SAMPLE = ROOT / "samples" / "first-show"
ON = ("--on", "2027-05-01")
# Sunarto et al. 2014 and Eide et al. 2011, on carriers; Commission Implementing Decision (EU)
# 2015/1554, on the hours of sampling.
TOLD = (
    "can carry it for life and look well",
    "lowers the risk, not to nothing",
    "24 to 72 hours after netting",
    "not found does not mean that the fish is free",
)


def printed(*words: str) -> str:
    done = CliRunner().invoke(app, list(words))
    assert done.exit_code == 0, done.output
    return " ".join(done.stdout.split())


@pytest.fixture(scope="module")
def out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("joining")
    shutil.copytree(SAMPLE, root / "season")  # a season that is written out remembers it
    printed("plan", str(root / "season"), *ON, "--out", str(root / "out"))
    return root / "out"


@pytest.mark.parametrize("name", ["subscribe.ics", "import.ics"])
def test_the_calendars_say_it(out: Path, name: str) -> None:
    text = re.sub(r"\r\n[ \t]", "", (out / name).read_bytes().decode())  # RFC 5545 §3.1
    events = [one for one in text.split("BEGIN:VEVENT") if "May join the others" in one]
    assert len(events) == 1
    told = events[0].replace("\\,", ",").replace("\\;", ";")
    assert all(words in told for words in TOLD), told


def test_the_page_says_it(out: Path) -> None:
    page = " ".join(html.unescape((out / "page.html").read_text("utf-8")).split())
    assert "May join the others" in page
    assert all(words in page for words in TOLD)


def test_the_plan_as_json_says_it(out: Path) -> None:
    tasks = json.loads((out / "plan.json").read_text("utf-8"))["tasks"]
    told = [task for task in tasks if task["kind"] == "isolation-clear"]
    assert len(told) == 1
    cautions = " ".join(one["text"] for one in told[0]["cautions"])
    assert all(words in cautions for words in TOLD)


def test_why_says_it_of_a_fish_that_goes(out: Path) -> None:
    verdicts = json.loads((out / "plan.json").read_text("utf-8"))["verdicts"]
    for one in verdicts:
        told = printed("why", str(SAMPLE), one["fish"], one["show"], *ON)
        assert ("When it is home again" in told) is one["entered"]
        assert all((words in told) is one["entered"] for words in TOLD)
    assert any(one["entered"] for one in verdicts)
