"""The strength of the sedative, as the keeper copied it from the label."""

from __future__ import annotations

import re

from showprep.husbandry.strength import Strength
from showprep.season.records import TouchUp
from showprep.season.values.measures import is_plain_number

PERCENT, MG_PER_ML = "strength_percent", "strength_mg_per_ml"
_NUMBER = r"(\d+(?:\.\d+)?)"
_OF_VOLUME = "|".join(("v/v", "by volume", "vol", "clove oil"))
_PERCENT = _NUMBER + rf"\s*(?:%|per ?cent)\s*(?:{_OF_VOLUME})?"
_PERCENT_WV = _NUMBER + r"\s*(?:%|per ?cent)\s*w/v"
_MG_PER_ML = _NUMBER + r"\s*mg\s*(?:/|per)\s*ml"
_PARTS = _NUMBER + r"\s*\+\s*" + _NUMBER
_WORDS = "|".join(
    (
        *("one", "two", "three", "four", "five", "six", "seven"),
        *("eight", "nine", "ten", "eleven", "twelve", "twenty"),
    )
)
_INTO = "|".join((":", "/", "in", "to", "parts? in"))
_RATIO = rf"(?:\d+(?:\.\d+)?|{_WORDS}|a)\s*(?:{_INTO})\s*(?:\d+(?:\.\d+)?|{_WORDS}|tenth)"
_NEAT = frozenset({"neat", "undiluted", "pure"})
_ASK = "give it from the label as percent by volume (10 %) or as mg per mL (105 mg/mL)"


def product_strength(touch_up: TouchUp) -> Strength | None:
    """The strength stated for the product, or None when none is.

    A bare number has the unit of its key. Raises ValueError in a keeper's words for drops, for
    what can be read in two ways, for a strength given twice, or one in the other key's unit.
    """
    percent, mg_per_ml = touch_up.strength_percent, touch_up.strength_mg_per_ml
    if percent is not None and mg_per_ml is not None:
        raise ValueError(f"the strength is given twice, as {PERCENT} and as {MG_PER_ML}")
    if percent is not None:
        found = parse_strength(f"{percent} %" if is_plain_number(percent) else percent)
        if found.percent_v_v is None and "%" not in percent:
            raise ValueError(f"'{percent}' is not in percent")
        return found
    if mg_per_ml is None:
        return None
    found = parse_strength(f"{mg_per_ml} mg/mL" if is_plain_number(mg_per_ml) else mg_per_ml)
    if found.mg_per_ml is None:
        raise ValueError(f"'{mg_per_ml}' is not in mg per mL")
    return found


def parse_strength(text: str) -> Strength:
    """Read a strength as a keeper writes it: `10 %`, `105 mg/mL`, `1+9`, `neat`.

    Raises ValueError in words for a missing strength, for drops, for a ratio that can be read in
    two ways (`1:10`, `one in ten`), for a strength stated as eugenol, and for anything else.
    """
    said = " ".join(text.lower().split())
    _refuse(said)
    if said.removesuffix(" oil").removesuffix(" clove") in _NEAT:
        return Strength(percent_v_v=100.0)
    for pattern, per_percent in ((_PERCENT_WV, 10.0), (_MG_PER_ML, 1.0)):
        if found := re.fullmatch(pattern, said):
            return Strength(mg_per_ml=float(found[1]) * per_percent)
    if found := re.fullmatch(_PERCENT, said):
        return Strength(percent_v_v=float(found[1]))
    if found := re.fullmatch(_PARTS, said):
        oil, rest = float(found[1]), float(found[2])
        if oil > rest:
            raise ValueError(f"“{text}” is more oil than ethanol; write the parts of oil first")
        if oil > 0:
            return Strength(percent_v_v=100 * oil / (oil + rest))
    raise ValueError(f"the strength “{text}” cannot be read; {_ASK}")


def _refuse(said: str) -> None:
    """Raise ValueError for what is missing, or could be read in the more dangerous way."""
    if not said:
        raise ValueError(
            f"the strength of the product is missing, and there is no safe guess; {_ASK}"
        )
    if "drop" in said:
        raise ValueError(
            "drops are not a unit: one drop may be 0.03 or 0.05 mL, and says nothing of the"
            f" strength; {_ASK}"
        )
    if "eugenol" in said:
        raise ValueError(
            "the label gives eugenol, not clove oil; divide by 0.85 for clove oil of the same"
            f" effect and check it with a vet, then {_ASK}"
        )
    if "," in said:
        raise ValueError(
            "a comma may mean a decimal or a thousand; write the strength with a decimal point"
        )
    if re.fullmatch(_RATIO, said):
        raise ValueError(
            f"“{said}” can be read in two ways: one part made up to ten (1+9) is 10 %,"
            " one part added to ten (1+10) is 9.09 %; say which, in percent"
        )
    if re.fullmatch(_NUMBER, said):
        raise ValueError(f"“{said}” has no unit: percent by volume, or mg per mL? {_ASK}")
