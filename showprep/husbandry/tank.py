"""A transport tank for fish too heavy for a bag: its litres, its oxygen, and its fillings.

A tank is open to the air: its carbon dioxide is driven out, so its pH stays that of the water, and
the ammonia is far more poisonous than in a shut bag. It is therefore sized by free ammonia.
"""

from __future__ import annotations

from math import ceil
from typing import Literal

from msgspec import Struct

from showprep.husbandry.ammonia import unionised_share
from showprep.husbandry.bag_size import bagging_temperature
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.oxygen import (
    consumption_mg_per_kg_h,
    saturation_mg_per_l,
    store_mg,
    warmer_by,
)
from showprep.husbandry.plausible import more_than_nothing

STEP_L = 10.0  # as a tank is marked


class Tank(Struct, frozen=True):
    """A tank for `kg` [kg] of koi: `litres` [L] of each of `fillings`, each for `hours_each` [h].

    `decided_by` what the litres are; `nh3_n_mg_per_l` at the end of a filling; `oxygen_l_per_min`
    [L/min] of pure oxygen through diffusers; `minutes_without_air` [min] from full of air down to
    the least oxygen a fish is left in.
    """

    kg: float
    litres: float
    fillings: int
    hours_each: float
    decided_by: Literal["ammonia", "oxygen"]
    nh3_n_mg_per_l: float
    oxygen_l_per_min: float
    minutes_without_air: float


def tank_for(
    kg: float,
    water_c: float,
    hours: float,
    figures: FiguresInForce,
    *,
    open_ph: float,
    own_l: float | None = None,
) -> Tank | None:
    """The tank that carries `kg` [kg] koi for `hours` [h] in water of `water_c` [°C, 0 to 30].

    Free ammonia (`tan20_bag` given off, Emerson et al. 1975 at `open_ph`) stays below `nh3_limit`;
    without any air the water keeps `o2_least` [mg/L] for `tank_air_reserve` [h] (Benson & Krause
    1984). Where that is more than `tank_most` [L], or the keeper's own tank of `own_l` [L], all the
    water is changed on the way. None where the oxygen alone would want more than that. Raises
    Refusal outside that temperature.
    """
    bagging_temperature(water_c)
    more_than_nothing(kg, "fish weight", "kg")
    more_than_nothing(hours, "journey", "h")
    used = kg * consumption_mg_per_kg_h(water_c, figures["o2_r20"])
    spare = saturation_mg_per_l(water_c) - figures["o2_least"]
    most = figures["tank_most"] if own_l is None else own_l
    for_oxygen = used * figures["tank_air_reserve"] / spare if spare > 0 else float("inf")
    if for_oxygen > most:
        return None
    share = unionised_share(water_c, open_ph)
    free_mg = kg * figures["tan20_bag"] * warmer_by(water_c - 20) * share * hours
    for_ammonia = free_mg / figures["nh3_limit"]
    fillings = max(1, ceil(for_ammonia / most - 1e-9))
    wanted = max(for_ammonia / fillings, for_oxygen)
    litres = min(ceil(wanted / STEP_L - 1e-9) * STEP_L, most)
    return Tank(
        kg,
        litres,
        fillings,
        hours / fillings,
        "oxygen" if for_oxygen > for_ammonia / fillings else "ammonia",
        free_mg / fillings / litres,
        100 / figures["tank_transfer"] * used / store_mg(1.0, water_c, 1.0) / 60,
        60 * litres * spare / used,
    )
