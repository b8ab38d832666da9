"""The table of figures: every row sound, and none made laxer by a keeper."""

from __future__ import annotations

from math import inf, nan

import pytest

from showprep.husbandry.figures import FIGURES, fault_in_own_value, figure, setting

ROWS = list(FIGURES.values())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_every_row_rises_and_says_where_it_comes_from(row) -> None:
    assert row.low <= row.typical <= row.high
    assert row.mark in ("published", "derived", "common practice", "assumption", "our choice")
    assert row.source
    assert row.safe in ("lower", "higher", "either")


def test_no_name_stands_twice() -> None:
    from showprep.husbandry.figures_handling import HANDLING
    from showprep.husbandry.figures_preparing import PREPARING

    assert len(FIGURES) == len(HANDLING) + len(PREPARING)


def test_a_keeper_changes_a_figure_by_its_name() -> None:
    assert setting("colour_stop") == figure("colour_stop").typical == 60
    assert setting("colour_stop", {"colour_stop": 42}) == 42
    assert setting("colour_stop", {"apart_own_warm": 42}) == 60


def test_a_figure_that_guards_the_fish_is_never_made_laxer() -> None:
    assert setting("clove_refuse", {"clove_refuse": 400}) == 56
    assert setting("clove_refuse", {"clove_refuse": 52}) == 52
    assert setting("apart_own_warm", {"apart_own_warm": 3}) == 28
    assert setting("apart_own_warm", {"apart_own_warm": 42}) == 42


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("clove_refuse", 400, "56 mg/L or less"),
        ("apart_own_warm", 3, "28 d or more"),
        ("no_such_figure", 3, "there is no figure called"),
        ("sedation_spacing_least", 3, "sedation_spacing (12 days)"),
        ("clove_ct_block", 500, "one longest time"),
        ("step_float", 3, "goes at temper_rate"),
        ("bag_tau", 20, "goes at temper_rate"),
        ("clove_lc50", 0, "more than 0"),
        ("colour_stop", -1, "0 or more"),
        ("colour_stop", nan, "0 or more"),
        ("colour_stop", inf, "0 or more"),
    ],
)
def test_a_fault_in_an_own_value_is_said(name: str, value: float, said: str) -> None:
    assert said in str(fault_in_own_value(name, value))


@pytest.mark.parametrize(
    ("name", "value"), [("clove_refuse", 52), ("apart_own_warm", 40), ("colour_stop", 30)]
)
def test_a_sound_own_value_has_no_fault(name: str, value: float) -> None:
    assert fault_in_own_value(name, value) is None


def test_where_two_readings_differ_the_safer_stands() -> None:
    assert FIGURES["colour_stop"].typical == 60  # 42 and 60
    assert FIGURES["last_bath_treatment"].typical == 60  # 45 and 60
    assert FIGURES["nh3_limit"].typical == 0.02  # 0.0206 and 0.02


@pytest.mark.parametrize("name", ["bath_max", "clove_block", "clove_refuse", "bath_litres_most"])
def test_a_limit_of_our_own_is_not_called_published(name: str) -> None:
    assert FIGURES[name].mark == "our choice"
