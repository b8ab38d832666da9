"""Carbon dioxide and the pH of a bag against a carbonate-chemistry library."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from showprep.husbandry.carbon_dioxide import (
    CO2_G_PER_MOL,
    bag_ph,
    holding_l,
    in_water_mg_per_l,
    pk1,
    production_mg,
    water_to_gas_ratio,
)
from showprep.husbandry.figures import SHIPPED
from tests.storms import storm

if TYPE_CHECKING:
    from tests.conftest import Outside


def theirs(outside: Outside, water_c: float, alkalinity: float, co2: float):
    """PyCO2SYS in fresh water (Harned & Davis 1943 and their pK1); amounts in umol/kg."""
    return outside.module("PyCO2SYS").sys(
        par1=alkalinity,
        par1_type=1,
        par2=co2,
        par2_type=8,
        temperature=water_c,
        salinity=0,
        opt_k_carbonic=8,
    )


@pytest.mark.parametrize("water_c", [5, 10, 15, 20, 25, 30])
def test_the_constants_are_those_of_pyco2sys(outside: Outside, water_c: float) -> None:
    found = theirs(outside, water_c, 1000, 500)
    assert 10 ** -pk1(water_c) == pytest.approx(float(found["k_carbonic_1"]), rel=2e-3)
    k0 = water_to_gas_ratio(water_c) / (0.0820574 * (water_c + 273.15))
    assert k0 == pytest.approx(float(found["k_CO2"]), rel=5e-3)


@pytest.mark.parametrize("water_c", [10, 15, 20, 25][:: storm(3, 1)])
@pytest.mark.parametrize("alkalinity", [0.5, 1.0, 2.0, 4.0][:: storm(3, 1)])
@pytest.mark.parametrize("co2", [10, 60, 140])
def test_the_ph_of_a_bag_is_that_of_pyco2sys(
    outside: Outside, water_c: float, alkalinity: float, co2: float
) -> None:
    micromoles = co2 / CO2_G_PER_MOL * 1000
    found = theirs(outside, water_c, alkalinity * 1000, micromoles)
    assert bag_ph(co2, water_c, alkalinity, 9.0) == pytest.approx(float(found["pH"]), abs=0.005)


def test_the_first_constant_as_harned_and_davis_print_it() -> None:
    # Harned & Davis 1943, J. Am. Chem. Soc. 65:2030: pK1 6.464, 6.419, 6.381, 6.352 at 10, 15,
    # 20 and 25 °C (table from memory).
    for water_c, printed in ((10, 6.464), (15, 6.419), (20, 6.381), (25, 6.352)):
        assert pk1(water_c) == pytest.approx(printed, abs=0.002)


def test_what_is_breathed_out() -> None:
    # 32 g of oxygen make 44 g of carbon dioxide at a quotient of 1.
    assert production_mg(32, 1.0) == 44
    assert production_mg(32, SHIPPED["rq"]) == pytest.approx(0.9 * 44)


@settings(derandomize=True, max_examples=80, deadline=None)
@given(st.floats(0, 1e5), st.floats(1, 100), st.floats(0, 200), st.floats(0, 30))
def test_carbon_dioxide_is_all_accounted_for(
    mg: float, water_l: float, gas_l: float, water_c: float
) -> None:
    in_water = in_water_mg_per_l(mg, water_l, gas_l, water_c)
    in_gas = in_water / water_to_gas_ratio(water_c)
    assert in_water * water_l + in_gas * gas_l == pytest.approx(mg)
    assert in_water_mg_per_l(mg, water_l + 1, gas_l, water_c) <= in_water
    assert holding_l(water_l, gas_l, water_c) >= water_l


def test_the_ph_of_a_bag_is_never_above_that_of_open_water() -> None:
    assert bag_ph(0, 20, 1, 8.0) == 8.0
    assert bag_ph(0.001, 20, 4, 8.0) == 8.0
    assert bag_ph(100, 20, 1, 8.0) < bag_ph(50, 20, 1, 8.0) < 8.0


@pytest.mark.parametrize(
    "call",
    [
        lambda: production_mg(-1, 1.0),
        lambda: production_mg(1, 0),
        lambda: in_water_mg_per_l(1, 0, 1, 20),
        lambda: in_water_mg_per_l(1, 1, -1, 20),
        lambda: bag_ph(50, 20, 0, 8),
        lambda: bag_ph(-1, 20, 1, 8),
        lambda: pk1(60),
    ],
)
def test_what_cannot_be_is_refused(call) -> None:
    with pytest.raises(ValueError, match=r"cannot|must be"):
        call()
