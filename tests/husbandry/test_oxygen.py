"""Oxygen in water, used and stored, against TEOS-10 and printed tables."""

from __future__ import annotations

from math import nan
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.oxygen import (
    AIR_OXYGEN_SHARE,
    consumption_mg_per_kg_h,
    pressure_at_altitude_kpa,
    saturation_mg_per_l,
    store_mg,
    vapour_pressure_atm,
)

RATE = SHIPPED["o2_r20"]

if TYPE_CHECKING:
    from tests.conftest import Outside


@pytest.mark.parametrize("salt", [0, 1, 3, 5, 10, 35])
def test_saturation_is_that_of_teos_10(outside: Outside, salt: float) -> None:
    # gsw, the TEOS-10 toolbox: umol/kg of Garcia & Gordon 1992, times density, times 31.9988.
    gsw = outside.module("gsw")
    for water_c in range(31):
        absolute = gsw.SA_from_SP(salt, 0, 0, 0)
        density = gsw.rho_t_exact(absolute, water_c, 0)
        theirs = gsw.O2sol_SP_pt(salt, water_c) * density * 31.9988e-6
        assert saturation_mg_per_l(water_c, salt) == pytest.approx(float(theirs), abs=0.003)


@pytest.mark.parametrize(
    ("water_c", "printed"), [(0, 14.621), (10, 11.288), (20, 9.092), (25, 8.263), (30, 7.559)]
)
def test_saturation_as_standard_methods_print_it(water_c: float, printed: float) -> None:
    # APHA Standard Methods 4500-O, table of Benson & Krause 1984, fresh water at 1 atm.
    assert saturation_mg_per_l(water_c) == pytest.approx(printed, abs=0.0011)


def test_misprints_of_copied_tables_are_not_followed() -> None:
    # A copy of EN 25814 prints 12.2 at 7 °C, a copy of Montgomery 1964 prints 9.64 at 18 °C.
    assert round(saturation_mg_per_l(7), 1) == 12.1
    assert round(saturation_mg_per_l(18), 2) == 9.47


def test_salt_by_the_straight_line_of_en_25814() -> None:
    # EN 25814 at 20 °C: 9.09 - 0.0475 S.
    assert saturation_mg_per_l(20, 3) == pytest.approx(9.09 - 0.0475 * 3, abs=0.02)


def test_pressure_by_the_simple_rule_and_a_printed_table() -> None:
    # C P/760 of a hydrology text is good to 0.03; a meter maker's table prints 8.4 at 700 mm.
    at_700 = saturation_mg_per_l(20, pressure_kpa=101.325 * 700 / 760)
    assert at_700 == pytest.approx(9.08 * 700 / 760, abs=0.03)
    assert round(at_700, 1) == 8.4
    assert saturation_mg_per_l(20, pressure_kpa=90) == pytest.approx(8.053, abs=0.001)
    assert saturation_mg_per_l(10, pressure_kpa=95) == pytest.approx(10.575, abs=0.001)


def test_vapour_pressure_is_that_of_the_steam_tables() -> None:
    # IAPWS steam tables (from memory): 1.228, 2.339 and 3.170 kPa at 10, 20 and 25 °C.
    for water_c, kpa in ((10, 1.228), (20, 2.339), (25, 3.170)):
        assert vapour_pressure_atm(water_c) * 101.325 == pytest.approx(kpa, rel=0.002)


@pytest.mark.parametrize(("metres", "kpa"), [(0, 101.325), (500, 95.461), (1000, 89.875)])
def test_pressure_with_height_is_that_of_the_standard_atmosphere(metres: float, kpa: float) -> None:
    # International standard atmosphere (ISO 2533).
    assert pressure_at_altitude_kpa(metres) == pytest.approx(kpa, abs=0.002)


def test_the_planning_value_lies_between_resting_and_feeding_fish() -> None:
    # FAO Training Series, Transport of live fish: resting carp of 100 g 17, 50, 72 and 105
    # mg/kg/h at 10, 20, 25 and 30 °C; fed and active koi 300 to 900 (keepers' pages).
    for water_c, resting in ((10, 17), (20, 50), (25, 72), (30, 105)):
        assert resting < consumption_mg_per_kg_h(water_c, RATE) < 900
    assert consumption_mg_per_kg_h(20, RATE) == 150
    assert consumption_mg_per_kg_h(10, 90) == pytest.approx(45)  # 45 and 90 as a feed maker prints


@pytest.mark.parametrize(
    ("water_c", "g_per_l"), [(10, 1.361), (15, 1.331), (20, 1.300), (25, 1.267)]
)
def test_a_litre_of_moist_oxygen_weighs_as_the_gas_law_says(water_c: float, g_per_l: float) -> None:
    # Ideal gas with R = 8.314463 J/mol/K (CODATA) and the same vapour pressure.
    kelvin, dry = water_c + 273.15, 101325 * (1 - vapour_pressure_atm(water_c))
    assert store_mg(1, water_c, 1.0) / 1000 == pytest.approx(g_per_l, abs=5e-4)
    assert store_mg(1, water_c, 1.0) == pytest.approx(
        dry * 1e-3 * 31.9988e3 / (8.314463 * kelvin), rel=1e-5
    )


def test_air_holds_a_fifth() -> None:
    assert store_mg(40, 20, AIR_OXYGEN_SHARE) / store_mg(40, 20, 1.0) == pytest.approx(0.2095)
    assert store_mg(0, 20, 1.0) == 0


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.floats(0, 39), st.floats(0.1, 1), st.floats(0, 40), st.floats(55, 105))
def test_warmth_salt_and_height_all_take_oxygen_away(
    water_c: float, more: float, salt: float, kpa: float
) -> None:
    plain = saturation_mg_per_l(water_c, salt, kpa)
    assert saturation_mg_per_l(water_c + more, salt, kpa) < plain
    assert saturation_mg_per_l(water_c, salt + more, kpa) < plain
    assert saturation_mg_per_l(water_c, salt, kpa - more) < plain


@pytest.mark.parametrize(
    "call",
    [
        lambda: saturation_mg_per_l(41),
        lambda: saturation_mg_per_l(-1),
        lambda: saturation_mg_per_l(nan),
        lambda: saturation_mg_per_l(20, 43),
        lambda: saturation_mg_per_l(20, 0, 40),
        lambda: pressure_at_altitude_kpa(6000),
        lambda: store_mg(-1, 20, 1.0),
        lambda: store_mg(1, 20, 1.1),
        lambda: consumption_mg_per_kg_h(20, 0),
    ],
)
def test_what_cannot_be_is_refused(call) -> None:
    with pytest.raises(ValueError, match=r"cannot|must be"):
        call()
