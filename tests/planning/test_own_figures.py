"""A keeper's own figure is named wherever it stands behind an answer, beside the shipped one."""

from __future__ import annotations

from datetime import date
from typing import Any

from msgspec.structs import replace

from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.reason import Kelvin, Reason, reason
from showprep.husbandry.strength import Strength
from showprep.outputs.words.speaker import Speaker
from showprep.planning.worksheets.bags import bag_sheet
from showprep.planning.worksheets.bags_records import BagAsk
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk

ON = date(2027, 4, 1)
BAG = BagAsk(figures=SHIPPED, hours=6, water_c=20, kg=2, length_cm=52)
RAMP = reason("own-figure", name="temp_ramp", own=Kelvin(0.5), shipped=Kelvin(1), unit="a day")


def named(told: tuple[Reason, ...]) -> list[str]:
    return [str(one["name"]) for one in told if one.code == "own-figure"]


def test_the_plan_names_what_is_not_as_shipped(written: Any) -> None:
    assert named(written.plan(ON).cautions) == []
    # as shipped, on the side that would be laxer it is refused before, and stricter
    written.with_keeper("figures: {colour_stop: 60, temp_ramp: 0.5}")
    assert RAMP in written.plan(ON).cautions
    assert named(written.plan(ON).cautions) == ["temp_ramp"]
    written.with_keeper("defect_kinds: {shimi: {clean: {low: 90, usual: 150, high: 300}}}")
    assert reason("own-requirement", kind="shimi") in written.plan(ON).cautions


def test_it_is_told_in_the_keepers_units() -> None:
    assert "temp_ramp 0.5 °C a day (as shipped 1 °C a day)" in Speaker().text(RAMP)
    assert "temp_ramp 0.9 °F a day (as shipped 1.8 °F a day)" in Speaker(units="us").text(RAMP)


def test_a_bag_names_the_figures_of_the_journey_and_what_else_changed_it() -> None:
    assert named(bag_sheet(BAG).cautions) == []
    own = FiguresInForce({"tan20_bag": 15.0, "colour_stop": 42.0})
    assert named(bag_sheet(replace(BAG, figures=own)).cautions) == ["tan20_bag"]
    # the hottest water in which fish are handled is no figure of the journey, but it may stop one
    hot = FiguresInForce({"sed_hot_block": 22.0})
    assert named(bag_sheet(replace(BAG, figures=hot)).cautions) == []
    warm = replace(BAG, water_c=23.0, figures=hot)
    assert named(bag_sheet(warm).cautions) == ["sed_hot_block"]


def test_a_bath_names_the_figures_of_sedation() -> None:
    own = FiguresInForce({"clove_target": 30.0, "linf": 90.0})
    ten = Strength(percent_v_v=10)
    ask = BathAsk(figures=own, gate="keeper", litres=40, strength=ten, water_c=20, day=ON)
    sheet = bath_sheet(ask)
    assert sheet.target_mg_per_l == 30
    assert named(sheet.cautions) == ["clove_target"]
