"""Whether the litres of a bath may be a slip: ten times the water means ten times the dose.

No litres are taken that a tub does not hold, or of which a tenth would do for the same fish,
until it is settled which of the two is meant.
"""

from __future__ import annotations

from math import isclose

from showprep.husbandry.figures import figure, setting
from showprep.planning.worksheets.bath_records import BathAsk, BathFish
from showprep.planning.worksheets.tub import least_litres
from showprep.season.quantities import show_length, show_volume


def litres_question(ask: BathAsk) -> str | None:
    """Ask which of two volumes is meant, both named; None where there is no doubt.

    Refused whatever is said: more than the tub holds, more than `bath_litres_most` (300 L) in a tub
    of unknown size, more than `bath_litres_tub` (1,000 L) in any. Asked, until the tub's three
    dimensions are known or `litres_again` says the same a second time: a bath of which a tenth
    would hold the fish, or, where no fish is named, one over `bath_litres_no_fish` (100 L).
    """
    assert ask.litres is not None
    if ask.litres_settled:
        return None
    litres = ask.litres
    both = f"{show_volume(litres, ask.units)}, or {show_volume(litres / 10, ask.units)}?"
    if ask.litres_again is not None and not isclose(ask.litres_again, litres, rel_tol=1e-9):
        two = f"{show_volume(litres, ask.units)}, or {show_volume(ask.litres_again, ask.units)}?"
        return f"{two} The litres were given twice, and differ"
    too_much = _too_much(ask, litres)
    if too_much is not None:
        return f"{both} {too_much}"
    if ask.litres_again is not None or tub_litres(ask) is not None:
        return None
    doubt = _doubt(ask, litres)
    return None if doubt is None else f"{both} {doubt}"


def tub_litres(ask: BathAsk) -> float | None:
    """What the tub holds to its brim [L], where all three dimensions are known."""
    if ask.tub_cm is None or ask.tub_depth_cm is None:
        return None
    length, width = ask.tub_cm
    return length * width * ask.tub_depth_cm / 1000


def _too_much(ask: BathAsk, litres: float) -> str | None:
    holds, units = tub_litres(ask), ask.units
    if holds is None:
        most = setting("bath_litres_most", ask.own)
        if litres <= most:
            return None
        return (
            f"No tub for sedation is taken to hold more than {show_volume(most, units)} unless its "
            "length, width and depth are given"
        )
    most = setting("bath_litres_tub", ask.own)
    if litres > holds * (1 + 1e-9):
        assert ask.tub_cm is not None and ask.tub_depth_cm is not None
        sides = (show_length(side, units) for side in (*ask.tub_cm, ask.tub_depth_cm))
        return f"The tub, {' by '.join(sides)}, holds {show_volume(holds, units)} to the brim"
    if litres > most:
        return f"No sedation is worked out for more than {show_volume(most, units)}"
    return None


def _doubt(ask: BathAsk, litres: float) -> str | None:
    known = [fish for fish in ask.fish if fish.kg is not None or fish.length_cm is not None]
    if not known:
        if litres <= setting("bath_litres_no_fish", ask.own):
            return None
        return "No fish was named, and most are sedated in less"
    least = max(_least_litres(fish) for fish in known)
    if litres / 10 < least:
        return None
    return f"{show_volume(least, ask.units)} would be enough for the largest fish"


def _least_litres(fish: BathFish) -> float:
    """By the figure as shipped: a keeper's higher one must not make a slip less likely seen."""
    by_weight = (fish.kg or 0.0) * figure("bath_litres_per_kg_least").typical
    return max(by_weight, least_litres(fish.length_cm) if fish.length_cm is not None else 0.0)
