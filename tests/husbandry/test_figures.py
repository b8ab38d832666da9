"""The table of figures: every row sound, and none made laxer by a keeper."""

from __future__ import annotations

from math import inf, nan

import pytest

from showprep.husbandry.figures import FIGURES, SHIPPED, FiguresInForce
from showprep.season.checks.own_figures import fault_in_own_value

ROWS = list(FIGURES.values())


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_every_row_rises_and_says_where_it_comes_from(row) -> None:
    assert row.low <= row.typical <= row.high
    assert row.grade in ("published", "derived", "common practice", "assumption", "our choice")
    assert row.source
    assert row.safe in ("lower", "higher", "either")


def test_no_name_stands_twice() -> None:
    from showprep.husbandry.figures_handling import HANDLING
    from showprep.husbandry.figures_preparing import PREPARING

    assert len(FIGURES) == len(HANDLING) + len(PREPARING)


def test_a_keeper_changes_a_figure_by_its_name() -> None:
    assert SHIPPED["colour_stop"] == FIGURES["colour_stop"].typical == 60
    assert FiguresInForce({"colour_stop": 42})["colour_stop"] == 42
    assert FiguresInForce({"apart_own_warm": 42})["colour_stop"] == 60
    assert dict(SHIPPED) == {name: row.typical for name, row in FIGURES.items()}


def test_a_figure_that_guards_the_fish_is_never_made_laxer() -> None:
    assert FiguresInForce({"clove_refuse": 400})["clove_refuse"] == 56
    assert FiguresInForce({"clove_refuse": 52})["clove_refuse"] == 52
    assert FiguresInForce({"apart_own_warm": 3})["apart_own_warm"] == 28
    assert FiguresInForce({"apart_own_warm": 42})["apart_own_warm"] == 42


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row.safe != "either"], ids=lambda row: row.name
)
def test_each_guard_is_made_stricter_and_never_laxer(row) -> None:
    less, more = 0.9 * row.typical, 1.1 * row.typical
    stricter, laxer = (less, more) if row.safe == "lower" else (more, less)
    assert fault_in_own_value(row.name, stricter) is None
    assert FiguresInForce({row.name: stricter})[row.name] == stricter
    assert "can only be made stricter" in str(fault_in_own_value(row.name, laxer))
    assert FiguresInForce({row.name: laxer})[row.name] == row.typical


@pytest.mark.parametrize(
    "row", [row for row in ROWS if row.safe == "either"], ids=lambda row: row.name
)
def test_what_guards_nobody_goes_either_way(row) -> None:
    for value in (0.9 * row.typical, 1.1 * row.typical):
        assert fault_in_own_value(row.name, value) is None
        assert FiguresInForce({row.name: value})[row.name] == value


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
        ("colour_stop", 181, "write 15 to 180 (its sources say 30 to 90)"),
        ("feed_cut_first_share", 1.1, "0.5 to 1 (its sources say 0.5)"),
        ("fast_loss", 101, "0.05 to 0.8854"),
        ("bag_water_share", 0.99, "0.25 to 0.5"),
        ("tan20_bag", 0, "10 mg N/kg/h or more"),
        ("o2_r20", 0.001, "150 mg/kg/h or more"),
        ("fast_transport_min", 15, "2 to 14"),
        ("refeed_share", 0.1, "0.125 to 0.3333"),
        ("feed_stop_c", 23, "8 to 22"),
        ("clove_target", 2, "2.5 to 35"),
        ("temp_ramp", 0, "more than 0"),
        ("growth_year", 0, "more than 0"),
        ("colour_least_c", 20, "colour_stop days before judging"),
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
    assert FIGURES[name].grade == "our choice"
