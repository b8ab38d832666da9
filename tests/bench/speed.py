"""How quick the program is, as ratios from one run; nothing here is a test.

    python tests/bench/speed.py

Prints the median whole-process time of `showprep --help` and of `showprep plan` on the smallest
sample against a bare typer program's, and the time to read a season of 1,000 fish against what
PyYAML's own C safe loader takes for the same text.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
RUNS = 15

HELLO = """
import typer
app = typer.Typer(rich_markup_mode=None, add_completion=False)
@app.command()
def hello(name: str = "pond") -> None:
    print(f"hello {name}")
@app.command()
def other() -> None:
    pass
app()
"""

FISH = """
{id}:
  name: Fish {number}
  variety: kohaku
  sex: female
  born: 2022
  lives_in: pond
  merit: {merit}
  lengths_cm: {{2026-09-20: 48.5, 2027-03-20: 50.0}}
  defects:
    - {{kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-20, merit_lost: 6}}
"""


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        hello = folder / "hello.py"
        hello.write_text(HELLO, encoding="utf-8")
        ours = [sys.executable, "-m", "showprep.cli"]
        sample = [*ours, "plan", str(ROOT / "samples/first-show"), "--on", "2027-05-01"]
        bare = [sys.executable, str(hello)]
        help_ratio = ratio([*ours, "--help"], [*bare, "--help"])
        plan_ratio = ratio(sample, [*bare, "hello"])
        print(f"--help against a bare typer --help:     {help_ratio:.2f} x (aim: at most 1.5)")
        print(f"plan first-show against a typer hello:  {plan_ratio:.2f} x (aim: at most 3)")
        print(f"1,000 fish read against CSafeLoader:    {reading(folder):.2f} x (aim: at most 3)")


def ratio(ours: list[str], theirs: list[str]) -> float:
    """Median of paired ratios, so that a busy machine slows both alike."""
    return statistics.median(seconds(ours) / seconds(theirs) for _ in range(RUNS))


def seconds(command: list[str]) -> float:
    began = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, cwd=ROOT)
    return time.perf_counter() - began


def reading(folder: Path) -> float:
    import yaml

    from showprep.season.reading import read_season

    season = folder / "season"
    season.mkdir()
    (season / "keeper.yaml").write_text(
        "time_zone: UTC\nwaters: {pond: {steady_c: 20}}\n", encoding="utf-8"
    )
    (season / "shows.yaml").write_text("{}\n", encoding="utf-8")
    text = "".join(
        FISH.format(id=f"fish-{number}", number=number, merit=50 + number % 50)
        for number in range(1000)
    )
    (season / "fish.yaml").write_text(text, encoding="utf-8")
    safe: Callable[[], object] = lambda: yaml.load(text, Loader=yaml.CSafeLoader)  # noqa: E731
    ours: Callable[[], object] = lambda: read_season(season, date(2027, 4, 1))  # noqa: E731
    return statistics.median(call_seconds(ours) / call_seconds(safe) for _ in range(5))


def call_seconds(call: Callable[[], object]) -> float:
    began = time.perf_counter()
    call()
    return time.perf_counter() - began


if __name__ == "__main__":
    main()
