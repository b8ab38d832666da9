"""The word by which a second person checks a bath: the same numbers give the same word.

It is made of the water, the strength of the product and the target as the sheet prints them. It
guards against a slip, not against ill will: a slip meets the same word once in 5,760 times.
"""

from __future__ import annotations

from hashlib import blake2b

from showprep.planning.worksheets.bath_records import BathAsk
from showprep.season.values.quantities import Units, show_number, show_volume

# fmt: off
WORDS = (
    "acorn", "amber", "anvil", "apple", "badger", "barley", "basket", "beacon", "birch", "bobbin",
    "bramble", "button", "candle", "cedar", "cherry", "clover", "cobble", "copper", "cotton",
    "daisy", "ember", "fennel", "ferry", "flint", "garnet", "ginger", "hazel", "heron", "ivory",
    "jasper", "kettle", "ladder", "lantern", "lemon", "linen", "magnet", "maple", "marble",
    "meadow", "mitten", "nutmeg", "olive", "orchid", "otter", "paddle", "parsley", "pebble",
    "pepper", "pigeon", "plum", "quartz", "rabbit", "ribbon", "saddle", "saffron", "tulip",
    "turnip", "velvet", "violet", "walnut", "wicker", "willow", "window", "yarrow",
)
# fmt: on


def check_word(ask: BathAsk, target_mg_per_l: float) -> str:
    """The word for one bath, such as `heron-47`."""
    assert ask.litres is not None
    strength = ask.strength.oil_mg_per_ml if ask.strength is not None else 0.0
    said = "|".join(
        (
            ask.agent,
            _volume(ask.litres, ask.units),
            f"{show_number(strength, 1)} mg/mL",
            f"{show_number(target_mg_per_l, 2)} mg/L",
        )
    )
    number = int.from_bytes(blake2b(said.encode(), digest_size=8).digest(), "big")
    number, digits = divmod(number, 90)
    return f"{WORDS[number % len(WORDS)]}-{10 + digits}"


def _volume(litres: float, units: Units) -> str:
    """As the sheet prints it and a second person reads it off the jug: in the keeper's units."""
    return f"{show_number(litres, 1)} L" if units == "metric" else show_volume(litres, units)


def same_word(one: str, other: str) -> bool:
    """Are two words the same as people write them: in any case, with a space or a hyphen?"""
    return _plain(one) == _plain(other)


def _plain(word: str) -> str:
    return "".join(mark for mark in word.casefold() if mark.isalnum())
