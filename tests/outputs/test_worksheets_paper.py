"""Worksheets as they are printed: each page within 80 columns and 60 lines, and whole.

A4 is 297 mm high and Letter 279: at six lines to the inch 60 lines are 254 mm, and 80 columns at
ten to the inch are 203 mm of the 210 or 216 mm width.
"""

from __future__ import annotations

import itertools
from datetime import date, datetime

import pytest
from msgspec.structs import replace

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.reason import Blemish, reason
from showprep.husbandry.strength import Strength
from showprep.outputs.words.bags_sheet import GASPING, bag_words, journey_words
from showprep.outputs.words.bath_sheet import GILLS_STOPPED, bath_words
from showprep.outputs.words.sheet import Sheet
from showprep.outputs.worksheets.paper import COLUMNS, LINES, pages_of, paper_text
from showprep.planning.worksheets.bags import bag_sheet
from showprep.planning.worksheets.bags_records import (
    BagAsk,
    JourneySheet,
    PackingList,
    PackItem,
)
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk, BathFish

FISH = tuple(
    BathFish(name, 47.3, 1.48, True, (Blemish("shimi", "behind the dorsal fin"),), "isolation vat")
    for name in ("Aoi", "Benkei", "Chiyo", "Daigo", "Emi", "Fumi", "Goro", "Hana", "Isamu", "Jun")
)
ASK = BathAsk(
    figures=SHIPPED,
    litres=60,
    strength=Strength(percent_v_v=10),
    target_mg_per_l=40,
    water_c=20,
    day=date(2027, 9, 25),
    fish=FISH[:1],
    water="garden pond",
    gate="keeper",
)


def check_fits(sheet: Sheet) -> list[list[str]]:
    pages = pages_of(sheet)
    for page in pages:
        assert len(page) <= LINES
        assert all(len(line) <= COLUMNS for line in page)
    return pages


@pytest.mark.parametrize("fish", [0, 1, 2, 3])
@pytest.mark.parametrize("water_c", [None, 12, 20, 27])
def test_a_session_is_two_pages_at_most(fish: int, water_c: float | None) -> None:
    for gate, units in itertools.product(
        ("keeper", "vet", "ask a vet", "law not known"), ("metric", "us", "imperial")
    ):
        ask = replace(ASK, fish=FISH[:fish], water_c=water_c, gate=gate, units=units)
        pages = check_fits(bath_words(bath_sheet(ask)))
        assert len(pages) <= 2, (gate, units)
        assert any("MEASURE" in line for line in pages[0])


def test_an_undiluted_bottle_and_a_vets_sheet_fit_too() -> None:
    neat = replace(ASK, strength=Strength(percent_v_v=100), target_mg_per_l=None, litres=15)
    assert len(check_fits(bath_words(bath_sheet(replace(neat, fish=()))))) <= 2
    vets = replace(ASK, agent="ms-222", target_mg_per_l=60.0, vet_agreed=True, gate="vet")
    assert len(check_fits(bath_words(bath_sheet(vets)))) <= 2
    check_fits(bath_words(bath_sheet(replace(ASK, water_c=35))))


def test_many_fish_go_on_over_a_second_page_and_every_page_says_the_worst() -> None:
    pages = check_fits(bath_words(bath_sheet(replace(ASK, fish=FISH))))
    assert len(pages) == 2
    for number, page in enumerate(pages, start=1):
        assert page[0].endswith(f"page {number} of 2")
        assert page[1] == GILLS_STOPPED
        assert page[-2] == GILLS_STOPPED
    text = paper_text([bath_words(bath_sheet(replace(ASK, fish=FISH)))], form_feed=True)
    assert text.count("\f") == 1
    for fish in FISH:
        assert text.count(f"{fish.name}  ") >= 1


def test_a_long_name_and_a_long_place_are_cut_or_wrapped_not_lost() -> None:
    long = BathFish("Pom" * 40, 47, 1.4, True, (Blemish("shimi", "very far back " * 12),))
    check_fits(bath_words(bath_sheet(replace(ASK, fish=(long,), water="pond " * 30))))
    title = pages_of(Sheet("T" * 200, (("Heading", ("line",)),)))[0][0]
    assert len(title) == COLUMNS and title.endswith("…")


def journey(fish: int) -> JourneySheet:
    ask = BagAsk(figures=SHIPPED, hours=4.5, water_c=17.6, length_cm=54.4, show_c=21, name="Benkei")
    bags = tuple(bag_sheet(replace(ask, name=f"Benkei {n}", fish=f"b-{n}")) for n in range(fish))
    packing = PackingList("larkfield", (("bags and water", (PackItem(9, reason("pack-bands")),)),))
    when = datetime(2027, 6, 11, 10, 30)
    return JourneySheet(
        "larkfield",
        "Larkfield Spring Show",
        *[when] * 4,
        home_zone="",
        travel_hours=2.5,
        stops=1,
        road_hours=2.75,
        in_bag_hours=4.75,
        bags=bags,
        packing=packing,
    )


@pytest.mark.parametrize("fish", [1, 2, 3, 4, 6, 12])
def test_a_journey_fits_its_pages(fish: int) -> None:
    bags, packing = journey_words(journey(fish))
    pages = check_fits(bags)
    assert len(pages) == 1 or fish > 3
    assert all(page[1] == GASPING for page in pages)
    assert len(check_fits(packing)) == 1
    text = "\n".join(line for page in pages for line in page)
    for number in range(fish):
        assert f"Benkei {number}" in text


def test_a_bag_from_options_fits() -> None:
    ask = BagAsk(
        figures=SHIPPED,
        hours=12,
        water_c=22,
        kg=3,
        water_l=6,
        gas_l=12,
        show_c=15,
        salt_g_l=3,
    )
    assert len(check_fits(bag_words(bag_sheet(ask)))) == 1


def test_no_box_to_tick_stands_at_the_end_of_a_line() -> None:
    things = " ".join(f"[ ] {'thing' * (number % 5 + 1)}" for number in range(60))
    told = paper_text([Sheet("Kit", (("All", (things,)),))])
    assert told.count("[ ] thing") == 60
    assert not [line for line in told.splitlines() if line.rstrip().endswith(("[ ]", "["))]
