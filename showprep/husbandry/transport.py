"""Whether fish travel safely in a bag under oxygen: what they use, and what they foul.

In an oxygen bag the oxygen is hardly ever the limit; carbon dioxide and ammonia are.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from showprep.husbandry.ammonia import nh3_n_mg_per_l
from showprep.husbandry.bag_size import bagging_temperature, load_limit_kg_per_l
from showprep.husbandry.carbon_dioxide import bag_ph, in_water_mg_per_l, production_mg
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.oxygen import consumption_mg_per_kg_h, store_mg, warmer_by
from showprep.husbandry.plausible import more_than_nothing, not_negative
from showprep.husbandry.reason import (
    Celsius,
    KilogramsPerLitre,
    Litres,
    MilligramsPerLitre,
    Reason,
    reason,
)

LimitedBy = Literal["ammonia", "carbon dioxide", "oxygen", "time in the bag", "crowding"]


class Bag(Struct, frozen=True):
    """One bag at the end of a journey.

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
    limited_by: LimitedBy
    stop_hours: float
    stops: tuple[Reason, ...]
    warnings: tuple[Reason, ...]


class _Rates(Struct, frozen=True):
    """What happens in the bag each hour, and what it holds."""

    oxygen_mg: float
    store_mg: float
    co2_mg_per_l: float
    tan_mg_per_l: float

    def hours_until(self, amount: float, rate: float) -> float:
        return amount / rate if rate > 0 else float("inf")


def bag_after(
    kg: float,
    water_l: float,
    gas_l: float,
    water_c: float,
    hours: float,
    figures: FiguresInForce,
    *,
    alkalinity_meq_l: float,
    open_ph: float,
) -> Bag:
    """Work out a bag of `kg` [kg] koi in `water_l` [L] under `gas_l` [L] of oxygen for `hours` [h].

    Of the figures: `o2_r20` oxygen use and `tan20_bag` ammonia given off at 20 °C, both doubling
    for each 10 °C; `o2_purity` of the oxygen, `rq` carbon dioxide to oxygen. `open_ph` is of the
    water open to the air. Formulae in `oxygen`, `carbon_dioxide` and `ammonia`; figures derived or
    assumed, and weak: an outcome near a limit is over it. Raises Refusal for water outside 0 to
    30 °C, ValueError for negative amounts, no water or no fish.
    """
    bagging_temperature(water_c)
    more_than_nothing(kg, "fish weight", "kg")
    more_than_nothing(water_l, "bag water", "L")
    not_negative(hours, "journey", "h")
    rates = _rates(kg, water_l, gas_l, water_c, figures)
    co2 = rates.co2_mg_per_l * hours
    tan = rates.tan_mg_per_l * hours
    ph = bag_ph(co2, water_c, alkalinity_meq_l, open_ph)
    used = rates.oxygen_mg * hours / rates.store_mg if rates.store_mg > 0 else float("inf")
    opened = nh3_n_mg_per_l(tan, water_c, open_ph)
    load, most = kg / water_l, load_limit_kg_per_l(water_c, hours)
    longest, limited_by = min(_limits(rates, "warn", figures))
    stop_hours, stopped_by = min(_limits(rates, "stop", figures))
    least_l = kg * figures["bag_litres_per_kg"]
    stops = (
        *_stops(hours, stop_hours, stopped_by),
        *_load_stops(hours, kg, water_l, most, least_l, water_c, figures["lift_most"]),
    )
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
        tuple(_warnings(hours, longest, limited_by, opened, figures)),
    )


def _rates(
    kg: float, water_l: float, gas_l: float, water_c: float, figures: FiguresInForce
) -> _Rates:
    oxygen_mg = kg * consumption_mg_per_kg_h(water_c, figures["o2_r20"])
    co2_mg = production_mg(oxygen_mg, figures["rq"])
    return _Rates(
        oxygen_mg,
        store_mg(gas_l, water_c, figures["o2_purity"]),
        in_water_mg_per_l(co2_mg, water_l, gas_l, water_c),
        kg * figures["tan20_bag"] * warmer_by(water_c - 20) / water_l,
    )


def _limits(
    rates: _Rates, level: Literal["warn", "stop"], figures: FiguresInForce
) -> list[tuple[float, LimitedBy]]:
    """Hours [h] until each thing reaches its warning or its stop level, with its name."""
    stop = level == "stop"
    oxygen = rates.store_mg * (1.0 if stop else figures["o2_store_use"] / 100)
    co2 = figures["co2_stop" if stop else "co2_warn"]
    return [
        (rates.hours_until(oxygen, rates.oxygen_mg), "oxygen"),
        (rates.hours_until(co2, rates.co2_mg_per_l), "carbon dioxide"),
        (rates.hours_until(figures["tan_stop"], rates.tan_mg_per_l), "ammonia"),
        (figures["bag_hours_stop" if stop else "bag_hours"], "time in the bag"),
    ]


def _stops(hours: float, stop_hours: float, stopped_by: LimitedBy) -> Iterator[Reason]:
    if hours >= stop_hours:
        yield reason("bag-too-long", hours=hours, by=stopped_by, stop=stop_hours)


def _load_stops(
    hours: float,
    kg: float,
    water_l: float,
    most: float,
    least_l: float,
    water_c: float,
    lift_kg: float,
) -> Iterator[Reason]:
    if most <= 0:
        yield reason("no-load-is-safe", hours=hours, water=Celsius(water_c))
    elif kg / water_l > most * (1 + 1e-9) and kg / most + kg > lift_kg:
        yield reason(
            "load-too-great-for-hours",
            load=KilogramsPerLitre(kg / water_l),
            most=KilogramsPerLitre(most),
            hours=hours,
        )
    elif kg / water_l > most * (1 + 1e-9):
        yield reason(
            "load-too-great",
            load=KilogramsPerLitre(kg / water_l),
            most=KilogramsPerLitre(most),
            wanted=Litres(kg / most),
        )
    if least_l > water_l * (1 + 1e-9):
        yield reason("back-not-covered-in-bag", wanted=Litres(least_l))


def _warnings(
    hours: float, longest: float, limited_by: LimitedBy, opened: float, figures: FiguresInForce
) -> Iterator[Reason]:
    if hours > longest:
        yield reason("bag-passes-warning", by=limited_by, longest=longest, hours=hours)
    if opened > figures["nh3_limit"] or hours > figures["direct_transfer_hours"]:
        yield reason("do-not-open-long", ammonia=MilligramsPerLitre(opened))
