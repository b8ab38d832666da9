"""The season's end in words and as JSON."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from showprep.commands.summary import run

Folder = Callable[[Mapping[str, str | bytes]], Path]
KEEPER = """\
time_zone: Europe/Dublin
waters:
  pond: {steady_c: 18, readings_c: {2027-05-01: 18.5}}
  vat: {steady_c: 22}
isolation: {water: vat, holds: 3}
"""
FISH = """\
aoi:
  name: Aoi
  variety: kohaku
  lives_in: pond
  merit: 82
  lengths_cm: {2027-03-20: 50, 2027-09-20: 54.5}
  defects:
    - {kind: shimi, where: left shoulder, seen: 2027-03-20}
    - {kind: ulcer, where: belly, seen: 2027-03-21, vet: 2027-03-25}
    - {kind: split-fin, where: tail fin, seen: 2027-03-22}
ren: {name: Ren, variety: showa, lives_in: pond, merit: 80}
"""
JOURNAL = """\
- {on: 2027-04-24, fish: aoi, did: touch-up}
- {on: 2027-05-04, fish: aoi, saw: not clean, defect: shimi}
- {on: 2027-05-14, fish: aoi, saw: clean, defect: shimi}
- {on: 2027-05-15, fish: aoi, did: entered, show: lark}
- {on: 2027-06-12, fish: aoi, did: result, show: lark, result: second, remarks: fine skin}
- {on: 2027-06-13, fish: aoi, did: move, to: vat}
- {on: 2027-07-04, fish: aoi, did: move, to: pond}
- {on: 2027-07-10, fish: aoi, saw: speck back}
- {on: 2027-08-01, water: pond, did: treatment, treatment: salt}
- {on: 2027-08-02, fish: aoi, saw: spawned}
- {on: 2027-08-03, fish: ren, did: sold}
"""


def files(journal: str) -> dict[str, str | bytes]:
    show = "lark: {name: Lark Show, judging: 2027-06-12 10:00, travel_hours: 2}\n"
    return {"keeper.yaml": KEEPER, "shows.yaml": show, "fish.yaml": FISH, "journal.yaml": journal}


def test_the_text(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    run(folder(files(JOURNAL)), date(2027, 10, 31), as_json=False)
    text, _, pace = capsys.readouterr().out.partition("Pace of this yard\n")
    assert (
        text
        == """\
season, up to Sun 31 October 2027

Aoi, kohaku
  length: 54.5 cm on Mon 20 September 2027, from 50 cm on Sat 20 March 2027
  shimi, left shoulder: touched up on Sat 24 April 2027; \
clean on Fri 14 May 2027 (after 20 days, 206 °C·d); back on Sat 10 July 2027
  ulcer, belly: seen to by a vet on Thu 25 March 2027; not looked at since
  split-fin, tail fin: found on Mon 22 March 2027; not looked at since
  shimi, left shoulder: found on Sat 10 July 2027; not looked at since
  looked at, Tue 4 May 2027: not clean (shimi)
  looked at, Fri 14 May 2027: clean (shimi)
  looked at, Sat 10 July 2027: speck back
  Lark Show, Sat 12 June 2027: second. The judge: fine skin
  kept apart: 21 days
  treated on Sun 1 August 2027: salt
  spawned on Mon 2 August 2027

Ren, showa, sold on Tue 3 August 2027
  treated on Sun 1 August 2027: salt

"""
    )
    assert "clean, °C·d: table" in pace
    assert "from 1 look (used, too few to move much)" in pace
    assert "weeks until it is back: table 4, 8, 16; own" in pace
    assert "  pond: 0.3 °C warmer than its curve, from 1 reading (not used)" in pace


def test_the_json_holds_the_same(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    run(folder(files(JOURNAL)), date(2027, 10, 31), as_json=True)
    told = json.loads(capsys.readouterr().out)
    aoi, ren = told["fish"]
    assert aoi["lengths_cm"] == {"2027-03-20": 50, "2027-09-20": 54.5}
    assert (
        aoi["blemishes"][0]["outcome"] == "back" and aoi["blemishes"][0]["touched"] == "2027-04-24"
    )
    assert aoi["shows"][0]["result"] == "second"
    assert aoi["days_apart"] == 21
    assert (ren["gone"], ren["gone_on"]) == ("sold", "2027-08-03")
    assert {line["milestone"] for line in told["pace"]} == {"clean", "back"}
    assert told["pace"][0]["observations"] == 1
    assert told["waters"][0]["water"] == "pond"


def test_an_empty_journal_is_said_to_be_empty(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    run(folder(files("")), date(2027, 4, 1), as_json=False)
    assert "The journal is empty" in capsys.readouterr().out
