"""The touch-up session on the page beside the pond: no amount before a second person's check."""

from __future__ import annotations

import json
import re
import shutil
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from showprep.commands.pondside import Pond
from showprep.outputs.home.pond_memory import PondMemory
from showprep.outputs.home.pond_server import Tap, read_bath

DAY = date(2027, 5, 15)  # on which the yard of the sample has its session
SAMPLE = Path(__file__).parents[2] / "samples" / "spring-circuit"
AMOUNT = re.compile(r"\b[\d.]+ mL\b")


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("session") / "season"
    shutil.copytree(SAMPLE, place, ignore=shutil.ignore_patterns(".showprep"))
    return place


@pytest.fixture(scope="module")
def pond(root: Path) -> Pond:
    found = Pond(root, PondMemory(root), lambda: DAY)
    found.plan_anew()
    return found


@pytest.fixture(scope="module")
def session(pond: Pond) -> Any:
    (one,) = json.loads(pond.state(0))["sessions"]
    return one


def read_off(session: Any, **other: str) -> dict[str, str]:
    keeper = yaml.load((SAMPLE / "keeper.yaml").read_text("utf-8"), Loader=yaml.BaseLoader)
    touch_up = keeper["touch_up"]
    return {
        "job": session["id"],
        "litres": touch_up["bath_litres"],
        "strength": touch_up["strength_percent"],
        "target": session["target"],
        **other,
    }


def test_the_page_holds_no_amount_but_every_stop_rule(pond: Pond, session: Any) -> None:
    assert not AMOUNT.search(json.dumps(json.loads(pond.state(0))["sessions"]))
    assert len(session["stop"]) == 6
    assert "minutes in the bath" in session["stop"][2]
    assert "out of the water" in session["stop"][3]
    assert session["limits"]["bath_s"] <= 600
    assert session["limits"]["air_s"] <= 60
    assert session["limits"]["alarm_s"] < session["limits"]["vet_s"]
    assert any("GILLS STOPPED" in one for one in session["notices"])


def test_the_amount_comes_when_jug_and_label_say_the_same(pond: Pond, session: Any) -> None:
    told: Any = pond.confirm(read_off(session))
    assert told["ok"], told
    assert told["word"] == session["word"]
    assert [one["title"] for one in told["sections"]] == ["Water, dose, limits", "Steps"]
    assert AMOUNT.search(json.dumps(told["sections"]))
    assert told["given"] == {"did": "touch-up", "bath_mg_per_l": session["target"]}


@pytest.mark.parametrize(
    ("other", "said"),
    [
        ({"litres": "300"}, "another bath"),
        ({"strength": "100"}, "another bath"),
        ({"target": "400"}, "another bath"),
        ({"litres": ""}, "Litres"),
        ({"strength": "5 drops"}, "Strength"),
        ({"job": "touch-up/nobody"}, "no such session"),
    ],
)
def test_another_reading_shows_no_amount(
    pond: Pond, session: Any, other: dict[str, str], said: str
) -> None:
    told: Any = pond.confirm(read_off(session, **other))
    assert told["ok"] is False
    assert said in told["refused"]
    assert "--" not in told["refused"]
    assert "sections" not in told
    assert "MEASURE" not in told["refused"]


def test_a_fish_of_the_session_is_noted_with_its_minutes(
    pond: Pond, session: Any, root: Path
) -> None:
    fish = session["fish"][0]["id"]
    given = {
        "did": "touch-up",
        "bath_mg_per_l": session["target"],
        "minutes_to_balance_lost": "3.5",
        "minutes_to_recovery": "4.0",
    }
    told = pond.take(Tap("0123456789abcdef", DAY, given, (fish,)))
    assert told["ok"], told
    text = (root / "journal.yaml").read_text("utf-8")
    (entry,) = yaml.load(text, Loader=yaml.BaseLoader)
    assert (entry["did"], entry["fish"]) == ("touch-up", fish)
    assert float(entry["minutes_to_balance_lost"]) == 3.5


@pytest.mark.parametrize(
    "body",
    [b"", b"[]", b"{}", b"[" * 9000, b'{"job": 1, "litres": "", "strength": "", "target": ""}'],
)
def test_what_is_no_reading_is_refused(body: bytes) -> None:
    with pytest.raises(ValueError):
        read_bath(body)
