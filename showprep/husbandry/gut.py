"""How fast a carp's gut empties, by the temperature of the water.

Emptying is exponential, S(t) = S0 exp(-R t), with R = a exp(b T). The two published end points
of Garcia & Adelman 1985, Journal of Fish Biology (common carp in the field: 6.0 % an hour at
9 °C, 32.7 % an hour at 26.5 °C) fix a and b (derived; Q10 2.635). Fish on pellets empty about
half as fast (Rasheed & Salman 2018), which the safety factor of a fast allows for.
"""

from __future__ import annotations

from math import exp, log

from showprep.husbandry.plausible import water_temperature

COLDEST_MEASURED_C = 9.0
WARMEST_MEASURED_C = 26.5
_RATE_COLDEST = 0.060
_RATE_WARMEST = 0.327

EVAC_B = log(_RATE_WARMEST / _RATE_COLDEST) / (WARMEST_MEASURED_C - COLDEST_MEASURED_C)
EVAC_A = _RATE_COLDEST * exp(-EVAC_B * COLDEST_MEASURED_C)


def emptying_rate_per_h(water_c: float) -> float:
    """Share of the gut's contents that leaves in an hour [1/h] in water of `water_c` [°C].

    Below 9 °C the curve is extended (weak); above 26.5 °C the rate is held at its value there,
    the safer reading. Raises ValueError for an impossible temperature.
    """
    return EVAC_A * exp(EVAC_B * min(water_temperature(water_c), WARMEST_MEASURED_C))


def hours_to_empty(water_c: float, left: float = 0.01) -> float:
    """Hours [h] until only the share `left` of the gut's contents remains, ln(1/left)/R.

    Raises ValueError unless `left` lies between 0 and 1, or for an impossible temperature.
    """
    if not 0 < left < 1:
        raise ValueError(f"the share left in the gut must lie between 0 and 1; {left:g} was given")
    return log(1 / left) / emptying_rate_per_h(water_c)
