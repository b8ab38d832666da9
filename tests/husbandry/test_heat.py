"""Heat, and red spots that stay."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.heat import IN_HEAT, care_in, hot_spells
from showprep.husbandry.oxygen import saturation_mg_per_l
from showprep.husbandry.red_spots import goes_to_vet, look_again_on

DAY = date(2027, 7, 1)


def test_heat_begins_above_28_degrees() -> None:
    assert care_in(28, SHIPPED) == care_in(12, SHIPPED) == ()
    assert care_in(28.1, SHIPPED) == IN_HEAT
    assert care_in(27, FiguresInForce({"sed_hot_block": 26})) == IN_HEAT
    assert care_in(29, FiguresInForce({"sed_hot_block": 32})) == IN_HEAT  # only to the safer side
    with pytest.raises(ValueError, match="water temperature"):
        care_in(60, SHIPPED)


def test_warm_water_holds_less_oxygen() -> None:
    # US Geological Survey, tables of oxygen solubility (from memory): 9.09 mg/L at 20 °C and
    # 7.83 at 28 °C, at one atmosphere.
    assert saturation_mg_per_l(20) == pytest.approx(9.09, abs=0.02)
    assert saturation_mg_per_l(28) == pytest.approx(7.83, abs=0.02)


def test_spells_are_spans_of_days() -> None:
    hot = {2, 3, 4, 8, 10}

    def mean(day: date) -> float:
        return 29.0 if (day - DAY).days in hot else 27.0

    def span(first: int, last: int) -> tuple[date, date]:
        return DAY + timedelta(first), DAY + timedelta(last)

    assert hot_spells(mean, DAY, DAY + timedelta(20), SHIPPED) == (
        span(2, 4),
        span(8, 8),
        span(10, 10),
    )
    assert hot_spells(mean, DAY + timedelta(3), DAY + timedelta(9), SHIPPED) == (
        span(3, 4),
        span(8, 8),
    )
    assert hot_spells(mean, DAY + timedelta(9), DAY, SHIPPED) == ()


def test_red_spots_are_waited_for_three_days() -> None:
    assert look_again_on(DAY, SHIPPED) == DAY + timedelta(3)
    assert not goes_to_vet(DAY, DAY, SHIPPED)
    assert not goes_to_vet(DAY, DAY + timedelta(2), SHIPPED)
    assert goes_to_vet(DAY, DAY + timedelta(3), SHIPPED)
    with pytest.raises(ValueError, match="before the first"):
        goes_to_vet(DAY, DAY - timedelta(1), SHIPPED)
