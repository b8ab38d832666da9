"""Where a speck may be touched."""

from __future__ import annotations

import pytest

from showprep.husbandry.places import may_touch_up


# Places: common practice, no source. Near eye, gill, vent or lateral line a vet is asked; the
# head keeps a trace; fins carry no scales.
@pytest.mark.parametrize(
    "where",
    [
        "by the left eye", "Gill cover", "gill-plate", "right_eye", "left operculum",
        "opercular edge", "behind the vent", "anal fin", "on the lateral line",
        "Lateral-line, mid body",
        "sideline", "shoulder behind the gills", "head, above the eyes",
        "two scales below the lateral scale line",
        "EYELID", "near the anus",
    ],
)  # fmt: skip
def test_vet_places(where: str) -> None:
    ruling = may_touch_up(where)
    assert ruling.may == "vet"
    assert ruling.reason.code == "place-for-a-vet"


@pytest.mark.parametrize(
    "where",
    [
        "head", "on the nose", "Snout", "upper lip", "left cheek", "barbel", "forehead", "crown",
        "just behind the head", "mouth", "nostril", "inside the tancho", "on the dorsal fin",
        "pectoral fin", "tail", "left pectoral", "base of the dorsal", "caudal fin",
        "tail fin, below the dorsal fin", "", "  ", "?",
    ],
)  # fmt: skip
def test_places_left_alone(where: str) -> None:
    ruling = may_touch_up(where)
    assert ruling.may == "leave"
    assert ruling.reason.code.startswith("place-")


@pytest.mark.parametrize(
    "where",
    [
        "left shoulder", "right flank", "back", "third hi patch", "belly, left",
        "below the dorsal fin", "left of the dorsal", "in front of the dorsal fin", "tail peduncle",
        "tail joint", "épaule",
        "behind the left pectoral fin", "ventral side", "seventh scale row", "inventive place",
    ],
)  # fmt: skip
def test_scaled_places(where: str) -> None:
    assert may_touch_up(where).may == "touch-up"


def test_the_reason_names_the_word() -> None:
    assert may_touch_up("edge of the GILL").reason["named"] == "gill"
