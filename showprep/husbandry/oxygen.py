"""Oxygen: what water holds, what a koi uses, what a bag stores."""

from __future__ import annotations

from math import exp

from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature

ATMOSPHERE_KPA = 101.325
AIR_OXYGEN_SHARE = 0.2095
O2_G_PER_MOL = 31.9988
GAS_L_ATM_PER_MOL_K = 0.0820574
ZERO_C_K = 273.15


def saturation_mg_per_l(
    water_c: float, salt_g_per_kg: float = 0.0, pressure_kpa: float = ATMOSPHERE_KPA
) -> float:
    """Oxygen in water in balance with moist air [mg/L] at `water_c` [°C, 0 to 40].

    Benson & Krause 1984 as in APHA Standard Methods 4500-O, with `salt_g_per_kg` [g/kg, 0 to 42]
    and `pressure_kpa` of the air [kPa, 50 to 110]. Raises ValueError outside these ranges.
    """
    kelvin = water_temperature(water_c, 0, 40) + ZERO_C_K
    if not 0 <= salt_g_per_kg <= 42:
        raise ValueError(f"salt of {salt_g_per_kg:g} g/kg cannot be right; give 0 to 42")
    atm = _atmospheres(pressure_kpa)
    fresh = (
        -139.34411
        + 1.575701e5 / kelvin
        - 6.642308e7 / kelvin**2
        + 1.243800e10 / kelvin**3
        - 8.621949e11 / kelvin**4
    )
    salted = fresh - salt_g_per_kg * (0.017674 - 10.754 / kelvin + 2140.7 / kelvin**2)
    u = vapour_pressure_atm(water_c)
    theta = 0.000975 - 1.426e-5 * water_c + 6.436e-8 * water_c**2
    at_pressure = atm * (1 - u / atm) * (1 - theta * atm) / ((1 - u) * (1 - theta))
    return exp(salted) * at_pressure


def vapour_pressure_atm(water_c: float) -> float:
    """Pressure of water vapour [atm] over water of `water_c` [°C], APHA Standard Methods 4500-O."""
    kelvin = water_c + ZERO_C_K
    return exp(11.8571 - 3840.70 / kelvin - 216961 / kelvin**2)


def pressure_at_altitude_kpa(metres: float) -> float:
    """Usual air pressure [kPa] at `metres` [m, -400 to 5000], international standard atmosphere.

    Raises ValueError outside that range.
    """
    if not -400 <= metres <= 5000:
        raise ValueError(f"a height of {metres:g} m cannot be right; give -400 to 5000")
    return float(ATMOSPHERE_KPA * (1 - 2.25577e-5 * metres) ** 5.25588)


def consumption_mg_per_kg_h(water_c: float, r20: float) -> float:
    """Oxygen a koi uses [mg/kg/h] at `water_c` [°C]: `r20` at 20 °C, doubled for each 10 °C.

    The doubling is Q10 2 (Swann, Missouri Extension MX392; 1.75 to 2.5). In the first hour after
    netting a koi uses two to three times as much.
    """
    more_than_nothing(r20, "oxygen use", "mg/kg/h")
    return float(r20 * warmer_by(water_temperature(water_c) - 20))


def warmer_by(kelvin: float) -> float:
    """How many times as much a koi uses and gives off in water warmer by `kelvin` [K]."""
    return float(2 ** (kelvin / 10))


def store_mg(
    gas_l: float,
    water_c: float,
    purity: float,
    pressure_kpa: float = ATMOSPHERE_KPA,
) -> float:
    """Oxygen [mg] in `gas_l` [L] of moist gas over water of `water_c` [°C].

    `purity` is the share of oxygen in the gas (0.2095 is air). Raises ValueError for a
    negative volume or a purity outside 0 to 1.
    """
    if not 0 <= purity <= 1:
        raise ValueError(f"the oxygen in the gas must be a share of 0 to 1; {purity:g} was given")
    dry = _atmospheres(pressure_kpa) - vapour_pressure_atm(water_temperature(water_c))
    moles = dry * not_negative(gas_l, "bag gas", "L")
    return 1000 * purity * moles * O2_G_PER_MOL / (GAS_L_ATM_PER_MOL_K * (water_c + ZERO_C_K))


def _atmospheres(pressure_kpa: float) -> float:
    if not 50 <= pressure_kpa <= 110:
        raise ValueError(f"an air pressure of {pressure_kpa:g} kPa cannot be right; give 50 to 110")
    return pressure_kpa / ATMOSPHERE_KPA
