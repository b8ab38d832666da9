"""How quick the program is, as ratios from one run; nothing here is a test.

    python tests/bench/speed.py
    python tests/bench/speed.py --seed mine --yards 3

Prints the median processor time of `showprep --help` and of `showprep plan` on the smallest
sample against a bare typer program's; of `plan` with all costs and of `why` on invented yards,
fresh on every run unless `--seed` names them; and the time to read a season of 1,000 fish against
what PyYAML's own C safe loader takes for the same text. Processor time (user and system, all of a
process) changes little with other work on the machine. Every program measured may keep its compiled
modules, as an installed one has them: else each run would compile this one anew and not typer.
"""

from __future__ import annotations

import argparse
import os
import resource
import secrets
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from random import Random

ROOT = Path(__file__).resolve().parent.parent.parent
KEEPING = {key: to for key, to in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
RUNS = 9
YARDS = {(8, 3): 1.0, (30, 4): 3.0, (100, 6): 12.0}  # fish, shows: aim in seconds

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


MONTHS = (5.0, 5.5, 7.5, 10.5, 14.5, 18.0, 20.0, 19.5, 16.5, 12.5, 8.5, 6.0)
WHERE = {"shimi": "right flank", "lost-scale": "left flank", "split-fin": "right pectoral fin"}


def main() -> None:
    words = argparse.ArgumentParser(description="How quick the program is, as ratios.")
    words.add_argument("--seed", default=secrets.token_hex(4), help="names the yards")
    words.add_argument("--yards", type=int, default=2, help="how many of each size")
    asked = words.parse_args()
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
        print(f"yards of seed {asked.seed}:")
        for number in range(asked.yards):
            for size in YARDS:
                _yard(folder / f"{size[0]}x{size[1]}-{number}", size, asked.seed, bare)
        print(f"1,000 fish read against CSafeLoader:    {reading(folder):.2f} x (aim: at most 3)")


def _yard(folder: Path, size: tuple[int, int], seed: str, bare: list[str]) -> None:
    """One invented yard: `plan` with all costs, and `why` of its first fish beside `today`."""
    write_yard(folder, size, f"{seed}/{folder.name}")
    ours, on = [sys.executable, "-m", "showprep.cli"], ["--on", "2027-04-01"]
    plan = min(seconds([*ours, "plan", str(folder), *on]) for _ in range(2))
    without = min(seconds([*ours, "today", str(folder), *on]) for _ in range(2))
    why = min(seconds([*ours, "why", str(folder), "fish-000", "show-0", *on]) for _ in range(2))
    print(
        f"  plan {folder.name}: {plan:.2f} s (aim: {YARDS[size]:g}),"
        f" {plan / seconds([*bare, 'hello']):.1f} x a typer hello;"
        f" why {why / without:.2f} x today, which works out no costs (aim: at most 2)",
        flush=True,
    )


def write_yard(folder: Path, size: tuple[int, int], seed: str) -> None:
    """Write an invented season of so many fish and shows."""
    draw = Random(seed)
    ponds = [f"pond {number}" for number in range(size[0] // 25 + 2)]
    folder.mkdir()
    for name, lines in (
        ("keeper.yaml", _keeper(draw, ponds)),
        ("shows.yaml", _shows(draw, size[1])),
        ("fish.yaml", _fish(draw, ponds, size[0])),
    ):
        (folder / name).write_text("\n".join(lines) + "\n", encoding="utf-8")


def _keeper(draw: Random, ponds: list[str]) -> Iterator[str]:
    yield from ("time_zone: Europe/Dublin", "work_days: [saturday, sunday]", "waters:")
    for pond in ponds:
        warmer = draw.uniform(-1, 3)
        months = [round(month + warmer, 1) for month in MONTHS]
        yield f"  {pond}: {{litres: 30000, monthly_c: {months},"
        yield f"    readings_c: {{2027-03-20: {9.1 + warmer:.1f}}}}}"
    yield "  isolation vat: {litres: 3000, steady_c: 22}"
    yield "isolation: {water: isolation vat, holds: 8}"
    yield "touch_up: {by: keeper, law_checked: yes, law_country: Ireland, fish_per_day: 3,"
    yield "  bath_litres: 40, agent: clove oil, strength_percent: 10}"
    yield from ("carrying: {boxes: 6}", "preferences: {days_between_shows: 28}")


def _shows(draw: Random, shows: int) -> Iterator[str]:
    for number in range(shows):
        judging = date(2027, 5, 15) + timedelta(weeks=round(number * 18 / max(shows - 1, 1)))
        eve, closes = judging - timedelta(days=1), judging - timedelta(days=21)
        yield f"show-{number}:"
        yield f"  name: Show {number}"
        yield f"  judging: {judging} 10:00"
        yield f"  arrive: {{from: {eve} 13:00, to: {eve} 20:00}}"
        yield f"  check_out: {judging + timedelta(days=1)} 14:00"
        yield f"  entries_close: {closes}"
        yield f"  travel_hours: {draw.choice([1, 2.5, 4])}"
        yield f"  altered_fish: {draw.choice(['not stated', 'tolerated', 'excluded'])}"
        yield "  vats: own"
        yield "  water_c: 19"
        yield "  sizes: {unit: cm, upper: [25, 35, 45, 55, 65, 75], upper_included: yes}"
        yield f"  limits: {{fish: {draw.randint(4, 6)}, total_cm: {draw.choice([200, 250, 300])}}}"
        yield "  fee: 30"


def _fish(draw: Random, ponds: list[str], fish: int) -> Iterator[str]:
    kinds = ["shimi"] * 5 + ["lost-scale", "split-fin"]
    for number in range(fish):
        length = draw.uniform(25, 65)
        yield f"fish-{number:03d}:"
        yield f"  name: Fish {number}"
        yield f"  variety: {draw.choice(['kohaku', 'showa', 'goshiki', 'asagi', 'kujaku'])}"
        yield f"  born: {draw.randint(2020, 2024)}"
        yield f"  lives_in: {draw.choice(ponds)}"
        yield f"  merit: {draw.randint(55, 95)}"
        yield f"  lengths_cm: {{2026-09-20: {length - 1.5:.1f}, 2027-03-20: {length:.1f}}}"
        found = draw.choices(kinds, k=draw.choice([0, 1, 1, 2]))
        if found:
            yield "  defects:"
        for kind in found:
            lost = draw.randint(3, 10)
            seen = f"seen: 2027-03-{draw.randint(10, 20)}, merit_lost: {lost}"
            yield f"    - {{kind: {kind}, where: {WHERE[kind]}, {seen}}}"


def ratio(ours: list[str], theirs: list[str]) -> float:
    """Median of paired ratios, so that a busy machine slows both alike."""
    return statistics.median(seconds(ours) / seconds(theirs) for _ in range(RUNS))


def seconds(command: list[str]) -> float:
    """Processor time of a whole process [s]."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, check=True, capture_output=True, cwd=ROOT, env=KEEPING)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


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
