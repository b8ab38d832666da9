"""What is likely a slip of the pen is asked about, with its line, and only that."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from showprep.commands import check
from showprep.season.problems import SeasonError
from showprep.season.reading import read_season

ON = date(2027, 4, 1)
KEEPER = """\
time_zone: Europe/Dublin
away:
  - {from: 2027-05-01, to: 2027-05-09}
waters:
  long pond:
    litres: 9000
    monthly_c: [4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]
    readings_c:
      2027-03-20: 8.6
touch_up:
  by: keeper
  strength_percent: 10
"""
SHOWS = """\
moorgate:
  name: Moorgate April Show
  judging: 2027-06-12 10:00
  entries_close: 2027-05-22
  travel_hours: 2
"""
FISH = """\
name: Nessa
variety: kohaku
lives_in: long pond
merit: 80
born: 2023
lengths_cm:
  2026-04-05: 41
  2027-03-28: 48
weights_kg:
  2027-03-28: 1.6
defects:
  - kind: shimi
    where: left shoulder
    size_mm: 2
    seen: 2027-03-20
"""
JOURNAL = "- {on: 2027-03-30, water: long pond, saw: temperature, read_c: 9.4}\n"
Folder = Callable[[Mapping[str, str | bytes]], Path]


def season(**changed: str) -> dict[str, str | bytes]:
    texts = {"keeper": KEEPER, "shows": SHOWS, "nessa": FISH, "journal": JOURNAL} | changed
    return {
        "keeper.yaml": texts["keeper"],
        "shows.yaml": texts["shows"],
        "fish/nessa.yaml": texts["nessa"],
        "journal.yaml": texts["journal"],
    }


def questions(root: Path) -> list[tuple[str, int]]:
    found = read_season(root, ON).warnings
    return [(one.file, one.line) for one in found if one.severity == "question"]


def test_a_sound_season_is_asked_nothing(folder: Folder) -> None:
    assert questions(folder(season())) == []


SLIPS = [
    # A digit: 10.0 as 19.0 in April, between 7 and 14.
    ("keeper", "10.0, 14.0", "19.0, 14.0", 7),
    ("keeper", "2027-03-20: 8.6", "2027-03-20: 18.6", 9),
    ("keeper", "litres: 9000", "litres: 140", 6),
    # A month: from May to September of the same year.
    ("keeper", "to: 2027-05-09", "to: 2027-09-05", 3),
    # A bottle of 10 % read as 1 %.
    ("keeper", "strength_percent: 10", "strength_percent: 1", 12),
    ("keeper", "strength_percent: 10", "strength_mg_per_ml: 10.5", 12),
    ("shows", "2027-06-12 10:00", "2029-06-12 10:00", 3),
    ("shows", "entries_close: 2027-05-22", "entries_close: 2026-05-22", 4),
    ("nessa", "born: 2023", "born: 2032", 5),
    ("nessa", "born: 2023", "born: 2027", 7),
    ("nessa", "2027-03-28: 48", "2027-03-28: 84", 8),
    # 1.6 kg as 16, and as pounds.
    ("nessa", "2027-03-28: 1.6", "2027-03-28: 16", 10),
    ("nessa", "size_mm: 2", "size_mm: 20", 14),
    ("nessa", "seen: 2027-03-20", "seen: 2017-03-20", 15),
    ("journal", "read_c: 9.4", "read_c: 19.4", 1),
]


@pytest.mark.parametrize(("name", "meant", "written", "line"), SLIPS)
def test_a_slip_is_asked_about_with_its_line_and_silenced_there(
    folder: Folder, name: str, meant: str, written: str, line: int
) -> None:
    texts = {"keeper": KEEPER, "shows": SHOWS, "nessa": FISH, "journal": JOURNAL}
    crowd = "crowd" if "litres" in meant else ""
    slipped = texts[name].replace(meant, written)
    files = season(**{name: slipped})
    if crowd:
        for number in range(6):
            files[f"fish/mate-{number}.yaml"] = FISH
    root = folder(files)
    found = questions(root)
    file = {"nessa": "fish/nessa.yaml"}.get(name, f"{name}.yaml")
    assert (file, line) in found
    path = root / file
    for at in {at for where, at in found if where == file}:
        lines = path.read_text().split("\n")
        lines[at - 1] += "  # sure"
        path.write_text("\n".join(lines))
    assert questions(root) == []


def test_means_that_begin_in_another_month(folder: Folder) -> None:
    # The same twelve means from July on: the coldest month would be July, in Dublin.
    means = [4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]
    for first in (3, 6, 9):
        turned = [*means[first:], *means[:first]]
        text = KEEPER.replace(str(means), str(turned)).replace("      2027-03-20: 8.6\n", "")
        text = text.replace("    readings_c:\n", "")
        assert ("keeper.yaml", 7) in questions(folder(season(keeper=text, journal="")))


def test_july_is_winter_south_of_the_equator(folder: Folder) -> None:
    south = [19.5, 19.0, 16.0, 12.0, 8.0, 5.5, 4.5, 4.8, 7.0, 10.0, 14.0, 17.5]
    text = KEEPER.replace("Europe/Dublin", "Pacific/Auckland").replace(
        "[4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]", str(south)
    )
    text = text.replace("2027-03-20: 8.6", "2027-03-20: 16.2")
    assert questions(folder(season(keeper=text, journal=""))) == []


def test_questions_are_told_as_such_and_stop_nothing(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    root = folder(season(nessa=FISH.replace("born: 2023", "born: 2032")))
    check.run(root, ON, as_json=False)
    said = capsys.readouterr()
    assert "Question: fish/nessa.yaml:5:7: born in 2032, when today is 2027-04-01?" in said.err
    assert "No faults" in said.out


def test_where_there_is_a_fault_it_alone_is_told(folder: Folder) -> None:
    text = FISH.replace("born: 2023", "born: 2032").replace("merit: 80", "merit: much")
    with pytest.raises(SeasonError) as caught:
        read_season(folder(season(nessa=text)), ON)
    assert {one.severity for one in caught.value.problems} == {"fault"}
