"""How many carp a bath of clove oil kills in ten minutes, by a published trial.

Velíšek et al. 2005, Effects of clove oil anaesthesia on common carp, Veterinarni Medicina
50:269-275, give three strengths for ten minutes: 51.6 mg/L killed 1 carp in 1,000, 74.3 half of
them and 110.1 all but 1 in 1,000. The share at any other strength is read off the straight line
through the three (least squares, normal score against log10 mg/L). Outside them it is an
extrapolation.
"""

from __future__ import annotations

from math import log10
from statistics import NormalDist, linear_regression

from showprep.husbandry.plausible import more_than_nothing

TRIAL_MINUTES = 10.0
TRIAL = ((51.6, 0.001), (74.3, 0.5), (110.1, 0.999))  # mg/L, share dead
LC50 = 74.3
_NORMAL = NormalDist()
_LINE = linear_regression(
    [log10(mg_per_l) for mg_per_l, _ in TRIAL], [_NORMAL.inv_cdf(dead) for _, dead in TRIAL]
)


def share_dead(mg_per_l: float, lc50: float = LC50) -> float:
    """Share of carp (0 to 1) dead after ten minutes in `mg_per_l` [mg oil/L].

    A lower `lc50` [mg/L] than the published one shifts the whole line, as for weaker fish. Raises
    ValueError unless both are above 0.
    """
    more_than_nothing(mg_per_l, "bath strength", "mg/L")
    shifted = log10(mg_per_l) + log10(LC50 / more_than_nothing(lc50, "the LC50", "mg/L"))
    return _NORMAL.cdf(_LINE.intercept + _LINE.slope * shifted)


def strength_killing(share: float, lc50: float = LC50) -> float:
    """Strength [mg oil/L] at which that share of carp (0 to 1) dies in ten minutes.

    0 for a share of 0 or an `lc50` of 0: no strength is safe enough then. Raises ValueError for a
    share of 1 or more.
    """
    if share <= 0 or lc50 <= 0:
        return 0.0
    if share >= 1:
        raise ValueError("a share of carp that may die is less than 1")
    score = _NORMAL.inv_cdf(share)
    return float(10 ** ((score - _LINE.intercept) / _LINE.slope) * lc50 / LC50)
