"""How large a bag and box a koi needs, and how much fish a litre of bag water carries."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from showprep.husbandry.figures import setting
from showprep.husbandry.plausible import more_than_nothing, not_negative, water_temperature
from showprep.husbandry.weight import weight_fault

WARMEST_BAG_C = 30.0
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


@dataclass(frozen=True, slots=True)
class BagSize:
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
    """Return `water_c` [°C] if koi can be bagged in it (0 to 30 °C); raise ValueError if not."""
    if water_c > WARMEST_BAG_C:
        raise ValueError(
            f"no koi is bagged in water of {water_c:g} °C; cool it, slowly, to below"
            f" {WARMEST_BAG_C:g} °C, or stay at home"
        )
    return water_temperature(water_c, 0, WARMEST_BAG_C)


def load_limit_kg_per_l(water_c: float, hours: float) -> float:
    """Most fish [kg/L of water] to carry under oxygen for `hours` [h] at `water_c` [°C].

    0 where no load is safe. Derived and weak: read it as a ceiling for a careful keeper.
    """
    row = [_between(_HOURS, loads, hours) for loads in _LOADS]
    return _between(_TEMPERATURES, row, bagging_temperature(water_c))


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
    water_c: float = 20.0,
    hours: float = 6.0,
    bag_length_cm: float | None = None,
    own: Mapping[str, float] | None = None,
) -> BagSize:
    """Size the bag and box of one koi of `length_cm` [cm] and `kg` [kg] for `hours` [h].

    The bag is at least 23 cm longer than the fish, the box 15 cm (koi societies' guides), water
    at least 2.5 L for each kg, to cover the back, and by `load_limit_kg_per_l`; a third of the bag
    is water and the rest oxygen. Raises ValueError if the weight cannot belong to the length, the
    fish does not fit `bag_length_cm`, or no load is safe for so long or so warm a journey.
    """
    not_negative(hours, "the journey", "h")
    more_than_nothing(length_cm, "the length of a fish", "cm")
    fault = weight_fault(1000 * more_than_nothing(kg, "the weight of a fish", "kg"), length_cm)
    if fault is not None:
        raise ValueError(fault)
    needed_cm = length_cm + setting("bag_length_extra", own)
    if bag_length_cm is not None and bag_length_cm < needed_cm:
        raise ValueError(
            f"a koi of {round(length_cm, 1):g} cm does not fit a bag of"
            f" {round(bag_length_cm, 1):g} cm; it needs one of {round(needed_cm, 1):g} cm"
        )
    load = load_limit_kg_per_l(water_c, hours)
    if load <= 0:
        raise ValueError(
            f"{hours:g} h at {water_c:g} °C are too much for any bag:"
            " cool the water, or change water and oxygen on the way"
        )
    water_l = kg * max(1 / load, setting("bag_litres_per_kg", own))
    share = setting("bag_water_share", own)
    return BagSize(
        needed_cm if bag_length_cm is None else bag_length_cm,
        length_cm + setting("box_length_extra", own),
        water_l,
        water_l * (1 - share) / share,
        round(setting("bags_each", own)),
        length_cm > LONE_FISH_CM,
    )


def bags_to_pack(bags: int, own: Mapping[str, float] | None = None) -> int:
    """Count the bags to take for `bags` bags in use: each doubled, and half as many in reserve.

    Common practice of koi societies. Raises ValueError for a negative number.
    """
    used = not_negative(bags, "the number of bags", "") * setting("bags_each", own)
    return ceil(used * (1 + setting("bags_spare", own) / 100) - 1e-9)


def salt_grams(water_l: float, g_per_l: float | None = None) -> float:
    """Plain salt, no additives [g], for `water_l` [L] of travelling water: 3 g/L, 1 to 5.

    Common practice; 1 g/L is 0.1 %. Raises ValueError above 5 g/L or for a negative amount.
    """
    wanted = setting("salt_transport") if g_per_l is None else g_per_l
    if wanted > 5:
        raise ValueError(f"{wanted:g} g/L of salt is too much to travel in; 1 to 5 is usual")
    return not_negative(water_l, "the water", "L") * not_negative(wanted, "the salt", "g/L")
