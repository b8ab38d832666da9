"""Whether a tub or a bath holds a fish: the water covers its back, and it lies straight.

No figure was published for either; all of it is an assumption, chosen on the safe side: a koi is
about 0.3 of its length from back to belly, and needs a tub longer than itself and half as wide as
it is long.
"""

from __future__ import annotations

from showprep.husbandry.plausible import more_than_nothing
from showprep.husbandry.reason import Centimetres, Litres, Reason, reason

BACK_SHARE = 0.30  # back to belly, of total length (assumption)
WIDTH_SHARE = 0.50  # of the smallest tub, of the fish's length (assumption)


def back_cm(fish_cm: float) -> float:
    """Height [cm] of a koi's back above the floor of the tub it stands on."""
    return BACK_SHARE * more_than_nothing(fish_cm, "fish length", "cm")


def least_litres(fish_cm: float) -> float:
    """Water [L] that covers its back in the smallest tub it can lie straight in."""
    return fish_cm * WIDTH_SHARE * fish_cm * back_cm(fish_cm) / 1000


def tub_fault(
    litres: float, fish_cm: float, tub_cm: tuple[float, float] | None = None
) -> Reason | None:
    """The reason why `litres` [L] will not do for a fish of `fish_cm` [cm], or None.

    `tub_cm` is the inside length and width of the tub; without it the smallest tub that would
    hold the fish is taken, which gives the deepest water these litres can make.
    """
    fish = Centimetres(fish_cm)
    if tub_cm is not None:
        length, width = tub_cm
        if length <= fish_cm:
            return reason("tub-too-short", tub=Centimetres(length), fish=fish)
        depth = litres * 1000 / (length * more_than_nothing(width, "tub width", "cm"))
        if depth < back_cm(fish_cm):
            back = Centimetres(back_cm(fish_cm))
            return reason("tub-too-shallow", depth=Centimetres(depth), fish=fish, back=back)
        return None
    if litres < least_litres(fish_cm):
        wanted = Litres(least_litres(fish_cm))
        return reason("back-not-covered", bath=Litres(litres), fish=fish, wanted=wanted)
    return None
