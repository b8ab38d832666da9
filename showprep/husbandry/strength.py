"""The strength of a bottle of clove oil.

A dose cannot be worked out without it: the same spoonful is a sedation from a bottle of one tenth
and a death from a bottle of neat oil. Nothing is guessed, and nothing has a default.
"""

from __future__ import annotations

from math import isfinite

from msgspec import Struct

NEAT_MG_PER_ML = 1050.0
"""Weight [mg] of a millilitre of undiluted clove oil: 1.05 g/mL, the middle of 1.038 to 1.060
(United States Pharmacopeia 35, monograph Clove Oil). No figure of a keeper's: the second person
who reads the label has to come to the same."""


class Strength(Struct, frozen=True):
    """Clove oil in a product: exactly one of `percent_v_v` [% by volume] and `mg_per_ml`.

    Raises ValueError unless it is above 0 and no stronger than neat oil.
    """

    percent_v_v: float | None = None
    mg_per_ml: float | None = None

    def __post_init__(self) -> None:
        if (self.percent_v_v is None) == (self.mg_per_ml is None):
            raise ValueError("the strength of the product must be given once")
        if self.percent_v_v is not None:
            _check(self.percent_v_v, 100.0, "%")
        else:
            assert self.mg_per_ml is not None
            _check(self.mg_per_ml, 1060.0, "mg/mL")

    @property
    def oil_mg_per_ml(self) -> float:
        """Clove oil in a millilitre of the product [mg/mL], 1.05 g/mL of oil (USP clove oil)."""
        if self.mg_per_ml is not None:
            return self.mg_per_ml
        assert self.percent_v_v is not None
        return self.percent_v_v / 100 * NEAT_MG_PER_ML

    @property
    def is_neat(self) -> bool:
        """Tell whether the product is, as near as may be, undiluted oil."""
        return self.oil_mg_per_ml >= 0.95 * NEAT_MG_PER_ML

    @property
    def is_weak(self) -> bool:
        """Is it weaker than 5 % by volume, so that a decimal place may be missing?

        Bottles for fish are of 10 % or neat: common practice, no source.
        """
        return self.oil_mg_per_ml < 0.05 * NEAT_MG_PER_ML


def _check(value: float, most: float, unit: str) -> None:
    if not isfinite(value) or not 0 < value <= most:
        raise ValueError(
            f"a strength of {value:g} {unit} cannot be right;"
            f" it must be above 0 and no more than {most:g} {unit} (undiluted oil)"
        )
