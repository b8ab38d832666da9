"""The ledger: never needed for a first calendar, lost without harm, torn by nothing."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.outputs.calendar.export import export_calendar, write_calendar
from showprep.outputs.calendar.ledger import ledger_path, minutes_since_2020
from showprep.planning.plan import Plan

DAY = timedelta(days=1)


def test_same_plan_and_ledger_give_the_same_bytes(
    two: tuple[Plan, Plan], path: Path, tmp_path: Path, now: Any
) -> None:
    (tmp_path / "other").mkdir()
    other = tmp_path / "other" / "koi.ics"
    for place, moment in ((path, now), (other, now + timedelta(hours=7))):
        for plan in two:
            export_calendar(plan, place, now=moment, purpose="import")
    assert path.read_bytes() == other.read_bytes()
    assert ledger_path(path).read_bytes() == ledger_path(other).read_bytes()


def test_a_ledger_copied_mixed_or_set_back_counts_as_lost(
    two: tuple[Plan, Plan], path: Path, tmp_path: Path, now: Any, build: Any
) -> None:
    """Its editions may be on phones already under other words: new ones are above them all."""
    export_calendar(two[0], path, now=now)
    first_ledger = ledger_path(path).read_bytes()
    copy = tmp_path / "copy.ics"
    copy.write_bytes(path.read_bytes())
    ledger_path(copy).write_bytes(first_ledger)
    assert "copied: it belongs to koi.ics" in export_calendar(two[1], copy, now=now).notes[0]
    export_calendar(two[1], path, now=now)
    seen = {uid: build.edition(event) for uid, event in build.events(path).items()}
    ledger_path(path).write_bytes(first_ledger)
    third = build.plan([build.task(1, note="third")])
    assert "another edition" in export_calendar(third, path, now=now).notes[0]
    assert build.edition(build.events(path)[build.uid(1)]) > seen[build.uid(1)]
    other = replace(third, identity="0" * 32)
    assert "another season" in export_calendar(other, path, now=now).notes[0]
    assert export_calendar(other, path, now=now).notes == ()


DAMAGE = {
    "missing": None,
    "empty": b"",
    "cut": b'{"ledger": 1, "check": "',
    "not JSON": b"\xff\xfe",
    "a list": b"[]",
    "deep": b"[" * 100_000,
    "another version": b'{"ledger": 2}',
    "a number": b"7",
}


@pytest.mark.parametrize("name", DAMAGE)
def test_a_lost_ledger_still_wins_and_is_told(
    name: str, two: tuple[Plan, Plan], path: Path, now: Any, build: Any
) -> None:
    export_calendar(two[0], path, now=now)
    for note in ("a", "b", "c"):
        export_calendar(build.plan([build.task(0, note=note)]), path, now=now)
    before = build.edition(build.events(path)[build.uid(0)])
    damage = DAMAGE[name]
    if damage is None:
        ledger_path(path).unlink()
    else:
        ledger_path(path).write_bytes(damage)
    later = now + DAY
    written = export_calendar(two[1], path, now=later)
    assert len(written.notes) == 1
    assert str(ledger_path(path)) in written.notes[0]
    for event in build.events(path).values():
        sequence, stamp = build.edition(event)
        assert sequence == minutes_since_2020(later) > 1_000_000
        assert stamp == later > before[1]
    again = export_calendar(two[1], path, now=later + DAY)
    assert again.notes == ()
    assert {build.edition(event)[1] for event in build.events(path).values()} == {later}
    # A job that was written before the loss and comes back after it must not look older.
    export_calendar(two[0], path, now=now)
    assert build.edition(build.events(path)[build.uid(2)]) >= (minutes_since_2020(later), later)


def test_a_ledger_lost_twice_on_a_day_of_many_changes(build: Any, path: Path, now: Any) -> None:
    """The calendar as it is tells how far sequences and stamps had got, however odd the clock."""
    seen = []
    for number in range(4):
        plan = build.plan([build.task(0, note=str(number))], planned_on=date(2027, 9, 1))
        if number % 2:
            ledger_path(path).unlink()
        export_calendar(plan, path, now=now - number * DAY)
        seen.append(build.edition(build.events(path)[build.uid(0)]))
    assert [one[0] for one in seen] == sorted({one[0] for one in seen})
    assert [one[1] for one in seen] == sorted({one[1] for one in seen})


def test_an_edited_ledger_is_not_trusted(
    two: tuple[Plan, Plan], path: Path, now: Any, build: Any
) -> None:
    export_calendar(two[0], path, now=now)
    body = json.loads(ledger_path(path).read_text())
    body["records"][build.uid(0)]["sequence"] = -5
    ledger_path(path).write_text(json.dumps(body))
    assert "damaged" in export_calendar(two[0], path, now=now).notes[0]


@pytest.mark.parametrize("point", ["save", "write_whole"])
def test_killed_between_ledger_and_calendar(
    point: str,
    two: tuple[Plan, Plan],
    path: Path,
    tmp_path: Path,
    now: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Run again, it writes what an undisturbed run would have written."""
    undisturbed = tmp_path / "undisturbed.ics"
    for place in (path, undisturbed):
        export_calendar(two[0], place, now=now)
    old = path.read_bytes()

    def killed(*arguments: Any, **options: Any) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch, pytest.raises(KeyboardInterrupt):
        patch.setattr(f"showprep.outputs.calendar.export.{point}", killed)
        export_calendar(two[1], path, now=now)
    assert path.read_bytes() == old
    for place in (path, undisturbed):
        export_calendar(two[1], place, now=now)
    assert path.read_bytes() == undisturbed.read_bytes()


RUN = """
import importlib.util, sys
from datetime import UTC, datetime
from pathlib import Path
spec = importlib.util.spec_from_file_location("builders", sys.argv[1])
builders = importlib.util.module_from_spec(spec)
sys.modules["builders"] = builders
spec.loader.exec_module(builders)
from showprep.outputs.calendar.export import export_calendar
for number in range(int(sys.argv[3]), int(sys.argv[4])):
    plan = builders.a_random_plan(number, 40, hostile=True)
    now = datetime(2027, 3, 1, 9, tzinfo=UTC)
    export_calendar(plan, Path(sys.argv[2]), now=now, purpose="import")
"""


def start(path: Path, first: int, last: int, **environment: str) -> subprocess.Popen[bytes]:
    builders = Path(__file__).with_name("conftest.py")
    command = [sys.executable, "-c", RUN, builders, path, str(first), str(last)]
    return subprocess.Popen(command, env={**os.environ, **environment})


def test_the_machine_makes_no_difference(tmp_path: Path) -> None:
    places = [tmp_path / str(number) / "koi.ics" for number in range(3)]
    machines = [
        {"TZ": "UTC", "LC_ALL": "C", "PYTHONHASHSEED": "1"},
        {"TZ": "Pacific/Auckland", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "2"},
        {"TZ": "America/St_Johns", "LANG": "tr_TR.UTF-8", "PYTHONHASHSEED": "random"},
    ]
    for place, machine in zip(places, machines, strict=True):
        place.parent.mkdir()
        assert start(place, 0, 2, **machine).wait() == 0
    assert len({place.read_bytes() for place in places}) == 1
    assert len({ledger_path(place).read_bytes() for place in places}) == 1


def test_two_runs_at_once_tear_nothing(path: Path, build: Any, now: Any) -> None:
    runs = [start(path, 0, 6), start(path, 6, 12)]
    assert [run.wait() for run in runs] == [0, 0]
    before = {name: build.edition(event) for name, event in build.events(path).items()}
    written = export_calendar(build.random_plan(12, 40, hostile=True), path, now=now)
    assert written.notes == ()
    # Both runs wrote all forty jobs each time: no edition of either was lost.
    assert max(sequence for sequence, _ in before.values()) >= 10
    assert {entry.name for entry in path.parent.iterdir()} == {path.name, ledger_path(path).name}


def test_golden_bytes(build: Any) -> None:
    """What is written changes only on purpose: phones take every change of bytes for news."""
    golden = Path(__file__).with_name("golden.ics")
    tasks = [build.task(0), build.timed(1), build.task(2, title="鯉; \\ 🐟, done", alarm=None)]
    assert write_calendar(build.plan(tasks)) == golden.read_bytes()
