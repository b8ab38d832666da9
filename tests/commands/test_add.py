"""Fish and shows added: nothing half written, nothing the keeper wrote changed, no guess."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from showprep.commands.add import run
from showprep.outputs.failure import Failure
from showprep.season.problems import SeasonError
from showprep.season.reading import read_season
from showprep.season.records import Season
from showprep.season.spreadsheet import day_of

Folder = Callable[[Mapping[str, str | bytes]], Path]
ON = date(2027, 4, 1)
ROOT = Path(__file__).resolve().parent.parent.parent
CARD = ROOT / "samples" / "show-card.yaml"
KEEPER = "time_zone: Europe/Dublin  # mine\nwaters: {pond: {steady_c: 18}, vat: {steady_c: 22}}\n"
KEEPER += "isolation: {water: vat, holds: 2}\n"
US = KEEPER.replace("Dublin  # mine", "Dublin\nunits: us").replace(": 18", ": 64 F")
US = US.replace(": 22", ": 72 F")
SHOWS = "# my shows\nelm: {name: Elm, judging: 2027-06-12 10:00, travel_hours: 2}  # near"
FISH = "name: Aoi\nvariety: kohaku\nlives_in: pond\nmerit: 80\n"


@pytest.fixture
def season(folder: Folder) -> Path:
    return folder({"keeper.yaml": KEEPER, "shows.yaml": SHOWS, "fish/aoi.yaml": FISH})


def files(root: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(root)): path.read_bytes()
        for path in root.rglob("*")
        if path.is_file() and ".showprep" not in path.parts and not path.name.endswith(".lock")
    }


def read(root: Path) -> Season:
    return read_season(root, ON).season


def sheet(root: Path, text: str | bytes, **given: str) -> None:
    path = root.parent / "herd.csv"
    path.write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    run("fish", root, path, given, ON)


def refused(root: Path, text: str | bytes, **given: str) -> str:
    before = files(root)
    with pytest.raises(Failure) as failure:
        sheet(root, text, **given)
    assert files(root) == before
    assert "Nothing was written." in str(failure.value)
    return str(failure.value)


def test_the_card_of_a_show_goes_to_the_end(season: Path) -> None:
    before = files(season)
    run("show", season, CARD, {"travel_hours": "2.5"}, ON)
    after = files(season)
    assert after.pop("shows.yaml").startswith(before["shows.yaml"] + b"\nalder-hall-koi-show:\n")
    assert {name: before[name] for name in after} == after
    show = read(season).shows["alder-hall-koi-show"]
    assert (show.travel_hours, show.vats, show.limits.longest_cm) == (2.5, "shared", 75)
    assert show.arrive is not None and show.arrive.from_.hour == 14
    assert show.sizes is not None and show.sizes.upper == (20, 30, 40, 50, 60, 70)  # type: ignore[union-attr]
    assert (season / ".showprep" / "before" / "shows.yaml").read_bytes() == before["shows.yaml"]


def test_a_card_is_taken_over_into_the_keepers_units(folder: Folder) -> None:
    """75 cm, 19 °C and classes in cm mean the same beside a pond in °F and inches."""
    root = folder({"keeper.yaml": US, "shows.yaml": ""})
    run("show", root, CARD, {"travel_hours": "2.5"}, ON)
    show = read(root).shows["alder-hall-koi-show"]
    assert show.water_c == pytest.approx(19, abs=0.01)
    assert show.limits.longest_cm == pytest.approx(75, abs=0.01)
    assert show.sizes is not None and show.sizes.unit == "cm"  # type: ignore[union-attr]


def test_a_faulty_card_is_told_with_its_own_lines(season: Path, tmp_path: Path) -> None:
    card = tmp_path / "card.yaml"
    card.write_text(CARD.read_text("utf-8").replace("vats: shared", "vats: lots\ntravels: 2"))
    line = card.read_text("utf-8").splitlines().index("vats: lots") + 1
    before = files(season)
    with pytest.raises(SeasonError) as error:
        run("show", season, card, {"travel_hours": "2"}, ON)
    told = str(error.value)
    assert f"card.yaml:{line}:" in told and f"card.yaml:{line + 1}:" in told
    card.write_text(
        CARD.read_text("utf-8").replace("entries_close: 2027-08-20", "entries_close: 2027-10-20")
    )
    with pytest.raises(Failure, match=r"card\.yaml"):  # it closes after the show
        run("show", season, card, {"travel_hours": "2"}, ON)
    with pytest.raises(Failure, match="--travel-hours"):
        run("show", season, CARD, {}, ON)
    assert files(season) == before


def test_the_same_show_is_not_added_twice(season: Path) -> None:
    run("show", season, CARD, {"travel_hours": "2"}, ON)
    with pytest.raises(Failure, match="already"):
        run("show", season, CARD, {"travel_hours": "2"}, ON)


def test_where_nothing_can_be_added_the_entry_is_shown(folder: Folder) -> None:
    root = folder({"keeper.yaml": KEEPER, "shows.yaml": "{elm: {name: Elm, judging: "
                   "2027-06-12 10:00, travel_hours: 2}}\n"})  # fmt: skip
    before = files(root)
    with pytest.raises(Failure) as failure:
        run("show", root, CARD, {"travel_hours": "2"}, ON)
    assert "alder-hall-koi-show:" in str(failure.value) and files(root) == before
    assert "{elm" not in str(failure.value)


def test_columns_as_people_write_them(season: Path) -> None:
    sheet(
        season,
        "Breeder,Pond,Sex,Name,Length (in),Variety,Mark,Weight lb,Born\n"
        'Hill,pond,F,"Gin, the second",20,kohaku,77,4.4,2023\n'
        "\n"
        "Hill,Pond,♂,Möwe,19.5,asagi,60,,\n",
    )
    fish = read(season).fish
    gin, mowe = fish["gin-the-second"], fish["mowe"]
    assert (gin.name, gin.sex, gin.lives_in, gin.born) == (
        "Gin, the second",
        "female",
        "pond",
        2023,
    )
    assert gin.lengths_cm == {ON: pytest.approx(50.8)}  # an inch is 2.54 cm
    assert gin.weights_kg == {ON: pytest.approx(1.996, abs=1e-3)}  # a pound 0.4536 kg
    assert mowe.sex == "male" and mowe.weights_kg == {}


def test_a_sheet_of_a_country_with_decimal_commas(season: Path) -> None:
    text = "Name;Art;Länge;Length;Measured;Mark\nKarl;;;49,5;12.03.2027;70,5\n"
    assert "may be two days" in refused(season, text, variety="kohaku")
    sheet(season, "\ufeff" + text, variety="kohaku", dates="day-first")
    karl = read(season).fish["karl"]
    assert karl.lengths_cm == {date(2027, 3, 12): 49.5} and karl.merit == 70.5


def test_days_are_never_guessed() -> None:
    assert day_of("2027-10-04", "day-first") == date(2027, 10, 4)
    assert day_of("4/10/2027", "day-first") == date(2027, 10, 4)
    assert day_of("4/10/2027", "month-first") == date(2027, 4, 10)
    with pytest.raises(ValueError, match="two days"):
        day_of("4/10/2027", "year-first")
    with pytest.raises(ValueError):
        day_of("13/25/2027", "month-first")


def test_every_odd_row_is_named_and_nothing_is_written(season: Path) -> None:
    told = refused(
        season,
        "Name,Variety,Length,Mark,Pond\n"
        "Ben,kohaku,40,70,pond\n"
        "Aoi,showa,50,80,pond\n"
        ",showa,50,80,pond\n"
        "Cho,showa,4000,80,pond\n"
        "Dai,showa,50,800,sea\n"
        "Ben,showa,41,71,pond\n"
        "Eri,showa,50,80,pond,more\n",
    )
    lines = [int(line.split(":")[1]) for line in told.splitlines()[:-1]]
    assert lines == [3, 4, 5, 6, 6, 7, 8]
    assert "already (aoi)" in told and "'sea'" in told


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("", "nothing"),
        ("Colour,Size\nred,2\n", "Name"),
        ("Name,Koi,Mark\na,b,1\n", "say the same"),
        (b"Name,Mark\nM\xf6we,3\n", "UTF-8"),
        ('Name,Mark\n"Aoi,3\n', "cannot be read"),
        ("Name,Variety,Mark\n", "no fish"),
    ],
)
def test_a_sheet_that_cannot_be_read_says_why(season: Path, text: str | bytes, part: str) -> None:
    assert part in refused(season, text)


def test_excel_saves_utf_16_too(season: Path) -> None:
    sheet(season, "Name\tVariety\tMark\tPond\n鯉\tkohaku\t70\tpond\n".encode("utf-16"))
    assert read(season).fish["fish"].name == "鯉"


def test_sheets_written_by_other_libraries(season: Path, outside: Any) -> None:
    """pandas and tablib, two independent writers of CSV."""
    rows = [
        ("Ichi", "kohaku", 51.5, 71, "pond"),
        ('Ni "the big"', "showa, ginrin", 40.0, 62, "pond"),
    ]
    heads = ["Name", "Variety", "Length (cm)", "Points", "Water"]
    frame = outside.module("pandas").DataFrame(rows, columns=heads)
    sheet(season, frame.to_csv(index=False))
    again = outside.module("tablib").Dataset(
        *[(f"{one[0]} 2", *one[1:]) for one in rows], headers=heads
    )
    sheet(season, again.export("csv"))
    fish = read(season).fish
    assert {one.name for one in fish.values()} >= {
        "Ichi",
        "Ichi 2",
        'Ni "the big"',
        'Ni "the big" 2',
    }
    assert fish["ni-the-big-2"].lengths_cm == {ON: 40.0} and fish["ichi"].merit == 71


def test_by_options_and_by_questions(season: Path) -> None:
    run("fish", season, None, {"name": "Ben", "variety": "showa", "merit": "70"}, ON)
    answers = iter(["Cho", "kohaku", "sixty", "60.5", "", "75"])
    asked = []

    def ask(question: str) -> str:
        asked.append(question)
        return next(answers)

    run("fish", season, None, {}, ON, ask=ask)
    fish = read(season).fish
    assert fish["ben"].lives_in == "pond" and fish["cho"].lengths_cm == {ON: 60.5}
    assert len(asked) == 6 and "sixty" in asked[3] and asked[5].startswith("It cannot be left out")
    answers = iter(["Oak", "2027-07-03 10:00", "1.5", ""])
    run("show", season, None, {}, ON, ask=ask)
    assert read(season).shows["oak"].entries_close is None


def test_what_is_missing_is_named_at_once(season: Path) -> None:
    with pytest.raises(Failure, match="--name, --variety and --merit"):
        run("fish", season, None, {}, ON)
    with pytest.raises(Failure, match="--judging and --travel-hours"):
        run("show", season, None, {"name": "Oak"}, ON)
    with pytest.raises(Failure, match="no file"):
        run("fish", season, season / "none.csv", {}, ON)


def test_a_season_with_faults_is_left_alone(season: Path) -> None:
    (season / "fish" / "aoi.yaml").write_text("name: Aoi\n")
    before = files(season)
    with pytest.raises(SeasonError):
        run("show", season, CARD, {"travel_hours": "2"}, ON)
    assert files(season) == before
