"""A season carried over: what goes on telling something comes along, the old folder stays."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from showprep.commands.next_season import run
from showprep.outputs.failure import Failure
from showprep.planning.season_plan import make_plan
from showprep.season.reading import read_season

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 11, 20)
FILES = {
    "keeper.yaml": "# my yard\ntime_zone: UTC\nwaters:\n  pond: {steady_c: 18}\n"
    "  vat: {steady_c: 22}\nisolation: {water: vat, holds: 4}\n",
    "shows.yaml": "elm: {name: Elm, judging: 2027-06-12 10:00, entries_close: 2027-05-20, "
    "travel_hours: 2, cancelled: no, note: Mind the gate}\n"
    "oak: {name: Oak, judging: 2027-08-14 10:00, travel_hours: 2, cancelled: yes}\n",
    "fish.yaml": "# the old ones\naoi:  # my first\n  {name: Aoi, variety: kohaku, lives_in: pond, "
    "merit: 80,\n  lengths_cm: {2027-03-01: 45},\n  defects: [{kind: shimi, where: back, seen: "
    "2027-03-01}]}\nben:\n  name: Ben\n  variety: showa\n  lives_in: pond\n  merit: 70\n",
    "fish/cho.yaml": "name: Cho\nvariety: asagi  # from the lake\nlives_in: pond\nmerit: 60\n",
    "fish/dai.yaml": "name: Dai\nvariety: asagi\nlives_in: pond\nmerit: 50\n",
    "photos/aoi.jpg": b"no picture",
    "journal.yaml": "- {on: 2027-03-20, saw: temperature, water: pond, read_c: 17}\n"
    "- {on: 2027-04-01, did: touch-up, fish: aoi, defect: shimi}\n"
    "- {on: 2027-04-20, saw: clean, fish: aoi, defect: shimi, photo: photos/aoi.jpg}\n"
    "- {on: 2027-04-21, photo: photos/aoi.jpg, fish: aoi}\n"
    "- {on: 2027-06-11, did: travelled, fish: aoi, show: elm}\n"
    "- {on: 2027-06-12, did: result, fish: aoi, show: elm, result: first}\n"
    "- {on: 2027-09-01, did: measure, fish: aoi, measured_cm: 51}\n"
    "- {on: 2027-09-01, did: measure, fish: ben, measured_cm: 41}\n"
    "- {on: 2027-09-10, did: sold, fish: ben}\n"
    "- {on: 2027-09-11, did: lost, fish: dai}\n",
}


def everything(root: Path) -> dict[str, bytes]:
    return {str(path): path.read_bytes() for path in root.rglob("*") if path.is_file()}


def test_what_is_carried_over_and_what_stays(folder: Folder, tmp_path: Path) -> None:
    old, new = folder(FILES), tmp_path / "next"
    before = everything(old)
    run(old, new, ON)
    assert everything(old) == before
    season = read_season(new, ON).season
    assert set(season.fish) == {"aoi", "cho"}
    assert (new / "keeper.yaml").read_text("utf-8") == FILES["keeper.yaml"]
    assert (new / "fish" / "cho.yaml").read_text("utf-8") == FILES["fish/cho.yaml"]
    assert "# my first" in (new / "fish.yaml").read_text("utf-8")
    words = [(entry.word, entry.on.month) for entry in season.journal]
    assert words == [("temperature", 3), ("touch-up", 4), ("clean", 4), ("measure", 9)]
    assert all(entry.photo is None for entry in season.journal)


def test_lengths_and_scars_go_on(folder: Folder, tmp_path: Path) -> None:
    """Aoi was 51 cm in September, and her speck is off: no touch-up is planned for her."""
    run(folder(FILES), tmp_path / "next", ON)
    plan = make_plan(read_season(tmp_path / "next", ON).season, ON)
    told = next(one for one in plan.verdicts if one.fish == "aoi")
    assert told.length is not None and told.length.expected > 51
    assert told.touch_up is None or told.touch_up.day is None


def test_shows_are_drafts_a_year_on(folder: Folder, tmp_path: Path) -> None:
    """52 weeks after Saturday, 12 June 2027 is Saturday, 10 June 2028."""
    run(folder(FILES), tmp_path / "next", ON)
    reading = read_season(tmp_path / "next", ON)
    elm, oak = reading.season.shows["elm"], reading.season.shows["oak"]
    assert (elm.judging.date(), elm.entries_close) == (date(2028, 6, 10), date(2028, 5, 18))
    assert elm.note is not None and elm.note.endswith("Mind the gate") and not oak.cancelled
    assert sum("draft" in problem.what for problem in reading.warnings) == 2


def test_fish_kept_apart_are_waited_for(folder: Folder, tmp_path: Path) -> None:
    root = folder(FILES)
    with pytest.raises(Failure, match="Aoi is still kept apart"):
        run(root, tmp_path / "next", date(2027, 6, 15))
    assert not (tmp_path / "next").exists()
    with pytest.raises(Failure, match="not empty"):
        run(root, root, ON)
