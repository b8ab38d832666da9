"""How large a bag and box a koi needs, and how much fish a litre of bag water carries."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from math import ceil

from msgspec import Struct

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import more_than_nothing, not_negative
from showprep.husbandry.reason import Celsius, Centimetres, Refusal, reason
from showprep.husbandry.weight import weight_fault

COLDEST_BAG_C, WARMEST_BAG_C = 0.0, 30.0
LONE_FISH_CM = 45.0
"""A koi longer than this [cm] travels in a bag of its own."""

# kg of fish to a litre of water in a bag under oxygen, by °C and hours (derived from carp trade
# anchors, weak; show koi are carried far lighter than food carp). The row of 30 °C and the column
# of 36 h are assumptions that bring the load down to nothing.
_TEMPERATURES = (10.0, 15.0, 20.0, 25.0, 30.0)
_HOURS = (3.0, 6.0, 12.0, 24.0, 36.0)
_LOADS = (
    (0.40, 0.30, 0.20, 0.12, 0.0),
    (0.33, 0.25, 0.15, 0.08, 0.0),
    (0.25, 0.18, 0.10, 0.05, 0.0),
    (0.18, 0.12, 0.06, 0.0, 0.0),
    (0.0, 0.0, 0.0, 0.0, 0.0),
)


class BagSize(Struct, frozen=True):
    """A bag for one fish: least lengths [cm], water and gas [L], and how many bags inside another.

    `alone`: the fish is too long to share its bag.
    """

    bag_length_cm: float
    box_length_cm: float
    water_l: float
    gas_l: float
    bags_each: int
    alone: bool


def bagging_temperature(water_c: float) -> float:
    """Return `water_c` [°C] if koi can be bagged in it (0 to 30 °C); raise Refusal if not."""
    if not water_c >= COLDEST_BAG_C:  # what is no number, too
        limit = Celsius(COLDEST_BAG_C)
        raise Refusal(reason("too-cold-to-bag", water=Celsius(water_c), limit=limit))
    if water_c > WARMEST_BAG_C:
        limit = Celsius(WARMEST_BAG_C)
        raise Refusal(reason("too-warm-to-bag", water=Celsius(water_c), limit=limit))
    return water_c


def load_limit_kg_per_l(water_c: float, hours: float) -> float:
    """Most fish [kg/L of water] to carry under oxygen for `hours` [h] at `water_c` [°C].

    0 where no load is safe. Derived and weak: read it as a ceiling for a careful keeper.
    """
    row = [_between(_HOURS, loads, hours) for loads in _LOADS]
    return _between(_TEMPERATURES, row, bagging_temperature(water_c))


def hours_of_load(kg_per_l: float, water_c: float) -> float:
    """Hours [h] for which `load_limit_kg_per_l` allows `kg_per_l` at `water_c` [°C]; 0 for none."""
    limits = [load_limit_kg_per_l(water_c, hours) for hours in _HOURS]
    if kg_per_l > limits[0]:
        return 0.0
    for here, there, more, less in zip(_HOURS, _HOURS[1:], limits, limits[1:], strict=False):
        if less < kg_per_l:
            return here + (more - kg_per_l) / (more - less) * (there - here)
    return _HOURS[-1]


def _between(at: Sequence[float], values: Sequence[float], x: float) -> float:
    if x <= at[0]:
        return values[0]
    if x >= at[-1]:
        return values[-1]
    right = bisect_right(at, x)
    share = (x - at[right - 1]) / (at[right] - at[right - 1])
    return values[right - 1] + share * (values[right] - values[right - 1])


def bag_size_for(
    length_cm: float,
    kg: float,
    water_c: float,
    hours: float,
    figures: FiguresInForce,
    *,
    bag_length_cm: float | None = None,
) -> BagSize:
    """Size the bag and box of one koi of `length_cm` [cm] and `kg` [kg] for `hours` [h].

    The bag is at least 23 cm longer than the fish, the box 15 cm (koi societies' guides), water
    at least 2.5 L for each kg, to cover the back, and by `load_limit_kg_per_l`; a third of the bag
    is water and the rest oxygen. Raises Refusal if the weight cannot belong to the length, the
    fish does not fit `bag_length_cm`, or no load is safe for so long or so warm a journey.
    """
    not_negative(hours, "journey", "h")
    more_than_nothing(length_cm, "fish length", "cm")
    fault = weight_fault(1000 * more_than_nothing(kg, "fish weight", "kg"), length_cm)
    if fault is not None:
        raise Refusal(fault)
    needed_cm = length_cm + figures["bag_length_extra"]
    if bag_length_cm is not None and bag_length_cm < needed_cm:
        raise Refusal(
            reason(
                "fish-too-long-for-bag",
                fish=Centimetres(length_cm),
                bag=Centimetres(bag_length_cm),
                needed=Centimetres(needed_cm),
            )
        )
    load = load_limit_kg_per_l(water_c, hours)
    if load <= 0:
        raise Refusal(reason("journey-too-long-for-any-bag", hours=hours, water=Celsius(water_c)))
    water_l = kg * max(1 / load, figures["bag_litres_per_kg"])
    share = figures["bag_water_share"]
    return BagSize(
        needed_cm if bag_length_cm is None else bag_length_cm,
        length_cm + figures["box_length_extra"],
        water_l,
        water_l * (1 - share) / share,
        round(figures["bags_each"]),
        length_cm > LONE_FISH_CM,
    )


def with_reserve(amount: float, figures: FiguresInForce) -> float:
    """As much of `amount` as is packed: half as much again (common practice of koi societies)."""
    return amount * (1 + figures["bags_spare"] / 100)


def bags_to_pack(bags: int, figures: FiguresInForce) -> int:
    """Count the bags to take for `bags` bags in use, with a reserve of half as many."""
    return ceil(with_reserve(bags, figures) - 1e-9)
