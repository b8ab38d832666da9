"""Every figure of a bath and of a journey moves something, and none can be made laxer.

What is invented here (fish, tubs, journeys) is chosen so that each limit has a case on either side.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.husbandry.bag_size import bags_to_pack
from showprep.husbandry.figure_record import Figure
from showprep.husbandry.figures import FIGURES, SHIPPED, FiguresInForce
from showprep.husbandry.sedation_fit import (
    before_departure,
    cold_drop_block,
    days_between,
    since_last_sedation,
    since_move,
    since_spawning,
    water_fit,
)
from showprep.husbandry.strength import Strength
from showprep.outputs.words.bags_sheet import bag_words, tank_words
from showprep.outputs.words.bath_sheet import bath_words
from showprep.planning.worksheets.bags import bag_sheet
from showprep.planning.worksheets.bags_records import BagAsk
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk, BathFish
from showprep.season.checks.own_figures import GONE, fault_in_own_value

DAY = date(2027, 5, 1)
FIRST, LAST = "eugenol_fraction", "ph_total"  # the first and the last row of the two tables
NAMES = list(FIGURES)
ROWS = [FIGURES[name] for name in NAMES[NAMES.index(FIRST) : NAMES.index(LAST) + 1]]

BATH = BathAsk(
    figures=SHIPPED,
    litres=60,
    strength=Strength(percent_v_v=10),
    water_c=20,
    day=DAY,
    fish=(BathFish("Aoi", 52, 2.0),),
)
VETS = replace(BATH, agent="ms-222", strength=None, vet_agreed=True)
BATHS = (
    BATH,
    replace(BATH, target_mg_per_l=45, water_c=14),
    replace(BATH, target_mg_per_l=53, vet_agreed=True),
    replace(BATH, litres=24, fish=(BathFish("Aoi", None, 2.1),)),
    replace(BATH, litres=30, fish=(BathFish("Aoi", None, 1.3),)),
    replace(BATH, litres=290, fish=(BathFish("Aoi", None, 4.0),)),
    replace(BATH, litres=950, tub_cm=(200, 100), tub_depth_cm=60, fish=()),
    replace(BATH, litres=90, fish=(), water_c=None),
    *(replace(VETS, target_mg_per_l=target) for target in (45, 60, 130)),
)
BAG = BagAsk(figures=SHIPPED, hours=6, water_c=20, kg=2, length_cm=52)
BAGS = (
    *(replace(BAG, show_c=c) for c in (19.1, 21.9, 22.5, 23.9, 24, 25, 25.5, 27)),
    *(replace(BAG, open_ph=7.5, show_ph=ph) for ph in (7.68, 7.95)),
    replace(BAG, water_l=20, gas_l=1),
    replace(BAG, water_l=20, gas_l=5),
    replace(BAG, water_l=4.1, gas_l=8, hours=1),
    replace(BAG, water_l=42, gas_l=84, kg=0.14, length_cm=None, hours=3.5, open_ph=7),
    *(
        replace(BAG, water_l=42, gas_l=84, kg=0.14, length_cm=None, water_c=10, hours=hours)
        for hours in (22, 30)
    ),
    replace(BAG, water_l=40, gas_l=80, hours=0.95),
    replace(BAG, kg=8, length_cm=None, hours=12),
    replace(BAG, kg=14, length_cm=None, hours=12, open_ph=6.5),
    replace(BAG, kg=8, length_cm=None, hours=12, open_ph=7.5),
)


def unnamed(sheet: Any) -> Any:
    """The sheet without the names of the own figures, which stand there moved or not."""
    return replace(sheet, cautions=tuple(one for one in sheet.cautions if one.code != "own-figure"))


def of_a_bath(ask: BathAsk) -> object:
    sheet = unnamed(bath_sheet(ask))
    return sheet.refused, sheet.cautions, sheet.dose, sheet.buffered, bath_words(sheet)


def of_a_bag(ask: BagAsk) -> object:
    sheet = unnamed(bag_sheet(ask))
    told = sheet.refused, sheet.cautions, sheet.step_told
    return (
        told,
        sheet.bag,
        sheet.home,
        sheet.step,
        sheet.bags_each,
        bag_words(sheet),
        tank_words((sheet,)),
    )


def of_the_days(figures: FiguresInForce) -> object:
    """What a touch-up's day is judged by."""
    days = [DAY + timedelta(days=days) for days in range(50)]
    return (
        [water_fit(water_c, figures) for water_c in (10.5, 16, 24, 27)],
        [days_between(water_c, figures) for water_c in (14, 20)],
        [since_last_sedation(DAY, day, 20, figures) for day in days],
        [before_departure(DAY, day, figures) for day in days],
        [since_move(DAY, day, figures) for day in days],
        [since_spawning(DAY, day, figures) for day in days],
        [cold_drop_block(lambda on: 22 if on < DAY else 13, day, figures) for day in days],
        [cold_drop_block(lambda on: 22 if on < DAY else 15, day, figures) for day in days],
        bags_to_pack(2, figures),
    )


@cache
def everything(own: tuple[tuple[str, float], ...] = ()) -> object:
    """All that baths, bags and days come to under a keeper's own figures."""
    figures = FiguresInForce(dict(own))
    return (
        [of_a_bath(replace(ask, figures=figures)) for ask in BATHS],
        [of_a_bag(replace(ask, figures=figures)) for ask in BAGS],
        of_the_days(figures),
    )


def lower_and_higher(row: Figure) -> tuple[float, float]:
    if row.unit == "bags":
        return row.typical - 1, row.typical + 1  # whole ones
    return row.typical * 0.8, row.typical * 1.15


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_a_figure_moves_something_and_never_to_the_unsafe_side(row: Figure) -> None:
    lower, higher = lower_and_higher(row)
    for value, side in ((lower, "lower"), (higher, "higher")):
        moved = everything(((row.name, value),)) != everything()
        assert moved == (row.safe in (side, "either")), (row.name, value)
        fault = fault_in_own_value(row.name, value)
        assert (fault is None) == (row.safe in (side, "either")), fault


@pytest.mark.parametrize("name", GONE)
def test_a_figure_that_moved_nothing_is_refused_by_its_name(name: str) -> None:
    assert name not in FIGURES
    assert "is gone" in str(fault_in_own_value(name, 1.0))


def test_a_ramp_to_the_shows_water_takes_the_days_of_its_figure() -> None:
    slow = FiguresInForce({"temp_ramp": 0.5})
    plain, own = (bag_sheet(replace(BAG, show_c=27, figures=one)) for one in (SHIPPED, slow))
    assert plain.step is not None and own.step is not None
    assert (plain.step.days, own.step.days) == (7, 14)
