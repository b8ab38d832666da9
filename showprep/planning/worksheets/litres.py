"""Whether the litres of a bath may be a slip: ten times the water means ten times the dose.

No litres are taken that a tub does not hold, or of which a tenth would do for the same fish,
until it is settled which of the two is meant.
"""

from __future__ import annotations

from math import isclose

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.reason import Centimetres, Litres, Reason, reason
from showprep.planning.worksheets.bath_records import BathAsk, BathFish
from showprep.planning.worksheets.tub import least_litres


def litres_question(ask: BathAsk) -> Reason | None:
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
    if ask.litres_again is not None and not isclose(ask.litres_again, litres, rel_tol=1e-9):
        return reason("litres-differ", litres=Litres(litres), again=Litres(ask.litres_again))
    doubt = _too_much(ask, litres)
    if doubt is None and ask.litres_again is None and tub_litres(ask) is None:
        doubt = _doubt(ask, litres)
    if doubt is None:
        return None
    return reason("which-litres", litres=Litres(litres), tenth=Litres(litres / 10), why=doubt)


def tub_litres(ask: BathAsk) -> float | None:
    """What the tub holds to its brim [L], where all three dimensions are known."""
    if ask.tub_cm is None or ask.tub_depth_cm is None:
        return None
    length, width = ask.tub_cm
    return length * width * ask.tub_depth_cm / 1000


def _too_much(ask: BathAsk, litres: float) -> Reason | None:
    holds = tub_litres(ask)
    if holds is None:
        most = ask.figures["bath_litres_most"]
        return reason("more-than-any-tub", most=Litres(most)) if litres > most else None
    if litres > holds * (1 + 1e-9):
        assert ask.tub_cm is not None and ask.tub_depth_cm is not None
        length, width, depth = map(Centimetres, (*ask.tub_cm, ask.tub_depth_cm))
        return reason(
            "more-than-the-tub", length=length, width=width, depth=depth, holds=Litres(holds)
        )
    most = ask.figures["bath_litres_tub"]
    return reason("more-than-any-bath", most=Litres(most)) if litres > most else None


def _doubt(ask: BathAsk, litres: float) -> Reason | None:
    known = [fish for fish in ask.fish if fish.kg is not None or fish.length_cm is not None]
    if not known:
        if litres <= ask.figures["bath_litres_no_fish"]:
            return None
        return reason("no-fish-named")
    least = max(_least_litres(fish) for fish in known)
    return None if litres / 10 < least else reason("less-would-do", least=Litres(least))


def _least_litres(fish: BathFish) -> float:
    """By the figure as shipped: a keeper's higher one must not make a slip less likely seen."""
    by_weight = (fish.kg or 0.0) * SHIPPED["bath_litres_per_kg_least"]
    return max(by_weight, least_litres(fish.length_cm) if fish.length_cm is not None else 0.0)
