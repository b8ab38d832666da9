"""docs/python.md: its examples run, and what it promises holds."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

import showprep
from showprep.cli import app
from tests.test_house import HEAVY

ROOT = Path(__file__).resolve().parent.parent
PAGE = (ROOT / "docs" / "python.md").read_text("utf-8")
SAMPLE, ON = ROOT / "samples" / "first-show", date(2027, 5, 1)


def test_the_examples_run_one_after_the_other(monkeypatch, capsys) -> None:
    monkeypatch.chdir(ROOT)
    names: dict[str, object] = {}
    blocks = re.findall(r"```python\n(.*?)```", PAGE, re.S)
    assert len(blocks) >= 4
    for block in blocks:
        exec(compile(block, "docs/python.md", "exec"), names)
    printed = capsys.readouterr().out.splitlines()
    assert printed[0] == showprep.__version__
    assert "Aoi" in printed[1]
    assert any(line.startswith("no-such-folder") for line in printed)


def test_the_plan_is_that_of_the_command() -> None:
    plan = showprep.plan(str(SAMPLE), ON)
    printed = CliRunner().invoke(app, ["plan", str(SAMPLE), "--on", ON.isoformat(), "--json"])
    assert showprep.as_json(plan) == json.loads(printed.stdout)


def test_every_name_offered_is_on_the_page() -> None:
    for name in showprep.__all__:
        assert f"showprep.{name}" in PAGE, name
    assert {*re.findall(r"showprep\.(\w+)", PAGE)} <= {*showprep.__all__}


def test_the_import_is_light() -> None:
    program = "import sys, showprep; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT
    )
    loaded = {*done.stdout.split()}
    assert not {*HEAVY, "typer", "showprep.cli", "showprep.planning"} & loaded


@pytest.mark.parametrize(
    ("words", "keys"),
    [
        (["today", str(SAMPLE)], "`today --json`"),
        (["check", str(SAMPLE)], "`check --json`"),
        (["summary", str(SAMPLE)], "`summary --json`"),
        (["plan", str(SAMPLE)], "`plan --json`, `plan.json`"),
        (["why", str(SAMPLE), "aoi", "larkfield"], "`why --json`"),
    ],
)
def test_the_json_has_its_format_and_the_keys_of_the_page(words: list[str], keys: str) -> None:
    printed = CliRunner().invoke(app, [*words, "--on", ON.isoformat(), "--json"])
    told = json.loads(printed.stdout)
    row = re.search(rf"^\| {re.escape(keys)} \| (\d) \| (.*) \|$", PAGE, re.M)
    assert row is not None
    assert told["format"] == int(row[1])
    if words[0] not in ("plan", "why"):
        named = {*re.findall(r"`(\w+)`", row[2])}
        assert {*told} - {"format"} <= named
