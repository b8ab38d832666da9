"""Ammonia: how much of it is the poisonous, un-ionised kind.

Amounts are of nitrogen (N). TAN is total ammonia nitrogen, NH3-N the un-ionised part.
"""

from __future__ import annotations

from showprep.husbandry.plausible import not_negative, water_temperature

PKA_CONSTANT = 0.09018
PKA_SLOPE_K = 2729.92  # a copy of the formula with 2727.92 is a misprint


def pka(water_c: float) -> float:
    """Acid constant pKa of ammonium in fresh water of `water_c` [°C, 0 to 50].

    0.09018 + 2729.92/K, Emerson et al. 1975, J. Fish. Res. Board Can. 32:2379 (published).
    Raises ValueError outside that range.
    """
    return PKA_CONSTANT + PKA_SLOPE_K / (water_temperature(water_c, 0, 50) + 273.15)


def unionised_share(water_c: float, ph: float) -> float:
    """Share (0 to 1) of total ammonia that is un-ionised, 1/(1 + 10^(pKa - pH)).

    Raises ValueError for a pH outside 4 to 11 or a temperature outside 0 to 50 °C.
    """
    if not 4 <= ph <= 11:
        raise ValueError(f"a pH of {ph:g} cannot be right for water with koi; give 4 to 11")
    return float(1 / (1 + 10 ** (pka(water_c) - ph)))


def nh3_n_mg_per_l(tan_mg_per_l: float, water_c: float, ph: float) -> float:
    """Un-ionised ammonia nitrogen [mg N/L] of `tan_mg_per_l` [mg N/L] at `water_c` [°C] and `ph`.

    Carp suffer from 0.05; the figure `nh3_limit` of 0.02 is our choice, below a guideline of 0.0206
    that stood in Directive 2006/44/EC, repealed in December 2013: no law in force.
    """
    return not_negative(tan_mg_per_l, "total ammonia", "mg/L") * unionised_share(water_c, ph)
