"""Where a speck sits, in the keeper's words, and whether it may be touched up there."""

from __future__ import annotations

import re
from typing import Literal

from msgspec import Struct

from showprep.husbandry.reason import Reason, reason


class PlaceRuling(Struct, frozen=True):
    """Whether a speck may be touched up where it sits, and why."""

    may: Literal["touch-up", "leave", "vet"]
    reason: Reason


_VET_PLACE = re.compile(
    r"\b(?:(?:pop)?eye\w*|(?:fish)?gill\w*|opercul\w*|opercle\w*|vents?|anus|anal|cloaca"
    r"|lateral (?:\w+ )?lines?|lateralline|side ?lines?)\b"
)
_HEAD = re.compile(
    r"\b(?:(?:fore)?head\w*|nos(?:e\w*|trils?)|snout\w*|mouth\w*|muzzle|cheek\w*|lips?|barbels?"
    r"|whiskers?|crown|jaws?|chin|throat|face|brow|skull|nape|tancho|maruten|menkaburi"
    r"|hachiware|kuchibeni)\b"
)
_FIN = re.compile(r"\b(?:fins?|finrays?|rays?|tails?|caudal|dorsal|pectorals?|pelvics?|motoguro)\b")
_BESIDE_A_FIN = re.compile(  # scaled skin, though a fin is named
    r"\b(?:below|beneath|under|behind|above|beside|in front of|ahead of|(?:left|right) of) "
    r"(?:(?:the|her|his|its|left|right) )*"
    r"(?:(?:dorsal|pectoral|pelvic|caudal|tail)(?: fins?)?|fins?)\b"
    r"|\b(?:tail|caudal) (?:peduncle|root|joint|tube|wrist)\b"
)


def may_touch_up(where: str) -> PlaceRuling:
    """Whether a speck may be touched up, from the keeper's own words for where it sits.

    Near eye, gill, vent or lateral line a vet is asked; the head, where a trace nearly always
    stays, and the fins, which have no scales, are left alone (common practice). What is not
    known to be such a place is taken for scaled skin; a place left blank is not.
    """
    words = " ".join(re.findall(r"[^\W_]+", where.casefold()))
    if not words:
        return PlaceRuling("leave", reason("place-not-said"))
    if found := _VET_PLACE.search(words):
        return PlaceRuling("vet", reason("place-for-a-vet", named=found[0]))
    if found := _HEAD.search(words):
        return PlaceRuling("leave", reason("place-on-the-head", named=found[0]))
    if found := _FIN.search(_BESIDE_A_FIN.sub("", words)):
        return PlaceRuling("leave", reason("place-on-a-fin", named=found[0]))
    return PlaceRuling("touch-up", reason("place-on-scales"))
