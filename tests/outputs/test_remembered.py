"""The last plan in the season's folder: only one of an earlier day counts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from showprep.outputs.remembered import remember, remembered
from showprep.planning.plan import Choice, Plan

DAY = date(2027, 5, 10)
PLAN = Plan("s", DAY, "UTC", "metric", (), (), (), (), (), (), Choice(0, True, (), ()))


def on(day: int) -> Plan:
    return replace(PLAN, planned_on=date(2027, 5, day))


def known(folder: Path, day: int) -> int | None:
    found = remembered(folder, date(2027, 5, day))
    return found.planned_on.day if found is not None else None


def test_two_runs_on_one_day_know_the_same(tmp_path: Path) -> None:
    assert known(tmp_path, 10) is None
    remember(tmp_path, on(8))
    remember(tmp_path, on(10))
    assert known(tmp_path, 10) == 8
    remember(tmp_path, on(10))
    assert known(tmp_path, 10) == 8
    assert known(tmp_path, 11) == 10


def test_a_plan_for_a_day_long_past_is_not_kept(tmp_path: Path) -> None:
    remember(tmp_path, on(10))
    remember(tmp_path, on(3))
    assert known(tmp_path, 12) == 10
    assert known(tmp_path, 5) is None


def test_a_damaged_one_is_as_none(
    tmp_path: Path, folder: Callable[[Mapping[str, str | bytes]], Path]
) -> None:
    season = folder({".showprep/plan.json": "{", ".showprep/plan-before.json": b"\xff"})
    assert known(season, 12) is None
    remember(season, on(10))
    assert known(season, 12) == 10
