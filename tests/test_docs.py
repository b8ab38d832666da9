"""The documents say what the program does."""

from __future__ import annotations

import importlib.util
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]


def test_the_page_of_figures_is_the_tables() -> None:
    spec = importlib.util.spec_from_file_location("figures_page", ROOT / "tests/figures_page.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    assert module.PAGE.read_text(encoding="utf-8") == module.page(), (
        "run python tests/figures_page.py"
    )


def showprep(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "showprep.cli", *words],
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_the_board_in_the_readme_is_what_is_printed() -> None:
    block = re.search(r"```text\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.S)
    assert block is not None
    printed = showprep("plan", "samples/spring-circuit", "--on", "2027-03-20").stdout
    board = "\n".join(line.rstrip() for line in printed.splitlines())
    parts = block[1].strip().split("\n…\n")
    assert board.startswith(parts[0])
    for part in parts:
        assert part in board, part


def test_the_readme_names_every_command() -> None:
    listed = showprep("--help").stdout.split("Commands:")[1]
    commands = re.findall(r"^  (\w+)", listed, re.M)
    text = (ROOT / "README.md").read_text("utf-8")
    assert len(commands) >= 8
    for command in commands:
        assert f"`{command}" in text, f"the README does not name {command}"


def sample_commands() -> list[str]:
    text = (ROOT / "samples/README.md").read_text("utf-8")
    return re.findall(r"`(showprep [^`]*)`", text)


@pytest.mark.parametrize("command", sample_commands())
def test_the_samples_commands_run(command: str) -> None:
    done = showprep(*shlex.split(command)[1:])
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    links = re.findall(r"\]\(([^)#]+)\)", page.read_text("utf-8"))
    for link in links:
        if "://" not in link:
            assert (page.parent / link).exists(), f"{page.name}: {link}"
