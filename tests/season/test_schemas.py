"""The schemas for editors: as written from the records, and of one mind with the reader.

The schema library (jsonschema) and the YAML of editors (version 1.2, core schema) are independent
of the reader, which takes every scalar as text.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from showprep.season.problems import SeasonError
from showprep.season.reading import read_season
from showprep.season.starting import starter_files
from showprep.season.typed import card_part
from tests.conftest import Outside
from tests.schema_files import EMPTY_ALLOWED, FOLDER, schemas
from tests.season.conftest import ON
from tests.season.test_hostile import HOSTILE
from tests.season.test_reading import ONE_FAULT

Draft7Validator = Outside().module("jsonschema").Draft7Validator

SAMPLES = Path(__file__).resolve().parent.parent.parent / "samples"
OF_FILE = {
    "keeper.yaml": "keeper",
    "shows.yaml": "shows",
    "fish.yaml": "fish-list",
    "journal.yaml": "journal",
    "show-card.yaml": "show-card",
}


class Core(yaml.SafeLoader):
    """YAML 1.2 as editors read it: no dates, no times in sixties, yes and no are words."""


# YAML 1.2.2, section 10.3.2, tag resolution of the core schema.
Core.yaml_implicit_resolvers = {}
for tag, form, first in (
    ("null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("bool", r"true|True|TRUE|false|False|FALSE", list("tTfF")),
    ("int", r"[-+]?[0-9]+", list("-+0123456789")),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", list("-+.0123456789")),
    ("float", r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)", list("-+.")),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"^(?:{form})$"), first)
Core.add_constructor("tag:yaml.org,2002:int", lambda _, node: int(node.value))
Core.add_constructor("tag:yaml.org,2002:float", lambda _, node: float(node.value.lstrip("+")
    if "inf" not in node.value.lower() and "nan" not in node.value.lower() else "nan"))  # fmt: skip


def validator(file: str) -> Any:
    name = OF_FILE.get(file, "fish")
    return Draft7Validator(json.loads((FOLDER / f"{name}.schema.json").read_text("utf-8")))


def with_text_keys(data: Any) -> Any:
    """As JSON has it: every key is text."""
    if isinstance(data, dict):
        return {str(key): with_text_keys(one) for key, one in data.items()}
    return [with_text_keys(one) for one in data] if isinstance(data, list) else data


def by_schema(file: str, text: str) -> list[str]:
    """What a schema library finds wrong in a file as an editor reads it."""
    data = with_text_keys(yaml.load(text, Loader=Core))
    return [error.message for error in validator(file).iter_errors(data)]


def test_the_schemas_are_those_of_the_records() -> None:
    for name, text in schemas().items():
        path = FOLDER / f"{name}.schema.json"
        assert path.read_text("utf-8") == text, "run PYTHONPATH=. python tests/schema_files.py"
        Draft7Validator.check_schema(json.loads(text))


def season_files_of(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.yaml"))


@pytest.mark.parametrize("path", season_files_of(SAMPLES), ids=lambda path: str(path)[-24:])
def test_the_samples_are_valid(path: Path) -> None:
    assert by_schema(path.name, path.read_text("utf-8")) == []


@pytest.mark.parametrize("file", starter_files(ON))
def test_the_files_of_start_are_valid(file: str) -> None:
    assert by_schema(file, starter_files(ON)[file]) == []


CARD = (SAMPLES / "show-card.yaml").read_text("utf-8")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("vats: shared", "vats: lots"),
        ("judging: 2027-09-11 10:00", "judging: 11 September"),
        ("name: Alder", "titel: Alder"),
        ("place: Alder", "travel_hours: 2\nplace: Alder"),
        ("units: metric", "units: furlongs"),
        ("fee: 20", "fee: -20"),
        ("water_c: 19", "water_c: 190"),
        ("{fish: 6,", "{fish: six,"),
        ("entries_close: 2027-08-20", "entries_close: 2027-02-30"),
    ],
)
def test_a_faulty_card_is_refused_by_both(tmp_path: Path, old: str, new: str) -> None:
    assert old in CARD
    text = CARD.replace(old, new)
    path = tmp_path / "show-card.yaml"
    path.write_text(text, encoding="utf-8")
    part = card_part((path, path.name))
    assert part.problems and "card" not in part.records
    if new != "entries_close: 2027-02-30":  # a schema knows the form of a day, not the calendar
        assert by_schema(path.name, text)


def test_the_season_of_these_tests_is_valid(season_files) -> None:
    for file, text in season_files.items():
        assert by_schema(file, str(text)) == [], file


def faulty(folder: Any, files: dict[str, Any]) -> bool:
    try:
        read_season(folder(files), ON)
    except SeasonError:
        return True
    return False


def as_an_editor_reads(text: object) -> bool:
    """Can the text be read as YAML at all? If not, the editor says so without a schema."""
    if not isinstance(text, str) or "*a" in text:
        return False  # a file of aliases that stand for one another, without end
    try:
        yaml.load(text, Loader=Core)
    except (yaml.YAMLError, ValueError, RecursionError, OverflowError):
        return False
    return True


# What the reader refuses and no schema can: how a file is written, not what is in it.
ONLY_READ = {
    "duplicate keys", "anchor", "tag of our own", "key of nothing", "control character in quotes",
}  # fmt: skip


@pytest.mark.parametrize(
    ("name", "content"),
    [(row[0], row[1]) for row in HOSTILE if as_an_editor_reads(row[1]) and len(row[1]) < 50_000],
)
def test_the_hostile_files_are_refused_by_both(folder, season_files, name, content) -> None:
    assert faulty(folder, {**season_files, "fish/aoi.yaml": content})
    assert by_schema("fish/aoi.yaml", content) != [] or name in ONLY_READ


# Faults of one value that need more than its form: another file, a calendar, or both of two units.
ONLY_CHECKED = (
    "is not a time zone", "is not a day of the week", "there is no time", "could be two volumes",
    "is here twice", "is not a likely length", "write a decimal point",
)  # fmt: skip


@pytest.mark.parametrize(("file", "right", "wrong", "message"), ONE_FAULT)
def test_one_fault_is_found_by_both(season_files, file, right, wrong, message) -> None:
    text = str(season_files[file]).replace(right, wrong, 1)
    if not as_an_editor_reads(text):
        return
    told = message.casefold()
    assert by_schema(file, text) != [] or any(words in told for words in ONLY_CHECKED)


ACCEPTED = [
    ("fish/aoi.yaml", "merit: 82", "merit: '82'"),
    ("fish/aoi.yaml", "merit: 82", "merit: 8.2e1"),
    ("fish/aoi.yaml", "name: Aoi", "name: 12"),
    ("fish/aoi.yaml", "name: Aoi", "name: true"),
    ("fish/aoi.yaml", "born: 2022", "born: 2022-05-14"),
    ("fish/aoi.yaml", "sex: female", "tested: Yes"),
    ("fish/aoi.yaml", "sex: female", "tested: true"),
    ("fish/aoi.yaml", "sex: female", "never_show: all"),
    ("fish/aoi.yaml", "sex: female", "never_show: [larkfield]"),
    ("fish/aoi.yaml", "sex: female", "longest_in: 33"),
    ("fish/aoi.yaml", "lengths_cm: {2026-09-20: 50.5, 2027-03-20: 52.0}",
     "lengths_in: {2027-03-20: 21}"),
    ("fish/aoi.yaml", "52.0}", "20 1/2 in}"),
    ("fish/aoi.yaml", "52.0}", "1 ft 8 in}"),
    ("fish/aoi.yaml", "kind: shimi", "kind: torn fin"),
    ("keeper.yaml", "litres: 28000", "litres: 28 m³"),
    ("keeper.yaml", "litres: 28000", "gallons: 7400 US gal"),
    ("keeper.yaml", "steady_c: 22", "steady_f: 71.6"),
    ("keeper.yaml", "[saturday, sunday]", "[sat, {rule: FREQ=WEEKLY;BYDAY=SA, from: 2027-01-02}]"),
    ("keeper.yaml", "[saturday, sunday]", '["FREQ=WEEKLY;BYDAY=SA,SU"]'),
    ("keeper.yaml", "speck_returns_after_weeks: 8",
     "speck_returns_after_weeks: {low: 4, usual: 8, high: 16}"),
    ("keeper.yaml", "carrying: {boxes: 4}", "carrying: {pounds: 90}"),
    ("keeper.yaml", "carrying: {boxes: 4}", "figures: {temp_ramp: 1 C}"),
    ("keeper.yaml", "bath_litres: 30", "tub: {length_in: 24, width_cm: 40, depth_cm: 30 cm}"),
    ("shows.yaml", "2027-06-12 10:00", "2027-06-12T10:00:00"),
    ("shows.yaml", "sizes: {unit: cm, upper: [25, 35, 45, 55, 65, 75], upper_included: yes}",
     "sizes: general"),
    ("shows.yaml", "upper: [25,", "upper: [10 in,"),
    ("journal.yaml", "  did: measure\n", ""),
]  # fmt: skip


@pytest.mark.parametrize(("file", "right", "wrong"), ACCEPTED)
def test_what_the_reader_takes_the_schema_takes(folder, season_files, file, right, wrong) -> None:
    text = str(season_files[file])
    assert right in text
    season_files[file] = text.replace(right, wrong, 1)
    read_it = not faulty(folder, season_files)
    assert by_schema(file, str(season_files[file])) == []
    assert read_it or "general" in wrong


def test_an_empty_file_is_valid_where_it_may_be() -> None:
    for name in EMPTY_ALLOWED:
        schema = json.loads((FOLDER / f"{name}.schema.json").read_text("utf-8"))
        assert Draft7Validator(schema).is_valid(None)


def test_an_entry_says_what_it_needs_by_either() -> None:
    said = "on: 2027-03-28, did: measure, fish: aoi"
    assert by_schema("journal.yaml", f"- {{{said}, measured_in: 20}}\n") == []
    assert len(by_schema("journal.yaml", f"- {{{said}}}\n")) == 1


def test_keys_are_explained_from_the_page() -> None:
    keeper = json.loads((FOLDER / "keeper.schema.json").read_text("utf-8"))["definitions"]
    assert "hands free" in keeper["Keeper"]["properties"]["work_days"]["description"]
    assert keeper["Preferences"]["properties"]["sure_enough"]["description"].endswith("0.8")
