"""Reading the strength of a bottle: nothing guessed, nothing read in the more dangerous way."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.strength import NEAT_MG_PER_ML, Strength
from showprep.season.values.product import parse_strength
from tests.storms import storm


@pytest.mark.parametrize(
    ("text", "mg_per_ml"),
    [
        ("10 %", 105),
        ("10%", 105),
        ("10 percent", 105),
        ("10 per cent by volume", 105),
        ("10 % v/v", 105),
        ("10 % w/v", 100),
        ("9.09 %", 95.445),
        ("105 mg/mL", 105),
        ("105 MG per ml", 105),
        ("1+9", 105),
        ("1 + 10", 95.4545),
        ("neat", 1050),
        ("  Undiluted ", 1050),
        ("100 %", 1050),
    ],
)
def test_a_strength_is_read_as_it_is_written(text: str, mg_per_ml: float) -> None:
    assert parse_strength(text).oil_mg_per_ml == pytest.approx(mg_per_ml, abs=1e-3)


def test_neat_oil_weighs_what_the_pharmacopoeia_says() -> None:
    # United States Pharmacopeia 35, monograph Clove Oil: specific gravity 1.038 to 1.060.
    assert 1038 <= NEAT_MG_PER_ML <= 1060
    assert parse_strength("neat").is_neat
    assert not parse_strength("50 %").is_neat


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "missing"),
        ("   ", "missing"),
        ("2 drops per litre", "drops are not a unit"),
        ("drops", "drops are not a unit"),
        ("1:10", "9.09 %"),
        ("1 : 10", "9.09 %"),
        ("1 in 10", "9.09 %"),
        ("one in ten", "9.09 %"),
        ("1/10", "9.09 %"),
        ("1 part in 10", "9.09 %"),
        ("1 to 10", "9.09 %"),
        ("10", "has no unit"),
        ("0.1", "has no unit"),
        ("10 % eugenol", "eugenol"),
        ("1,000 mg/mL", "comma"),
        ("10,5 %", "comma"),
        ("0 %", "cannot be right"),
        ("101 %", "cannot be right"),
        ("2000 mg/mL", "cannot be right"),
        ("-10 %", "cannot be read"),
        ("about 10 %", "cannot be read"),
        ("9+1", "more oil than ethanol"),
        ("0+9", "cannot be read"),
        ("strong", "cannot be read"),
        ("nan %", "cannot be read"),
    ],
)
def test_what_is_not_a_strength_is_asked_back(text: str, said: str) -> None:
    with pytest.raises(ValueError, match="(?s)" + said.replace("+", r"\+")):
        parse_strength(text)


@pytest.mark.parametrize(
    "given_",
    [{}, {"percent_v_v": 10.0, "mg_per_ml": 105.0}, {"percent_v_v": float("nan")}],
)
def test_a_strength_is_given_once_and_is_a_number(given_: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="strength"):
        Strength(**given_)


@settings(derandomize=True, max_examples=storm(80, 300), deadline=None)
@given(st.text(max_size=20))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        found = parse_strength(text)
    except ValueError as error:
        assert str(error)
    else:
        assert 0 < found.oil_mg_per_ml <= 1060
