"""One question about one blemish, answered without a season; and the list of kinds."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from showprep.cli import app
from showprep.outputs.failure import Failure
from showprep.outputs.words.speaker import codes_of as codes
from showprep.planning.worksheets.heal import HealAsk, HealSheet, heal_sheet
from showprep.season.facts import shipped_facts

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 5, 10)


def answered(*words: str) -> Any:
    done = CliRunner().invoke(app, ["heal", *words, "--on", ON.isoformat(), "--json"])
    assert done.exit_code == 0, done.exception
    return json.loads(done.stdout)


def refused(*words: str) -> str:
    done = CliRunner().invoke(app, ["heal", *words, "--on", ON.isoformat()])
    assert isinstance(done.exception, Failure) and done.exception.status == 2
    return str(done.exception)


def asked(kind: str, **more: Any) -> HealSheet:
    given = {"on": ON, "seen": date(2027, 5, 1), "water_c": 16.0, "by": date(2027, 6, 12)}
    return heal_sheet(HealAsk(kind, **{**given, **more}))


def test_a_lost_scale_by_hand() -> None:
    """500 degree-days over 8 °C, seen at 25 °C: over 5 °C they are 500 x 20 / 17 = 588.2; at 16 °C
    a day gives 11, so 53.5 days: it is clean on day 54, 24 June, 12 days after the show."""
    sheet = asked("lost-scale")
    clean = next(one for one in sheet.healed if one.name == "clean")
    assert clean.days.usual_on == date(2027, 5, 1) + timedelta(days=54) == date(2027, 6, 24)
    assert clean.short_days == 12
    assert sheet.may == "heals" and sheet.unseen == clean.chance < 0.5
    assert codes(sheet.helps) == ["heal-in-warm-water", "heal-later-show", "heal-look"]


def test_the_chance_is_that_of_a_plan(folder: Folder) -> None:
    """The same blemish in a season of water held at 16 °C, judged on the same day."""
    root = folder(
        {
            "keeper.yaml": "time_zone: UTC\nwaters: {tank: {steady_c: 16}}\n",
            "shows.yaml": "elm: {name: Elm, judging: 2027-06-13 10:00, benching: 2027-06-12 10:00,"
            " travel_hours: 0.5}\n",
            "fish.yaml": "aoi: {name: Aoi, variety: kohaku, lives_in: tank, merit: 80, defects: "
            "[{kind: lost-scale, where: flank, seen: 2027-05-01, merit_lost: 6}]}\n",
        }
    )
    words = ["plan", str(root), "--on", ON.isoformat(), "--json"]
    plan = json.loads(CliRunner().invoke(app, words).stdout)
    assert plan["verdicts"][0]["chance_clean"] == pytest.approx(
        asked("lost-scale").unseen, abs=1e-4
    )


def test_warmer_water_is_likelier_and_comes_slowly() -> None:
    """22 °C is reached from 16 °C at 1 °C a day in six days, and not sooner."""
    cool, warm = asked("lost-scale"), asked("lost-scale", warm_to_c=22.0)
    assert cool.unseen is not None and warm.unseen is not None and warm.unseen > cool.unseen + 0.1
    told = next(one for one in cool.helps if one.code == "heal-in-warm-water")
    assert told["chance"].share == warm.unseen  # type: ignore[union-attr]
    assert "heal-warming" in codes(warm.cautions)
    at_once = asked("lost-scale", water_c=22.0, seen=ON)
    held = asked("lost-scale", warm_to_c=22.0, seen=ON)
    assert at_once.unseen is not None and held.unseen is not None and held.unseen < at_once.unseen


def test_the_best_day_for_a_speck_is_the_likeliest_of_all() -> None:
    sheet = asked("shimi", on=date(2027, 5, 1))
    assert sheet.touch_up is not None
    assert sheet.touch_up.both == max(one.both for one in sheet.curve)
    assert sheet.curve[0].day > date(2027, 5, 1)  # food is stopped before
    assert sheet.curve[-1].day <= date(2027, 6, 12) - timedelta(days=7)
    assert {"law", "never-alone", "not-food"} <= set(codes(sheet.cautions))


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"water_c": 8.0}, "water-too-cold"),
        ({"water_c": 30.0}, "water-too-warm"),
        ({"by": ON + timedelta(days=6)}, "heal-no-time"),
        ({"by": ON + timedelta(days=14)}, "heal-not-likely"),
    ],
)
def test_no_day_is_advised_without_a_fit_one(more: dict[str, Any], code: str) -> None:
    sheet = asked("shimi", **more)
    assert sheet.touch_up is None and sheet.healed == ()
    assert sheet.nothing_because is not None and sheet.nothing_because.code == code


@pytest.mark.parametrize("where", ["eye", "head", "dorsal fin"])
def test_no_speck_is_taken_off_where_it_may_not_be(where: str) -> None:
    sheet = asked("shimi", where=where)
    assert sheet.may in ("vet", "leave") and sheet.touch_up is None and sheet.curve == ()


def test_a_vets_kind_gets_no_way_to_hurry_it() -> None:
    for kind in shipped_facts().kinds.values():
        sheet = asked(kind.id)
        assert sheet.may == kind.may
        if kind.may in ("vet", "leave", "never"):
            assert sheet.helps == () and sheet.touch_up is None
        assert "kind-note" in codes(sheet.cautions)
    assert "heal-in-warm-water" not in codes(asked("incision").helps)
    assert "heal-stitched" in codes(asked("stitches", water_c=24.0).cautions)


def test_what_is_missing_is_named_at_once_with_an_example() -> None:
    said = refused("lost-scale")
    assert all(one in said for one in ("--seen", "--water-c", "--by", "--show-in"))
    example = said.split("showprep heal ")[1].replace('"', "").split(" --show-in ")
    assert answered(*example[0].split(), "--show-in", example[1])["kind"] == "lost-scale"
    assert "KIND" in refused()


@pytest.mark.parametrize(
    ("words", "part"),
    [
        (["ulser", "--water-c", "16"], "ulcer"),
        (["shimi", "--water-c", "61", "--units", "us", "--by", "+5w"], "61 F"),
        (["shimi", "--water-c", "160", "--by", "+5w"], "0 to 40"),
        (["shimi", "--water-c", "16", "--by", "2027-05-01"], "2027-05-01"),
        (["lost-scale", "--seen", "+1d", "--water-c", "16", "--by", "+5w"], "2027-05-11"),
        (["shimi", "--water-c", "16", "--by", "+5w", "--show-in", "5 weeks"], "--show-in"),
        (["shimi", "--water-c", "16", "--by", "+5w", "--warm-to", "15"], "--warm-to"),
        (["shimi", "--water-c", "16", "--show-in", "soon"], "--show-in"),
        (["black spot", "--water-c", "16", "--by", "+5w"], "deep-shimi"),
    ],
)
def test_what_cannot_be_read_is_said(words: list[str], part: str) -> None:
    assert part in refused(*words)


def test_units_people_use() -> None:
    """61 °F is 16.1 °C."""
    words = ("missing scale", "--water-c", "61 F", "--units", "us", "--seen", "-9d")
    told = answered(*words, "--show-in", "33 days")
    assert told["kind"] == "lost-scale" and told["by"] == "2027-06-12"
    assert told["water_c"] == pytest.approx(16.11, abs=0.01)
    done = CliRunner().invoke(app, ["heal", *words, "--by", "2027-06-12", "--on", ON.isoformat()])
    assert "61 °F" in done.stdout and "°C" not in done.stdout
    assert done.stdout.startswith("missing scale: lost-scale\n")


def test_the_list_names_every_kind_with_its_days() -> None:
    done = CliRunner().invoke(app, ["kinds", "--json"])
    rows = json.loads(done.stdout)["kinds"]
    assert [one["id"] for one in rows] == list(shipped_facts().kinds)
    lost = next(one for one in rows if one["id"] == "lost-scale")
    assert lost["days"]["clean"]["18"][1] == 46  # 588.2 / 13 = 45.2
    assert "missing scale" in lost["called"]
    assert all(len(line) <= 80 for line in CliRunner().invoke(app, ["kinds"]).stdout.splitlines())


def test_one_kind_by_what_people_call_it() -> None:
    done = CliRunner().invoke(app, ["kinds", "torn fin"])
    assert done.stdout.startswith("split-fin:") and "\n\n" not in done.stdout
    assert isinstance(CliRunner().invoke(app, ["kinds", "zebra"]).exception, Failure)
