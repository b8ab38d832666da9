"""A whole season planned: what the samples say, one colder water, ids, JSON, the same bytes."""

from __future__ import annotations

import itertools
import json
import os
import re
import shutil
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.json_plan import plan_text
from showprep.planning.plan import Plan, Task, Verdict
from showprep.planning.season_plan import make_plan
from showprep.season.reading import read_season

SAMPLES = Path(__file__).parents[2] / "samples"
DAYS = {
    "first-show": date(2027, 5, 1),
    "spring-circuit": date(2027, 3, 20),
    "cold-pond": date(2027, 4, 11),
}


def planned(name: str, folder: Path | None = None) -> Plan:
    on = DAYS[name]
    return make_plan(read_season(folder or SAMPLES / name, on).season, on, name)


@pytest.fixture(scope="module")
def plans() -> dict[str, Plan]:
    return {name: planned(name) for name in DAYS}


def one(plan: Plan, fish: str, show: str) -> Verdict:
    return next(v for v in plan.verdicts if (v.fish, v.show) == (fish, show))


def jobs(plan: Plan, kind: str) -> list[Task]:
    return [task for task in plan.tasks if task.kind == kind]


def test_first_show_says_what_its_readme_promises(plans: dict[str, Plan]) -> None:
    plan = plans["first-show"]
    aoi, hana = one(plan, "aoi", "larkfield"), one(plan, "hana", "larkfield")
    assert (aoi.verdict, aoi.entered) == ("ready-after-touch-up", True)
    assert (hana.verdict, hana.entered, hana.merit) == ("ready", True, 74)
    assert aoi.touch_up is not None
    assert aoi.touch_up.day == date(2027, 6, 19)  # four weeks before, nearly
    assert not any(task.late for task in plan.tasks)
    assert not any(warning.level == "stop" for warning in plan.warnings)


def test_spring_circuit_has_more_wishes_than_boxes(plans: dict[str, Plan]) -> None:
    plan = plans["spring-circuit"]
    assert all(len(show.entered) <= 3 for show in plan.shows)
    assert plan.choice.proven
    showable = [v for v in plan.verdicts if v.merit is not None]
    assert len(showable) > sum(len(show.entered) for show in plan.shows)
    for fish in plan.fish:
        days = [show for show in plan.shows if fish.id in show.entered]
        for first, second in itertools.pairwise(days):
            assert (second.departure.date() - first.home.date()).days >= 42


def test_cold_pond_has_a_wound_too_late_and_a_speck_better_left(plans: dict[str, Plan]) -> None:
    plan = plans["cold-pond"]
    isamu, nami = one(plan, "isamu", "saltmarsh"), one(plan, "nami", "saltmarsh")
    assert (isamu.verdict, isamu.entered) == ("too-late", False)
    assert isamu.first_day is not None
    assert isamu.first_day > date(2027, 5, 7)
    assert (nami.verdict, nami.entered) == ("as-it-is", True)
    assert nami.touch_up is not None
    assert (nami.touch_up.earliest, nami.touch_up.best) == (None, None)
    assert max(one.both for one in nami.touch_up.curve) < 0.2  # 9 to 11 °C, 18 days to benching
    assert jobs(plan, "touch-up") == []


@pytest.mark.parametrize("name", DAYS)
def test_no_touch_up_without_an_entry_a_fast_and_two_looks(
    plans: dict[str, Plan], name: str
) -> None:
    plan = plans[name]
    for session in jobs(plan, "touch-up"):
        anchor = session.id.removeprefix("touch-up/")
        by_id = {task.id: task for task in plan.tasks}
        assert {f"look-back-1/{anchor}", f"look-back-2/{anchor}"} <= set(by_id)
        fasts = [task for task in jobs(plan, "unfed-before-touch-up") if anchor in task.id]
        assert fasts
        assert all(fast.day_after == session.start for fast in fasts)
        for fish in session.fish:
            mine = [v for v in plan.verdicts if v.fish == fish and v.entered]
            wanted = [v for v in mine if v.touch_up and v.touch_up.day == session.start]
            assert wanted, (session.id, fish)


@pytest.mark.parametrize("name", DAYS)
def test_a_fish_is_never_asked_for_in_two_places(plans: dict[str, Plan], name: str) -> None:
    plan = plans[name]
    for apart in jobs(plan, "isolation"):
        for other in plan.tasks:
            overlaps = apart.first_day <= other.first_day <= apart.last_day
            elsewhere = other.show != apart.show or other.kind == "touch-up"
            if other.kind in ("touch-up", "departure", "bag") and overlaps and elsewhere:
                assert not set(other.fish) & set(apart.fish), (apart.id, other.id)


@pytest.mark.parametrize("name", DAYS)
def test_a_water_is_told_one_thing_about_feed_at_a_time(plans: dict[str, Plan], name: str) -> None:
    plan = plans[name]
    fasts = jobs(plan, "stop-feeding")
    feeds = ("feed-half", "feed-quarter", "pond-eats-again")
    for fast in fasts:
        for task in plan.tasks:
            if task.kind in feeds and task.water == fast.water:
                assert not fast.first_day <= task.first_day <= fast.last_day, (fast.id, task.id)


@pytest.mark.parametrize("name", DAYS)
def test_ids_are_unique_and_say_neither_day_nor_name(plans: dict[str, Plan], name: str) -> None:
    plan = plans[name]
    ids = [task.id for task in plan.tasks]
    assert len(ids) == len(set(ids))
    names = [fish.name for fish in plan.fish] + [show.name for show in plan.shows]
    for task_id in ids:
        assert re.fullmatch(r"[a-z0-9/-]+", task_id), task_id
        assert not re.search(r"\d\d", task_id), task_id
        assert not any(each in task_id for each in names), task_id


@pytest.mark.parametrize("name", DAYS)
def test_every_job_stands_in_its_order_with_its_words(plans: dict[str, Plan], name: str) -> None:
    plan = plans[name]
    assert [task.first_day for task in plan.tasks] == sorted(t.first_day for t in plan.tasks)
    here, shows = {fish.id for fish in plan.fish}, {show.id for show in plan.shows}
    for task in plan.tasks:
        assert set(task.fish) <= here
        assert task.show is None or task.show in shows
        assert task.start <= task.end  # type: ignore[operator]
        assert task.late == (task.late_cost is not None)
        if not task.all_day:
            assert task.time_zone


@pytest.mark.parametrize("name", DAYS)
def test_on_a_later_day_the_ids_stay(plans: dict[str, Plan], name: str) -> None:
    before = {task.id for task in plans[name].tasks}
    on = DAYS[name] + timedelta(days=3)
    plan = make_plan(read_season(SAMPLES / name, on).season, on, name)
    assert {task.id for task in plan.tasks} <= before


def test_one_water_five_degrees_colder(plans: dict[str, Plan], tmp_path: Path) -> None:
    """The garden pond 5 °C colder: touch-up days move earlier, and verdicts turn."""
    folder = tmp_path / "spring-circuit"
    shutil.copytree(SAMPLES / "spring-circuit", folder)
    path = folder / "keeper.yaml"
    text = path.read_text("utf-8")

    def colder(found: re.Match[str]) -> str:
        return f"{float(found[0]) - 5:.1f}"

    lines = [
        re.sub(r"(?<=[ \[])\d+\.\d", colder, line)
        if "monthly_c" in line or "readings_c" in line
        else line
        for line in text.splitlines()
    ]
    path.write_text("\n".join(lines), "utf-8")
    warm, cold = plans["spring-circuit"], planned("spring-circuit", folder)
    turned = []
    for before in warm.verdicts:
        after = one(cold, before.fish, before.show)
        if before.verdict != after.verdict:
            turned.append((before.fish, before.show))
        if before.touch_up is None:
            continue
        if before.fish == "fumi":  # in the koi house, which is as warm as before
            assert after.touch_up is not None
            assert after.touch_up.latest == before.touch_up.latest
        else:
            assert after.touch_up is not None
            assert after.touch_up.latest is None or after.touch_up.latest < before.touch_up.latest
    assert turned
    assert not any(fish in ("fumi", "koharu", "momo") for fish, _ in turned)


KEYS = {
    "": "season planned_on verdicts tasks warnings asks presumed_gone presumed_forms"
    " healed_in choice format",
    "verdicts": "fish show verdict entered merit reasons chance_clean chance_closed touch_up"
    " healing length_cm size_class",
    "touch_up": "earliest latest best day water chance_healed chance_not_back",
    "healing": "defect milestone usual_on high_on short_days",
    "length_cm": "expected low high",
    "size_class": "expected possible",
    "reasons": "code values text",
    "tasks": "id kind code values title fish show water start end all_day late cautions late_cost"
    " note counts_from",
    **dict.fromkeys(
        ("cautions", "late_cost", "note", "counts_from", "because"), "code values text"
    ),
    "warnings": "level code values text fish show",
    "choice": "merit worth bound proven left_out entries prices reserves",
    "left_out": "fish show cost at_most because",
    "entries": "fish show merit share counts worth touch_up touch_up_gains",
    "prices": "worth_showing touch_up session same_class_share journeys",
    "journeys": "show price a_fish",
    "reserves": "show fish",
}


def test_the_keys_of_the_json(plans: dict[str, Plan]) -> None:
    seen: dict[str, set[str]] = {}

    def walk(value: Any, name: str) -> None:
        if isinstance(value, dict):
            assert " ".join(value) == KEYS[name], name
            seen.setdefault(name, set()).update(value)
            for key, inner in value.items():
                by_name = ("presumed_gone", "presumed_forms", "healed_in")
                if key not in ("values", *by_name):  # by a reason's code, by show or fish
                    walk(inner, key)
        elif isinstance(value, list):
            for inner in value:
                walk(inner, name)

    for plan in plans.values():
        walk(json.loads(plan_text(plan)), "")
    assert set(seen) == set(KEYS)


def run_plan(folder: Path, name: str, **environment: str) -> bytes:
    program = "from showprep.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", program, "plan", str(folder), "--on", str(DAYS[name]), "--json"],
        capture_output=True,
        check=True,
        timeout=120,
        env={**os.environ, **environment},
    )
    return done.stdout


def test_the_same_bytes_whatever_the_machine(tmp_path: Path) -> None:
    name = "spring-circuit"
    first = run_plan(SAMPLES / name, name, TZ="UTC", LC_ALL="C", PYTHONHASHSEED="1")
    assert json.loads(first)["season"] == name
    shuffled = tmp_path / name
    shutil.copytree(SAMPLES / name, shuffled)
    blocks = (shuffled / "fish.yaml").read_text("utf-8").strip().split("\n\n")
    (shuffled / "fish.yaml").write_text("\n\n".join(reversed(blocks)) + "\n", "utf-8")
    shows = (shuffled / "shows.yaml").read_text("utf-8").strip().split("\n\n")
    (shuffled / "shows.yaml").write_text("\n\n".join(reversed(shows)) + "\n", "utf-8")
    second = run_plan(
        shuffled, name, TZ="Pacific/Auckland", LC_ALL="tr_TR.UTF-8", PYTHONHASHSEED="7"
    )
    assert first == second


def test_no_shows_and_no_fish(written: Any) -> None:
    written.shows = ""
    plan = written.plan(date(2027, 3, 1))
    assert (plan.verdicts, plan.tasks, plan.shows) == ((), (), ())
    assert [fish.id for fish in plan.fish] == ["aoi"]


def test_no_fish(written: Any) -> None:
    written.fish = ""
    plan = written.plan(date(2027, 3, 1))
    assert (plan.verdicts, plan.tasks, plan.fish) == ((), (), ())
    assert [show.entered for show in plan.shows] == [()]


def test_a_fish_sold_is_not_planned(written: Any) -> None:
    written.noted("on: 2027-03-05, did: sold, fish: aoi")
    assert written.plan(date(2027, 3, 5)).fish == ()


def test_a_plan_is_frozen() -> None:
    assert Plan.__struct_config__.frozen
    with pytest.raises(AttributeError):
        planned("first-show").season = "other"  # type: ignore[misc]
