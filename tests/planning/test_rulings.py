"""What may be done about each kind of defect, and about a speck by where it sits.

What may be planned follows the table of the fact sheet on healing: only a superficial speck on
scaled skin is ever touched up; the rest heals by itself, is a vet's, is left, or is refused.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from showprep.planning.verdicts.wounds import milestones, ruling
from showprep.season.facts import shipped_facts

ON = date(2027, 3, 1)
MAY = {
    "touch-up": ("shimi",),
    "heals": (
        *("net-mark", "lost-scale", "lost-scales", "split-fin", "frayed-fin", "stress-flush"),
        *("red-spots", "bruised-snout", "incision"),
    ),
    "vet": (
        *("ulcer", "stitches", "hikui", "lump", "raised-scales", "fungus"),
        "raw-mouth",
    ),
    "leave": ("carp-pox", "deep-shimi"),
    "never": ("secondary-hi", "pattern-edge"),
}
EVERY = [(kind, may) for may, kinds in MAY.items() for kind in kinds]


def first_defect(written: Any, fields: str, on: date = ON) -> Any:
    written.fish = written.fish.split("  defects:")[0] + f"  defects: [{{{fields}}}]\n"
    yard = written.yard(on)
    return yard, yard.state.fish["aoi"].open_defects[0]


def rule(written: Any, fields: str, scaleless: bool = False, on: date = ON) -> str:
    yard, defect = first_defect(written, fields, on)
    return ruling(defect, yard.facts.kinds[defect.kind], scaleless, yard.figures).may


def test_every_kind_of_the_table_is_ruled_on() -> None:
    assert {kind for kind, _ in EVERY} == set(shipped_facts().kinds)


@pytest.mark.parametrize(("kind", "may"), EVERY)
def test_what_may_be_done(written: Any, kind: str, may: str) -> None:
    assert rule(written, f"kind: {kind}, where: left flank, seen: 2027-03-01") == may


@pytest.mark.parametrize(
    ("where", "may"),
    [
        ("left shoulder", "touch-up"),
        ("right flank, above the belly", "touch-up"),
        ("behind the dorsal fin", "touch-up"),
        ("head", "leave"),
        ("forehead", "leave"),
        ("cheek", "leave"),
        ("dorsal fin", "leave"),
        ("near the left eye", "vet"),
        ("gill cover", "vet"),
        ("near the vent", "vet"),
        ("on the lateral line", "vet"),
        ("above the left lateral line", "vet"),
    ],
)
def test_where_a_speck_sits_decides(written: Any, where: str, may: str) -> None:
    assert rule(written, f"kind: shimi, where: '{where}', seen: 2027-03-01") == may


def test_a_speck_of_which_no_place_is_told_is_left(written: Any) -> None:
    assert rule(written, "kind: shimi, seen: 2027-03-01") == "leave"


@pytest.mark.parametrize(
    ("more", "may"),
    [("size_mm: 3", "touch-up"), ("size_mm: 3.5", "vet"), ("size_mm: 8", "vet")],
)
def test_a_large_speck_is_no_nick(written: Any, more: str, may: str) -> None:
    assert rule(written, f"kind: shimi, where: flank, seen: 2027-03-01, {more}") == may


def test_no_speck_of_a_scaleless_fish_is_touched_up(written: Any, verdict: Any) -> None:
    assert rule(written, "kind: shimi, where: flank, seen: 2027-03-01", scaleless=True) == "leave"
    written.fish = written.fish.replace("variety: kohaku", "variety: shusui")
    assert verdict(written.plan(ON)).touch_up is None


@pytest.mark.parametrize("kind", ["ulcer", "stitches"])
def test_what_a_vet_has_dealt_with_heals_by_itself(written: Any, kind: str) -> None:
    fields = f"kind: {kind}, where: flank, seen: 2027-02-01, vet: 2027-02-20"
    assert rule(written, fields) == "heals"
    assert first_defect(written, fields)[1].heals_from == date(2027, 2, 20)


def test_a_touched_speck_heals_and_a_mark_left_stays(written: Any) -> None:
    fields = "kind: shimi, where: flank, seen: 2027-02-01"
    written.noted("on: 2027-02-20, did: touch-up, fish: aoi")
    assert rule(written, fields) == "heals"
    written.noted("on: 2027-02-27, saw: mark left, fish: aoi")
    assert rule(written, fields) == "leave"


@pytest.mark.parametrize(
    ("fields", "usual"),
    [
        # a fin regrows by 50 + share x 290 / 0.47 degree-days, 240 at least: 0.5 gives 359
        ("kind: frayed-fin, lost_share: 0.1", 240),
        ("kind: frayed-fin, lost_share: 0.5", 359),
        ("kind: frayed-fin, lost_share: 0.8", None),  # a matter for next season
        ("kind: frayed-fin", None),
        ("kind: shimi", 180),
    ],
)
def test_what_a_fin_asks_for_hangs_on_how_much_is_lost(
    written: Any, fields: str, usual: float | None
) -> None:
    yard, defect = first_defect(written, f"{fields}, where: tail, seen: 2027-03-01")
    found = dict(milestones(defect, yard.facts.kinds[defect.kind])).get("clean")
    assert (None if found is None else round(found.usual)) == usual
