"""No route prints an unsafe bath: every option, file key and figure of the bath, tried over a grid.

What is safe is said here once, by the points of Velíšek et al. 2005 with scipy's normal, not by the
program's own gates.
"""

from __future__ import annotations

import itertools
import json
import re
import subprocess
import sys
from collections.abc import Callable, Mapping
from datetime import date
from math import log10
from pathlib import Path
from typing import Any

import pytest

from showprep.commands.bath import run
from showprep.husbandry.figures import FIGURES, FiguresInForce
from showprep.husbandry.strength import Strength
from showprep.outputs.failure import Failure
from showprep.outputs.words.bath_sheet import bath_words
from showprep.outputs.words.sheet import Sheet
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk, BathFish
from showprep.season.problems import SeasonError
from tests.conftest import Outside
from tests.storms import storm

ON = date(2027, 4, 1)
stats = Outside().module("scipy.stats")
LINE = stats.linregress(
    [log10(one) for one in (51.6, 74.3, 110.1)], stats.norm.ppf((0.001, 0.5, 0.999))
)
Folder = Callable[[Mapping[str, str | bytes]], Path]


def dead(mg_per_l: float) -> float:
    return float(stats.norm.cdf(LINE.intercept + LINE.slope * log10(mg_per_l)))


def check_safe(mg_per_l: float, minutes: float, vet: bool) -> None:
    """A bath that may be printed: its share dead, who may make it, and how long it lasts."""
    assert mg_per_l <= (56.389 if vet else 50) * (1 + 1e-6)
    assert dead(mg_per_l) <= 0.01
    assert 1 <= minutes <= 10
    # The product, and the toxic load with n to 4.5, both as 40 mg/L for ten minutes; a syringe is
    # read to 1 in 200.
    assert minutes <= 10 * max(1.0, mg_per_l / 40 / 1.005) ** -4.5 + 1e-6


def check_sheet(found: dict[str, Any], text: str, litres: float, mg_per_ml: float) -> None:
    """The JSON and the paper of one session: both safe, or neither has a dose."""
    if found["refused"]:
        assert found["millilitres"] is None and found["oil_mg_per_l"] is None
        assert "MEASURE" not in text and "STEPS" not in text
        return
    vet, longest = found["vet_agreed"], found["longest_minutes"]
    check_safe(found["oil_mg_per_l"], longest, vet)
    check_safe(found["millilitres"] * mg_per_ml / litres, longest, vet)
    printed = re.search(r"MEASURE ([0-9.]+) mL", text)
    assert printed is not None
    check_safe(float(printed[1]) * mg_per_ml / litres, longest, vet)
    assert found["share_dead"] == pytest.approx(dead(found["oil_mg_per_l"]), abs=1e-6)
    # The stop rule, the step and the log go by one time.
    times = re.findall(r"([0-9.]+) min of step 2|max ([0-9.]+) min|([0-9.]+) minutes in the", text)
    assert len(times) >= 3
    assert {float("".join(one)) for one in times} == {longest}


def both(
    capsys: pytest.CaptureFixture[str], given: dict[str, str], folder: Path | None, vet: bool
) -> tuple[dict[str, Any], str]:
    """What the command prints as JSON and on paper, whether it is refused or not."""
    said = []
    for as_json in (True, False):
        try:
            run(folder, given, ON, vet_agreed=vet, as_json=as_json)
        except (Failure, SeasonError) as error:
            assert not isinstance(error, Failure) or error.status != 0
        said.append(capsys.readouterr().out)
    return json.loads(said[0]), " ".join(said[1].split())


STRENGTHS = {"0.5": 5.25, "1": 10.5, "9.09": 95.445, "10": 105.0, "50": 525.0, "100": 1050.0}
LITRES = ("3", "15", "30.3", "99.99", "100.1", "300", "300.1", "3000")
TARGETS = ("1", "19", "20", "35", "44.5", "49.999999", "50", "50.0000001", "50.4", "52.5")
TARGETS_OF_VETS = ("55.999999", "56", "56.0000001", "56.4", "60", "74", "110.1", "525", "1e9")


@pytest.mark.parametrize("vet", [False, True])
@pytest.mark.parametrize("percent", [*STRENGTHS][:: storm(2, 1)])
def test_every_strength_litres_and_target(
    capsys: pytest.CaptureFixture[str], percent: str, vet: bool
) -> None:
    for litres, target in itertools.product(LITRES, (*TARGETS, *TARGETS_OF_VETS)):
        given = {"litres": litres, "strength_percent": percent, "target_mg_per_l": target}
        found, text = both(capsys, given, None, vet)
        check_sheet(found, text, float(litres), STRENGTHS[percent])
        if not found["refused"] and STRENGTHS[percent] < 52.5:  # 5 % by volume
            tenfold = 10 * found["oil_mg_per_l"]
            assert f"ten times as strong this bath is {tenfold:.0f} mg/L" in text
            assert dead(tenfold) > 0.1 or tenfold < 70  # all but the weakest kill many
        if float(litres) > 100:
            assert found["refused"]


@pytest.mark.parametrize("water_c", [None, "0", "9.9", "10", "15", "28", "28.1", "40"])
@pytest.mark.parametrize("fish", [{}, {"fish_kg": "0.2"}, {"fish_kg": "3"}, {"fish_cm": "75"}])
def test_every_water_fish_and_tub(
    capsys: pytest.CaptureFixture[str], water_c: str | None, fish: dict[str, str]
) -> None:
    tubs: tuple[dict[str, str], ...] = (
        {},
        {"tub_length_cm": "90", "tub_width_cm": "60"},
        {"tub_length_cm": "90", "tub_width_cm": "60", "tub_depth_cm": "50"},
        {"tub_length_cm": "200", "tub_width_cm": "100", "tub_depth_cm": "100"},
    )
    for tub, litres, again in itertools.product(tubs, ("4", "40", "400", "4000"), (None, "40")):
        given = {"litres": litres, "strength_percent": "10", "target_mg_per_l": "50", **fish, **tub}
        given |= {"water_c": water_c} if water_c is not None else {}
        given |= {"litres_again": again} if again is not None else {}
        found, text = both(capsys, given, None, False)
        check_sheet(found, text, float(litres), 105.0)
        if water_c in ("0", "9.9", "28.1", "40"):
            assert found["refused"]
        if not found["refused"]:
            volume = 90 * 60 * 50 / 1000 if tub.get("tub_depth_cm") == "50" else 2000
            assert float(litres) <= (volume if "tub_depth_cm" in tub else 300)
        settled = again == litres or "tub_depth_cm" in tub
        if fish == {"fish_kg": "0.2"} and float(litres) >= 40 and not settled:
            assert "or" in found["refused"]


def text_of(sheet: Sheet) -> str:
    return " ".join(line for heading, part in sheet.sections for line in (heading.upper(), *part))


@pytest.mark.parametrize("vet", [False, True])
@pytest.mark.parametrize("target", [None, 30.0, 50.0, 55.0, 60.0])
def test_every_figure_set_to_anything(target: float | None, vet: bool) -> None:
    fish = (BathFish("Aoi", 50, 1.7),)
    for name, figure in FIGURES.items():
        typical = figure.typical
        for value in (0.0, typical / 10, typical / 2, typical * 1.5, typical * 10, 1e6):
            ask = BathAsk(
                litres=40,
                strength=Strength(10),
                target_mg_per_l=target,
                water_c=20,
                fish=fish,
                vet_agreed=vet,
                figures=FiguresInForce({name: value}),
            )
            try:
                sheet = bath_sheet(ask)
            except ValueError:
                continue  # nothing is printed
            text = text_of(bath_words(sheet))
            if sheet.dose is None:
                assert sheet.refused and "MEASURE" not in text
                continue
            check_safe(sheet.dose.oil_mg_per_l, sheet.longest_minutes, vet)
            printed = re.search(r"MEASURE ([0-9.]+) mL", text)
            assert printed is not None
            check_safe(float(printed[1]) * 105 / 40, sheet.longest_minutes, vet)


KEEPER = """\
time_zone: Europe/Dublin
work_days: [saturday, sunday]
waters:
  main pond: {steady_c: 20}
touch_up:
  by: keeper
  law_checked: yes
  fish_per_day: 2
"""
FILES = {
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
SOUND = {"bath_litres": "40", "strength_percent": "10"}


@pytest.mark.parametrize(
    ("keys", "figures", "says"),
    [
        ({}, "", None),
        ({"target_mg_per_l": "50"}, "", None),
        ({"target_mg_per_l": "52.5"}, "", "a vet's bath"),
        ({"target_mg_per_l": "74", "by": "vet"}, "", "with a vet or without"),
        ({"bath_litres": "400"}, "", "400 L, or 40 L?"),
        ({"bath_litres": "300"}, "", "300 L, or 30 L?"),
        ({"bath_litres": "80 US gal"}, "", "303 L, or 30.3 L?"),
        ({"bath_litres": "300", "tub": "{length_cm: 120, width_cm: 60, depth_cm: 50}"}, "", None),
        ({"bath_litres": "500", "tub": "{length_cm: 120, width_cm: 60, depth_cm: 50}"}, "", "500"),
        (
            {"bath_litres": "5000", "tub": "{length_cm: 999, width_cm: 999, depth_cm: 99}"},
            "",
            "1000",
        ),
        ({"strength_percent": "drops"}, "", "drops"),
        ({}, "clove_refuse: 400", "only be made stricter"),
        ({}, "clove_dead_most: 0.5", "only be made stricter"),
        ({}, "clove_target: 60", "only be made stricter"),
        ({}, "clove_target: 0", "more than 0"),
        ({}, "bath_litres_most: 5000", "only be made stricter"),
        ({}, "toxic_load_exponent: 1", "only be made stricter"),
        ({}, "bath_max: 20", "only be made stricter"),
        ({}, "sedation_spacing: 7", "only be made stricter"),
        ({}, "sedation_spacing_least: 3", "is gone: a shorter rest"),
        ({}, "clove_block: 30", "Above 30 mg/L"),
        ({"target_mg_per_l": "50"}, "bath_max: 2", None),
    ],
)
def test_every_key_of_the_files(
    folder: Folder,
    capsys: pytest.CaptureFixture[str],
    keys: dict[str, str],
    figures: str,
    says: str | None,
) -> None:
    lines = "".join(f"  {key}: {value}\n" for key, value in {**SOUND, **keys}.items())
    text = KEEPER.replace("  by: keeper\n", "") + ("" if "by" in keys else "  by: keeper\n") + lines
    root = folder({**FILES, "keeper.yaml": text + (f"figures: {{{figures}}}\n" if figures else "")})
    found, paper = both(capsys, {}, root, False)
    litres = 300.0 if keys.get("bath_litres") == "300" else 40.0
    check_sheet(found, paper, litres, 105.0)
    assert (found["refused"] is None) == (says is None)
    assert says is None or says in found["refused"]


def test_a_doubt_about_the_files_litres_names_the_line(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    for litres in ("300", "400"):
        text = f"{KEEPER}  strength_percent: 10\n  bath_litres: {litres}\n"
        root = folder({**FILES, "keeper.yaml": text})
        with pytest.raises(SeasonError) as error:
            run(root, {}, ON)
        assert "keeper.yaml:10:" in str(error.value) and f"{litres} L, or" in str(error.value)
        assert capsys.readouterr().out == ""


def test_the_environment_loosens_nothing() -> None:
    loose = {
        f"{before}{name}": "1000"
        for before in ("", "SHOWPREP_", "SHOWPREP_BATH_", "BATH_")
        for name in ("VET_AGREED", "LITRES_AGAIN", "TARGET_MG_PER_L", "CLOVE_BLOCK", "CONFIRM")
    }
    words = ["bath", "--litres", "30", "--strength-percent", "10", "--on", "2027-05-01"]
    for more in ([], ["--target-mg-per-l", "52.5"], ["--litres", "300"]):
        plain, other = (
            subprocess.run(
                [sys.executable, "-m", "showprep.cli", *words, *more],
                capture_output=True,
                encoding="utf-8",
                check=False,
                env={"PATH": "/usr/bin:/bin", **environment},
            )
            for environment in ({}, {**loose, "LC_ALL": "de_DE.UTF-8", "PYTHONHASHSEED": "7"})
        )
        assert (plain.returncode, plain.stdout) == (other.returncode, other.stdout)
        assert (plain.returncode == 0) == (not more)
