"""Carbon dioxide in a closed bag: how much is breathed out, where it goes, and the pH it makes."""

from __future__ import annotations

from math import exp, log, log10

from showprep.husbandry.oxygen import GAS_L_ATM_PER_MOL_K, ZERO_C_K
from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature

CO2_G_PER_MOL = 44.0095
CO2_PER_O2 = 1.375
"""Grams of carbon dioxide breathed out for each gram of oxygen at a quotient of 1: 44 to 32."""


def production_mg(oxygen_mg: float, rq: float) -> float:
    """Carbon dioxide [mg] breathed out for `oxygen_mg` [mg], 1.375 times the quotient `rq`."""
    quotient = more_than_nothing(rq, "quotient", "")
    return CO2_PER_O2 * quotient * not_negative(oxygen_mg, "oxygen used", "mg")


def water_to_gas_ratio(water_c: float) -> float:
    """Carbon dioxide in a litre of fresh water to that in a litre of gas above it, K0 R T.

    K0 of Weiss 1974, Marine Chemistry 2:203-215, at no salt [mol/L/atm].
    """
    kelvin = water_temperature(water_c) + ZERO_C_K
    k0 = exp(-58.0931 + 90.5069 * 100 / kelvin + 22.2940 * log(kelvin / 100))
    return k0 * GAS_L_ATM_PER_MOL_K * kelvin


def in_water_mg_per_l(co2_mg: float, water_l: float, gas_l: float, water_c: float) -> float:
    """Carbon dioxide in the water [mg/L] when `co2_mg` [mg] is shared with the gas above it.

    Cw = n/(Vw + Vg/H). Buffering by bicarbonate is left out, which errs to the safe side.
    Raises ValueError for no water or a negative volume of gas.
    """
    return not_negative(co2_mg, "carbon dioxide", "mg") / holding_l(water_l, gas_l, water_c)


def holding_l(water_l: float, gas_l: float, water_c: float) -> float:
    """Litres of water [L] that would hold as much carbon dioxide as water and gas together."""
    more_than_nothing(water_l, "bag water", "L")
    not_negative(gas_l, "bag gas", "L")
    return water_l + gas_l / water_to_gas_ratio(water_c)


def pk1(water_c: float) -> float:
    """First acid constant pK1 of carbonic acid in fresh water of `water_c` [°C, 0 to 50].

    3404.71/K + 0.032786 K - 14.8435, Harned & Davis 1943 (published).
    """
    kelvin = water_temperature(water_c, 0, 50) + ZERO_C_K
    return 3404.71 / kelvin + 0.032786 * kelvin - 14.8435


def bag_ph(co2_mg_per_l: float, water_c: float, alkalinity_meq_l: float, open_ph: float) -> float:
    """The pH of bag water with `co2_mg_per_l` [mg/L], pK1 + log10(alkalinity/CO2), in moles.

    Never above `open_ph`, the pH of the same water open to the air. Raises ValueError unless the
    alkalinity [meq/L] is above 0.
    """
    more_than_nothing(alkalinity_meq_l, "alkalinity", "meq/L")
    moles = not_negative(co2_mg_per_l, "carbon dioxide", "mg/L") / (1000 * CO2_G_PER_MOL)
    if moles == 0:
        return open_ph
    return min(open_ph, pk1(water_c) + log10(alkalinity_meq_l / 1000 / moles))
