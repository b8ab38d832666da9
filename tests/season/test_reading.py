"""A season folder read: what comes out, and every fault with file, line and what is right."""

from __future__ import annotations

import os
from datetime import date, datetime

import pytest

from showprep.season.problems import Place, SeasonError
from showprep.season.reading import read_season
from showprep.season.records import Away, SizeTableRecord, Window
from showprep.season.yaml.nodes import Document

ON = date(2027, 4, 1)


def test_a_whole_season_is_read(read, season_files) -> None:
    reading = read(season_files)
    season = reading.season
    assert reading.warnings == ()
    keeper = season.keeper
    assert keeper.time_zone == "Europe/Dublin"
    assert keeper.work_days == (5, 6)
    assert keeper.away == (Away.model_validate({"from": "2027-04-10", "to": "2027-04-12"}),)
    assert keeper.waters["main pond"].monthly_c[6] == 19.5  # type: ignore[index]
    assert keeper.waters["main pond"].readings_c[date(2027, 3, 14)] == 9.2
    assert keeper.touch_up.law_checked is True
    assert keeper.touch_up.law_country == "Ireland"
    assert keeper.touch_up.law_stated is True
    assert keeper.touch_up.strength_percent == "10"
    assert (keeper.preferences.least_chance, keeper.preferences.sure_enough) == (0.7, 0.8)
    show = season.shows["larkfield"]
    assert show.judging == datetime(2027, 6, 12, 10)
    assert isinstance(show.arrive, Window)
    assert isinstance(show.sizes, SizeTableRecord)
    assert show.limits.total_cm == 250
    fish = season.fish["aoi"]
    assert (fish.name, fish.born, fish.merit) == ("Aoi", 2022, 82)
    assert fish.lengths_cm == {date(2026, 9, 20): 50.5, date(2027, 3, 20): 52.0}
    assert fish.defects[0].seen == date(2027, 3, 20)
    assert [entry.did or entry.saw for entry in season.journal] == ["temperature", "measure"]


def test_every_value_has_its_place(read, season_files) -> None:
    reading = read(season_files)
    lines = str(season_files["fish/aoi.yaml"]).splitlines()
    place = reading.where("fish", "aoi", "defects", 0, "seen")
    assert place == Place("fish/aoi.yaml", 9, lines[8].index("2027-03-20") + 1)
    place = reading.where("fish", "aoi", "lengths_cm", date(2027, 3, 20))
    assert place == Place("fish/aoi.yaml", 7, lines[6].index("52.0") + 1)
    assert reading.where("keeper", "isolation", "water").line == 13
    assert reading.where("shows", "larkfield", "judging") == Place("shows.yaml", 3, 12)
    assert reading.where("journal", 1, "fish") == Place("journal.yaml", 4, 9)
    assert reading.where("fish", "nobody") == Place("fish.yaml")
    assert reading.where("fish") == Place("fish.yaml")


def test_fish_may_stand_in_one_file(read, season_files) -> None:
    aoi = str(season_files.pop("fish/aoi.yaml"))
    indented = "".join(f"  {line}\n" for line in aoi.splitlines())
    season_files["fish.yaml"] = f"aoi:\n{indented}beni:\n{indented}"
    season_files["fish/chi.yaml"] = aoi
    reading = read(season_files)
    assert list(reading.season.fish) == ["aoi", "beni", "chi"]
    assert reading.where("fish", "beni", "merit").line == 17


def test_a_fish_given_twice_names_both_places(told, season_files) -> None:
    season_files["fish.yaml"] = (
        "# a list\naoi: {name: A, variety: showa, lives_in: main pond, merit: 1}\n"
    )
    assert told(season_files) == [
        "fish/aoi.yaml: aoi is also in fish.yaml, line 2. Keep one of the two."
    ]


@pytest.mark.parametrize(
    "files",
    [
        {"shows.yaml": "", "fish.yaml": "# none yet\n", "journal.yaml": "---\n"},
        {"shows.yaml": "{}", "fish.yaml": "{}", "journal.yaml": "[]"},
        {"shows.yaml": "{}"},
    ],
)
def test_no_show_and_no_fish_is_no_fault(told, season_files, files) -> None:
    assert told({"keeper.yaml": season_files["keeper.yaml"], **files}) == []


def test_a_season_without_shows_is_worth_a_note(told, season_files) -> None:
    assert told({"keeper.yaml": season_files["keeper.yaml"]}) == [
        "Note: shows.yaml: there is no shows.yaml. Without one there is nothing to plan for."
    ]


def test_a_folder_without_keeper_yaml(told) -> None:
    (line,) = told({"shows.yaml": "{}"})
    assert line.startswith("keeper.yaml: there is no keeper.yaml in ")
    assert "showprep start" in line


def test_no_such_folder(tmp_path) -> None:
    for folder in (tmp_path / "none", tmp_path / "a\0b"):
        with pytest.raises(SeasonError, match="cannot be opened"):
            read_season(folder, ON)
    file = tmp_path / "file"
    file.write_text("x")
    with pytest.raises(SeasonError, match="this is no folder"):
        read_season(file, ON)


def test_names_that_are_nearly_right_are_noted(told, season_files) -> None:
    season_files |= {
        "show.yaml": "",
        "fishes.yml": "",
        "keeper.yml": "",
        "fish/beni.yml": "",
        "fish/photo.jpg": b"\xff",
        "notes.txt": "",
        "unlike.yaml": "",
        ".keeper.yaml.swp": "",
        "fish/.hidden.yaml": "",
    }
    assert told(season_files) == [
        "Note: fish/beni.yml: this file is not read. Call it beni.yaml.",
        "Note: fishes.yml: this file is not read. Did you mean fish.yaml?",
        "Note: keeper.yml: this file is not read. Did you mean keeper.yaml?",
        "Note: show.yaml: this file is not read. Did you mean shows.yaml?",
    ]


def test_folders_links_and_pipes_in_place_of_files(folder, season_files) -> None:
    season_files.pop("journal.yaml")
    root = folder(season_files)
    (root / "journal.yaml").mkdir()
    (root / "fish" / "beni.yaml").symlink_to("nowhere.yaml")
    (root / "fish" / "chi.yaml").symlink_to("chi.yaml")
    os.mkfifo(root / "fish" / "dai.yaml")
    (root / "elsewhere").write_text("- {on: 2027-03-01, saw: parasites, fish: ema}")
    (root / "fish" / "ema.yaml").symlink_to(root / "fish" / "aoi.yaml")
    with pytest.raises(SeasonError) as caught:
        read_season(root, ON)
    lines = [str(problem) for problem in caught.value.problems]
    assert [line.split(":")[0] for line in lines] == [
        "fish/beni.yaml",
        "fish/chi.yaml",
        "fish/dai.yaml",
        "journal.yaml",
    ]
    assert "cannot be opened" in lines[0]
    assert "cannot be opened" in lines[1]
    assert "no ordinary file" in lines[2]
    assert "this is a folder" in lines[3]


def test_a_file_called_fish(told, season_files) -> None:
    del season_files["fish/aoi.yaml"]
    season_files["fish"] = "aoi"
    assert "fish: this is a file." in told(season_files)[0]


def test_the_file_name_is_the_id(told, season_files) -> None:
    season_files["fish/Red Lass.yaml"] = season_files["fish/aoi.yaml"]
    assert told(season_files) == ["fish/Red Lass.yaml: 'Red Lass' cannot be an id. Write red-lass."]


def test_a_file_that_may_not_be_read(folder, season_files) -> None:
    root = folder(season_files)
    (root / "shows.yaml").chmod(0)
    if os.access(root / "shows.yaml", os.R_OK):
        return  # whoever runs this may read everything
    with pytest.raises(SeasonError, match=r"shows\.yaml: the file cannot be opened"):
        read_season(root, ON)


def test_all_faults_of_all_files_in_one_run(told, season_files) -> None:
    season_files["keeper.yaml"] = str(season_files["keeper.yaml"]).replace("metric ", "metrik ")
    season_files["shows.yaml"] = str(season_files["shows.yaml"]).replace("travel_hours", "travel")
    season_files["fish/aoi.yaml"] = (
        str(season_files["fish/aoi.yaml"])
        .replace("main pond", "mian pond")
        .replace("2026-09-20", "2027-02-30")
    )
    season_files["fish/beni.yaml"] = "name: Beni: red\n"
    season_files["journal.yaml"] = "- {on: 2027-03-01, did: sold, fish: beny}\n- {did: sent}\n"
    assert told(season_files) == [
        "keeper.yaml:2:8: units: 'metrik' is not one of the choices. Did you mean metric? "
        "The choices are metric, us or imperial.",
        "shows.yaml:7:3: larkfield, travel: no such key is known here. Did you mean travel_hours?",
        "fish/aoi.yaml:7:14: lengths_cm, 2027-02-30: '2027-02-30': there is no day 30 in that "
        "month. February 2027 has 28 days.",
        "fish/beni.yaml:1:11: there is a colon where none can stand. Put the whole value in double "
        "quotes, or line the key up with the keys above it.",
        "journal.yaml:1:37: there is no fish called 'beny'. Did you mean beni?",
        "journal.yaml:2:3: item 2: on is missing. Add a line 'on: ...'.",
    ]


def test_nothing_is_called_unknown_when_its_file_could_not_be_read(told, season_files) -> None:
    season_files["keeper.yaml"] = "time_zone: [\n"
    season_files["shows.yaml"] = "x: y: z\n"
    season_files["fish/aoi.yaml"] = f"{season_files['fish/aoi.yaml']!s}must_show: [larkfield]\n"
    lines = told(season_files)
    assert [line.split(":")[0] for line in lines] == ["keeper.yaml", "shows.yaml"]


# One wrong line each: where it stands, what is written, and the whole message.
ONE_FAULT = [
    ("keeper.yaml", "time_zone: Europe/Dublin", "time_zone: Europe/Dublim",
     "keeper.yaml:1:12: time_zone: 'Europe/Dublim' is not a time zone. "
     "Did you mean Europe/Dublin?"),
    ("keeper.yaml", "[saturday, sunday]", "[saturday, sonday]",
     "keeper.yaml:3:23: work_days, item 2: 'sonday' is not a day of the week. "
     "Did you mean sunday?"),
    ("keeper.yaml", "[saturday, sunday]", "saturday",
     "keeper.yaml:3:12: work_days: 'saturday' is not what belongs here. "
     "Write [saturday]."),
    ("keeper.yaml", ", 8.0, 5.5]", ", 8.0]",
     "keeper.yaml:8:16: waters, main pond, monthly_c: 12 monthly means are needed, 11 found. "
     "Write one for each month, January first."),
    ("keeper.yaml", ", 8.0, 5.5]", ", 8.0, 5.5, 4]",
     "keeper.yaml:8:16: waters, main pond, monthly_c: 12 monthly means are needed, 13 found. "
     "Write one for each month, January first."),
    ("keeper.yaml", "steady_c: 22", "steady_c: 55",
     "keeper.yaml:12:15: waters, isolation vat, steady_c: '55' is not a likely water temperature. "
     "0 to 40 °C is plausible."),
    ("keeper.yaml", "steady_c: 22", "steady_c: 22,5",
     "keeper.yaml:12:15: waters, isolation vat, steady_c: '22,5' found where a water "
     "temperature belongs. Write a decimal point: 22.5."),
    ("keeper.yaml", "holds: 3", "holds: 0",
     "keeper.yaml:13:42: isolation, holds: '0' cannot be right. Write 1 or more."),
    ("keeper.yaml", "law_checked: yes", "law_checked: on",
     "keeper.yaml:16:16: touch_up, law_checked: 'on' is neither yes nor no. Write yes or no."),
    ("keeper.yaml", "bath_litres: 30", "bath_litres: 8 gal",
     "keeper.yaml:18:16: touch_up, bath_litres: '8 gal' could be two volumes. "
     "Write US gal or imp gal."),
    ("keeper.yaml", "{boxes: 4}", "4",
     "keeper.yaml:21:11: carrying: '4' is not what belongs here. "
     "Write {boxes: 4}."),
    ("keeper.yaml", "{boxes: 4}", "{boxes:4}",
     "keeper.yaml:21:12: carrying, boxes:4: no such key is known here. "
     "Write a space after the colon."),
    ("keeper.yaml", "sure_enough: .8", "sure_enough: ~",
     "keeper.yaml:22:46: preferences, sure_enough: there is nothing written here. "
     "Write it, or leave the line out."),
    ("keeper.yaml", "sure_enough: .8", "use_own_pace: perhaps",
     "keeper.yaml:22:47: preferences, use_own_pace: 'perhaps' is not what belongs here. "
     "Write yes or no or 'when enough'."),
    ("shows.yaml", "2027-06-12 10:00", "2027-06-12",
     "shows.yaml:3:12: larkfield, judging: '2027-06-12' is not a day and time. "
     "A time is missing: 2027-06-12 10:00."),
    ("shows.yaml", "2027-06-11 13:00", "2027-06-11 25:00",
     "shows.yaml:4:18: larkfield, arrive, from: '2027-06-11 25:00': there is no time 25:00. "
     "Times run from 00:00 to 23:59."),
    ("shows.yaml", "travel_hours: 2.5", "note: far",
     "shows.yaml:2:3: larkfield: travel_hours is missing. Add a line 'travel_hours: ...'."),
    ("shows.yaml", "vats: own", "vats: mine",
     "shows.yaml:8:9: larkfield, vats: 'mine' is not one of the choices. "
     "The choices are own, shared or bag."),
    ("shows.yaml", "{unit: cm, upper: [25, 35, 45, 55, 65, 75], upper_included: yes}", "[25, 35]",
     "shows.yaml:11:10: larkfield, sizes: a list is not what belongs here. "
     "Write {upper: [25, 35]}."),
    ("shows.yaml", "unit: cm, upper", "unit: mm, upper",
     "shows.yaml:11:17: larkfield, sizes, unit: 'mm' is not one of the choices. "
     "The choices are cm or in."),
    ("shows.yaml", "[25, 35, 45, 55, 65, 75]", "[]",
     "shows.yaml:11:28: larkfield, sizes, upper: 0 found. Write at least 1."),
    ("shows.yaml", "fee: 30", "fee: nan",
     "shows.yaml:13:8: larkfield, fee: 'nan' found where a number belongs. "
     "Write a number such as 12 or 2.5."),
    ("shows.yaml", "fee: 30", "fee: -30",
     "shows.yaml:13:8: larkfield, fee: '-30' cannot be right. Write 0 or more."),
    ("shows.yaml", "larkfield:", "Elm Park:",
     "shows.yaml:1:1: 'Elm Park' cannot be an id. Write elm-park."),
    ("shows.yaml", "larkfield:", "12:",
     "shows.yaml:1:1: '12' cannot be an id. Put a letter in it, such as fish-12."),
    ("fish/aoi.yaml", "merit: 82", "merit:",
     "fish/aoi.yaml:6:7: merit: there is nothing written here. Write it, or leave the line out."),
    ("fish/aoi.yaml", "merit: 82", "merit: 182",
     "fish/aoi.yaml:6:8: merit: '182' cannot be right. Write 100 or less."),
    ("fish/aoi.yaml", "merit: 82", "merit: [82]",
     "fish/aoi.yaml:6:8: merit: a list found where a number belongs. Write 82."),
    ("fish/aoi.yaml", "52.0}", "5.2 m}",
     "fish/aoi.yaml:7:44: lengths_cm, 2027-03-20: '5.2 m' (520 cm) is not a likely length of a "
     "koi. 1 to 120 cm is plausible."),
    ("fish/aoi.yaml", "sex: female", "sexe: female",
     "fish/aoi.yaml:3:1: sexe: no such key is known here. Did you mean sex?"),
    ("fish/aoi.yaml", "sex: female", "born: 2021",
     "fish/aoi.yaml:4:1: 'born' is here twice (first in line 3). Keep one."),
    ("fish/aoi.yaml", "sex: female", "name : X",
     "fish/aoi.yaml:3:1: 'name' is here twice (first in line 1). Keep one."),
    ("fish/aoi.yaml", "sex: female", "never_show: larkfield",
     "fish/aoi.yaml:3:13: never_show: 'larkfield' is not what belongs here. "
     "Write [larkfield]."),
    ("fish/aoi.yaml", "sex: female", "? [a, b]\n: c",
     "fish/aoi.yaml:3:3: a list or mapping stands where a key belongs. Quote it."),
    ("fish/aoi.yaml", "  - {kind: shimi, where", "  - shimi\n  - {kind: shimi, where",
     "fish/aoi.yaml:9:5: defects, item 1: 'shimi' is not what belongs here. "
     "Write it like this, with your own figures: {kind: shimi, seen: 2027-06-12}."),
    ("fish/aoi.yaml", "kind: shimi, ", "",
     "fish/aoi.yaml:9:5: defects, item 1: kind is missing. Add a line 'kind: ...'."),
    ("journal.yaml", "did: measure", "did: measured",
     "journal.yaml:3:8: item 2, did: 'measured' is not one of the choices. Did you mean measure? "
     "The choices are touch-up, touch-up day, treatment, move, measure, weigh, stop feeding, feed "
     "again, entered, sent, travelled, stayed, result, vet, job, not done, sold, lost, cancelled "
     "or postponed."),
]  # fmt: skip


# What is written under a key, and what is to be written there instead.
SHAPES = [
    ("keeper.yaml", "away", "2027-05-09 to 2027-05-16", "[{from: 2027-05-09, to: 2027-05-16}]"),
    ("keeper.yaml", "away", "{from: 2027-05-09, to: 2027-05-16}",
     "[{from: 2027-05-09, to: 2027-05-16}]"),
    ("keeper.yaml", "away", "[2027-05-09, 2027-05-16]", "[{from: 2027-05-09, to: 2027-05-16}]"),
    ("keeper.yaml", "away", "2027-05-09", "[{from: 2027-05-09, to: 2027-05-09}]"),
    ("keeper.yaml", "also_work_on", "2027-05-09", "[2027-05-09]"),
    ("keeper.yaml", "work_days", "saturday and sunday", "[saturday, sunday]"),
    ("keeper.yaml", "isolation", "[{water: isolation vat, holds: 3}]",
     "{water: isolation vat, holds: 3}"),
    ("keeper.yaml", "carrying", "4", "{boxes: 4}"),
    ("keeper.yaml", "touch_up", "vet", "{by: vet}"),
    ("keeper.yaml", "preferences", "{speck_returns_after_weeks: [4, 8, 16]}",
     "{low: 4, usual: 8, high: 16}"),
    ("fish/aoi.yaml", "lengths_cm", "[{2026-09-20: 50.5}, {2027-03-20: 52}]",
     "{2026-09-20: 50.5, 2027-03-20: 52}"),
    ("fish/aoi.yaml", "lengths_cm", "{2026-09-20: [50.5]}", "50.5"),
    ("fish/aoi.yaml", "defects", "{kind: split-fin, seen: 2027-03-20}",
     "[{kind: split-fin, seen: 2027-03-20}]"),
    ("fish/aoi.yaml", "moves", "2027-04-05 to isolation vat",
     "[{on: 2027-04-05, to: isolation vat}]"),
    ("fish/aoi.yaml", "never_show", "larkfield", "[larkfield]"),
    ("fish/aoi.yaml", "lives_in", "{water: main pond}", "main pond"),
    ("fish/aoi.yaml", "born", "[2022]", "2022"),
]  # fmt: skip
INSIDE = {  # the whole value of which the advice is a part
    "{low: 4, usual: 8, high: 16}": "{speck_returns_after_weeks: {low: 4, usual: 8, high: 16}}",
    "50.5": "{2026-09-20: 50.5}",
}


@pytest.mark.parametrize(("file", "key", "wrong", "right"), SHAPES)
def test_a_value_in_the_wrong_shape_is_shown_in_the_right_one(
    told, read, season_files, file: str, key: str, wrong: str, right: str
) -> None:
    """The advice is the value itself in its right shape, and following it leaves no fault."""
    lines = str(season_files[file]).splitlines(keepends=True)
    begun = [at for at, line in enumerate(lines) if line.startswith(f"{key}:")]
    for at in begun:
        end = next((to for to in range(at + 1, len(lines)) if lines[to][0] != " "), len(lines))
        del lines[at:end]
    season_files[file] = "".join([*lines, f"{key}: {wrong}\n"])
    (fault,) = told(season_files)
    assert fault.endswith(f" Write {right}."), fault
    followed = INSIDE.get(right, right)
    season_files[file] = "".join([*lines, f"{key}: {followed}\n"])
    assert read(season_files).season


@pytest.mark.parametrize(
    ("file", "text", "right"),
    [
        ("shows.yaml", "- {name: Elm Park, judging: x}\n", "'elm-park:' in place of the dash"),
        ("shows.yaml", "- elm-park: {name: Elm Park}\n", "take the dash away"),
        ("fish/aoi.yaml", "- {name: Aoi}\n", "take the dash away"),
        ("journal.yaml", "on: 2027-03-20\n", "begin each entry with a dash, '- on: ...'"),
    ],
)
def test_a_file_turned_round(told, season_files, file: str, text: str, right: str) -> None:
    assert right in " ".join(told({**season_files, file: text}))


def test_a_bare_yes_never_states_that_the_law_was_checked(told, season_files) -> None:
    keeper = str(season_files["keeper.yaml"])
    begun, end = keeper.index("touch_up:"), keeper.index("carrying:")
    season_files["keeper.yaml"] = keeper[:begun] + "touch_up: yes\n" + keeper[end:]
    (fault,) = told(season_files)
    assert "{law" not in fault


def test_what_was_not_written_is_invented_and_said_to_be(told, season_files) -> None:
    season_files["fish/aoi.yaml"] = str(season_files["fish/aoi.yaml"]).replace(
        "{2026-09-20: 50.5, 2027-03-20: 52.0}", "52"
    )
    (fault,) = told(season_files)
    assert fault.endswith("Write it like this, with your own figures: {2027-06-12: 52}.")


def test_faults_inside_an_entry_with_a_bad_id_show_in_the_same_round(told, season_files) -> None:
    season_files["shows.yaml"] = (
        str(season_files["shows.yaml"])
        .replace("larkfield:", "Elm Park:")
        .replace("fee: 30", "fee: x")
    )
    season_files["fish/Big Red.yaml"] = (
        "name: Big Red\nvariety: kohaku\nlives_in: the sea\nmerit: 80\n"
    )
    season_files["fish.yaml"] = (
        "aoi: {name: Aoi, variety: kohaku, lives_in: main pond, merit: 800}\n"
    )
    found = told(season_files)
    assert [line.partition(" ")[0] for line in found] == [
        "shows.yaml:1:1:", "shows.yaml:13:8:", "fish.yaml:1:63:",
        "fish/Big", "fish/Big", "fish/aoi.yaml:", ]  # fmt: skip
    assert "there is no water called 'the sea'" in " ".join(found)


@pytest.mark.parametrize(("file", "right", "wrong", "message"), ONE_FAULT)
def test_one_fault(told, season_files, file: str, right: str, wrong: str, message: str) -> None:
    text = str(season_files[file])
    assert right in text
    season_files[file] = text.replace(right, wrong, 1)
    assert told(season_files) == [message]


def test_values_stay_as_written(read, season_files) -> None:
    season_files["fish/aoi.yaml"] = (
        "name: no\nvariety: on\nlives_in: main pond\nmerit: 010\nnote: 10:00 = 0x1F\n"
    )
    fish = read(season_files).season.fish["aoi"]
    assert (fish.name, fish.variety, fish.merit, fish.note) == ("no", "on", 10, "10:00 = 0x1F")


def test_names_are_the_same_in_either_unicode_form(read, season_files) -> None:
    season_files["keeper.yaml"] = str(season_files["keeper.yaml"]).replace(
        "main pond", "e\u0301tang"
    )
    season_files["fish/aoi.yaml"] = str(season_files["fish/aoi.yaml"]).replace("main pond", "étang")
    season_files["journal.yaml"] = str(season_files["journal.yaml"]).replace(
        "main pond", '" étang "'
    )
    assert read(season_files).season.fish["aoi"].lives_in == "étang"


def test_a_byte_order_mark_and_windows_line_ends_are_no_fault(read, season_files) -> None:
    for name, text in season_files.items():
        season_files[name] = b"\xef\xbb\xbf" + str(text).replace("\n", "\r\n").encode()
    reading = read(season_files)
    assert reading.season.fish["aoi"].merit == 82
    assert reading.where("fish", "aoi", "merit") == Place("fish/aoi.yaml", 6, 8)


def test_a_document_knows_how_far_a_path_leads() -> None:
    assert Document("x.yaml").place(("a", 1)) == Place("x.yaml")


@pytest.mark.parametrize(
    ("written", "word"),
    [
        ("water: main pond, read_c: 9", "temperature"),
        ("water: main pond, read_f: 50", "temperature"),
        ("fish: aoi, measured_cm: 52, weighed_kg: 3", "measure"),
        ("fish: aoi, to: isolation vat", "move"),
        ("water: main pond, parasite: flukes", "parasites"),
        ("water: main pond, parasite: flukes, treatment: salt", "treatment"),
        ("note: The heron came again.", "note"),
    ],
)
def test_an_entry_needs_no_category_where_its_keys_say_it(
    read, season_files, written: str, word: str
) -> None:
    season_files["journal.yaml"] = f"- {{on: 2027-03-28, {written}}}\n"
    (entry,) = read(season_files).season.journal
    assert entry.word == word


def test_an_entry_is_undone_by_a_copy_of_it(read, told, season_files) -> None:
    """The last of those alike; one that takes nothing back is a fault with its place."""
    one, other = "saw: spawned, fish: aoi", "saw: off food, fish: aoi"
    lines = [one, one, other, f"{one}, undone: 2027-03-30"]
    season_files["journal.yaml"] = "".join(f"- {{on: 2027-03-28, {line}}}\n" for line in lines)
    season = read(season_files).season
    assert [entry.saw for entry in season.journal] == ["spawned", "off food"]
    assert [entry.undone for entry in season.taken_back] == [date(2027, 3, 30)]
    season_files["journal.yaml"] += "- {on: 2027-03-27, saw: spawned, undone: 2027-03-30}\n"
    assert told(season_files) == [
        "journal.yaml:5:42: no entry before this one says the same. Copy the whole entry and add "
        "undone, or let 'showprep note --undo' do it."
    ]


def test_what_was_undone_is_no_fault_any_more(told, season_files) -> None:
    line = "on: 2027-03-28, saw: spawned, fish: benny"
    season_files["journal.yaml"] = f"- {{{line}}}\n- {{{line}, undone: 2027-03-29}}\n"
    assert told(season_files) == []


@pytest.mark.parametrize("letter", ["\x85", "\u2028", "\u2029"])
def test_lines_are_counted_as_editors_count_them(folder, season_files, letter) -> None:
    """YAML 1.2 (2021) §5.4 ends a line at LF and CR alone; YAML 1.1 had three more."""
    text = f"# a comment{letter}with more{letter} of it\n" + str(season_files["keeper.yaml"])
    place = text.count("\n") + 1
    files = {**season_files, "keeper.yaml": text + "nonsense: 1\n"}
    with pytest.raises(SeasonError) as caught:
        read_season(folder(files), ON)
    assert [(one.file, one.line) for one in caught.value.problems] == [("keeper.yaml", place)]


def test_no_advice_names_what_would_turn_the_message_round(folder, season_files) -> None:
    """An id that turns the direction of the text is told of, but never offered."""
    shows = "\u202eelm: {name: Elm, judging: 2027-06-12 10:00, travel_hours: 2}\n"
    fish = str(season_files["fish/aoi.yaml"]) + "must_show: [elm]\n"
    with pytest.raises(SeasonError) as caught:
        read_season(folder({**season_files, "shows.yaml": shows, "fish/aoi.yaml": fish}), ON)
    assert all(str(one).isprintable() for one in caught.value.problems)
