"""Seasons broken in a thousand ways: a fault with its line, or every value read as it stands.

What is accepted is read again by another reader of YAML (ruamel.yaml) and compared value by value.
A few by default, 20,000 with SHOWPREP_STORMS=full; some of them go through the commands as well.
The season is invented.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from showprep.season.problems import SeasonError
from showprep.season.reading import read_season
from tests.commands.test_option_storm import status_of
from tests.storms import FULL, rounds, storm

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 4, 1)
CHUNKS = rounds(4, 40)
EACH = storm(15, 500)
THROUGH_COMMANDS = storm(4, 50)  # of each chunk
FILES = {
    "keeper.yaml": """\
time_zone: Europe/Dublin
work_days: [saturday, sunday]
away: [{from: 2027-05-03, to: 2027-05-09}]
waters:
  long pond:
    litres: 20000
    monthly_c: [4, 5, 8, 12, 16, 19, 21, 21, 18, 13, 8, 5]
    readings_c: {2027-03-20: 8.5, 2027-03-28: 9}
  vat: {litres: 3000, steady_c: 20}
isolation: {water: vat, holds: 2}
touch_up: {by: keeper, law_checked: yes, law_country: Ireland, fish_per_day: 3, bath_litres: 40,
  strength_percent: 10}
carrying: {boxes: 3, kilograms: 80}
preferences: {least_chance: 0.6, session_price: 2}
figures:
  sedation_spacing: 21
""",
    "shows.yaml": """\
larkfield:
  name: Larkfield Show
  judging: 2027-06-12 10:00
  check_out: 2027-06-13 14:00
  entries_close: 2027-05-22
  travel_hours: 3
  vats: shared
  water_c: 19
  limits: {fish: 3, longest_cm: 70}
otterby: {name: Otterby, judging: 2027-08-28 10:00, travel_hours: 1.5, altered_fish: tolerated}
""",
    "fish.yaml": """\
aoi:
  name: Aoi
  variety: kohaku
  sex: female
  lives_in: long pond
  merit: 82
  lengths_cm: {2026-09-20: 49, 2027-03-20: 50.5}
  defects:
    - {kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-20, merit_lost: 6}
ben:
  name: Ben
  variety: showa
  lives_in: vat
  merit: 70
  born: 2024
  lengths_cm: {2027-03-20: 40}
  must_show: [larkfield]
  defects: [{kind: lost-scale, where: belly, seen: 2027-03-22}]
""",
    "journal.yaml": """\
- {on: 2027-03-25, saw: temperature, water: long pond, read_c: 9.1}
- {on: 2027-03-27, did: measure, fish: ben, measured_cm: 40.5}
""",
}
WORDS = (
    *("1e400", "-1", "0", "nan", ".inf", "9" * 40, "1,5", "0x1F", "010", "1_000", "12:30", "yes"),
    *("no", "~", "null", "''", '"a"', "[]", "{}", "[1, 2]", "{a: 1}", "2027-02-30", "2027-13-01"),
    *("2028-06-12", "1999-01-01", "2027-06-12 25:00", "5 cm", "21 in", "39 F", "5 gal", "2 kg"),
    *("300 C", "pond", "long pond", "aoi", "larkfield", "kohaku", "shimi", "ulcer", "saturday"),
    *(
        "\u202eabc",
        "a\u2028b",
        "x\x85y",
        "\x1b[2J",
        "🐟",
        "#",
        "&a",
        "*a",
        "!!int 5",
        "|",
        ">",
        "?",
    ),
)
# What is written goes beside the season; the notes go into its journal. All for each with
# SHOWPREP_STORMS=full, else one after the other.
COMMANDS = tuple(
    tuple(words.split())
    for words in (
        *("plan", "plan --full", "plan --json", "today", "today --json", "summary", "bath", "bags"),
        *(
            "check",
            "why SEASON aoi larkfield",
            "note SEASON --saw temperature --water vat --read 20",
        ),
        *("page SEASON --to OUT/page.html", "calendar SEASON --to OUT/koi.ics"),
        "page SEASON --to OUT/sheets.html --sheets season",
        "plan SEASON --out OUT/all",
        "share SEASON --minutes 0.0001 --port 0 --host 127.0.0.1",
        "publish SEASON --url http://127.0.0.1:9/c/ --user keeper",
        "collect SEASON --url http://127.0.0.1:9/c/ --user keeper",
    )
)


def mutated(chance: random.Random) -> dict[str, str]:
    """The season with one to three slips: a value, a key, a line, a letter."""
    files = dict(FILES)
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        name = chance.choice(sorted(files))
        files[name] = slip(files[name], chance)
    return files


def slip(text: str, chance: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    at = chance.randrange(max(len(lines), 1))
    way = chance.randrange(8)
    scalars = list(re.finditer(r"(?<=[:\[{,] )[^\s,\[\]{}:#][^,\[\]{}#\n]*", text))
    if way <= 3 and scalars:  # a value for another
        one = chance.choice(scalars)
        other = chance.choice(WORDS) if way <= 1 else chance.choice(scalars).group()
        return text[: one.start()] + other + text[one.end() :]
    digits = [found.start() for found in re.finditer(r"\d", text)]
    if way == 4 and digits:
        place = chance.choice(digits)
        return text[:place] + chance.choice("0123456789") + text[place + 1 :]
    if way == 5 and lines:  # a line gone, or twice
        return "".join(lines[:at] + chance.choice(([], [lines[at]] * 2)) + lines[at + 1 :])
    if way == 6 and lines:  # more or less room before a line
        return "".join(
            [
                *lines[:at],
                chance.choice((" ", "  ", "\t")) + lines[at].lstrip(" "),
                *lines[at + 1 :],
            ]
        )
    place = chance.randrange(len(text) + 1)
    return text[:place] + chance.choice(WORDS) + text[place + chance.randrange(3) :]


def differing(record: Any, data: Any, path: str = "") -> Iterator[str]:
    """Where a record does not say what the file says; values in other units are left out."""
    if isinstance(record, BaseModel) and isinstance(data, Mapping):
        for key, value in data.items():
            name = str(key) if str(key) in type(record).model_fields else f"{key}_"
            if name in type(record).model_fields:
                yield from differing(getattr(record, name), value, f"{path}.{key}")
    elif isinstance(record, Mapping) and isinstance(data, Mapping):
        own = {str(key): value for key, value in record.items()}
        for key, value in data.items():
            if str(key) in own:
                yield from differing(own[str(key)], value, f"{path}.{key}")
    elif isinstance(record, list | tuple) and isinstance(data, list):
        if len(record) == len(data):
            for number, (one, value) in enumerate(zip(record, data, strict=True)):
                yield from differing(one, value, f"{path}.{number}")
    elif isinstance(data, str | int | float | date) and not same(record, data, path):
        yield f"{path}: {data!r} was read as {record!r}"


def same(value: Any, written: Any, path: str) -> bool:
    """Is a plain number, day or text what was written? Anything else is not judged here."""
    name = path.rpartition(".")[2]
    if isinstance(written, bool):
        return True  # yes and no are words of ours
    said = str(written).strip()
    if isinstance(value, bool):
        return said.lower() in ("yes", "no", "true", "false", "on", "off", "y", "n")
    if isinstance(value, int | float) and re.fullmatch(r"[+-]?\d+(\.\d+)?", said):
        return abs(float(said) - value) <= 1e-6 * max(abs(value), 1)
    if isinstance(value, datetime):
        return True  # a time of its zone, read elsewhere
    if isinstance(value, date) and re.fullmatch(r"\d{4}-\d\d-\d\d", said):
        return value.isoformat() == said
    if isinstance(value, str) and isinstance(written, str) and name in ("name", "where"):
        return value.split() == said.split()  # varieties, kinds and waters have words of ours
    return True


def through(
    words: tuple[str, ...], root: Path, files: Mapping[str, str], capsys: pytest.CaptureFixture[str]
) -> None:
    """The command says what is wrong, or answers; it changes nothing that the keeper wrote."""
    out = str(root.parent / "out")
    Path(out).mkdir(exist_ok=True)
    first, *more = (word.replace("SEASON", str(root)).replace("OUT", out) for word in words)
    given = more if str(root) in more else [str(root), *more]
    status = status_of([first, *given, "--on", ON.isoformat()])
    err = capsys.readouterr().err
    assert status in (0, 1, 2, 3), (files, words, err)
    assert "went wrong inside" not in err and "Traceback" not in err, (files, words, err)
    for name, text in files.items():
        data = (root / name).read_bytes()
        assert data == text.encode("utf-8", "replace") or (name == "journal.yaml"), (files, words)


@pytest.mark.parametrize("chunk", CHUNKS)
def test_a_fault_with_its_line_or_every_value_as_it_stands(
    folder: Folder,
    outside: Any,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    chunk: int,
) -> None:
    reader = outside.module("ruamel.yaml").YAML(typ="base", pure=True)
    reader.version = (1, 2)
    chance = random.Random(chunk)
    accepted = 0
    for number in range(EACH):
        files = mutated(chance)
        root = folder({name: text.encode("utf-8", "replace") for name, text in files.items()})
        if number < THROUGH_COMMANDS:
            at = number % len(COMMANDS)
            for words in COMMANDS if FULL else COMMANDS[at : at + 1]:
                through(words, root, files, capsys)
            folder({"journal.yaml": files["journal.yaml"].encode("utf-8", "replace")})
        try:
            season = read_season(root, ON).season
        except SeasonError as error:
            for problem in error.problems:
                assert str(problem).isprintable() and "Input should" not in str(problem), files
                lines = files.get(str(problem.file), "").count("\n") + 2
                assert 0 <= problem.line <= lines, (files, str(problem))
            continue
        accepted += 1
        for name, record in (
            ("keeper.yaml", season.keeper),
            ("shows.yaml", season.shows),
            ("fish.yaml", season.fish),
        ):
            found = list(differing(record, reader.load(files[name]) or {}))
            assert found == [], (files[name], found)
    assert accepted
