"""What people expect of a command: its version, its help, and both ways to start it."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from typer.main import get_command
from typer.testing import CliRunner

import showprep
from showprep.cli import app, program_for

ROOT = Path(__file__).resolve().parent.parent.parent
COMMANDS = sorted(get_command(app).commands)  # type: ignore[attr-defined]


def printed(*words: str) -> str:
    done = CliRunner().invoke(app, words, env={"COLUMNS": "80"}, prog_name="showprep")
    assert done.exit_code == 0, done.output
    return done.output


def test_the_version_is_that_of_the_package() -> None:
    assert printed("--version") == f"showprep {showprep.__version__}\n"
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    assert "version" in project["project"]["dynamic"]
    assert project["tool"]["setuptools"]["dynamic"]["version"] == {"attr": "showprep.__version__"}
    changelog = (ROOT / "docs" / "changelog.md").read_text("utf-8")
    assert re.search(rf"^## {re.escape(showprep.__version__)}\b", changelog, re.MULTILINE)


@pytest.mark.parametrize("module", ["showprep", "showprep.cli"])
def test_the_package_is_a_program(module: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", module, "--version"],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    assert done.stdout == f"showprep {showprep.__version__}\n"


def test_every_command_has_a_whole_line_in_the_list() -> None:
    listed = printed("--help").split("Commands:\n")[1].splitlines()
    assert len(listed) == len(COMMANDS)
    for line in listed:
        assert line.endswith(".") and not line.endswith("..."), line


@pytest.mark.parametrize("command", [None, *COMMANDS])
def test_help_is_whole_at_80_columns(command: str | None) -> None:
    text = printed(*([command] if command else []), "--help")
    assert text.startswith(f"Usage: showprep {command or '[OPTIONS]'}")
    assert all(len(line) <= 80 for line in text.splitlines())
    assert "…" not in text


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_built_alone_is_the_same(command: str) -> None:
    """The program builds only what is asked for: all of them take longer than most run."""
    alone = program_for([command, "anything"])
    assert len(alone.registered_commands) == 1
    done = CliRunner().invoke(
        alone, [command, "--help"], env={"COLUMNS": "80"}, prog_name="showprep"
    )
    assert done.output == printed(command, "--help")


@pytest.mark.parametrize("words", [["-h"], ["--help"]])
def test_the_list_of_commands_is_the_same_without_their_options(words: list[str]) -> None:
    listing = program_for(words)
    assert listing is not app
    done, whole = (
        CliRunner().invoke(program, words, env={"COLUMNS": "80"}, prog_name="showprep")
        for program in (listing, app)
    )
    assert (done.output, done.exit_code) == (whole.output, whole.exit_code)
    assert all(f"  {command} " in done.output for command in COMMANDS)


@pytest.mark.parametrize("words", [[], ["--version"], ["plam", "here"], ["-q", "plan"]])
def test_all_are_built_for_anything_else(words: list[str]) -> None:
    assert program_for(words) is app


def test_the_package_says_what_it_is() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    for key in ("description", "readme", "license", "authors", "keywords", "classifiers"):
        assert project[key], key
    least = project["requires-python"].removeprefix(">=")
    assert f"Programming Language :: Python :: {least}" in project["classifiers"]
    assert "Typing :: Typed" in project["classifiers"]
    assert (ROOT / "showprep" / "py.typed").exists()


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_can_be_quiet(command: str) -> None:
    assert "-q, --quiet" in printed(command, "--help")


def test_a_quiet_command_prints_its_answer_alone(folder, tmp_path: Path) -> None:
    """Notes and confirmations go; what is asked for, and faults, are printed all the same."""
    yard = "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\n"
    fish = "aoi: {name: Aoi, variety: odd, lives_in: pond, merit: 80}\n"
    root = folder({"keeper.yaml": yard, "fish.yaml": fish})

    def both(*words: str) -> tuple[tuple[str, str], tuple[str, str]]:
        said = CliRunner().invoke(app, words)
        quiet = CliRunner().invoke(app, [*words, "-q"])
        assert (said.exit_code, quiet.exit_code) == (0, 0)
        return (said.stdout, said.stderr), (quiet.stdout, quiet.stderr)

    (said, notes), quiet = both("check", str(root), "--on", "2027-03-20")
    assert said.startswith("No faults") and "odd" in notes
    assert quiet == ("", "")
    (said, notes), quiet = both(
        "plan", str(root), "--on", "2027-03-20", "--out", str(tmp_path / "o")
    )
    assert quiet == (said, "") and notes
    (said, notes), quiet = both(
        "page", str(root), "--on", "2027-03-20", "--to", str(tmp_path / "p")
    )
    assert said and quiet == ("", "")
    (root / "fish.yaml").write_text("aoi: 3\n")
    done = CliRunner().invoke(app, ["check", str(root), "-q"])
    assert "fish.yaml:1:6" in str(done.exception)


def test_quiet_never_hides_what_a_note_means(folder) -> None:
    root = folder({"keeper.yaml": "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\n"})
    words = ["note", str(root), "--saw", "khv signs", "--water", "pond", "--quiet"]
    assert CliRunner().invoke(app, words).stdout.startswith("These may be signs of a notifiable")


@pytest.mark.parametrize("command", ["check", "plan"])
def test_quiet_never_hides_a_question(folder, command: str) -> None:
    """It may be a slip that makes a dose tenfold."""
    keeper = "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\ntouch_up: {strength_percent: 1}\n"
    root = folder({"keeper.yaml": keeper})
    done = CliRunner().invoke(app, [command, str(root), "--on", "2027-03-20", "-q"])
    assert done.exit_code == 0 and "keeper.yaml:3" in done.stderr and "as weak as 1" in done.stderr
