"""The page of the worksheets names figures, keys and options that there are."""

from __future__ import annotations

import json
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from showprep.husbandry.figures import FIGURES

TEXT = (Path(__file__).resolve().parents[1] / "docs/worksheets.md").read_text("utf-8")
COMMANDS = [
    line.strip()
    for line in TEXT.splitlines()
    if line.startswith("    showprep") and "SEASON" not in line
]


def test_the_figures_named_in_the_tables_have_the_values_written_beside_them() -> None:
    rows = [line for line in TEXT.splitlines() if line.startswith("| ")]
    named = re.findall(r"`([a-z][a-z0-9_]+)` (?:a |fish )?([0-9][0-9.,]*)?", "\n".join(rows))
    known = [(name, value) for name, value in named if name in FIGURES]
    assert len(known) > 40
    unknown = {name for name, _ in named if name not in FIGURES}
    assert not unknown, unknown
    for name, value in known:
        if value:
            assert float(value.rstrip(".,")) == pytest.approx(FIGURES[name].typical), name


@pytest.mark.parametrize("command", COMMANDS)
def test_the_keys_named_are_those_printed(command: str) -> None:
    words = shlex.split(command)[1:]
    done = subprocess.run(
        [sys.executable, "-m", "showprep.cli", *words, "--json"],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    bath, rest = TEXT.split("## The bath")[1].split("## The bags")
    bags, rest = rest.split("## One blemish")
    section = {"bath": bath, "bags": bags}.get(words[0], rest)
    keys = json.loads(done.stdout)
    assert keys and all(f"`{key}`" in section for key in keys), [
        key for key in keys if f"`{key}`" not in section
    ]
