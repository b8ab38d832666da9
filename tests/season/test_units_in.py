"""Units as well in as out: a season that is not metric says the unit of every amount."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from showprep.husbandry.figures import FIGURES
from showprep.season import records
from showprep.season.journal_text import as_written
from showprep.season.reading import read_season
from showprep.season.record import Record
from showprep.season.records import Fish, JournalEntry, Keeper, Water
from showprep.season.values import measures
from showprep.season.values.figure_values import TEMPERATURES, amount_of
from showprep.season.values.measures import Amount
from showprep.season.values.quantities import Units
from showprep.season.values.unit_keys import OTHER, OTHER_KEYS

ON = date(2027, 4, 1)
Told = Callable[[Mapping[str, str | bytes]], list[str]]
PAGE = Path(__file__).resolve().parent.parent.parent / "docs" / "files.md"

# The same yard three times. Temperatures, lengths and weights were turned by hand: 50 °F are 10 °C,
# 20 in 50.8 cm, 10 lb 4.5359237 kg (NIST Special Publication 811, 2008, appendix B.8).
KEEPER = """\
time_zone: America/New_York
units: {units}
waters:
  pond:
    gallons: 2000
    monthly_f: [41, 41, 45.5, 50, 57.2, 63.5, 67.1, 66.2, 60.8, 53.6, 46.4, 41.9]
    readings_f: {{2027-03-14: 48.2}}
  vat: {{litres: 500 gal, steady_c: 71.6 F}}
isolation: {{water: vat, holds: 3}}
touch_up: {{by: keeper, law_checked: yes, law_country: Ireland, bath_gallons: 8,
  strength_percent: 10, tub: {{length_in: 40, width_in: 20", depth_cm: 1 ft}}}}
carrying: {{boxes: 4, pounds: 100}}
figures: {{sed_cold_warn: 60.8 F, linf: 30 in, temp_ramp: 1.8 F, sedation_spacing: 16}}
size_tables:
  ours: {{unit: in, upper: [9 1/2, 12 in, 40.64 cm, 21]}}
rations:
  - {{from_f: 32, below_f: 50, low: 0, typical: 0, high: 0, feeds: none, diet: none}}
  - {{from_c: 50 F, below_f: 86, low: 1, typical: 1, high: 1, feeds: daily, diet: wheat}}
"""
SHOWS = """\
ash:
  name: Ash Show
  judging: 2027-06-12 10:00
  travel_hours: 90 min
  water_f: 64.4
  sizes: {unit: in, upper: [8, 12, 16, 20]}
  limits: {total_in: 100, total_in_at_least: 20", longest_in: 30, shortest_in: 8}
"""
AOI = """\
name: Aoi
variety: kohaku
lives_in: pond
merit: 80
lengths_in: {2026-09-20: 19 1/2, 2027-03-20: 20"}
weights_lb: {2027-03-20: 4.5, 2027-03-21: 4 lb 8 oz}
longest_in: 32
defects: [{kind: shimi, where: back, size_in: 1/8, seen: 2027-03-20}]
moves: [{on: 2027-05-01, to: vat, ramp_f_per_day: 1.8}]
"""
JOURNAL = """\
- {on: 2027-03-21, saw: temperature, water: pond, read_f: 50}
- {on: 2027-03-22, did: measure, fish: aoi, measured_in: 20}
- {on: 2027-03-23, did: weigh, fish: aoi, weighed_lb: 10}
- {on: 2027-03-24, did: touch-up, fish: aoi, bath_gallons: 8}
"""


def files(units: str, **changed: str) -> dict[str, str | bytes]:
    return {
        "keeper.yaml": KEEPER.format(units=units),
        "shows.yaml": SHOWS,
        "fish/aoi.yaml": AOI,
        "journal.yaml": JOURNAL,
        **{
            name.replace("_", ".").replace("aoi", "fish/aoi"): text
            for name, text in changed.items()
        },
    }


@pytest.mark.parametrize(
    ("units", "gallon"),
    # litres of the US liquid gallon (231 cubic inches) and the imperial gallon, NIST SP 811
    [("us", 3.785411784), ("imperial", 4.54609)],
)
def test_every_key_that_names_its_unit(folder: Any, units: str, gallon: float) -> None:
    season = read_season(folder(files(units)), ON).season
    pond, vat = season.keeper.waters["pond"], season.keeper.waters["vat"]
    assert pond.litres == pytest.approx(2000 * gallon, rel=1e-12)
    assert vat.litres == pytest.approx(500 * gallon, rel=1e-12)
    assert pond.monthly_c is not None
    assert [round(mean, 9) for mean in pond.monthly_c][:4] == [5, 5, 7.5, 10]
    assert pond.readings_c[date(2027, 3, 14)] == pytest.approx(9)
    assert vat.steady_c == pytest.approx(22)
    assert season.keeper.touch_up.bath_litres == pytest.approx(8 * gallon, rel=1e-12)
    tub = season.keeper.touch_up.tub
    assert tub is not None
    assert (tub.length_cm, tub.width_cm, tub.depth_cm) == (101.6, 50.8, 30.48)
    assert season.keeper.carrying.kilograms == pytest.approx(45.359237)
    assert season.keeper.figures.own == {
        "sed_cold_warn": pytest.approx(16),
        "linf": pytest.approx(76.2),
        "temp_ramp": pytest.approx(1),
        "sedation_spacing": 16,
    }
    assert season.keeper.size_tables["ours"].upper == (9.5, 12, 16, 21)
    assert season.keeper.rations is not None
    assert [(step.from_c, step.below_c) for step in season.keeper.rations] == [(0, 10), (10, 30)]
    show = season.shows["ash"]
    assert (show.water_c, show.travel_hours) == (pytest.approx(18), 1.5)
    assert (show.limits.total_cm, show.limits.total_cm_at_least) == (254, pytest.approx(50.8))
    assert (show.limits.longest_cm, show.limits.shortest_cm) == (76.2, pytest.approx(20.32))
    aoi = season.fish["aoi"]
    assert list(aoi.lengths_cm.values()) == [pytest.approx(49.53), pytest.approx(50.8)]
    assert list(aoi.weights_kg.values()) == [pytest.approx(2.041165665)] * 2
    assert aoi.longest_cm == pytest.approx(81.28)
    assert aoi.defects[0].size_mm == pytest.approx(3.175)
    assert aoi.moves[0].ramp_c_per_day == pytest.approx(1)
    reading, length, weight, bath = season.journal
    assert (reading.read_c, length.measured_cm) == (pytest.approx(10), pytest.approx(50.8))
    assert weight.weighed_kg == pytest.approx(4.5359237)
    assert bath.bath_litres == pytest.approx(8 * gallon, rel=1e-12)


def test_keys_that_name_a_unit_in_a_metric_season(told: Told) -> None:
    found = told(files("metric"))
    gallons = [line for line in found if "could be two volumes; " in line or "two volumes." in line]
    assert len(gallons) == len(found) == 4  # all else means one thing, whatever the season's units
    assert found[0] == (
        "keeper.yaml:5:14: waters, pond, gallons: '2000 gal' could be two volumes. "
        "Write US gal or imp gal."
    )


# What a keeper in Ohio writes who copies the keys of a metric season.
# fmt: off
BARE = [
    ("keeper.yaml", "gallons: 2000", "litres: 2000", [
        "keeper.yaml:5:13: waters, pond, litres: '2000' has no unit. With units: us write 2000 gal "
        "or 2000 L, or use the key gallons for numbers in gallons."]),
    ("keeper.yaml", "monthly_f", "monthly_c", [
        "keeper.yaml:6:17: waters, pond, monthly_c, item 1: '41' has no unit, and 11 more here "
        "have none. With units: us write 41 F, or use the key monthly_f for numbers in °F."]),
    ("keeper.yaml", "readings_f: {2027-03-14: 48.2}", "readings_c: {2027-03-14: 39}", [
        "keeper.yaml:7:30: waters, pond, readings_c, 2027-03-14: '39' has no unit. With units: us "
        "write 39 F or 39 C, or use the key readings_f for numbers in °F."]),
    # no water is 22 °F: what was copied is in °C
    ("keeper.yaml", "71.6 F", "22", [
        "keeper.yaml:8:36: waters, vat, steady_c: '22' has no unit. With units: us write 22 C, "
        "or use the key steady_f for numbers in °F."]),
    ("keeper.yaml", "bath_gallons: 8", "bath_litres: 30", [
        "keeper.yaml:10:77: touch_up, bath_litres: '30' has no unit. With units: us write 30 gal "
        "or 30 L, or use the key bath_gallons for numbers in gallons."]),
    ("keeper.yaml", "pounds: 100", "kilograms: 0", [
        "keeper.yaml:12:33: carrying, kilograms: '0' has no unit. With units: us write 0 lb or "
        "0 kg, or use the key pounds for numbers in pounds."]),
    ("keeper.yaml", "60.8 F", "60", [
        "keeper.yaml:13:26: figures, sed_cold_warn: '60' has no unit. With units: us write 60 F "
        "or 60 C."]),
    ("keeper.yaml", "{unit: in, upper: [9", "{upper: [9", [
        "keeper.yaml:15:9: size_tables, ours: it is not said whether the classes are in inches or "
        "in cm. With units: us add unit: in or unit: cm, as the show has it."]),
    ("keeper.yaml", "from_c: 50 F, below_f: 86", "from_c: 50, below_c: 86", [
        "keeper.yaml:18:14: rations, item 2, from_c: '50' has no unit. With units: us write 50 F, "
        "or use the key from_f for numbers in °F.",
        "keeper.yaml:18:27: rations, item 2, below_c: '86' has no unit. With units: us write 86 F, "
        "or use the key below_f for numbers in °F."]),
    ("shows.yaml", "water_f: 64.4", "water_c: 64", [
        "shows.yaml:5:12: ash, water_c: '64' has no unit. With units: us write 64 F, or use the "
        "key water_f for numbers in °F."]),
    ("shows.yaml", "sizes: {unit: in, ", "sizes: {", [
        "shows.yaml:6:10: ash, sizes: it is not said whether the classes are in inches or in cm. "
        "With units: us add unit: in or unit: cm, as the show has it."]),
    ("shows.yaml", "total_in: 100", "total_cm: 100", [
        "shows.yaml:7:22: ash, limits, total_cm: '100' has no unit. With units: us write 100 in "
        "or 100 cm, or use the key total_in for numbers in inches."]),
    ("fish/aoi.yaml", "lengths_in: {2026-09-20: 19 1/2", "lengths_cm: {2026-09-20: 19 1/2", [
        "fish/aoi.yaml:5:26: lengths_cm, 2026-09-20: '19 1/2' has no unit. With units: us write "
        "19 1/2 in or 19 1/2 cm, or use the key lengths_in for numbers in inches."]),
    # 52 inches would be no koi
    ("fish/aoi.yaml", "longest_in: 32", "longest_cm: 80", [
        "fish/aoi.yaml:7:13: longest_cm: '80' has no unit. With units: us write 80 cm, or use the "
        "key longest_in for numbers in inches."]),
    ("fish/aoi.yaml", "size_in: 1/8", "size_mm: 2", [
        "fish/aoi.yaml:8:47: defects, item 1, size_mm: '2' has no unit. With units: us write 2 in "
        "or 2 mm, or use the key size_in for numbers in inches."]),
    ("fish/aoi.yaml", "ramp_f_per_day: 1.8", "ramp_c_per_day: 1", [
        "fish/aoi.yaml:9:51: moves, item 1, ramp_c_per_day: '1' has no unit. With units: us write "
        "1 F or 1 C, or use the key ramp_f_per_day for numbers in °F."]),
    ("journal.yaml", "read_f: 50", "read_c: 50", [
        "journal.yaml:1:59: item 1, read_c: '50' has no unit. With units: us write 50 F, or use "
        "the key read_f for numbers in °F."]),
    ("journal.yaml", "weighed_lb: 10", "weighed_kg: 10", [
        "journal.yaml:3:55: item 3, weighed_kg: '10' has no unit. With units: us write 10 lb or "
        "10 kg, or use the key weighed_lb for numbers in pounds."]),
]
# fmt: on


@pytest.mark.parametrize(("file", "right", "wrong", "messages"), BARE)
def test_a_bare_number_is_told_with_its_unit(
    told: Told, file: str, right: str, wrong: str, messages: list[str]
) -> None:
    season = files("us")
    text = str(season[file])
    assert right in text
    season[file] = text.replace(right, wrong, 1)
    assert told(season) == messages


def test_all_bare_numbers_of_all_files_are_told_at_once(told: Told) -> None:
    season = files("us")
    for name, text in season.items():
        for key in OTHER_KEYS:
            text = re.sub(rf"\b{key.name}:", f"{key.metric}:", str(text))
        season[name] = text
    found = told(season)
    assert len(found) == len([line for line in found if "has no unit" in line])
    assert {line.split(":")[0] for line in found} == set(season)


def test_a_keeper_in_england_reads_celsius(told: Told) -> None:
    season = files("imperial")
    season["keeper.yaml"] = str(season["keeper.yaml"]).replace("71.6 F", "22")
    season["shows.yaml"] = str(season["shows.yaml"]).replace("water_f: 64.4", "water_c: 64")
    assert told(season) == [
        "keeper.yaml:8:36: waters, vat, steady_c: '22' has no unit. With units: imperial write "
        "22 C, or use the key steady_f for numbers in °F.",
        "shows.yaml:5:12: ash, water_c: '64' has no unit. With units: imperial write 64 F, or use "
        "the key water_f for numbers in °F.",
    ]


@pytest.mark.parametrize(
    ("right", "wrong", "message"),
    [
        ("    monthly_f", "    monthly_c: [1]\n    monthly_f",
         "keeper.yaml:7:5: waters, pond, monthly_f: monthly_c is given too. Keep one of the two."),
        ("gallons: 2000", "gallons: 2000\n    litres: 7000 L",
         "keeper.yaml:5:5: waters, pond, gallons: litres is given too. Keep one of the two."),
        ("monthly_f: [41, ", "montly_f: [41, ",
         "keeper.yaml:6:5: waters, pond, montly_f: no such key is known here. Did you mean "
         "monthly_f?"),
        ("monthly_f: [41, ", "monthly_f: [",
         "keeper.yaml:6:16: waters, pond, monthly_f: 12 monthly means are needed, 11 found. Write "
         "one for each month, January first."),
        ("monthly_f: [41, ", "monthly_f: [141, ",
         "keeper.yaml:6:17: waters, pond, monthly_f, item 1: '141 F' is not a likely water "
         "temperature. 32 to 104 °F is plausible."),
        ("monthly_f: [41, ", "monthly_f: [5 C, ", None),
        ("steady_c: 71.6 F", "steady_f: warm",
         "keeper.yaml:8:36: waters, vat, steady_f: 'warm' found where a water temperature belongs. "
         "Write a number such as 12 or 2.5."),
        ("steady_c: 71.6 F", "steady_f: ''",
         "keeper.yaml:8:36: waters, vat, steady_f: there is nothing written here. Write it, or "
         "leave the line out."),
        (", steady_c: 71.6 F", "",
         "keeper.yaml:8:3: vat: no temperature is given. Write either monthly_f (twelve monthly "
         "means) or steady_f."),
        ("steady_c: 71.6 F", "steady_f: [70]",
         "keeper.yaml:8:36: waters, vat, steady_f: a list found where a number belongs. "
         "Write 70 F."),
        ("units: us", "units: US",
         "keeper.yaml:2:8: units: 'US' is not one of the choices. Did you mean us? The choices are "
         "metric, us or imperial."),
    ],
)  # fmt: skip
def test_other_slips_name_the_key_that_was_written(
    told: Told, right: str, wrong: str, message: str | None
) -> None:
    season = files("us")
    text = str(season["keeper.yaml"])
    assert right in text
    season["keeper.yaml"] = text.replace(right, wrong, 1)
    found = told(season)
    assert (message in found) if message is not None else found == []


def test_a_slip_in_the_units_does_not_hide_bare_numbers(told: Told) -> None:
    season = files("US")
    season["shows.yaml"] = str(season["shows.yaml"]).replace("water_f: 64.4", "water_c: 64")
    assert [line.split(":")[0] for line in told(season)] == ["keeper.yaml", "shows.yaml"]


@pytest.mark.parametrize("keeper", ["time_zone: [\n", "units: american\n", "", "units: [us]\n"])
def test_no_amount_is_faulted_when_the_units_are_not_known(told: Told, keeper: str) -> None:
    season = files("us")
    season["keeper.yaml"] = keeper
    season["journal.yaml"] = "- {on: 2027-03-24, did: treatment, water: pond, bath_litres: 8 gal}\n"
    assert {line.split(":")[0] for line in told(season)} == {"keeper.yaml"}


def test_faults_of_such_a_season_are_in_its_units(told: Told) -> None:
    season = files("us")
    season["fish/aoi.yaml"] = AOI.replace('2027-03-20: 20"', "2027-03-20: 18 in")
    season["shows.yaml"] = SHOWS.replace("longest_in: 30", "longest_in: 6")
    season["journal.yaml"] = "- {on: 2027-03-22, did: measure, fish: aoi}\n"
    assert told(season) == [
        "shows.yaml:7:79: shortest_in (8 in) is more than longest_in (6 in). Turn the two round.",
        "fish/aoi.yaml:5:46: 18 in on 2027-03-20 is shorter than the 19.5 in before. A fish does "
        "not shrink: put the wrong one right.",
        "journal.yaml:1:3: 'measure' is noted, but not its measured_in. Add a line "
        "'measured_in: ...'.",
    ]


def all_keys() -> Iterator[tuple[str, type[Record]]]:
    for value in vars(records).values():
        if isinstance(value, type) and issubclass(value, Record):
            yield from ((key, value) for key in value.model_fields)


def test_every_metric_key_has_its_other_one() -> None:
    """A key whose name ends in a metric unit, or that says litres or kilograms, has another."""
    ends = ("_c", "_cm", "_mm", "_kg", "_l", "litres", "kilograms", "_c_per_day", "_cm_at_least")
    strengths = {"target_mg_per_l", "bath_mg_per_l", "alkalinity_meq_l"}  # as on labels and kits
    metric = {key for key, _ in all_keys() if key.endswith(ends)} - strengths
    assert metric == {key.metric for key in OTHER_KEYS}
    assert not {key for key, _ in all_keys()} & set(OTHER)


def test_the_page_names_every_key_beside_the_one_it_stands_for() -> None:
    page = PAGE.read_text("utf-8")
    rows = re.findall(r"^\| (`[a-z_`, ]+`) \| (`[a-z_`, ]+`) \| ([^|]+) \|$", page, re.MULTILINE)
    words = {"F": "°F", "in": "inches", "lb": "pounds", "gal": "gallons"}
    explained = {
        (other, metric, said.removesuffix(" a day"))
        for metrics, others, said in rows
        if said.removesuffix(" a day") in words.values()
        for metric, other in zip(metrics.split(", "), others.split(", "), strict=True)
    }
    assert explained == {(f"`{k.name}`", f"`{k.metric}`", words[k.unit]) for k in OTHER_KEYS}


def test_the_yard_on_the_page_can_be_read(told: Told) -> None:
    (yard,) = re.findall(r"```yaml\n(time_zone.*?)```", PAGE.read_text("utf-8"), re.DOTALL)
    assert told({"keeper.yaml": yard + "isolation: {water: isolation vat, holds: 2}\n"}) == [
        "Note: shows.yaml: there is no shows.yaml. Without one there is nothing to plan for."
    ]


def test_figures_that_are_temperatures_and_those_that_are_differences() -> None:
    degrees = {name for name, figure in FIGURES.items() if figure.unit == "°C"}
    assert degrees >= TEMPERATURES
    # Below 10 °C a figure is a step between two waters, but for the one where feeding stops.
    assert {name for name in degrees if FIGURES[name].typical > 8.5} <= TEMPERATURES
    for name, figure in FIGURES.items():
        amount = amount_of(name)
        assert (amount is not None) == (figure.unit in ("°C", "°C/d", "°C/h", "cm", "L")), name
        unit = {"cm": "in", "L": "gal"}.get(figure.unit, "F")
        if amount is not None:
            zero = amount(f"{32 if name in TEMPERATURES else 0} {unit}", "us")
            assert zero == 0


def test_typed_values_are_metric_and_other_keys_may_be_typed_too() -> None:
    assert Water(monthly_f=[50] * 12).monthly_c == (10,) * 12
    assert Water(steady_c=18).steady_c == 18
    assert Keeper(time_zone="UTC", units="us", waters={"pond": Water(steady_c=18)}).units == "us"
    fish = Fish(name="A", variety="kohaku", lives_in="pond", merit=1, longest_in=30.5)
    assert fish.longest_cm == pytest.approx(77.47)


AMOUNTS = {
    "total_cm": (measures.total_cm, {"in": "inch", "ft": "foot"}, "centimeter"),
    "size_mm": (measures.size_mm, {"in": "inch"}, "millimeter"),
    "fish_kilograms": (measures.fish_kilograms, {"lb": "pound", "oz": "ounce"}, "kilogram"),
    "warming_c": (measures.warming_c, {"F": "delta_degF"}, "delta_degC"),
}


@pytest.fixture(scope="session")
def pint(outside: Any) -> Any:
    return outside.module("pint").UnitRegistry()


@pytest.mark.parametrize("name", AMOUNTS)
@given(whole=st.integers(1, 3), part=st.integers(1, 15))
def test_fractions_as_pint_has_them(pint: Any, name: str, whole: int, part: int) -> None:
    read, units, metric = AMOUNTS[name]
    for ours, theirs in units.items():
        wanted = pint.Quantity(whole + part / 16, theirs).to(metric).magnitude
        assert read(f"{whole} {part}/16 {ours}", "us") == pytest.approx(wanted, rel=1e-12)


@pytest.mark.parametrize(("units", "unit"), [("us", "gallon"), ("imperial", "imperial_gallon")])
@given(amount=st.integers(1, 10_000))
def test_gallons_as_pint_has_them(pint: Any, units: Units, unit: str, amount: int) -> None:
    wanted = pint.Quantity(amount, unit).to("liter").magnitude
    assert measures.litres(f"{amount} gal", units) == pytest.approx(wanted, rel=1e-12)


ALL = (
    *(measures.length_cm, measures.total_cm, measures.size_mm, measures.litres, measures.hours),
    *(measures.kilograms, measures.fish_kilograms, measures.temperature_c, measures.warming_c),
)


@given(
    st.sampled_from(ALL),
    st.sampled_from([*get_args(Units), None]),
    st.one_of(
        st.text(max_size=60),
        st.text(alphabet="0123456789 /.-+eE½'\"°FCingalbcmk", max_size=45),
    ),
)
def test_any_text_is_an_amount_or_a_fault_in_words(
    read: Amount, units: Units | None, text: str
) -> None:
    try:
        value = read(text, units)
    except PydanticCustomError as error:
        assert error.context and error.context["what"] and error.context["right"]
        assert len(error.context["what"]) < 250
    else:
        assert read.low <= value <= read.high
        if read is not measures.hours and units in ("us", "imperial"):
            assert not measures.is_bare(text)


@pytest.mark.parametrize(
    ("key", "written", "units", "key_out", "text"),
    [
        ("measured_cm", "21 in", "us", "measured_in", "21"),
        ("measured_cm", "21 in", "metric", "measured_cm", "53.34"),
        ("measured_in", "19 3/4", "us", "measured_in", "19.75"),
        ("measured_cm", "52 cm", "us", "measured_cm", "52 cm"),
        ("read_c", "65 F", "us", "read_f", "65"),
        ("read_c", "65 F", "imperial", "read_c", "18.33333333 C"),
        ("read_c", "18.2 C", "imperial", "read_c", "18.2 C"),
        ("weighed_lb", "4.6", "imperial", "weighed_lb", "4.6"),
        ("size_mm", "2 mm", "us", "size_mm", "2 mm"),
        ("bath_litres", "8 gal", "us", "bath_gallons", "8 US gal"),
        ("bath_litres", "8 gal", "imperial", "bath_gallons", "8 imp gal"),
        ("ramp_c_per_day", "2 F", "us", "ramp_f_per_day", "2"),
    ],
)
def test_a_note_is_written_as_its_keeper_would(
    key: str, written: str, units: Units, key_out: str, text: str
) -> None:
    entry = JournalEntry.model_validate(
        {"on": "2027-03-21", "did": "job", key: written}, context={"units": units}
    )
    out = as_written(entry, units)
    assert out == {"on": "2027-03-21", "did": "job", key_out: text}
    for other in get_args(Units) if units != "metric" else ("metric",):
        back = JournalEntry.model_validate(out, context={"units": other})
        metric = OTHER[key_out].metric if key_out in OTHER else key_out
        assert getattr(back, metric) == pytest.approx(getattr(entry, metric), rel=1e-9)


@given(st.floats(1, 120), st.floats(0, 40), st.sampled_from(["us", "imperial"]))
def test_whatever_is_noted_reads_back_the_same(cm: float, celsius: float, units: Units) -> None:
    entry = JournalEntry(on=ON, did="job", measured_cm=cm, read_c=celsius)
    back = JournalEntry.model_validate(as_written(entry, units), context={"units": units})
    assert back.measured_cm == pytest.approx(cm, rel=1e-8)
    assert back.read_c == pytest.approx(celsius, rel=1e-8, abs=1e-9)
