"""What the commands say, and where their bytes go."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.commands import calendar as calendar_command
from showprep.commands import publish as publish_command
from showprep.outputs.calendar.editions import never_done
from showprep.outputs.calendar.export import write_calendar
from showprep.outputs.calendar.season_identity import identity_of
from showprep.outputs.failure import Failure
from showprep.outputs.server.password import VARIABLE
from showprep.outputs.server.publish import PublishReport
from showprep.outputs.server.steps import Comparison, ServerStep
from showprep.planning.plan import Plan
from tests.outputs.said import in_reasons


@pytest.fixture
def planned(build: Any, monkeypatch: pytest.MonkeyPatch) -> Any:
    plan = in_reasons(build.plan([build.task(0), build.timed(1)]))
    monkeypatch.setattr(calendar_command, "load_with_done", lambda season, on: (plan, never_done))
    return plan


@pytest.fixture(autouse=True)
def season(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty season's folder, which the commands are run in."""
    folder = tmp_path / "season"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


def named(plan: Plan, season: Path) -> Plan:
    """The plan with the identity that the command gave its season."""
    return replace(plan, identity=identity_of(season))


def run(now: Any, to: str, **changes: Any) -> None:
    values = {"season": Path(), "purpose": "subscribe", "show": None, "fish": None}
    calendar_command.run(**{**values, "to": to, "on": date(2027, 3, 1), "now": now, **changes})


def test_a_file_is_written_and_told(
    planned: Any, tmp_path: Path, season: Path, now: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "koi.ics"
    run(now, str(path))
    assert path.read_bytes() == write_calendar(named(planned, season))
    assert capsys.readouterr().out.startswith(f"2 jobs written to {path}.")
    (tmp_path / "koi.ics.ledger.json").write_text("")
    run(now, str(path), purpose="import")
    said = capsys.readouterr()
    assert "damaged" in said.err
    assert "calendar of its own" in said.out


def test_standard_output_gets_the_bytes_alone(
    planned: Any, season: Path, now: Any, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    run(now, "-")
    said = capfdbinary.readouterr()
    assert said.out == write_calendar(named(planned, season))
    assert b"Nothing is remembered" in said.err


def test_a_folder_is_no_file(planned: Any, tmp_path: Path, now: Any) -> None:
    with pytest.raises(Failure, match=r"koi\.ics") as caught:
        run(now, str(tmp_path))
    assert caught.value.status == 2


def test_what_would_change_is_shown_a_line_a_job() -> None:
    day = date(2027, 5, 1)
    steps = (
        ServerStep("keep", "A", "Same", day),
        ServerStep("leave", "B", "Mine", day, because="it was changed on a phone"),
        ServerStep("change", "C", "Moved", day),
        ServerStep("add", "D", "New", day),
        ServerStep("remove", "E", "Old", day),
    )
    lines = publish_command.lines(PublishReport(Comparison(steps, strangers=2, emptied=True), []))
    assert lines[0].startswith("None of the jobs")
    assert "Left alone: Mine, since it was changed on a phone" in lines[1]
    assert "--keep-plan B" in lines[2]
    assert lines[3:6] == [
        "Change    2027-05-01  Moved",
        "Add       2027-05-01  New",
        "Take off  2027-05-01  Old",
    ]
    assert lines[6] == "Unchanged: 1."
    assert "never touched: 2" in lines[7]


def test_publishing_needs_encryption_before_a_password_is_asked(
    tmp_path: Path, now: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(VARIABLE, "pond water")
    with pytest.raises(Failure, match="https") as caught:
        publish_command.run(
            season=tmp_path,
            url="http://calendar.example/koi/",
            user="hana",
            go=True,
            overwrite=False,
            keep_password=False,
            on=date(2027, 3, 1),
            now=now,
        )
    assert caught.value.status == 2
