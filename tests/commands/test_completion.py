"""What a shell is offered: words of the season, and never more than words. All is invented."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

SEASON = {
    "keeper.yaml": "time_zone: UTC\nwaters: {garden pond: {steady_c: 18}, vat: {steady_c: 22}}\n",
    "shows.yaml": "elm: {name: Elm Park Open, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish/aoi.yaml": "name: Aoi\n",
    "fish/k1.yaml": "name: Große Grüne\n",
    "fish/evil.yaml": "name: '$(touch here)'\n",
    "fish/torn.yaml": "name: [\n",
}


def offered(season: Path, typed: str, shell: str = "bash") -> list[str]:
    words = f"showprep {typed.format(season=season)}"
    settings = {
        "_SHOWPREP_COMPLETE": f"complete_{shell}",
        "COMP_WORDS": words,
        "COMP_CWORD": str(len(words.split(" ")) - 1),
        "_TYPER_COMPLETE_ARGS": words,
    }
    done = subprocess.run(
        [sys.executable, "-m", "showprep"],
        env={**os.environ, **settings, "PYTHONUTF8": "1"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert done.stderr == ""
    return done.stdout.split()


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("why {season} ", ["aoi", "evil", "k1", "torn"]),
        ("why {season} G", ["Große-Grüne"]),
        ("why {season} aoi ", ["elm"]),
        ("why {season} aoi E", ["Elm-Park-Open"]),
        ("note {season} --to ", ["garden-pond", "vat"]),
        ("note {season} --saw off", ["off-food"]),
        ("note {season} --defect spl", ["split-fin"]),
        ("bags {season} --show ", ["elm"]),
        ("calendar {season} --fish a", ["aoi"]),
        ("why /nowhere ", []),
        ("summ", ["summary"]),
    ],
)
def test_words_of_the_season_are_offered(folder, typed: str, words: list[str]) -> None:
    assert offered(folder(SEASON), typed) == words


def test_what_a_file_holds_never_reaches_a_shell_as_a_command(folder) -> None:
    """zsh evaluates what it is given: names are offered as bare words beside their ids."""
    text = " ".join(offered(folder(SEASON), "why {season} ", "zsh"))
    assert '"evil":"touch here"' in text and "$" not in text


def test_what_is_offered_is_taken(folder) -> None:
    root = folder({name: SEASON[name] for name in ("keeper.yaml", "shows.yaml")})
    (root / "fish.yaml").write_text(
        "k1: {name: Große Grüne, variety: kohaku, lives_in: garden pond, merit: 80}\n", "utf-8"
    )
    words = ["note", str(root), "--fish", "Große-Grüne", "--saw", "off-food", "--quiet"]
    done = subprocess.run([sys.executable, "-m", "showprep", *words], capture_output=True)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert "saw: off food" in (root / "journal.yaml").read_text("utf-8")
