"""`bath --confirm`, the second person's check, and the question about the litres."""

from __future__ import annotations

import json
import re
from datetime import date

import pytest

from showprep.commands.bath import confirm_word, run
from showprep.outputs.failure import Failure
from showprep.planning.worksheets.check_word import WORDS

ON = date(2027, 4, 1)
SHEET = {"litres": "30", "strength_percent": "10", "target_mg_per_l": "35"}


def printed(capsys: pytest.CaptureFixture[str], given: dict[str, str], vet: bool = False) -> str:
    run(None, given, ON, vet_agreed=vet)
    return " ".join(capsys.readouterr().out.split())


def word_of(text: str) -> str:
    found = re.search(r"--confirm ([a-z]+-[0-9]{2})", text)
    assert found is not None
    return found[1]


def test_the_same_numbers_give_the_word_and_the_two_products(
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = printed(capsys, SHEET)
    assert "30 L x 35 mg/L = 1050 mg, and 10.0 mL x 105 mg/mL = 1050 mg" in text
    word = word_of(text)
    for written in (word, word.upper(), word.replace("-", " ")):
        confirm_word(None, SHEET, written)
        said = capsys.readouterr().out
        assert "The word is right" in said and "10.0 mL x 105 mg/mL = 1050 mg" in said
    confirm_word(None, {**SHEET, "litres": "30.0 L", "strength_percent": "1+9"}, word)
    assert "The word is right" in capsys.readouterr().out


@pytest.mark.parametrize(
    "slip",
    [
        {"litres": "3"},
        {"litres": "300"},
        {"litres": "33"},
        {"strength_percent": "1"},
        {"strength_percent": "100"},
        {"target_mg_per_l": "53"},
        {"target_mg_per_l": "3.5"},
    ],
)
def test_a_slip_has_another_word_and_no_amount(
    capsys: pytest.CaptureFixture[str], slip: dict[str, str]
) -> None:
    word = word_of(printed(capsys, SHEET))
    with pytest.raises(Failure) as failure:
        confirm_word(None, {**SHEET, **slip}, word)
    assert failure.value.status == 1
    said = str(failure.value)
    assert "of another bath: make none yet" in said and "litres, strength, target" in said
    assert "litres x mg/L" in said and capsys.readouterr().out == ""
    with pytest.raises(Failure):
        confirm_word(None, {**SHEET, **slip}, word, as_json=True)
    found = json.loads(capsys.readouterr().out)
    assert found["confirmed"] is False and found["millilitres"] is None


def test_all_three_must_be_read_afresh(capsys: pytest.CaptureFixture[str]) -> None:
    for missing in SHEET:
        given = {key: value for key, value in SHEET.items() if key != missing}
        with pytest.raises(Failure) as failure:
            confirm_word(None, given, "heron-47")
        assert failure.value.status == 2 and "missing" in str(failure.value)


def test_a_word_is_no_way_round_the_gates(capsys: pytest.CaptureFixture[str]) -> None:
    strong = {**SHEET, "target_mg_per_l": "74"}
    for word in (f"{word}-{digits}" for word in WORDS for digits in range(10, 100)):
        with pytest.raises(Failure) as failure:
            confirm_word(None, strong, word)
        if "Refused" in str(failure.value):
            break
    else:
        pytest.fail("no word fits")


def test_a_vets_sheet_has_its_word_too(capsys: pytest.CaptureFixture[str]) -> None:
    given = {"agent": "ms-222", "litres": "60", "target_mg_per_l": "50"}
    text = printed(capsys, given, vet=True)
    assert "60 L x 50 mg/L = 3000 mg, and 3 g x 1000 = 3000 mg" in text
    assert "--agent ms-222 --vet-agreed --litres __ --target-mg-per-l __" in text
    confirm_word(None, given, word_of(text), vet_agreed=True)
    assert "The word is right" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("given", "reading"),
    [
        ({"litres": "300"}, "300 L, or 30 L?"),
        ({"litres": "300", "fish_kg": "1.7"}, "300 L, or 30 L?"),
        ({"litres": "40", "fish_kg": "0.3"}, "40 L, or 4 L?"),
        ({"litres": "400", "fish_kg": "5"}, "400 L, or 40 L?"),
        ({"litres": "400", "fish_kg": "50"}, "400 L, or 40 L?"),
        ({"litres": "300", "litres_again": "30"}, "300 L, or 30 L?"),
        ({"litres": "400", "litres_again": "400"}, "400 L, or 40 L?"),
        ({"litres": "80 US gal", "units": "us", "water_c": "68 F"}, "80 US gal, or 8 US gal?"),
    ],
)
def test_litres_that_may_be_a_slip_are_asked_about_with_both_readings(
    capsys: pytest.CaptureFixture[str], given: dict[str, str], reading: str
) -> None:
    with pytest.raises(Failure) as failure:
        run(None, {"strength_percent": "10", "water_c": "20", **given}, ON)
    assert failure.value.status == 2
    assert reading in str(failure.value)
    assert capsys.readouterr().out == ""


@pytest.mark.parametrize(
    "answer",
    [
        {"litres_again": "300"},
        {"fish_kg": "12"},
        {"tub_length_cm": "120", "tub_width_cm": "60", "tub_depth_cm": "50"},
    ],
)
def test_an_answer_settles_it(capsys: pytest.CaptureFixture[str], answer: dict[str, str]) -> None:
    given = {"litres": "300", "strength_percent": "10", "water_c": "20", **answer}
    assert "MEASURE 100.0 mL" in printed(capsys, given)


@pytest.mark.parametrize(("units", "gallons"), [("us", "15.9 gal"), ("imperial", "13.2 gal")])
def test_gallons_read_off_the_jug_give_the_word_of_the_sheet(
    capsys: pytest.CaptureFixture[str], units: str, gallons: str
) -> None:
    # 60 L are 15.850 US and 13.198 imperial gallons (NIST SP 811): the sheet and a jug say tenths.
    given = {**SHEET, "litres": "60 L", "units": units, "litres_again": "60 L"}
    text = printed(capsys, given)
    assert f"--units {units} --litres '__ gal'" in text
    confirm_word(None, {**SHEET, "units": units, "litres": gallons}, word_of(text))
    assert "The word is right" in capsys.readouterr().out
    with pytest.raises(Failure):
        confirm_word(None, {**SHEET, "units": units, "litres": "1.6 gal"}, word_of(text))
