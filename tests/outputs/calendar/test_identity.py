"""The random id of a season: made once, in every job's name, kept by seasons of before."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace
from typer.testing import CliRunner

from showprep.cli import app
from showprep.outputs.calendar.export import export_calendar
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.season_identity import identity_of, known_identity
from showprep.outputs.failure import Failure

SAMPLE = Path(__file__).parents[3] / "samples" / "spring-circuit"
NOW = datetime(2027, 3, 20, tzinfo=UTC)
UID = re.compile(rb"\nUID:([0-9A-F-]{36})\r")


def copied(to: Path) -> Path:
    import shutil

    shutil.copytree(SAMPLE, to, ignore=shutil.ignore_patterns(".showprep"))
    return to


def uids(path: Path) -> set[bytes]:
    return set(UID.findall(path.read_bytes()))


def calendar_of(season: Path, *options: str) -> set[bytes]:
    to = season.parent / f"{season.name}.ics"
    done = CliRunner().invoke(
        app, ["calendar", str(season), "--to", str(to), "--on", "2027-03-20", *options]
    )
    assert done.exit_code == 0, done.output
    return uids(to)


def test_two_seasons_share_no_job_and_a_copied_folder_keeps_its_own(tmp_path: Path) -> None:
    import shutil

    one, other = copied(tmp_path / "one"), copied(tmp_path / "other")
    first = calendar_of(one)
    assert len(first) > 20
    assert not first & calendar_of(other)
    assert calendar_of(one) == first
    again = tmp_path / "elsewhere"
    shutil.copytree(one, again)
    assert calendar_of(again) == first
    fresh = calendar_of(again, "--new-identity")
    assert len(fresh) == len(first) and not fresh & first
    assert calendar_of(again) == fresh


def test_every_output_of_one_season_names_a_job_alike(tmp_path: Path) -> None:
    season, out = copied(tmp_path / "season"), tmp_path / "out"
    done = CliRunner().invoke(app, ["plan", str(season), "--out", str(out), "--on", "2027-03-20"])
    assert done.exit_code == 0, done.output
    found = uids(out / "subscribe.ics")
    assert found == uids(out / "import.ics") == calendar_of(season)


def test_a_calendar_of_before_is_taken_over_without_doubling(tmp_path: Path, build: Any) -> None:
    season = tmp_path / "season"
    season.mkdir()
    path = tmp_path / "koi.ics"
    plan = build.plan([build.task(1), build.task(2)])
    export_calendar(plan, path, now=NOW, purpose="import")  # as it was before identities
    before = uids(path)
    named = replace(plan, identity=identity_of(season, [tmp_path / "koi.ics.ledger.json"]))
    export_calendar(named, path, now=NOW, purpose="import")
    assert uids(path) == before
    assert identity_of(season) == ""  # for good, and for the other outputs too


def test_a_season_published_before_keeps_its_names(tmp_path: Path) -> None:
    (tmp_path / ".showprep").mkdir()
    (tmp_path / ".showprep" / "published-0123.ledger.json").write_text("{}")
    assert known_identity(tmp_path) == identity_of(tmp_path) == ""
    assert identity_of(tmp_path, new=True) != ""


def test_runs_at_one_time_get_one_identity(tmp_path: Path) -> None:
    with ThreadPoolExecutor(8) as pool:
        found = set(pool.map(lambda _: identity_of(tmp_path), range(32)))
    assert len(found) == 1
    assert re.fullmatch(r"[0-9a-f]{32}", found.pop())


def test_a_damaged_identity_is_refused(tmp_path: Path) -> None:
    made = identity_of(tmp_path)
    path = tmp_path / ".showprep" / "identity"
    path.write_text(made[:-1])
    with pytest.raises(Failure, match="damaged"):
        identity_of(tmp_path)


def test_only_showing_writes_nothing(tmp_path: Path) -> None:
    assert known_identity(tmp_path) != known_identity(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_the_identity_is_in_the_name() -> None:
    assert uid_of("larkfield/bag", "a") != uid_of("larkfield/bag", "b") != uid_of("larkfield/bag")
