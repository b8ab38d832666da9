"""The season of docs/a-season-played-through.md, played command by command.

The page is the script: its files are written, its commands run in order, and each answer must be
the one that is printed there. With SHOWPREP_REWRITE=1 in the environment the answers on the page
are written anew instead; read them before they are kept.
"""

from __future__ import annotations

import os
import re
import shlex
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

from showprep.cli import app
from showprep.commands import note_options
from showprep.commands.faults import text_and_status
from showprep.planning.plan import Plan, Verdict
from showprep.planning.season_plan import make_plan
from showprep.season.reading import read_season

PAGE = Path(__file__).parent.parent / "docs" / "a-season-played-through.md"
FILE = re.compile(r"^`(yard/\w+\.yaml)`\n\n```yaml\n(.*?)^```$", re.MULTILINE | re.DOTALL)
BLOCK = re.compile(
    r"(?:^<!-- keep: (?P<keep>[^\n]*) -->\n)?^```console\n(?P<text>.*?)^```$",
    re.MULTILINE | re.DOTALL,
)


def last_day() -> date:
    """A clock that has all the season behind it."""
    return date(2027, 12, 31)


def answer(command: str) -> str:
    """What the program prints for one command line, faults included."""
    program, *arguments = shlex.split(command)
    assert program == "showprep"
    done = CliRunner().invoke(app, arguments)
    if isinstance(done.exception, Exception):
        return done.stdout + text_and_status(done.exception)[0] + "\n"
    assert done.exit_code == 0, done.output
    return done.stdout


def kept(text: str, keep: str | None) -> str:
    """The paragraphs that begin with one of the words; `...` for each run of others."""
    paragraphs = text.rstrip("\n").split("\n\n")
    words = tuple(word.strip() for word in (keep or "").split(";"))
    shown = [one if one.lstrip().startswith(words) else "..." for one in paragraphs]
    once = [one for at, one in enumerate(shown) if one != "..." or shown[at - 1 : at] != ["..."]]
    return "\n\n".join(once) + "\n"


def played(block: re.Match[str]) -> str:
    """The block with its commands' answers as they are now."""
    parts = [block["keep"] and f"<!-- keep: {block['keep']} -->\n", "```console\n"]
    for command in re.findall(r"^\$ (.*)$", block["text"], re.MULTILINE):
        lines = kept(answer(command), block["keep"]).splitlines()
        parts.append(f"$ {command}\n" + "".join(f"{line.rstrip()}\n" for line in lines))
    return "".join(part for part in parts if part) + "```"


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The folder after the whole page was played, and the page as it would read now."""
    page = PAGE.read_text(encoding="utf-8")
    root = tmp_path_factory.mktemp("played")
    (root / "yard").mkdir()
    for name, text in FILE.findall(page):
        (root / name).write_text(text, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(root)
        patch.setattr(note_options, "today", last_day)
        now = BLOCK.sub(played, page)
    if os.environ.get("SHOWPREP_REWRITE"):
        PAGE.write_text(now, encoding="utf-8")
    return root / "yard", now


def test_every_answer_is_the_one_on_the_page(season: tuple[Path, str]) -> None:
    page = PAGE.read_text(encoding="utf-8").splitlines()
    assert season[1].splitlines() == page


def plan_on(yard: Path, month: int, day: int) -> Plan:
    """The plan of a day, made afterwards: what is written later must not count."""
    on = date(2027, month, day)
    return make_plan(read_season(yard, on).season, on)


def of(plan: Plan, fish: str, show: str) -> Verdict:
    return next(one for one in plan.verdicts if (one.fish, one.show) == (fish, show))


ACCEPTABLE = [  # day, fish, show, verdict, goes: what a keeper would say on that day
    ((3, 20), "aoi", "larkfield", "ready-after-touch-up", True),
    ((3, 20), "benkei", "larkfield", "ready", True),
    ((3, 20), "sumire", "larkfield", "ready", False),
    ((5, 17), "aoi", "larkfield", "ready", True),
    ((6, 15), "aoi", "larkfield", "as-it-is", True),
    ((6, 15), "sumire", "larkfield", "ready", False),
    ((6, 20), "aoi", "larkfield", "tight", True),
    ((6, 20), "sumire", "larkfield", "ready", True),
    ((8, 7), "aoi", "otterby", "as-it-is", True),
    ((8, 14), "aoi", "otterby", "not-eligible", False),
    ((8, 14), "sumire", "otterby", "not-eligible", False),
]


@pytest.mark.parametrize(("day", "fish", "show", "verdict", "goes"), ACCEPTABLE)
def test_the_verdicts_are_a_keepers(
    season: tuple[Path, str],
    day: tuple[int, int],
    fish: str,
    show: str,
    verdict: str,
    goes: bool,
) -> None:
    found = of(plan_on(season[0], *day), fish, show)
    assert (found.verdict, found.entered) == (verdict, goes), found.reasons


def test_a_fish_that_is_sold_is_in_no_list(season: tuple[Path, str]) -> None:
    plan = plan_on(season[0], 6, 20)
    assert "benkei" not in {fish.id for fish in plan.fish}
    assert not [task for task in plan.tasks if "benkei" in task.fish]


def test_a_show_put_off_takes_its_chain_along(season: tuple[Path, str]) -> None:
    before, after = plan_on(season[0], 6, 15), plan_on(season[0], 6, 16)
    days: list[dict[str, date]] = [
        {task.kind: task.first_day for task in plan.tasks if task.show == "larkfield"}
        for plan in (before, after)
    ]
    for kind in ("departure", "arrive", "benching", "judging", "home-scrape", "write-up"):
        assert (days[1][kind] - days[0][kind]).days == 14


def test_what_is_late_says_what_that_costs(season: tuple[Path, str]) -> None:
    late = [task for task in plan_on(season[0], 5, 1).tasks if task.late]
    assert late and all(task.late_cost for task in late)
