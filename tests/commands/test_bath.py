"""`bath`: from options alone, from a planned session, and what it refuses. All is invented."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from showprep.commands.bath import run
from showprep.outputs.failure import Failure
from showprep.season.problems import SeasonError

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 4, 1)
KEEPER = """\
time_zone: Europe/Dublin
work_days: [saturday, sunday]
waters:
  main pond: {steady_c: 20}
touch_up:
  by: keeper
  law_checked: yes
  fish_per_day: 2
  bath_litres: 40
  strength_percent: 10
  law_country: Ireland
"""
FILES = {
    "keeper.yaml": KEEPER,
    "shows.yaml": """\
larkfield: {name: Larkfield Spring Show, judging: 2027-06-12 10:00, travel_hours: 2}
""",
    "fish.yaml": """\
aoi:
  name: Aoi
  variety: kohaku
  lives_in: main pond
  merit: 82
  lengths_cm: {2027-03-20: 50.0}
  defects:
    - {kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-20, merit_lost: 6}
""",
}


def told(capsys: pytest.CaptureFixture[str], folder: Path | None = None, **given: str) -> Any:
    run(folder, given, ON, as_json=True)
    return json.loads(capsys.readouterr().out)


def refused(
    capsys: pytest.CaptureFixture[str],
    folder: Path | None = None,
    *,
    vet_agreed: bool = False,
    **given: str,
) -> tuple[int, str, Any]:
    with pytest.raises(Failure) as failure:
        run(folder, given, ON, vet_agreed=vet_agreed, as_json=True)
    found = json.loads(capsys.readouterr().out)
    assert found["millilitres"] is None and found["oil_mg_per_l"] is None
    assert found["refused"]
    return failure.value.status, str(failure.value), found


@pytest.mark.parametrize(
    ("strength", "millilitres"),
    # 60 L at 40 mg/L are 2,400 mg; oil of 1.05 g/mL, the middle of the United States
    # Pharmacopeia's 1.038 to 1.060: 2.29 mL neat, 22.9 of a tenth, 25.1 of one part added to ten.
    [("neat", 2.29), ("10", 22.9), ("10 %", 22.9), ("1+9", 22.9), ("1+10", 25.1)],
)
def test_from_options(
    capsys: pytest.CaptureFixture[str], strength: str, millilitres: float
) -> None:
    options = {"litres": "60", "target_mg_per_l": "40", "water_c": "20"}
    if strength in ("neat", "1+9", "1+10"):
        found = told(capsys, **options, strength_percent=strength)
    else:
        found = told(capsys, **options, strength_percent=strength)
    assert found["millilitres"] == pytest.approx(millilitres, abs=0.06)
    assert found["oil_mg_per_l"] == 40
    assert found["if_undiluted_mg_per_l"] == pytest.approx(
        40 if strength == "neat" else millilitres * 1050 / 60, rel=0.01
    )
    assert found["refused"] is None and found["cautions"]
    assert found["gate"] == "law not known"


def test_the_strength_in_milligrams(capsys: pytest.CaptureFixture[str]) -> None:
    found = told(capsys, litres="60", strength_mg_per_ml="105", target_mg_per_l="40")
    assert found["millilitres"] == pytest.approx(2400 / 105, abs=1e-4)


def test_units_in_the_options(capsys: pytest.CaptureFixture[str]) -> None:
    # 8 US gallons are 30.2833 L and 68 °F are 20 °C (NIST SP 811, exact factors).
    found = told(capsys, litres="8 US gal", strength_percent="10", water_c="68 F")
    assert found["litres"] == pytest.approx(30.2833, abs=1e-4)
    assert found["water_c"] == 20
    assert found["millilitres"] == pytest.approx(30.2833 * 35 / 105, abs=1e-3)


@pytest.mark.parametrize(
    ("units", "litres"),
    [("us", 30.283294272), ("imperial", 36.36872)],  # 8 gallons, NIST SP 811
)
def test_gallons_are_those_of_the_units(
    capsys: pytest.CaptureFixture[str], units: str, litres: float
) -> None:
    found = told(capsys, litres="8 gal", strength_percent="10", water_c="68 F", units=units)
    assert found["litres"] == pytest.approx(litres, rel=1e-6)
    assert found["millilitres"] == pytest.approx(litres * 35 / 105, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "number", "ways"),
    [
        ("litres", "30", "30 gal or 30 L"),
        ("water_c", "64", "64 F"),
        ("water_c", "18", "18 C"),
        ("fish_kg", "4.6", "4.6 lb or 4.6 kg"),
        ("fish_cm", "20", "20 in or 20 cm"),
        ("tub_length_cm", "30", "30 in or 30 cm"),
    ],
)
def test_a_bare_number_is_asked_for_its_unit(
    capsys: pytest.CaptureFixture[str], name: str, number: str, ways: str
) -> None:
    given = {"litres": "8 gal", "strength_percent": "10", name: number}
    if name == "tub_length_cm":
        given["tub_width_cm"] = "20 in"
    status, said, _ = refused(capsys, **given, units="us")
    option = "--" + name.replace("_", "-")
    assert status == 2
    assert said == f"{option}: '{number}' has no unit; with units: us write {ways}."


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "--strength-percent or --strength-mg-per-ml is missing"),
        ({"strength_percent": "5 drops"}, "drops are not a unit"),
        ({"strength_percent": "one in ten"}, "two ways"),
        ({"strength_percent": "1:10"}, "two ways"),
        ({"strength_percent": ""}, "--strength-percent"),
        ({"strength_percent": "-10"}, "--strength-percent"),
        ({"strength_percent": "120"}, "cannot be right"),
        ({"strength_percent": "10", "strength_mg_per_ml": "105"}, "given twice"),
        ({"strength_mg_per_ml": "10 %"}, "--strength-mg-per-ml"),
        ({"strength_percent": "10", "litres": "-3"}, "--litres"),
        ({"strength_percent": "10", "litres": "8 gal"}, "US gal or imp gal"),
        ({"strength_percent": "10", "litres": "nan"}, "--litres"),
        ({"strength_percent": "10", "target_mg_per_l": "0"}, "--target-mg-per-l"),
        ({"strength_percent": "10", "target_mg_per_l": "1e400"}, "--target-mg-per-l"),
        ({"strength_percent": "10", "water_c": "68"}, "--water-c"),
        ({"strength_percent": "10", "day": "1 May"}, "--day"),
        ({"strength_percent": "10", "agent": "vodka"}, "--agent"),
        ({"strength_percent": "10", "units": "cubits"}, "--units"),
        ({"strength_percent": "10", "tub_length_cm": "80"}, "belong together"),
        ({"agent": "ms-222"}, "--target-mg-per-l is missing"),
    ],
)
def test_wrong_usage_says_which_option(
    capsys: pytest.CaptureFixture[str], given: dict[str, str], words: str
) -> None:
    status, said, found = refused(capsys, **{"litres": "30", **given})
    assert status == 2
    assert words in said
    assert found["refused"] == said


def test_the_litres_are_needed(capsys: pytest.CaptureFixture[str]) -> None:
    status, said, _ = refused(capsys, strength_percent="10")
    assert status == 2 and "--litres is missing" in said


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"water_c": "35"}, "too warm"),
        ({"water_c": "6"}, "too cold"),
        ({"target_mg_per_l": "52.5"}, "Ask a vet"),
        ({"target_mg_per_l": "120"}, "nearly every carp would die"),
        ({"target_mg_per_l": "74"}, "about 46 carp in 100 would die"),
        ({"fish_cm": "60", "litres": "12"}, "cover the back"),
        ({"fish_kg": "5"}, "too little"),
        ({"strength_percent": "0.05"}, "Read the label again"),
        ({"agent": "ms-222", "target_mg_per_l": "50"}, "ask a vet"),
    ],
)
def test_a_bath_that_must_not_be_made(
    capsys: pytest.CaptureFixture[str], given: dict[str, str], words: str
) -> None:
    status, said, found = refused(
        capsys, **{"litres": "30", "strength_percent": "10", "water_c": "20", **given}
    )
    assert status == 1
    assert words in said and words in found["refused"]


def test_a_vet_may_go_further_but_not_past_the_ceiling(
    capsys: pytest.CaptureFixture[str],
) -> None:
    given = {"litres": "60", "strength_percent": "10", "water_c": "20"}
    run(None, {**given, "target_mg_per_l": "55"}, ON, vet_agreed=True, as_json=True)
    found = json.loads(capsys.readouterr().out)
    assert found["oil_mg_per_l"] == 55 and found["vet_agreed"]
    assert 0.001 < found["share_dead"] < 0.01
    status, _, _ = refused(capsys, vet_agreed=True, **given, target_mg_per_l="57")
    assert status == 1


def test_ms222_for_a_vet(capsys: pytest.CaptureFixture[str]) -> None:
    given = {"agent": "ms-222", "litres": "60", "target_mg_per_l": "50"}
    run(None, given, ON, vet_agreed=True, as_json=True)
    found = json.loads(capsys.readouterr().out)
    assert (found["grams"], found["bicarbonate_grams"], found["millilitres"]) == (3, 6, None)


def test_the_planned_session(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    found = told(capsys, folder(FILES))
    assert found["gate"] == "keeper" and found["refused"] is None
    assert [fish["name"] for fish in found["fish"]] == ["Aoi"]
    assert found["fish"][0]["kg_estimated"]
    assert (found["water"], found["water_c"]) == ("main pond", 20)
    assert found["millilitres"] == pytest.approx(40 * 35 / 105, abs=1e-4)
    day = date.fromisoformat(found["day"])
    assert day.weekday() in (5, 6)
    looks = [(date.fromisoformat(look) - day).days for look in found["look_back"]]
    assert looks == [7, 14]
    again = told(capsys, folder(FILES), day=found["day"])
    assert again == found


def test_options_override_the_season(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    found = told(
        capsys,
        folder(FILES),
        litres="60",
        strength_mg_per_ml="100",
        target_mg_per_l="30",
        water_c="18",
        fish_kg="1.9",
    )
    assert found["millilitres"] == pytest.approx(18)
    assert found["water_c"] == 18
    assert (found["fish"][0]["kg"], found["fish"][0]["kg_estimated"]) == (1.9, False)


def test_a_law_not_checked_heads_the_sheet(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    root = folder({**FILES, "keeper.yaml": KEEPER.replace("  law_checked: yes\n", "")})
    assert told(capsys, root)["gate"] == "ask a vet"
    run(root, {}, ON)
    printed = capsys.readouterr().out
    assert "ASK A VET" in printed and "MEASURE 13.3 mL" in printed


def test_a_day_without_a_session(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    status, said, _ = refused(capsys, folder(FILES), day="2027-04-02")
    assert status == 2 and "there is one on" in said
    bare = FILES["fish.yaml"].split("  defects:")[0]
    status, said, _ = refused(capsys, folder({**FILES, "fish.yaml": bare}))
    assert status == 1 and "No touch-up is planned" in said


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ("  strength_percent: 10\n", "", 6, "strength of the product is missing"),
        ("strength_percent: 10", "strength_percent: 2 drops", 10, "drops are not a unit"),
        ("strength_percent: 10", "strength_percent: one in ten", 10, "two ways"),
        ("  bath_litres: 40\n", "", 6, "litres of the bath are missing"),
        ("  bath_litres: 40\n", "  agent: vodka\n  bath_litres: 40\n", 9, "no sheet for"),
    ],
)
def test_faults_in_the_seasons_files_name_the_line(
    folder: Folder,
    capsys: pytest.CaptureFixture[str],
    old: str,
    new: str,
    line: int,
    words: str,
) -> None:
    root = folder({**FILES, "keeper.yaml": KEEPER.replace(old, new)})
    with pytest.raises(SeasonError) as error:
        run(root, {}, ON, as_json=True)
    assert words in str(error.value)
    assert f"keeper.yaml:{line}:" in str(error.value)
    found = json.loads(capsys.readouterr().out)
    assert words in found["refused"] and found["millilitres"] is None


def test_a_strength_missing_in_the_files_may_come_from_the_options(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    root = folder({**FILES, "keeper.yaml": KEEPER.replace("  strength_percent: 10\n", "")})
    assert told(capsys, root, strength_percent="10")["millilitres"] is not None


def showprep(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "showprep.cli", *words],
        capture_output=True,
        encoding="utf-8",
        check=False,
    )


def test_the_command_prints_a_page_and_its_exit_status() -> None:
    good = showprep("bath", "--litres", "30", "--strength-percent", "10", "--water-c", "20")
    assert good.returncode == 0
    assert "MEASURE 10.0 mL" in good.stdout
    assert good.stdout.splitlines()[0].endswith("page 1 of 2")
    assert max(map(len, good.stdout.splitlines())) <= 80
    bad = showprep("bath", "--litres", "-3", "--strength-percent", "10")
    assert (bad.returncode, bad.stdout) == (2, "") and "--litres" in bad.stderr
    hot = showprep("bath", "--litres", "30", "--strength-percent", "10", "--water-c", "35")
    assert hot.returncode == 1
    assert "MEASURE" not in hot.stdout and "too warm" in hot.stderr
    assert "Traceback" not in good.stderr + bad.stderr + hot.stderr
