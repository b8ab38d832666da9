"""Whether fish travel safely in a bag under oxygen: what they use, and what they foul.

In an oxygen bag the oxygen is hardly ever the limit; carbon dioxide and ammonia are.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from showprep.husbandry.ammonia import nh3_n_mg_per_l
from showprep.husbandry.bag_size import (
    BagSize,
    bag_size_for,
    bagging_temperature,
    bags_to_pack,
    load_limit_kg_per_l,
    salt_grams,
)
from showprep.husbandry.carbon_dioxide import bag_ph, in_water_mg_per_l, production_mg
from showprep.husbandry.figures import setting
from showprep.husbandry.oxygen import consumption_mg_per_kg_h, store_mg
from showprep.husbandry.plausible import more_than_nothing, not_negative

__all__ = [
    "Bag",
    "BagSize",
    "bag_size_for",
    "bags_to_pack",
    "load_limit_kg_per_l",
    "reckon",
    "salt_grams",
]

Own = Mapping[str, float] | None


@dataclass(frozen=True, slots=True)
class Bag:
    """The reckoning of one bag at the end of a journey.

    `oxygen_used_share` of the store (0 to 1); CO2 and ammonia in mg/L; `longest_hours` [h] to the
    first warning level and `limited_by` what; `stop_hours` [h] to the first stop level. `stops`
    are reasons not to travel so, `warnings` reasons for care.
    """

    oxygen_used_share: float
    co2_mg_per_l: float
    ph: float
    tan_mg_per_l: float
    nh3_n_mg_per_l: float
    nh3_n_when_opened_mg_per_l: float
    kg_per_l: float
    load_limit_kg_per_l: float
    longest_hours: float
    limited_by: str
    stop_hours: float
    stops: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Rates:
    """What happens in the bag each hour, and what it holds."""

    oxygen_mg: float
    store_mg: float
    co2_mg_per_l: float
    tan_mg_per_l: float

    def hours_until(self, amount: float, rate: float) -> float:
        return amount / rate if rate > 0 else float("inf")


def reckon(
    kg: float,
    water_l: float,
    gas_l: float,
    water_c: float,
    hours: float,
    r20: float | None = None,
    tan20: float | None = None,
    alkalinity_meq_l: float = 1.0,
    purity: float | None = None,
    rq: float | None = None,
    open_ph: float = 8.0,
    own: Own = None,
) -> Bag:
    """Reckon a bag of `kg` [kg] koi in `water_l` [L] under `gas_l` [L] of oxygen for `hours` [h].

    `r20` oxygen use at 20 °C [mg/kg/h] (150), `tan20` ammonia given off at 20 °C [mg N/kg/h] (10),
    both doubling for each 10 °C; `purity` of the oxygen (0.95), `rq` carbon dioxide to oxygen
    (0.9), `open_ph` of the water open to the air. Formulae in `oxygen`, `carbon_dioxide` and
    `ammonia`; figures derived or assumed, and weak: an outcome near a limit is over it.
    Raises ValueError for water outside 0 to 30 °C, negative amounts, no water or no fish.
    """
    bagging_temperature(water_c)
    more_than_nothing(kg, "the weight of fish", "kg")
    more_than_nothing(water_l, "the water in the bag", "L")
    not_negative(hours, "the journey", "h")
    share = setting("o2_purity", own) if purity is None else purity
    rates = _rates(kg, water_l, gas_l, water_c, r20, tan20, share, rq, own)
    co2 = rates.co2_mg_per_l * hours
    tan = rates.tan_mg_per_l * hours
    ph = bag_ph(co2, water_c, alkalinity_meq_l, open_ph)
    used = rates.oxygen_mg * hours / rates.store_mg if rates.store_mg > 0 else float("inf")
    opened = nh3_n_mg_per_l(tan, water_c, open_ph)
    load, most = kg / water_l, load_limit_kg_per_l(water_c, hours)
    longest, limited_by = min(_limits(rates, "warn", own))
    stop_hours, stopped_by = min(_limits(rates, "stop", own))
    stops = _stops(hours, stop_hours, stopped_by, (load, most), kg, own)
    warnings = _warnings(hours, longest, limited_by, opened, own)
    return Bag(
        used,
        co2,
        ph,
        tan,
        nh3_n_mg_per_l(tan, water_c, ph),
        opened,
        load,
        most,
        longest,
        limited_by,
        stop_hours,
        stops,
        warnings,
    )


def _rates(
    kg: float,
    water_l: float,
    gas_l: float,
    water_c: float,
    r20: float | None,
    tan20: float | None,
    purity: float,
    rq: float | None,
    own: Own,
) -> _Rates:
    oxygen_rate = consumption_mg_per_kg_h(water_c, setting("o2_r20", own) if r20 is None else r20)
    ammonia20 = setting("tan20_bag", own) if tan20 is None else tan20
    not_negative(ammonia20, "the ammonia given off", "mg/kg/h")
    oxygen_mg = kg * oxygen_rate
    co2_mg = production_mg(oxygen_mg, setting("rq", own) if rq is None else rq)
    return _Rates(
        oxygen_mg,
        store_mg(gas_l, water_c, purity),
        in_water_mg_per_l(co2_mg, water_l, gas_l, water_c),
        kg * ammonia20 * 2 ** ((water_c - 20) / 10) / water_l,
    )


def _limits(rates: _Rates, level: str, own: Own) -> list[tuple[float, str]]:
    """Hours [h] until each thing reaches its warning or its stop level, with its name."""
    stop = level == "stop"
    oxygen = rates.store_mg * (1.0 if stop else setting("o2_store_use", own) / 100)
    co2 = setting("co2_stop" if stop else "co2_warn", own)
    tan = setting("tan_stop", own)
    return [
        (rates.hours_until(oxygen, rates.oxygen_mg), "oxygen"),
        (rates.hours_until(co2, rates.co2_mg_per_l), "carbon dioxide"),
        (rates.hours_until(tan, rates.tan_mg_per_l), "ammonia"),
        (setting("bag_hours_stop" if stop else "bag_hours", own), "time in the bag"),
    ]


def _stops(
    hours: float,
    stop_hours: float,
    stopped_by: str,
    load: tuple[float, float],
    kg: float,
    own: Own,
) -> tuple[str, ...]:
    found = []
    if hours >= stop_hours:
        found.append(
            f"{hours:g} h are too long for this bag: {stopped_by} reaches the stop level after"
            f" {stop_hours:.1f} h"
        )
    carried, most = load
    if most <= 0:
        found.append(f"no load is safe for {hours:g} h in water this warm")
    elif carried > most * (1 + 1e-9):
        found.append(
            f"{carried:.2f} kg in a litre of water is too much, {most:.2f} is the limit:"
            f" use {kg / most:.0f} L of water"
        )
    if carried * setting("bag_litres_per_kg", own) > 1 + 1e-9:
        least = kg * setting("bag_litres_per_kg", own)
        found.append(f"too little water to cover the back: use {least:.0f} L at least")
    return tuple(found)


def _warnings(
    hours: float, longest: float, limited_by: str, opened: float, own: Own
) -> tuple[str, ...]:
    found = []
    if hours > longest:
        found.append(
            f"{limited_by} passes its warning level after {longest:.1f} h of the {hours:g} h:"
            " more water, less fish, or a stop to renew"
        )
    if opened > setting("nh3_limit", own) or hours > setting("direct_transfer_hours", own):
        found.append(
            f"once the bag is opened its ammonia turns poisonous ({opened:.2f} mg/L): float it"
            " shut, then move the fish by hand or sock into the vat and throw the bag water away;"
            " let no airstone in and no vat water"
        )
    return tuple(found)
