"""Weight from length and back, and condition.

Standard weight of common carp, the 75th percentile of many waters, Bister et al. 2000:
log10 W[g] = -4.639 + 2.920 log10 L[mm], total length of 200 mm and more (published). Lengths
here are total lengths, tip of the nose to the end of the tail, in centimetres.
"""

from __future__ import annotations

from math import log10

from showprep.husbandry.plausible import more_than_nothing
from showprep.husbandry.reason import Centimetres, Kilograms, Reason, reason

_INTERCEPT = -4.639
_SLOPE = 2.920
_THINNEST_K, _FATTEST_K = 0.5, 4.0


def weight_from_length(length_cm: float, condition_k: float | None = None) -> float:
    """Weight [g] of a koi of `length_cm` [cm] total length.

    The standard weight, or with a condition factor K [100 g/cm3] K L^3 / 100. Below 20 cm the
    standard is extended. Raises ValueError for a length or K that is not above 0.
    """
    more_than_nothing(length_cm, "fish length", "cm")
    if condition_k is not None:
        return more_than_nothing(condition_k, "condition factor", "") * length_cm**3 / 100
    return float(10 ** (_INTERCEPT + _SLOPE * log10(length_cm * 10)))


def kg_from_length(length_cm: float, condition_k: float | None = None) -> float:
    """Weight [kg] of a koi of `length_cm` [cm]: `weight_from_length` in kilograms."""
    return weight_from_length(length_cm, condition_k) / 1000


def length_from_weight(weight_g: float) -> float:
    """Total length [cm] of a koi that weighs the standard weight `weight_g` [g]."""
    more_than_nothing(weight_g, "fish weight", "g")
    return float(10 ** ((log10(weight_g) - _INTERCEPT) / _SLOPE) / 10)


def condition_k(weight_g: float, length_cm: float) -> float:
    """Fulton's condition factor 100 W/L^3 [100 g/cm3]: koi 1.1 thin, 1.4 usual, 1.9 stout."""
    more_than_nothing(weight_g, "fish weight", "g")
    return 100 * weight_g / more_than_nothing(length_cm, "fish length", "cm") ** 3


def weight_fault(weight_g: float, length_cm: float) -> Reason | None:
    """The reason why weight [g] and length [cm] cannot belong to one koi, or None."""
    k = condition_k(weight_g, length_cm)
    if _THINNEST_K <= k <= _FATTEST_K:
        return None
    return reason(
        "weight-not-of-length",
        weight=Kilograms(weight_g / 1000),
        length=Centimetres(length_cm),
        usual=Kilograms(kg_from_length(length_cm)),
    )
