"""Units: factors against NIST SP 811 and the pint library, printing, and reading them back."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from showprep.season.values import measures, quantities
from showprep.season.values.quantities import (
    show_length,
    show_number,
    show_temperature,
    show_volume,
    show_warming,
    show_weight,
)

# NIST Special Publication 811 (2008 edition), appendix B.8, factors in bold type (exact) and, for
# the US gallon, the seven digits it prints.
NIST_SP_811 = {
    "inch to centimetre": (quantities.CM_PER_INCH, "2.54"),
    "foot to centimetre": (quantities.CM_PER_FOOT, "30.48"),
    "pound to kilogram": (quantities.KG_PER_POUND, "0.45359237"),
    "gallon (Canadian and UK) to litre": (quantities.LITRES_PER_IMPERIAL_GALLON, "4.54609"),
    "US gallon of 231 cubic inches to litre": (quantities.LITRES_PER_US_GALLON, "3.785411784"),
}


@pytest.mark.parametrize("name", NIST_SP_811)
def test_factors_are_those_of_nist_sp_811(name: str) -> None:
    ours, published = NIST_SP_811[name]
    assert ours == Fraction(published)


@pytest.mark.parametrize(
    ("ours", "unit", "metric"),
    [
        (quantities.CM_PER_INCH, "inch", "centimeter"),
        (quantities.CM_PER_FOOT, "foot", "centimeter"),
        (quantities.KG_PER_POUND, "pound", "kilogram"),
        (quantities.KG_PER_OUNCE, "ounce", "kilogram"),
        (quantities.LITRES_PER_US_GALLON, "gallon", "liter"),
        (quantities.LITRES_PER_IMPERIAL_GALLON, "imperial_gallon", "liter"),
        (quantities.LITRES_PER_CUBIC_FOOT, "foot ** 3", "liter"),
    ],
)
def test_factors_are_those_of_pint(outside, ours: Fraction, unit: str, metric: str) -> None:
    registry = outside.module("pint").UnitRegistry()
    assert float(ours) == pytest.approx(registry(unit).to(metric).magnitude, rel=1e-12)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    # NIST SP 811, section 4.2.1.1 and B.8: t/degC = (t/degF - 32)/1.8
    [("32", 0), ("50", 10), ("68", 20), ("77", 25), ("98.6", 37)],
)
def test_fahrenheit(fahrenheit: str, celsius: float) -> None:
    assert measures.temperature_c(f"{fahrenheit} F") == celsius
    assert show_temperature(celsius, "us") == f"{fahrenheit} °F"


@given(st.floats(min_value=32, max_value=104))
def test_temperatures_as_pint_has_them(outside_pint, fahrenheit: float) -> None:
    theirs = outside_pint.Quantity(fahrenheit, "degF").to("degC").magnitude
    ours = measures.temperature_c(f"{fahrenheit:.6f} °F")
    assert ours == pytest.approx(theirs, abs=1e-6)


@pytest.fixture(scope="session")
def outside_pint(outside):
    return outside.module("pint").UnitRegistry()


@pytest.mark.parametrize(
    ("read", "written", "metric"),
    [
        (measures.length_cm, "52", 52),
        (measures.length_cm, " 52.5 cm ", 52.5),
        (measures.length_cm, "525 mm", 52.5),
        (measures.length_cm, "0.52 m", 52),
        (measures.length_cm, "21 in", 53.34),
        (measures.length_cm, "21in", 53.34),
        (measures.length_cm, '21"', 53.34),
        (measures.length_cm, "2 ft 3 in", 68.58),
        (measures.length_cm, "2'3\"", 68.58),
        (measures.length_cm, "5.2e1", 52),
        (measures.length_cm, "21 1/2 in", 54.61),
        (measures.length_cm, "21-1/2 in", 54.61),
        (measures.length_cm, "21½ in", 54.61),
        (measures.length_cm, '21 1⁄2"', 54.61),
        (measures.length_cm, "21”", 53.34),
        (measures.length_cm, "21''", 53.34),
        (measures.length_cm, "2’ 3 1/2”", 69.85),
        (measures.length_cm, "3'", 91.44),
        (measures.length_cm, "2 feet 3 inches", 68.58),
        (measures.size_mm, "1/2 in", 12.7),
        (measures.size_mm, '1/8"', 3.175),
        (measures.size_mm, "½ cm", 5),
        (measures.size_mm, "1/2", 0.5),
        (measures.total_cm, "5'", 152.4),
        (measures.litres, "1 1/2 us gal", 5.678117676),
        (measures.warming_c, "1.8 F", 1),
        (measures.warming_c, "1 C", 1),
        (measures.warming_c, "2", 2),
        (measures.size_mm, "2", 2),
        (measures.size_mm, "0.2 cm", 2),
        (measures.litres, "28 m3", 28000),
        (measures.litres, "10 ft3", 283.16846592),
        (measures.litres, "1000 US gal", 3785.411784),
        (measures.litres, "1000 us gallons", 3785.411784),
        (measures.litres, "8 imp gal", 36.36872),
        (measures.litres, "8 imp. gal.", 36.36872),
        (measures.fish_kilograms, "6 lb", 2.72155422),
        (measures.fish_kilograms, "6 lb 4 oz", 2.8349523125),
        (measures.fish_kilograms, "2500 g", 2.5),
        (measures.temperature_c, "68 °F", 20),
        (measures.temperature_c, "68 ºF", 20),
        (measures.temperature_c, "60 4/5 F", 16),
        (measures.temperature_c, "20 °C", 20),
        (measures.temperature_c, "20", 20),
        (measures.hours, "2.5", 2.5),
        (measures.hours, "90 min", 1.5),
        (measures.hours, "2 h 30 min", 2.5),
        (measures.share, "20 %", 0.2),
        (measures.share, "0.2", 0.2),
        (measures.number, "1e3", 1000),
        (measures.number, "-0", 0),
        (measures.whole, "010", 10),
        (measures.length_cm, 52, 52),
        (measures.temperature_c, 20.5, 20.5),
        (measures.whole, 3.0, 3),
    ],
)
def test_amounts_are_read_in_metric(read, written: object, metric: float) -> None:
    assert read(written) == pytest.approx(metric, rel=1e-15)


@pytest.mark.parametrize(
    ("read", "written", "what", "right"),
    [
        (measures.litres, "8 gal", "could be two volumes", "US gal or imp gal"),
        (measures.litres, "30 drops", "unit that no volume has", ""),
        (measures.length_cm, "3 m3", "unit that no length", ""),
        (measures.length_cm, "500", "likely length of a koi", "1 to 120 cm is plausible"),
        (measures.length_cm, "5 m", "(500 cm)", "1 to 120 cm is plausible"),
        (measures.length_cm, "-52", "likely length", "1 to 120"),
        (measures.length_cm, "52 kg", "unit that no length", ""),
        (measures.length_cm, "2 3", "where a length", "without separators"),
        (measures.length_cm, "1/0 in", "divides by nothing", "1/2 in"),
        (measures.length_cm, "1/2/3 in", "where a length", ""),
        (measures.length_cm, "10 11 1/2 in", "where a length", ""),
        (measures.length_cm, "1/ 2 in", "where a length", ""),
        (measures.length_cm, "-1/2 in", "likely length", "1 to 120"),
        (measures.length_cm, "1e400 cm", "no finite number", ""),
        (measures.length_cm, "½½ in", "where a length", ""),
        (measures.litres, "28,000 L", "where a volume belongs", "write 28000, or 28.000"),
        (measures.litres, "1,5 L", "where a volume belongs", "write a decimal point: 1.5"),
        (measures.temperature_c, "5 F 3 F", "where a water temperature", ""),
        (measures.temperature_c, "68°", "unit that no water temperature", "°C or °F"),
        (measures.warming_c, "0", "likely change of temperature", "0.01 to 40 °C"),
        (measures.length_cm, "2 ft -3 in", "where a length", ""),
        (measures.temperature_c, "55", "likely water temperature", "0 to 40 °C"),
        (measures.temperature_c, "-1", "likely water temperature", "0 to 40 °C"),
        (measures.temperature_c, "20 K", "unit that no water temperature", "°C or °F"),
        (measures.number, "1,5", "where a number belongs", "1.5"),
        (measures.number, "1,500", "where a number belongs", "1500"),
        (measures.number, "1_000", "where a number belongs", "1000"),
        (measures.number, "1 000", "where a number belongs", "1000"),
        (measures.number, "nan", "where a number belongs", ""),
        (measures.number, "inf", "where a number belongs", ""),
        (measures.number, "1e400", "no finite number", ""),
        (measures.number, "1e308000", "number belongs", ""),
        (measures.number, "9" * 5000, "where a number belongs", "shorter"),
        (measures.number, "١٢", "where a number belongs", "0 to 9"),
        (measures.number, "１２", "where a number belongs", "0 to 9"),
        (measures.number, "−5", "where a number belongs", "hyphen"),
        (measures.number, "0x10", "where a number belongs", ""),
        (measures.number, "10:00", "where a number belongs", ""),
        (measures.number, True, "where a number belongs", ""),
        (measures.number, None, "where a number belongs", ""),
        (measures.number, [1], "a list found", ""),
        (measures.number, float("nan"), "no finite number", ""),
        (measures.number, 10**400, "too large", ""),
        (measures.whole, "2.5", "where a whole number belongs", ""),
        (measures.whole, "1e3", "where a whole number belongs", ""),
        (measures.whole, "9" * 5000, "too large", ""),
        (measures.whole, True, "where a whole number belongs", ""),
        (measures.share, "20", "not a share", "20 %, or 0.2"),
        (measures.share, "x%", "where a number belongs", ""),
        (measures.hours, "500", "likely travel time", "0 to 100 h"),
        (measures.hours, "2:30", "where a travel time belongs", ""),
    ],
)
def test_slips_are_told_with_what_would_be_right(read, written, what: str, right: str) -> None:
    with pytest.raises(PydanticCustomError) as caught:
        read(written)
    context = caught.value.context or {}
    assert what in context["what"]
    assert right in context["right"]
    assert len(context["what"]) < 200


@given(st.text(max_size=60))
@example("0\x1f")  # white space to `strip`, not to `float`
def test_any_text_is_a_finite_number_or_a_fault_in_words(text: str) -> None:
    for read in (measures.number, measures.length_cm, measures.temperature_c, measures.hours):
        try:
            value = read(text)
        except PydanticCustomError as error:
            assert error.context
            assert error.context["what"]
        else:
            assert -1e309 < value < 1e309


def test_printing_in_three_systems() -> None:
    # Worked by hand: 53.34 cm is 21 in; 28 000 L over 4.54609 is 6159.1; over 3.785411784, 7396.8.
    assert [show_length(53.34, units) for units in ("metric", "us", "imperial")] == [
        "53.3 cm",
        "21 in",
        "21 in",
    ]
    assert show_volume(28000) == "28000 L"
    assert show_volume(28000, "imperial") == "6159 imp gal"
    assert show_volume(28000, "us") == "7397 US gal"
    assert show_volume(30, "us") == "7.9 US gal"
    assert show_temperature(20) == "20 °C"
    assert show_temperature(20, "imperial") == "20 °C"
    assert show_temperature(20.5, "us") == "68.9 °F"
    assert show_warming(1, "us") == "1.8 °F"
    assert show_warming(1, "imperial") == "1 °C"
    assert show_weight(2.5) == "2.5 kg"
    assert show_weight(2.72155422, "us") == "6 lb"


@pytest.mark.parametrize(
    ("value", "places", "printed"),
    [
        (2.675, 2, "2.68"),
        (0.05, 1, "0.1"),
        (-0.04, 1, "0"),
        (-0.0, 1, "0"),
        (0.5, 0, "1"),
        (1.5, 0, "2"),
        (-0.5, 0, "-1"),
        (100, 0, "100"),
        (1e22, 1, "1" + "0" * 22),
        (5e-324, 1, "0"),
    ],
)
def test_halves_go_away_from_zero_and_zero_has_no_sign(value, places, printed) -> None:
    assert show_number(value, places) == printed


def test_zeros_can_be_kept() -> None:
    assert show_number(9.8, 2, trim=False) == "9.80"
    assert show_number(Fraction(1, 3), 3) == "0.333"


@given(st.floats(allow_nan=False, allow_infinity=False), st.integers(0, 4))
def test_every_number_can_be_printed(value: float, places: int) -> None:
    printed = show_number(value, places)
    assert printed != "-0"
    assert abs(float(printed) - value) <= 0.5 * 10**-places + abs(value) * 1e-15


@given(st.integers(10, 1200))
def test_a_length_printed_in_inches_reads_back_to_its_tenth(tenths_of_mm: int) -> None:
    cm = tenths_of_mm / 10
    assert measures.length_cm(show_length(cm)) == pytest.approx(cm)
    if cm > 1.2:
        back = measures.length_cm(show_length(cm, "us"))
        assert abs(back - cm) <= 0.05 * 2.54 + 1e-9
