"""Whether a tub or a bath holds a fish: the water covers its back, and it lies straight.

No figure was published for either; all of it is an assumption, chosen on the safe side: a koi is
about 0.3 of its length from back to belly, and needs a tub longer than itself and half as wide as
it is long.
"""

from __future__ import annotations

from showprep.husbandry.plausible import more_than_nothing
from showprep.season.quantities import Units, show_length, show_volume

BACK_SHARE = 0.30  # back to belly, of total length (assumption)
WIDTH_SHARE = 0.50  # of the smallest tub, of the fish's length (assumption)


def back_cm(fish_cm: float) -> float:
    """Height [cm] of a koi's back above the floor of the tub it stands on."""
    return BACK_SHARE * more_than_nothing(fish_cm, "the length of a fish", "cm")


def least_litres(fish_cm: float) -> float:
    """Water [L] that covers its back in the smallest tub it can lie straight in."""
    return fish_cm * WIDTH_SHARE * fish_cm * back_cm(fish_cm) / 1000


def tub_fault(
    litres: float,
    fish_cm: float,
    tub_cm: tuple[float, float] | None = None,
    units: Units = "metric",
) -> str | None:
    """Say why `litres` [L] will not do for a fish of `fish_cm` [cm], or return None.

    `tub_cm` is the inside length and width of the tub; without it the smallest tub that would
    hold the fish is taken, which gives the deepest water these litres can make.
    """
    fish = show_length(fish_cm, units)
    if tub_cm is not None:
        length, width = tub_cm
        if length <= fish_cm:
            return f"a tub of {show_length(length, units)} is too short for a fish of {fish}"
        depth = litres * 1000 / (length * more_than_nothing(width, "the width of the tub", "cm"))
        if depth < back_cm(fish_cm):
            return (
                f"the water would stand {show_length(depth, units)} deep and not cover the back "
                f"of a fish of {fish}, about {show_length(back_cm(fish_cm), units)} high"
            )
        return None
    if litres < least_litres(fish_cm):
        return (
            f"{show_volume(litres, units)} will not cover the back of a fish of {fish}; "
            f"use {show_volume(least_litres(fish_cm), units)} or more"
        )
    return None
