"""The strength of a bottle of clove oil, as its label states it.

A dose cannot be worked out without it: the same spoonful is a sedation from a bottle of one tenth
and a death from a bottle of neat oil. Nothing is guessed, and nothing has a default.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import isfinite

from showprep.husbandry.figures import setting

_NUMBER = r"(\d+(?:\.\d+)?)"
_PERCENT = re.compile(_NUMBER + r"\s*(?:%|per ?cent)\s*(?:v/v|by volume|vol|clove oil)?")
_PERCENT_WV = re.compile(_NUMBER + r"\s*(?:%|per ?cent)\s*w/v")
_MG_PER_ML = re.compile(_NUMBER + r"\s*mg\s*(?:/|per)\s*ml")
_PARTS = re.compile(_NUMBER + r"\s*\+\s*" + _NUMBER)
_WORDS = "one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|twenty"
_RATIO = re.compile(
    rf"(?:\d+(?:\.\d+)?|{_WORDS}|a)\s*(?::|/|in|to|parts? in)\s*(?:\d+(?:\.\d+)?|{_WORDS}|tenth)"
)
_NEAT = frozenset({"neat", "undiluted", "pure", "neat oil", "pure oil", "neat clove oil"})
_ASK = "give it from the label as percent by volume (10 %) or as mg per mL (105 mg/mL)"


@dataclass(frozen=True, slots=True)
class Strength:
    """Clove oil in a product: exactly one of `percent_v_v` [% by volume] and `mg_per_ml`.

    Raises ValueError unless it is above 0 and no stronger than neat oil.
    """

    percent_v_v: float | None = None
    mg_per_ml: float | None = None

    def __post_init__(self) -> None:
        if (self.percent_v_v is None) == (self.mg_per_ml is None):
            raise ValueError(f"the strength of the product must be given once: {_ASK}")
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
        return self.percent_v_v / 100 * neat_mg_per_ml()

    @property
    def is_neat(self) -> bool:
        """Tell whether the product is, as near as may be, undiluted oil."""
        return self.oil_mg_per_ml >= 0.95 * neat_mg_per_ml()


def neat_mg_per_ml() -> float:
    """Weight [mg] of a millilitre of undiluted clove oil (1,050)."""
    return 1000 * setting("oil_density")


def _check(value: float, most: float, unit: str) -> None:
    if not isfinite(value) or not 0 < value <= most:
        raise ValueError(
            f"a strength of {value:g} {unit} cannot be right;"
            f" it must be above 0 and no more than {most:g} {unit} (undiluted oil)"
        )


def parse_strength(text: str) -> Strength:
    """Read a strength as a keeper writes it: `10 %`, `105 mg/mL`, `1+9`, `neat`.

    Raises ValueError in words for a missing strength, for drops, for a ratio that can be read in
    two ways (`1:10`, `one in ten`), for a strength stated as eugenol, and for anything else.
    """
    said = " ".join(text.lower().split())
    refusal = _refusal(said)
    if refusal is not None:
        raise ValueError(refusal)
    if said in _NEAT:
        return Strength(percent_v_v=100.0)
    for pattern, per_percent in ((_PERCENT_WV, 10.0), (_MG_PER_ML, 1.0)):
        if found := pattern.fullmatch(said):
            return Strength(mg_per_ml=float(found[1]) * per_percent)
    if found := _PERCENT.fullmatch(said):
        return Strength(percent_v_v=float(found[1]))
    if found := _PARTS.fullmatch(said):
        oil, rest = float(found[1]), float(found[2])
        if oil > rest:
            raise ValueError(f"“{text}” is more oil than ethanol; write the parts of oil first")
        if oil > 0:
            return Strength(percent_v_v=100 * oil / (oil + rest))
    raise ValueError(f"the strength “{text}” cannot be read; {_ASK}")


def _refusal(said: str) -> str | None:
    if not said:
        return f"the strength of the product is missing, and there is no safe guess; {_ASK}"
    if "drop" in said:
        return (
            "drops are not a unit: one drop may be 0.03 or 0.05 mL, and says nothing of the"
            f" strength; {_ASK}"
        )
    if "eugenol" in said:
        return (
            "the label gives eugenol, not clove oil; divide by 0.85 for clove oil of the same"
            f" effect and check it with a vet, then {_ASK}"
        )
    if "," in said:
        return "a comma may mean a decimal or a thousand; write the strength with a decimal point"
    if _RATIO.fullmatch(said):
        return (
            f"“{said}” can be read in two ways: one part made up to ten (1+9) is 10 %,"
            " one part added to ten (1+10) is 9.09 %; say which, in percent"
        )
    if re.fullmatch(_NUMBER, said):
        return f"“{said}” has no unit: percent by volume, or mg per mL? {_ASK}"
    return None
