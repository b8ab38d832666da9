"""The bath of a touch-up against published figures for carp, and arithmetic done by hand.

Everything invented here (fish, ponds) is only there to be asked about.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from msgspec.structs import replace

from showprep.husbandry.figures import SHIPPED, FiguresInForce
from showprep.husbandry.reason import Blemish, Litres, Reason, Refusal
from showprep.husbandry.strength import Strength
from showprep.outputs.words.bath_sheet import GILLS_STOPPED, bath_words, refused_text
from showprep.outputs.words.sheet import Sheet
from showprep.planning.verdicts.cautions import LAW, NOT_STATED
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk, BathFish
from tests.planning.told import codes

TENTH = Strength(percent_v_v=10)
ASK = BathAsk(
    figures=SHIPPED,
    litres=60,
    strength=TENTH,
    target_mg_per_l=40,
    water_c=20,
    day=date(2027, 5, 1),
    fish=(BathFish("Aoi", 52, 2.0, False, (Blemish("shimi", "left shoulder"),)),),
    gate="keeper",
)


def told(reasons: tuple[Reason, ...], code: str) -> Reason:
    """The one reason of that code, wherever it stands in another."""
    (found,) = [inner for one in reasons for inner in one.inner() if inner.code == code]
    return found


def text_of(sheet: Sheet) -> str:
    lines = [line for _, section in sheet.sections for line in section]
    return "\n".join([sheet.title, *sheet.notices, *lines])


@pytest.mark.parametrize(
    ("percent", "low", "high"),
    # 2,400 mg of oil by the density of the United States Pharmacopeia 35, monograph Clove Oil,
    # 1.038 to 1.060 g/mL; the sheet must lie inside what that range allows.
    [(100, "2.264", "2.313"), (10, "22.64", "23.13"), (9.0909, "24.90", "25.44")],
)
def test_the_millilitres_lie_in_the_pharmacopoeias_range(
    percent: float, low: str, high: str
) -> None:
    made = bath_sheet(replace(ASK, strength=Strength(percent_v_v=percent))).dose
    assert made is not None
    assert float(low) <= made.millilitres <= float(high)
    by_hand = Fraction(60 * 40) / (Fraction("1050") * Fraction(str(percent)) / 100)
    assert made.millilitres == pytest.approx(float(by_hand), rel=1e-12)


def test_half_a_millilitre_a_litre() -> None:
    # Common practice, no source: 0.5 mL of a bottled product for each litre, 15 mL for 30 L.
    # With a tenth that is 52.5 mg/L, at the 51.6 mg/L that kills 1 in 1,000 carp in 10 minutes;
    # undiluted it is seven times the 74.3 that kills half (Velíšek et al. 2005).
    keepers = bath_sheet(replace(ASK, litres=30, target_mg_per_l=52.5))
    assert keepers.dose is None
    assert codes(keepers.refused) == ["bath-is-a-vets", "not-by-the-trade", "right-amount"]
    assert told(keepers.refused, "not-by-the-trade")["by_trade"] == pytest.approx(52.5)
    assert "Right for 30 L is 10.0 mL of it: 35 mg/L." in refused_text(keepers)
    made = bath_sheet(replace(ASK, litres=30, target_mg_per_l=52.5, vet_agreed=True)).dose
    assert made is not None
    assert made.millilitres == pytest.approx(15.0)
    assert made.if_undiluted_mg_per_l == pytest.approx(525)
    assert made.if_undiluted_times_lc50 == pytest.approx(525 / 74.3)
    neat = bath_sheet(replace(ASK, litres=30, target_mg_per_l=525, strength=Strength(100)))
    assert neat.refused and neat.dose is None


@pytest.mark.parametrize(
    ("target", "vet", "refused", "warned"),
    # Velíšek et al. 2005, common carp, 10 minutes: 51.6 kills 0.1 %, 74.3 half, 110.1 99.9 %.
    # Hajek et al. 2006: 30 to 50 mg/L recommended, 40 the least that took under 3 minutes.
    [
        (30, False, False, False),
        (40, False, False, False),
        (50, False, False, False),
        (51.6, False, True, False),
        (51.6, True, False, True),
        (56, True, False, True),
        (56.1, True, True, False),
        (74.3, True, True, False),
        (110.1, True, True, False),
        (200, True, True, False),
    ],
)
def test_what_killed_carp_is_refused_or_warned_of(
    target: float, vet: bool, refused: bool, warned: bool
) -> None:
    sheet = bath_sheet(replace(ASK, target_mg_per_l=target, vet_agreed=vet))
    assert bool(sheet.refused) == refused
    assert ("bath-is-strong" in codes(sheet.cautions)) == warned


def test_minutes_at_20_degrees_agree_with_the_trials() -> None:
    # Gladden et al. 2010, koi at 40 mg/L isoeugenol: balance lost after 7.2 min; Hajek et al.
    # 2006, carp at 40 mg/L clove oil: under 3 min; upright again after about 4 min.
    sheet = bath_sheet(ASK)
    assert sheet.down is not None and sheet.up is not None
    assert sheet.down.low < 3 < sheet.down.high
    assert sheet.down.high == pytest.approx(7.2)
    assert sheet.up.typical == pytest.approx(4)


def test_stronger_is_shorter_and_never_over_ten_minutes() -> None:
    # C^4.5 x t, with 40 mg/L for 10 minutes (derived from Velíšek et al. 2005): 10 x 0.8^4.5 is
    # 3.66 minutes; whole tenths, rounded down.
    assert bath_sheet(replace(ASK, target_mg_per_l=50)).longest_minutes == pytest.approx(3.6)
    assert bath_sheet(replace(ASK, target_mg_per_l=30)).longest_minutes == pytest.approx(10)


def test_a_bath_that_most_fish_outlast_says_so() -> None:
    # 50 mg/L: 3.6 minutes at most; at 15 °C the usual time is 4 x 0.8^1.1 x 2^0.5 = 4.4 minutes.
    short = bath_sheet(replace(ASK, target_mg_per_l=50, water_c=15))
    outlast = told(short.cautions, "most-fish-outlast-it")
    assert outlast["usual"] == pytest.approx(4.4, abs=0.05)
    assert outlast["longest"] == pytest.approx(3.6)
    assert "most-fish-outlast-it" not in codes(bath_sheet(ASK).cautions)


def test_below_what_was_tried_no_minutes_are_told() -> None:
    # Gladden et al. 2010: nothing weaker than 20 mg/L; there 22.4 minutes.
    assert bath_sheet(replace(ASK, target_mg_per_l=19)).down is None
    at_20 = bath_sheet(replace(ASK, target_mg_per_l=20))
    assert at_20.down is not None and at_20.down.high == pytest.approx(22.4)
    weak = bath_sheet(replace(ASK, target_mg_per_l=19))
    assert "weaker-than-tried" in codes(weak.cautions)
    assert "after ___ min" in text_of(bath_words(weak))


def test_what_can_hurt_people_is_on_the_sheet() -> None:
    text = text_of(bath_words(bath_sheet(ASK)))
    for needed in (
        *("no flame", "Spirit here is ethanol alone", "residual-current device", "dry hands"),
        *("The bath weighs 60 kg", "In the eye: rinse", "sharps box", "not for eating"),
    ):
        assert needed in text, needed


def test_colder_is_slower_and_fasts_longer() -> None:
    cold = bath_sheet(replace(ASK, water_c=12))
    warm = bath_sheet(replace(ASK, water_c=22))
    assert cold.down is not None and warm.down is not None
    assert cold.down.typical > warm.down.typical
    assert cold.fast_days > warm.fast_days
    assert "still-upright" in codes(cold.cautions)


@pytest.mark.parametrize("water_c", [4, 9.9, 28.1, 35])
def test_unfit_water_is_refused(water_c: float) -> None:
    sheet = bath_sheet(replace(ASK, water_c=water_c))
    code = "water-too-cold" if water_c < 20 else "water-too-warm"
    assert codes(sheet.refused) == [code]
    assert sheet.millilitres is None


def test_a_temperature_that_was_not_given_is_said() -> None:
    sheet = bath_sheet(replace(ASK, water_c=None))
    assert sheet.down is None and sheet.millilitres is not None
    assert "water-not-given" in codes(sheet.cautions)
    assert "after ___ min" in text_of(bath_words(sheet))


def test_water_below_the_back_is_refused() -> None:
    fish = (BathFish("Aoi", 60, 2.97),)
    little = bath_sheet(replace(ASK, litres=12, fish=fish))
    # 60 x 30 cm of tub, and a back 18 cm high: 32.4 L; and 10 L for each of 2.97 kg.
    of_aoi = told(little.refused, "back-not-covered")
    assert of_aoi["wanted"] == Litres(pytest.approx(32.4))
    assert little.refused[-1]["name"] == "Aoi"
    wide = bath_sheet(replace(ASK, litres=60, fish=fish, tub_cm=(120, 100)))
    assert "tub-too-shallow" in codes(wide.refused)
    short = bath_sheet(replace(ASK, litres=60, fish=fish, tub_cm=(55, 50)))
    assert "tub-too-short" in codes(short.refused)
    assert bath_sheet(replace(ASK, litres=60, fish=fish, tub_cm=(75, 40))).refused == ()


def test_a_slip_in_the_strength_is_caught_by_the_amount() -> None:
    weak = bath_sheet(replace(ASK, strength=Strength(percent_v_v=0.1)))
    assert codes(weak.refused) == ["too-much-product"]
    neat = bath_sheet(replace(ASK, litres=10, target_mg_per_l=30, strength=Strength(100), fish=()))
    assert "too-little-to-measure-well" in codes(neat.cautions)
    assert "neat-oil-mixes-badly" in codes(neat.cautions)
    assert "if-undiluted" not in codes(neat.cautions)


@pytest.mark.parametrize("missing", ["litres", "strength"])
def test_nothing_is_guessed(missing: str) -> None:
    with pytest.raises(Refusal, match=f"{missing}-missing"):
        bath_sheet(replace(ASK, **{missing: None}))


def test_a_target_left_out_is_the_usual_one_and_said() -> None:
    sheet = bath_sheet(replace(ASK, target_mg_per_l=None))
    assert sheet.target_mg_per_l == 35  # Xu et al. 2023: 35 the best of 20, 35 and 75 mg/L
    assert "usual-target-taken" in codes(sheet.cautions)


def test_a_keepers_stricter_figure_counts_and_a_laxer_one_does_not() -> None:
    strict = bath_sheet(replace(ASK, figures=FiguresInForce({"clove_block": 35.0})))
    assert strict.refused
    lax = bath_sheet(
        replace(ASK, target_mg_per_l=90, figures=FiguresInForce({"clove_block": 95.0}))
    )
    assert lax.refused


def test_a_new_bottle_is_tried_from_25_upwards() -> None:
    sheet = bath_sheet(ASK)
    assert [step for step, _ in sheet.trial] == [25, 30, 35, 40]
    assert sheet.trial[-1][1] == pytest.approx(sheet.millilitres)
    assert sheet.trial[0][1] == pytest.approx(60 * 25 / 105)


def test_fish_come_smallest_first_and_the_bath_is_renewed() -> None:
    fish = tuple(BathFish(f"Fish {kg}", None, kg) for kg in (3.0, 0.6, 2.0, 1.0))
    sheet = bath_sheet(replace(ASK, fish=fish))
    assert [one.kg for one in sheet.fish] == [0.6, 1.0, 2.0, 3.0]
    assert (sheet.fish_per_bath, sheet.baths) == (3, 2)
    assert "Fresh bath after 3 fish or 60 min" in text_of(bath_words(sheet))
    assert "this session takes 2 baths" in text_of(bath_words(sheet))


def test_dates_count_from_the_day() -> None:
    sheet = bath_sheet(ASK)
    assert sheet.look_backs == (date(2027, 5, 8), date(2027, 5, 15))
    assert sheet.unfed_from is not None and (ASK.day - sheet.unfed_from).days == sheet.fast_days  # type: ignore[operator]


def test_the_gate_heads_the_sheet_and_the_figures_stay() -> None:
    asked = bath_sheet(replace(ASK, gate="ask a vet"))
    words = bath_words(asked)
    assert words.notices[0].startswith("ASK A VET")
    assert NOT_STATED in asked.cautions and LAW in asked.cautions
    assert asked.millilitres is not None
    assert (
        bath_words(bath_sheet(replace(ASK, gate="law not known")))
        .notices[0]
        .startswith("CHECK THE LAW")
    )
    assert bath_words(bath_sheet(replace(ASK, gate="vet"))).notices[0].startswith("FOR THE VET")


def test_the_emergency_is_said_always_and_the_work_is_in_order() -> None:
    words = bath_words(bath_sheet(ASK))
    assert words.always == GILLS_STOPPED
    headings = [heading for heading, _ in words.sections]
    assert headings == [
        "Before",
        "Water, dose, limits",
        "Fish, in this order, one at a time",
        "Second person, before any fish goes in",
        "Kit, laid out before the first net",
        "Steps",
        "Stop",
        "People",
        "Between fish, and after",
        "Log",
    ]
    text = text_of(words)
    for needed in (
        "22.9 mL",
        "10 % by volume",
        "34 mg",
        "400 mg/L",
        "nearly every carp",
        "gloves",
        "Look",
    ):
        assert needed in text
    assert words.whole[0][1][0] == words.whole[-1][1][0] == GILLS_STOPPED


def test_a_refused_sheet_has_no_dose_and_no_steps() -> None:
    words = bath_words(bath_sheet(replace(ASK, water_c=35)))
    assert [heading for heading, _ in words.sections] == [
        "Before",
        "Refused: this bath must not be made",
    ]
    assert "mL" not in text_of(words)


def test_ms222_is_a_vets_sheet() -> None:
    # 50 mg/L produced anaesthesia of carp (Mohamed 1999, Acta Ichthyologica et Piscatoria
    # 29:91); 60 L at 50 mg/L are 3 g, and twice that of bicarbonate (from memory).
    ask = replace(ASK, agent="ms-222", strength=None, target_mg_per_l=50.0)
    alone = bath_sheet(ask)
    assert codes(alone.refused) == ["ms222-without-a-vet"]
    sheet = bath_sheet(replace(ask, vet_agreed=True))
    assert sheet.buffered is not None and sheet.millilitres is None
    assert sheet.buffered.grams == pytest.approx(3.0)
    assert sheet.buffered.bicarbonate_grams == pytest.approx(6.0)
    words = bath_words(sheet)
    assert words.notices[0].startswith("A VET'S SHEET")
    assert "WEIGH 3 g MS-222" in text_of(words)
    with pytest.raises(Refusal, match="ms222-target-missing"):
        bath_sheet(replace(ask, target_mg_per_l=None, vet_agreed=True))


def test_a_dose_scales_with_water_and_strength() -> None:
    once, twice = bath_sheet(ASK), bath_sheet(replace(ASK, litres=120))
    assert twice.millilitres == pytest.approx(2 * (once.millilitres or 0))
    half = bath_sheet(replace(ASK, strength=Strength(percent_v_v=20)))
    assert half.millilitres == pytest.approx((once.millilitres or 0) / 2)


def test_amounts_are_in_the_keepers_units_but_the_dose_is_metric() -> None:
    # 60 L are 15.85 US gallons (NIST SP 811: 3.785412 L); 20 °C are 68 °F.
    text = text_of(bath_words(bath_sheet(replace(ASK, units="us"))))
    assert "15.9 US gal (60 L)" in text
    assert "68 °F" in text and "within 1.8 °F" in text
    assert "MEASURE 22.9 mL" in text
