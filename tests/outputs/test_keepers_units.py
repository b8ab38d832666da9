"""Whatever is printed for a season in US or imperial units carries no metric unit.

Two doses are metric everywhere, as syringes, scales and labels are: mL, mg, and mg/L. Keepers who
buy imperial gallons read their thermometers in Celsius (common practice, no source), so °C stays
in an imperial season. The season is invented.
"""

from __future__ import annotations

import html
import json
import re
import shutil
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any, cast

import pytest
from icalendar import Calendar
from typer.testing import CliRunner

from showprep.cli import app
from showprep.commands.note import run as note
from showprep.outputs.failure import Failure
from showprep.season.values.quantities import Units
from showprep.season.values.unit_keys import OF_METRIC, key_in
from tests.storms import FULL, storm

KEEPER = """\
time_zone: America/New_York
units: {units}
waters:
  pond:
    gallons: 7400
    monthly_f: [40, 41, 45, 50, 57, 64, 67, 66, 61, 54, 46, 42]
    readings_f: {{2027-03-14: 48.5, 2027-04-03: 50.4}}
    algae: yes
  shed: {{gallons: 900, monthly_f: [50, 50, 52, 55, 60, 66, 70, 70, 64, 58, 53, 50]}}
  vat: {{gallons: 300, steady_f: 71.6}}
isolation: {{water: vat, holds: 3}}
holding: {{water: shed}}
touch_up: {{by: keeper, law_checked: yes, law_country: Ireland, bath_gallons: 8,
  strength_percent: 10, tub: {{length_in: 30, width_in: 20, depth_in: 12}}}}
carrying: {{boxes: 4, pounds: 150}}
preferences: {{least_chance: 0.4, heal_in_vat: yes}}
"""
SHOWS = """\
ash:
  name: Ash Show
  judging: 2027-06-12 10:00
  entries_close: 2027-05-22
  travel_hours: 9
  vats: shared
  water_f: 60
  sizes: {unit: in, upper: [8, 12, 16, 20, 24]}
  limits: {fish: 4, total_in: 90, longest_in: 26, shortest_in: 8}
  declaration_months: 6
elm:
  name: Elm Show
  judging: 2027-08-07 10:00
  travel_hours: 2
  vats: bag
  altered_fish: excluded
  sizes: {unit: in, upper: [8, 12, 16, 20, 24]}
  limits: {fish: 4, longest_in: 20}
oak:
  name: Oak Show
  judging: 2027-03-06 10:00
  travel_hours: 2
"""
FISH = """\
aoi:
  name: Aoi
  variety: kohaku
  sex: female
  lives_in: pond
  merit: 88
  lengths_in: {2026-09-20: 19, 2027-03-20: 20}
  defects: [{kind: shimi, where: back, size_in: 1/16, seen: 2027-03-20, merit_lost: 8}]
ben:
  name: Ben
  variety: shiro utsuri
  lives_in: pond
  merit: 80
  lengths_in: {2027-03-20: 15.9}
  defects: [{kind: shimi, where: flank, size_in: 1/4, seen: 2027-03-20, merit_lost: 8}]
cho:
  name: Cho
  variety: showa
  lives_in: pond
  merit: 79
  lengths_in: {2027-03-20: 27}
  weights_lb: {2027-03-20: 11}
  defects: [{kind: incision, where: flank, seen: 2027-03-25, vet: 2027-03-26},
    {kind: stitches, where: flank, seen: 2027-03-25, vet: 2027-03-26}]
dai:
  name: Dai
  variety: sanke
  lives_in: pond
  merit: 85
  lengths_in: {2027-03-20: 18}
  defects: [{kind: lost-scales, where: flank, seen: 2027-04-01, merit_lost: 9}]
eri:
  name: Eri
  variety: chagoi
  lives_in: shed
  came: 2027-03-15
  merit: 70
  lengths_in: {2027-03-20: 12}
  moves: [{on: 2027-04-10, to: pond, ramp_f_per_day: 1.8}]
  defects: [{kind: red-spots, where: belly, seen: 2027-04-01},
    {kind: net-mark, where: back, seen: 2027-04-02}]
fuji:
  name: Fuji
  variety: asagi
  lives_in: pond
  merit: 66
  lengths_in: {2027-03-20: 7}
  defects: [{kind: raised-scales, where: body, seen: 2027-04-01}]
"""
JOURNAL = """\
- {on: 2027-03-05, did: travelled, fish: dai, show: oak}
- {on: 2027-03-06, did: result, fish: dai, show: oak, result: second in size 3}
- {on: 2027-03-07, did: move, fish: dai, to: vat, ramp_f_per_day: 1.8}
- {on: 2027-03-21, saw: temperature, water: shed, read_f: 51}
- {on: 2027-03-22, did: measure, fish: aoi, measured_in: 20}
- {on: 2027-03-23, did: weigh, fish: aoi, weighed_lb: 4.5}
- {on: 2027-04-03, did: touch-up, fish: ben, bath_gallons: 8, bath_mg_per_l: 40}
- {on: 2027-04-04, saw: new defect, defect: lost-scale, where: back, fish: ben, size_in: 1/4}
"""
ON = date(2027, 4, 5)
DAYS = (ON, date(2027, 6, 5), date(2027, 6, 14))


def days(units: str) -> tuple[date, ...]:
    """All three days in full; else two for US units, and one for what they leave to try."""
    return DAYS if FULL else DAYS[:2] if units == "us" else (ON,)


# Metric units as they are written. Not mL, mg, mg/L: those are of a dose, on syringe and label.
METRIC = re.compile(
    r"\d\s?(?:mm|cm|m|km|l|L|kg|g|g/kg|bar|kPa)\b(?!\w)|"
    r"\b(?:cm|mm|kg|km|litres?|millimetres?|centimetres?|kilograms?|grams?)\b|/L\b",
    re.IGNORECASE,
)
CELSIUS = re.compile(r"°\s?C|\d C\b|\bcelsius\b", re.IGNORECASE)
DOSE = re.compile(r"(?:mg|meq)(?: \w+)?/L|mL a litre|g/mL|mL|mg", re.IGNORECASE)
OPTION = re.compile(r"--[a-z-]+")
# A dose is checked by hand in litres and mg/L; the water stands in gallons before them.
OF_A_DOSE = ("of the fish's own water", "By hand: ")


@pytest.fixture(params=["us", "imperial"], scope="module")
def units(request: pytest.FixtureRequest) -> Units:
    return cast(Units, request.param)


@pytest.fixture(scope="module")
def season(units: Units, tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp(units) / "season"
    root.mkdir()
    for name, text in {
        "keeper.yaml": KEEPER.format(units=units),
        "shows.yaml": SHOWS,
        "fish.yaml": FISH,
        "journal.yaml": JOURNAL,
    }.items():
        (root / name).write_text(text, encoding="utf-8")
    return root


def told(*arguments: object, stderr: bool = True) -> str:
    """What a command prints; a bath that is refused is a text like another."""
    done = CliRunner().invoke(app, [str(one) for one in arguments])
    assert done.exit_code == 0 or isinstance(done.exception, Failure), (arguments, done.output)
    refused = "" if done.exit_code == 0 else f"\n{done.exception}"
    return (done.output if stderr else done.stdout) + refused


def sentences(value: Any) -> Iterator[str]:
    """Every text of a JSON value; the keys are the format's own, whatever the units."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        for one in value:
            yield from sentences(one)
    elif isinstance(value, str):
        yield value


def read_by_people(page: str) -> Iterator[str]:
    """The text of a page, and what a screen reader says of it."""
    shown = re.sub(r"<(style|script)\b.*?</\1>", "", page, flags=re.DOTALL)
    yield from re.findall(r'(?:aria-label|title|alt|placeholder)="([^"]*)"', shown)
    yield from map(
        html.unescape, re.split(r"</?(?:p|li|h\d|td|th|dd|dt|text|title|section)\b[^>]*>", shown)
    )


def metric(texts: Iterator[str] | list[str], units: Units) -> set[str]:
    """The lines that carry a metric unit, or name a key of the files that has one."""
    found = set()
    keys = {key for key in OF_METRIC if "_" in key and key_in(key, units) != key}
    for text in texts:
        for line in re.sub(r"<[^>]*>", "", text).splitlines():
            bare = DOSE.sub("", OPTION.sub("", line))
            if "has no unit" in bare:  # it names both units that a number may carry
                continue
            if (
                METRIC.search(bare)
                or (units == "us" and CELSIUS.search(bare))
                or not keys.isdisjoint(re.findall(r"\w+", bare))
            ):
                found.add(" ".join(line.split()))
    return found


def boards(season: Path, on: date) -> Iterator[str]:
    """Board, one pair after the other, today, summary, check, and all texts of the JSON."""
    day = ("--on", on)
    for one in ("plan", "today", "summary", "check"):
        yield told(one, season, *day)
    yield told("plan", season, *day, "--full")
    plan = json.loads(told("plan", season, *day, "--json", stderr=False))
    assert len(plan["verdicts"]) >= 6
    for one in plan["verdicts"] if on == ON else ():
        yield told("why", season, one["fish"], one["show"], *day)
    yield from sentences(plan)
    yield from sentences(json.loads(told("today", season, *day, "--json", stderr=False)))


def calendars(season: Path, on: date) -> Iterator[str]:
    for purpose in ("subscribe", "import"):
        written = told(
            *("calendar", season, "--to", "-", "--for", purpose, "--on", on), stderr=False
        )
        for part in Calendar.from_ical(written).walk():
            yield from (str(part[key]) for key in ("SUMMARY", "DESCRIPTION") if key in part)


def page(season: Path, on: date) -> Iterator[str]:
    path = season.parent / f"{on}.html"
    yield told("page", season, "--to", path, "--on", on)
    yield from read_by_people(path.read_text(encoding="utf-8"))


def worksheets(season: Path, units: Units) -> Iterator[str]:
    yield told("bags", season, "--show", "ash", "--on", ON)
    bath = ("--litres", "8 gal", "--strength-percent", 10, "--fish-cm", "20 in")
    for water in ("39 F", "50 F", "60 F", "80 F"):
        yield told("bath", *bath, "--water-c", water, "--units", units, "--on", ON)


def without_files(units: str) -> Iterator[str]:
    day = ("--on", ON, "--units", units)
    for kind in ("lost-scale", "shimi", "stitches", "ulcer", "frayed-fin"):
        for water in ("46 F", "75 F", "61 F")[: storm(2, 3)]:
            asked = ("heal", kind, "--seen", "2027-03-20", "--water-c", water, "--by", "+6w")
            yield told(*asked, *day)
            yield told(*asked, "--warm-to", "78 F", *day)
    yield told("kinds", *day)


# What is noted, the answers given where a question is put, and in how many words of the refusal.
NOTES: tuple[tuple[dict[str, str], str, tuple[str, ...]], ...] = (
    ({"did": "measure"}, "aoi", ("20.5",)),
    ({"did": "measure"}, "cho", ("19 in",)),
    ({"did": "measure"}, "fuji", ("30",)),
    ({"did": "weigh"}, "", ("aoi", "4.6")),
    ({"saw": "temperature"}, "", ("pond", "51.5")),
    ({}, "", ("touch-up", "aoi")),
    ({"did": "touch-up", "bath_gallons": "8", "bath_mg_per_l": "60"}, "aoi", ()),
    ({"did": "move", "ramp_f_per_day": "1.8"}, "eri", ("pond",)),
    ({"measured_cm": "20"}, "aoi", ()),
    ({"read_c": "51", "water": "pond"}, "", ()),
    ({"saw": "new defect", "defect": "lost-scale", "where": "back", "size_in": "1/4"}, "aoi", ()),
)


def notes(season: Path, capsys: pytest.CaptureFixture[str]) -> Iterator[str]:
    for given, fish, answers in NOTES:
        folder = season.parent / "noted"
        shutil.copytree(season, folder, dirs_exist_ok=True)
        left, asked = list(answers), []

        def ask(question: str, left: list[str] = left, asked: list[str] = asked) -> str:
            asked.append(question)
            return left.pop(0)

        try:
            note(folder, given, fish.split(), ON, ask=ask)
        except Failure as refused:
            yield str(refused)
        assert not left, (given, asked)
        yield from asked
        yield capsys.readouterr().out


WAYS: Mapping[str, Callable[[Path, date], Iterator[str]]] = {
    "boards": boards,
    "calendars": calendars,
    "page": page,
}


@pytest.mark.parametrize("output", WAYS)
def test_nothing_printed_carries_a_metric_unit(season: Path, units: Units, output: str) -> None:
    texts = [text for on in days(units) for text in WAYS[output](season, on)]
    assert len(texts) > 20
    assert metric(texts, units) == set()
    if output == "boards" and units == "us":
        assert any("tank_gallons" in text for text in texts)


def test_no_worksheet_carries_a_metric_unit(season: Path, units: Units) -> None:
    left = metric(worksheets(season, units), units)
    assert {line for line in left if not any(one in line for one in OF_A_DOSE)} == set()


def test_no_answer_without_files_carries_a_metric_unit(units: Units) -> None:
    assert metric(list(without_files(units)), units) == set()


def test_notes_ask_and_answer_in_the_season_s_units(
    season: Path, units: Units, capsys: pytest.CaptureFixture[str]
) -> None:
    texts = list(notes(season, capsys))
    degree = "°F" if units == "us" else "°C"
    assert "How long (in)?" in texts and f"How warm ({degree})?" in texts
    assert metric(texts, units) == set()
