"""The bags of a journey against published chemistry, and against a library for carbonates.

Everything invented here (fish, journeys) is only there to be asked about.
"""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from msgspec.structs import replace

from showprep.husbandry.figures import SHIPPED
from showprep.husbandry.reason import Refusal
from showprep.outputs.words.bags_sheet import (
    GASPING,
    NOT_AT_ONCE,
    NOT_SO,
    bag_words,
    tank_words,
)
from showprep.outputs.words.sheet import Sheet
from showprep.planning.worksheets.bags import bag_sheet
from showprep.planning.worksheets.bags_records import BagAsk
from tests.conftest import Outside
from tests.planning.told import codes

ASK = BagAsk(figures=SHIPPED, hours=6, water_c=20, kg=3, water_l=20, gas_l=40, alkalinity_meq_l=1)


def text_of(sheet: Sheet) -> str:
    lines = [line for _, section in sheet.sections for line in section]
    return "\n".join([*sheet.notices, *lines])


@pytest.mark.parametrize(
    ("ask", "alkalinity"),
    [
        (ASK, 1),
        (replace(ASK, alkalinity_meq_l=2, water_l=10, gas_l=30, hours=12), 2),
        (replace(ASK, alkalinity_meq_l=2, hours=24), 2),
        (replace(ASK, alkalinity_meq_l=1, water_c=15), 1),
    ],
)
def test_the_ph_of_the_bag_agrees_with_a_carbonate_library(
    outside: Outside, ask: BagAsk, alkalinity: float
) -> None:
    # PyCO2SYS (Humphreys et al. 2022) solves the whole system in fresh water with the constants
    # of Harned & Davis 1943 (opt_k_carbonic=8), from alkalinity and dissolved carbon dioxide.
    library = outside.module("PyCO2SYS")
    bag = bag_sheet(ask).bag
    assert bag is not None
    solved = library.sys(
        par1=1000 * alkalinity,
        par1_type=1,
        par2=bag.co2_mg_per_l / 44.0095 * 1000,
        par2_type=8,
        temperature=ask.water_c,
        salinity=0,
        opt_k_carbonic=8,
    )
    assert bag.ph == pytest.approx(float(solved["pH_free"]), abs=0.03)


@pytest.mark.parametrize(
    ("water_c", "share"),
    # UF/IFAS FA-16, table of un-ionised ammonia, row of pH 8.0 (published; last digit as printed).
    [(10, 0.0182), (16, 0.0286), (20, 0.0381), (24, 0.0502), (28, 0.0654)],
)
def test_ammonia_once_the_bag_is_opened_agrees_with_the_table(water_c: float, share: float) -> None:
    bag = bag_sheet(replace(ASK, water_c=water_c, hours=2, open_ph=8.0)).bag
    assert bag is not None
    assert bag.nh3_n_when_opened_mg_per_l == pytest.approx(bag.tan_mg_per_l * share, rel=0.006)


def test_oxygen_is_hardly_ever_the_limit() -> None:
    # Moist oxygen at one atmosphere holds 1.300 g/L at 20 °C (ideal gas, 31.9988 g/mol, vapour
    # 0.02306 atm, CRC Handbook): 40 L at 95 % hold 49.4 g, and 3 kg use 2.7 g in 6 h.
    bag = bag_sheet(ASK).bag
    assert bag is not None
    assert bag.oxygen_used_share == pytest.approx(3 * 150 * 6 / (0.95 * 40 * 1300), rel=0.002)
    assert bag.limited_by == "carbon dioxide"


def test_more_water_never_raises_ammonia_and_warmer_never_keeps_longer() -> None:
    sheets = [bag_sheet(replace(ASK, water_l=litres)).bag for litres in (10, 15, 20, 30, 42)]
    tans = [bag.tan_mg_per_l for bag in sheets if bag is not None]
    assert tans == sorted(tans, reverse=True) and len(tans) == 5
    warm = [bag_sheet(replace(ASK, water_c=c)).bag for c in (8, 12, 16, 20, 24)]
    hours = [bag.longest_hours for bag in warm if bag is not None]
    assert hours == sorted(hours, reverse=True) and len(hours) == 5


def test_the_bag_is_sized_so_that_no_warning_level_is_passed() -> None:
    for hours in (1, 3, 6, 9, 12):
        for water_c in (8, 15, 20, 24):
            sized = bag_sheet(
                BagAsk(figures=SHIPPED, hours=hours, water_c=water_c, kg=2, length_cm=52)
            )
            assert sized.bag is not None and sized.water_l is not None
            assert sized.bag.longest_hours >= hours - 1e-9
            assert not sized.bag.stops
            assert sized.water_l >= 2.5 * 2  # water to cover the back (assumption)
            assert sized.gas_l == pytest.approx(2 * sized.water_l)  # one third water (practice)


def test_the_bag_is_sized_for_the_way_home_too() -> None:
    sized = bag_sheet(BagAsk(figures=SHIPPED, hours=4.5, water_c=17, kg=2, length_cm=52, show_c=22))
    assert sized.home is not None and sized.home.longest_hours >= 4.5 - 1e-9
    assert not sized.home.stops


def test_weight_from_length_is_an_estimate_and_said_so() -> None:
    # Bister et al. 2000, standard weight of common carp: 500 mm are 1,745.8 g.
    sheet = bag_sheet(BagAsk(figures=SHIPPED, hours=3, water_c=18, length_cm=50))
    assert sheet.kg == pytest.approx(1.7458, abs=1e-4)
    assert sheet.kg_estimated
    assert "about 1.75 kg" in text_of(bag_words(sheet))
    weighed = bag_sheet(BagAsk(figures=SHIPPED, hours=3, water_c=18, length_cm=50, kg=1.8))
    assert not weighed.kg_estimated
    assert ", 1.8 kg:" in text_of(bag_words(weighed))


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"water_c": 35.0}, "too-warm-to-bag"),
        ({"length_cm": 60.0, "bag_length_cm": 70.0}, "fish-too-long-for-bag"),
        ({"length_cm": 20.0}, "weight-not-of-length"),
        ({"alkalinity_meq_l": 0.0}, "alkalinity-is-nothing"),
        ({"water_c": 26.0, "water_l": None, "hours": 24.0}, "journey-too-long-for-any-bag"),
        ({"water_l": 110.0}, "bag-too-heavy"),
        ({"kg": 13.0, "water_l": None}, "fish-too-heavy-for-bag"),
    ],
)
def test_what_cannot_be_carried_is_refused(changes: dict[str, float | None], code: str) -> None:
    sheet = bag_sheet(replace(ASK, **changes))
    assert sheet.refused is not None and sheet.refused.code == code
    assert sheet.bag is None
    said = bag_words(sheet)
    assert said.notices[0] == NOT_SO
    assert said.sections[0][0] == "The bag"
    assert (len(said.sections) == 2) == (sheet.ways is not None)


def test_neither_weight_nor_length_is_no_bag() -> None:
    with pytest.raises(Refusal, match="measure-the-fish"):
        bag_sheet(replace(ASK, kg=None))


def test_a_limit_passed_is_said() -> None:
    sheet = bag_sheet(replace(ASK, water_l=5, gas_l=10))
    assert {"load-too-great", "back-not-covered-in-bag"} <= set(codes(sheet.cautions))
    assert bag_words(sheet).notices == (NOT_SO,)
    assert bag_words(sheet).always == GASPING


@pytest.mark.parametrize(
    ("show_c", "how", "words"),
    [
        (21.5, "direct", "usual float of 20 minutes"),
        (18.0, "temper", "over 1.0 h"),
        (15.0, "temper", "over 2.5 h"),
        (26.0, "ramp", "over 6 days"),
    ],
)
def test_the_step_to_the_shows_water(show_c: float, how: str, words: str) -> None:
    # Steps of keepers' guides (common practice, no source); 2 °C/h and 1 °C a day with them.
    sheet = bag_sheet(replace(ASK, show_c=show_c))
    assert sheet.step is not None and sheet.step.how == how
    assert words in text_of(bag_words(sheet))
    assert (bag_words(sheet).notices == (NOT_SO,)) == (how == "ramp")
    assert sheet.home is not None


def test_a_step_of_ph_is_said_where_both_are_known() -> None:
    sheet = bag_sheet(replace(ASK, open_ph=7.2, show_ph=8.0))
    assert [one["change"] for one in sheet.step_told] == [pytest.approx(0.8)]
    assert not bag_sheet(replace(ASK, show_ph=8.0)).step_told


def test_salt_if_used() -> None:
    # 20 L at 0.3 % are 60 g: grams = litres x percent x 10 (arithmetic).
    sheet = bag_sheet(replace(ASK, salt_g_l=3))
    assert sheet.salt_g == pytest.approx(60)
    assert "Salt 60 g" in text_of(bag_words(sheet))
    assert bag_sheet(ASK).salt_g is None
    strong = bag_sheet(replace(ASK, salt_g_l=8))
    assert "salt-is-a-treatment" in codes(strong.cautions)


def test_an_alkalinity_that_was_not_given_is_said() -> None:
    unknown = bag_sheet(replace(ASK, alkalinity_meq_l=None))
    assert "alkalinity-not-given" in codes(unknown.cautions)
    assert "alkalinity-not-given" not in codes(bag_sheet(ASK).cautions)


def test_us_units_on_paper() -> None:
    # 20 L are 5.28 US gallons (NIST SP 811); 3 kg are 6.6 lb.
    text = text_of(bag_words(bag_sheet(replace(ASK, units="us"))))
    assert "5.3 US gal of water at 68 °F" in text and "6.6 lb" in text


def test_what_can_hurt_people_on_the_road_is_said() -> None:
    words = bag_words(bag_sheet(BagAsk(figures=SHIPPED, hours=4, water_c=18, kg=2)))
    text = " ".join(line for _, part in words.sections for line in part)
    for needed in ("upright", "No oil or grease", "no smoking", "valve shut", "not for eating"):
        assert needed in text, needed


@pytest.mark.parametrize(("kg", "litres", "two"), [(3, 22, True), (3, 21.9, False), (5, 20, True)])
def test_fish_and_water_of_25_kg_are_lifted_by_two(kg: float, litres: float, two: bool) -> None:
    sheet = bag_sheet(replace(ASK, kg=kg, water_l=litres, hours=1))
    assert ("lift-for-two" in [one.code for one in sheet.cautions]) is two


def test_a_bag_is_sized_with_a_fifth_more_hours_in_hand() -> None:
    # 9 h with 20 % are 10.8 h; the last hours of a bag are never all those of the journey
    sheet = bag_sheet(BagAsk(figures=SHIPPED, hours=9, water_c=20, kg=3, length_cm=60))
    assert sheet.bag is not None and sheet.bag.longest_hours >= 10.8
    assert "few-hours-in-hand" not in [one.code for one in sheet.cautions]
    given = bag_sheet(replace(ASK, hours=6.5))  # 20 L under 40 L: 6.7 h to the warning of CO2
    assert "few-hours-in-hand" in [one.code for one in given.cautions]


HEAVY = BagAsk(figures=SHIPPED, hours=12, water_c=20, kg=8, alkalinity_meq_l=1)


def test_no_bag_is_heavier_than_two_people_lift() -> None:
    # 45 kg less 8 kg of fish are 37 L, 0.216 kg/L. The load table falls from 0.25 at 3 h to 0.18
    # at 6 h, so 0.216 is reached after 3 + 3 x 0.0338/0.07 = 4.45 h. A fifth in hand leaves 3.7 h:
    # 12 h want 4 fillings of 3 h.
    sheet = bag_sheet(HEAVY)
    assert (sheet.water_l, sheet.gas_l, sheet.hours) == pytest.approx((37, 74, 3))
    assert sheet.ways is not None and sheet.bag is not None
    assert sheet.ways.good_for_h == pytest.approx(3 + 3 * (0.25 - 8 / 37) / 0.07)
    assert sheet.ways.limited_by == "crowding"
    assert sheet.ways.change_after_h == pytest.approx((3, 6, 9))
    assert codes(sheet.cautions)[0] == "one-bag-is-not-enough"
    assert not sheet.bag.stops and sheet.bag.longest_hours == sheet.ways.good_for_h
    for kg in (2, 4, 6, 8, 10, 12):
        for hours in (3, 9, 20, 40):
            each = bag_sheet(replace(HEAVY, kg=kg, hours=hours))
            assert each.water_l is None or each.water_l + kg <= 45
            assert each.ways is None or each.ways.water_l is None or each.ways.water_l + kg <= 45


def test_carbon_dioxide_limits_the_heaviest_bag_of_a_lighter_fish() -> None:
    # 39 L under 78 L for 6 kg: 60 (39 + 78/0.941) / (1.375 x 0.9 x 6 x 150) h, Weiss 1974.
    ways = bag_sheet(replace(HEAVY, kg=6)).ways
    assert ways is not None and ways.limited_by == "carbon dioxide"
    assert ways.good_for_h == pytest.approx(60 * (39 + 78 / 0.941) / (1.2375 * 900), rel=2e-3)
    assert ways.change_after_h == pytest.approx((4, 8))  # 6.57 h less a fifth in hand: 5.47 h


def test_water_is_changed_at_the_stops_that_are_made_anyway() -> None:
    # a filling lasts 3.7 h: stops 3.5, 5.75 and 8 h after bagging, then none: 11.7 h in it
    at = datetime(2027, 6, 11, 5, 0, tzinfo=ZoneInfo("Europe/Dublin"))
    ways = bag_sheet(replace(HEAVY, stops_h=(3.5, 5.75, 8.0), bagged_at=at, hours=11.5)).ways
    assert ways is not None and ways.change_after_h == (3.5, 5.75, 8.0)
    assert [f"{one:%H:%M}" for one in ways.change_at] == ["08:30", "10:45", "13:00"]
    between = bag_sheet(replace(HEAVY, stops_h=(5.0,), hours=8)).ways
    lasts = (3 + 3 * (0.25 - 8 / 37) / 0.07) / 1.2
    assert between is not None
    assert between.change_after_h == pytest.approx((lasts, 5.0))


def test_a_tank_is_as_large_as_free_ammonia_asks() -> None:
    # 8 kg x 10 mg N x 12 h are 960 mg; at pH 7.5 and 20 °C 1.24 % are free (UF/IFAS FA-16 prints
    # 0.0124): 11.9 mg, at 0.02 mg/L 595 L, marked 600.
    sheet = bag_sheet(replace(HEAVY, open_ph=7.5))
    assert sheet.ways is not None and sheet.ways.tank is not None
    tank = sheet.ways.tank
    assert (tank.litres, tank.fillings, tank.decided_by) == (600, 1, "ammonia")
    assert tank.litres * tank.nh3_n_mg_per_l == pytest.approx(960 * 0.0124, rel=0.005)
    # three times as much of it is free at pH 8: the same tank has to be filled four times
    open_air = bag_sheet(replace(HEAVY, open_ph=8.0)).ways
    assert open_air is not None and open_air.tank is not None
    assert (open_air.tank.fillings, open_air.tank.litres) == (4, 460)


def test_the_air_of_a_tank() -> None:
    # Makers of transport tanks advise 2 L of oxygen a minute for 100 kg (not named, not re-read).
    # Water of 20 °C holds 9.09 mg/L (APHA 4500-O, table): 460 L have 1 423 mg above 6 mg/L, and
    # 8 kg use 1 200 mg an hour: 71 minutes.
    ways = bag_sheet(replace(HEAVY, open_ph=8.0)).ways
    assert ways is not None and ways.tank is not None
    assert ways.tank.oxygen_l_per_min == pytest.approx(2 * 8 / 100, rel=0.1)
    assert ways.tank.minutes_without_air == pytest.approx(460 * 3.092 / 1200 * 60, rel=0.002)


def test_a_tank_has_a_sheet_of_its_own() -> None:
    (tank,) = tank_words((bag_sheet(HEAVY),))
    told = text_of(tank)
    for needed in ("460 L", "LPM", "plate", "Straps", "surges", "battery"):
        assert needed in told, needed
    assert not tank_words((bag_sheet(ASK),))
    assert bag_words(bag_sheet(HEAVY)).notices == (NOT_AT_ONCE,)


def test_a_bag_only_as_long_as_the_way_is_not_called_too_short() -> None:
    # 4 kg for 6 h: 28.5 L, well below what is lifted
    sheet = bag_sheet(replace(HEAVY, kg=4, hours=6))
    assert sheet.ways is None and sheet.hours == 6
