"""Which values to read again: those whose slip nothing would notice, and that moves something."""

from __future__ import annotations

import contextlib
import io
import json
import shutil
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from showprep.commands import check
from showprep.husbandry.reason import reason
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.slip_effects import weight_of
from showprep.season.yaml.slipped import slips_of

ON = date(2027, 5, 1)
SAMPLE = Path(__file__).parents[2] / "samples" / "first-show"
Folder = Callable[[Mapping[str, str | bytes]], Path]


def meant(text: str) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for one in slips_of(text):
        found.setdefault(one.written, set()).add(one.meant)
    return found


def test_the_slips_of_a_number_and_of_a_day() -> None:
    found = meant("litres: 28\nseen: 2027-04-03\njudging: 2027-06-12 10:00\nname: Aoi 2\n")
    # Digits turned round, the first one off, the point moved, US gallons taken for litres or back.
    assert found["28"] == {"82", "18", "38", "280", "2.8", "106", "7.397"}
    # Day and month, a month before and after; the 30th of April turned round.
    assert found["2027-04-03"] == {"2027-03-04", "2027-03-03", "2027-05-03", "2027-04-30"}
    assert "2027-12-06 10:00" in found["2027-06-12 10:00"]
    assert "Aoi 2" not in found


def test_nobody_writes_a_number_that_begins_with_0() -> None:
    found = meant("litres: 19\nfee: 1\nboxes: 10\n")
    assert found["19"] == {"91", "29", "190", "1.9", "71.92", "5.019"}
    assert "0" in found["1"] and "00" not in found["10"]


def test_of_two_slips_of_a_dose_the_greater_counts_more() -> None:
    tenfold = weight_of(reason("slip-dose", was=40.0, now=4.0))
    assert tenfold == weight_of(reason("slip-dose", was=4.0, now=40.0)) == pytest.approx(200)
    assert weight_of(reason("slip-dose", was=40.0, now=36.0)) < tenfold


def test_the_text_with_the_slip_is_the_file_but_for_the_value() -> None:
    text = "lengths_cm: {2026-09-20: 50.5}  # in a bowl\n"
    texts = {one.meant: one.text for one in slips_of(text)}
    assert texts["2026-10-20"] == "lengths_cm: {2026-10-20: 50.5}  # in a bowl\n"
    assert texts["505"] == "lengths_cm: {2026-09-20: 505}  # in a bowl\n"
    assert texts["19.88"] == "lengths_cm: {2026-09-20: 19.88}  # in a bowl\n"


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("slips") / "season"
    shutil.copytree(SAMPLE, root)
    return root


@pytest.fixture(scope="module")
def told(season: Path) -> dict[str, object]:
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        check.run(season, ON, as_json=True, slips=True)
    found: dict[str, object] = json.loads(out.getvalue())
    return found


def test_a_dose_comes_first(told: dict[str, object]) -> None:
    found = told["read_again"]
    assert isinstance(found, list) and len(found) == 5
    first = found[0]
    line = (SAMPLE / first["file"]).read_text("utf-8").splitlines()[first["line"] - 1]
    assert first["written"] in line
    assert first["effects"][0]["code"] == "slip-dose"
    assert {one["code"] for every in found for one in every["effects"]} >= {
        "slip-dose",
        "slip-verdict",
        "slip-touch-up",
    }


def test_each_effect_is_that_of_the_files_with_the_value_meant(
    folder: Folder, told: dict[str, object]
) -> None:
    from showprep.planning.season_plan import make_plan
    from showprep.season.reading import read_season

    found = told["read_again"]
    assert isinstance(found, list)
    before = make_plan(read_season(SAMPLE, ON).season, ON, costs=False)
    texts = {
        path.relative_to(SAMPLE).as_posix(): path.read_text("utf-8")
        for path in SAMPLE.rglob("*.yaml")
    }
    for one in found:
        lines = texts[one["file"]].splitlines(keepends=True)
        at, column = one["line"] - 1, one["column"] - 1
        end = column + len(one["written"])
        lines[at] = lines[at][:column] + one["meant"] + lines[at][end:]
        root = folder({**texts, one["file"]: "".join(lines)})
        plan = make_plan(read_season(root, ON).season, ON, costs=False)
        changed = {
            (old.fish, old.show)
            for old, new in zip(before.verdicts, plan.verdicts, strict=True)
            if (old.verdict, old.entered, old.touch_up and old.touch_up.day)
            != (new.verdict, new.entered, new.touch_up and new.touch_up.day)
        }
        said = {
            (effect["values"]["fish"], effect["values"]["show"])
            for effect in one["effects"]
            if effect["code"] != "slip-dose"
        }
        assert said == changed


def test_nothing_is_written_into_the_season(told: dict[str, object], season: Path) -> None:
    assert told["read_again"]
    left = {p.relative_to(season): p.read_text() for p in season.rglob("*") if p.is_file()}
    assert left == {p.relative_to(SAMPLE): p.read_text() for p in SAMPLE.rglob("*") if p.is_file()}


def test_what_is_printed() -> None:
    slip = next(one for one in slips_of("strength_percent: 10\n") if one.meant == "1")
    effects = (reason("slip-dose", was=4.0, now=40.0),) * 4
    found = [check.ReadAgain("keeper.yaml", slip, effects, 800.0)]
    lines = list(check._lines(Speaker("metric"), found, 20, 0))
    assert lines[:2] == ["Read this again:", "keeper.yaml:1: strength_percent: 10"]
    assert lines[2].endswith("If 1 was meant (decimal point):") and "1 more change" in lines[-1]
    assert len(lines) == 7
    assert len(list(check._lines(Speaker("metric"), [], 20, 0))) == 1
