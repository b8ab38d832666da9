"""`note`: from the options to the journal, and what it refuses. Everything is invented."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import typer
import yaml
from typer.testing import CliRunner

from showprep.commands import summary
from showprep.commands.note import run
from showprep.commands.note_options import note
from showprep.outputs.failure import Failure
from showprep.planning.follow_up.year_end import year_end
from showprep.planning.season_plan import make_plan
from showprep.season.problems import SeasonError
from showprep.season.reading import read_season

Folder = Callable[[Mapping[str, str | bytes]], Path]
TODAY = date(2027, 5, 10)
FILES = {
    "keeper.yaml": """\
time_zone: Europe/Dublin
waters:
  main pond: {steady_c: 18}
  isolation vat: {steady_c: 22}
""",
    "shows.yaml": """\
larkfield: {name: Larkfield Spring Show, judging: 2027-06-12 10:00, travel_hours: 2}
""",
    "fish.yaml": """\
aoi:
  name: Aoi
  variety: kohaku
  lives_in: main pond
  merit: 82
  lengths_cm: {2027-03-20: 52.0}
  defects:
    - {kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-20, merit_lost: 6}
    - {kind: split-fin, where: tail fin, seen: 2027-04-20, merit_lost: 3}
ren: {name: Ren, variety: showa, lives_in: main pond, merit: 80}
""",
    "photos/aoi.jpg": b"not a real picture",
}


def noted(root: Path, fish: str = "", today: date = TODAY, **given: str) -> None:
    run(root, given, fish.split(), today)


def journal(root: Path) -> str:
    path = root / "journal.yaml"
    return path.read_text(encoding="utf-8") if path.exists() else ""


def refused(root: Path, fish: str = "", today: date = TODAY, **given: str) -> str:
    before = journal(root)
    with pytest.raises(Failure) as failure:
        noted(root, fish, today, **given)
    assert journal(root) == before
    assert failure.value.status == 2
    return str(failure.value)


def test_a_touch_up_is_written_down(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    root = folder(FILES)
    noted(root, "aoi", did="touch-up", bath_mg_per_l="35", minutes_to_recovery="4", on="2027-05-08")
    written = (
        "- on: 2027-05-08\n  did: touch-up\n  fish: aoi\n  bath_mg_per_l: 35\n"
        "  minutes_to_recovery: 4\n"
    )
    assert journal(root) == written
    assert capsys.readouterr().out == (
        f"Noted in journal.yaml:\n{written}"
        "This is about: shimi (left shoulder). Name another with --defect and --where.\n"
    )


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"measured_cm": "52.5"}, "did: measure"),
        ({"measured_cm": "20.75 in"}, "measured_cm: 52.705"),
        ({"weighed_kg": "2.1"}, "did: weigh"),
        ({"to": "isolation vat"}, "did: move"),
        ({"treatment": "salt"}, "did: treatment"),
        ({"show": "larkfield", "result": "second", "on": "2027-06-13"}, "did: result"),
        ({"saw": "clean", "defect": "split-fin"}, "saw: clean"),
    ],
)
def test_a_value_can_say_what_was_done(folder: Folder, given: dict[str, str], told: str) -> None:
    root = folder(FILES)
    noted(root, "aoi", date(2027, 6, 20), **given)
    assert f"  {told}\n" in journal(root)


def test_a_reading_says_it_was_seen(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, water="main pond", read_c="64 F")
    assert journal(root) == (
        "- on: 2027-05-10\n  saw: temperature\n  water: main pond\n  read_c: 17.77777778\n"
    )


def test_several_fish_are_a_note_each(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, "aoi ren aoi", did="entered", show="larkfield")
    assert journal(root).count("did: entered") == 2
    assert "one fish" in refused(root, "aoi ren", measured_cm="53")


def test_a_photo_is_named_from_inside_the_folder(
    folder: Folder, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    root = folder(FILES)
    noted(root, "aoi", did="measure", measured_cm="52.5", photo="photos/aoi.jpg")
    monkeypatch.chdir(root / "photos")
    noted(root, "aoi", saw="not clean", photo="aoi.jpg")
    assert journal(root).count("photo: photos/aoi.jpg") == 2
    outside = tmp_path / "b.jpg"
    outside.write_bytes(b"")
    assert "copy it there" in refused(root, "aoi", saw="not clean", photo=str(outside))
    assert "no photo" in refused(root, "aoi", saw="not clean", photo="c.jpg")


@pytest.mark.parametrize(
    ("fish", "given", "words"),
    [
        ("", {}, "--did"),
        ("", {"did": "touch-up"}, "--fish is missing"),
        ("", {"saw": "parasites"}, "--fish or --water is missing"),
        ("aoi", {"did": "touchup"}, "did you mean touch-up?"),
        ("aoi", {"did": "clean"}, "--saw 'clean'"),
        ("aio", {"did": "vet"}, "did you mean aoi?"),
        ("aoi", {"did": "entered", "show": "larkfeld"}, "did you mean larkfield?"),
        ("aoi", {"to": "isolation wat"}, "did you mean isolation vat?"),
        ("aoi", {"saw": "new defect", "defect": "ulcus"}, "ulcer"),
        ("aoi", {"did": "touch-up", "on": "2027-13-01"}, "--on: '2027-13-01': there is no month"),
        ("aoi", {"measured_cm": "5 m"}, "--measured-cm"),
        ("", {"water": "main pond", "read_c": "55"}, "--read-c"),
        ("aoi", {"did": "vet", "on": "2028-06-01"}, "more than a year ahead"),
        ("ren", {"did": "touch-up"}, "Ren had no shimi"),
        ("aoi", {"did": "touch-up", "where": "back"}, "no shimi at back"),
        ("aoi", {"did": "touch-up", "on": "2027-03-19"}, "Aoi had no shimi"),
        ("ren", {"saw": "clean"}, "no blemish to look at"),
        ("ren", {"saw": "speck back"}, "new defect"),
        ("aoi", {"measured_cm": "49"}, "do not shrink"),
        ("aoi", {"measured_cm": "94"}, "is too much"),
        ("aoi", {"measured_cm": "54", "on": "2027-03-01"}, "which is later"),
        ("aoi", {"to": "main pond"}, "in the main pond already"),
        ("aoi", {"show": "larkfield", "result": "first"}, "no result before"),
        ("", {"show": "larkfield", "to_day": "2027-05-01"}, "had passed"),
        ("", {"show": "larkfield", "did": "cancelled", "on": "2027-06-13"}, "was judged"),
        ("", {"job": "nothing-like-it"}, "no job 'nothing-like-it'"),
    ],
)
def test_what_is_missing_or_cannot_be_true_is_refused(
    folder: Folder, fish: str, given: dict[str, str], words: str
) -> None:
    assert words in refused(folder(FILES), fish, **given)


def test_what_the_journal_says_stands_against_a_note(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, "aoi", did="touch-up", on="2027-05-01")
    assert "touched up on" in refused(root, "aoi", did="touch-up", on="2027-05-01")
    early = refused(root, "aoi", saw="clean", defect="shimi", on="2027-04-30")
    assert "only touched up on Sat 1 May 2027, after that" in early
    assert "only touched up" in refused(root, "aoi", saw="clean", on="2027-05-01")
    noted(root, "ren", did="sold", on="2027-05-02")
    assert "was sold on" in refused(root, "ren", did="vet")
    assert "says this already" in refused(root, "ren", did="sold", on="2027-05-02")
    noted(root, show="larkfield", did="cancelled")
    assert "was cancelled" in refused(root, "aoi", did="entered", show="larkfield")


def test_a_speck_may_fade_by_itself(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    root = folder(FILES)
    noted(root, "aoi", saw="clean", defect="shimi", where="left shoulder")
    assert "saw: clean" in journal(root)
    noted(root, "aoi", saw="not clean", defect="shimi")
    noted(root, "aoi", saw="clean", defect="shimi", on="2027-05-11")
    assert "faded by itself" in capsys.readouterr().out


def test_an_earlier_day_is_written_after_a_later_one(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, "aoi", saw="off food", on="2027-05-08")
    noted(root, "aoi", did="vet", defect="split-fin", on="2027-05-02")
    assert [line for line in journal(root).splitlines() if "on:" in line] == [
        "- on: 2027-05-08",
        "- on: 2027-05-02",
    ]


def test_a_day_still_to_come_is_said_to_be_one(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    root = folder(FILES)
    noted(root, "aoi", did="vet", on="2027-05-11")
    assert "has not come yet" in capsys.readouterr().err


def test_a_planned_job_is_crossed_off_by_its_id(folder: Folder) -> None:
    from showprep.planning.season_plan import make_plan
    from showprep.season.reading import read_season

    root = folder(FILES)
    job = make_plan(read_season(root, TODAY).season, TODAY).tasks[0].id
    noted(root, job=job)
    assert f"job: {job}" in journal(root)
    left = [task.id for task in make_plan(read_season(root, TODAY).season, TODAY).tasks]
    assert job not in left


def test_faulty_files_are_told_and_nothing_is_written(folder: Folder) -> None:
    root = folder({**FILES, "journal.yaml": "- on: yesterday\n  saw: clean\n"})
    with pytest.raises(SeasonError, match="yesterday"):
        noted(root, "aoi", did="vet")
    flow = "[{on: 2027-05-01, did: vet, fish: aoi}]\n"
    (root / "journal.yaml").write_text(flow)
    with pytest.raises(Failure, match="a list belongs here") as failure:
        noted(root, "aoi", did="vet")
    assert failure.value.status == 3
    assert journal(root) == flow


def test_signs_of_disease_are_answered_at_once(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    root = folder(FILES)
    noted(root, water="main pond", saw="khv signs")
    assert "Move no fish" in capsys.readouterr().out
    noted(root, water="main pond", saw="parasites")
    assert "whole water" in capsys.readouterr().out
    noted(root, "aoi", did="touch-up", bath_mg_per_l="90")
    assert "can kill" in capsys.readouterr().out


class Keeper:
    """Answers questions in turn, and remembers them."""

    def __init__(self, *answers: str) -> None:
        self.answers = list(answers)
        self.asked: list[str] = []

    def __call__(self, question: str) -> str:
        self.asked.append(question)
        return self.answers.pop(0)


def test_at_a_terminal_it_asks_for_what_is_missing(folder: Folder) -> None:
    root = folder(FILES)
    keeper = Keeper("measure", "aio", "aoi", "52.5")
    run(root, {}, [], TODAY, ask=keeper)
    assert "measured_cm: 52.5" in journal(root)
    assert keeper.asked[0].startswith("What was done or seen? (touch-up, touch-up day, treatment")
    assert keeper.asked[1:] == [
        "Which fish? (aoi or ren)",
        "There is no 'aio'; did you mean aoi?",
        "How long (cm)?",
    ]


def test_no_answer_notes_nothing(folder: Folder) -> None:
    root = folder(FILES)
    for answers in (("",), ("move", "x", "y", "z"), ("move", "aoi", "")):
        with pytest.raises(Failure, match="Nothing was noted"):
            run(root, {}, [], TODAY, ask=Keeper(*answers))
    with pytest.raises(Failure, match="Nothing was noted"):
        run(root, {"did": "vet", "on": "2027-05-12"}, ["aoi"], TODAY, ask=Keeper("n"))
    run(root, {"did": "vet", "on": "2027-05-12"}, ["aoi"], TODAY, ask=Keeper("yes"))
    assert "did: vet" in journal(root)


def test_the_options_of_the_command(folder: Folder) -> None:
    root = folder(FILES)
    app = typer.Typer()
    app.command()(note)
    options = ["--on", "2027-05-08", "--fish", "aoi", "--did", "touch-up", "--note", "went well"]
    done = CliRunner().invoke(app, [str(root), *options, "--json"])
    assert done.exit_code == 0, done.output
    told: dict[str, Any] = json.loads(done.stdout)
    entry = {"on": "2027-05-08", "did": "touch-up", "fish": "aoi", "note": "went well"}
    assert told["noted"] == [entry]


def test_the_options_load_nothing_heavy() -> None:
    code = (
        "import sys, showprep.commands.note_options\n"
        "print([name for name in ('pydantic', 'yaml', 'numpy') if name in sys.modules])"
    )
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    # typer itself may load pydantic when a command runs, not when its options are read
    assert loaded.stdout.strip() == "[]", loaded.stderr


US_FILES = {
    **FILES,
    "keeper.yaml": """\
time_zone: America/New_York
units: us
waters:
  main pond: {steady_f: 64}
  isolation vat: {steady_f: 72}
""",
    "fish.yaml": str(FILES["fish.yaml"])
    .replace("lengths_cm: {2027-03-20: 52.0}", "lengths_in: {2027-03-20: 20.5}")
    .replace("size_mm: 2", "size_mm: 2 mm"),
}


@pytest.mark.parametrize(
    ("given", "written"),
    [
        ({"measured_cm": "20 3/4 in"}, "measured_in: 20.75"),
        ({"measured_in": "20 3/4"}, "measured_in: 20.75"),
        ({"measured_in": "52.7 cm"}, "measured_cm: 52.7 cm"),
        ({"weighed_lb": "4.6"}, "weighed_lb: 4.6"),
        ({"did": "touch-up", "bath_litres": "8 gal"}, "bath_gallons: 8 US gal"),
        ({"to": "isolation vat", "ramp_c_per_day": "2 F"}, "ramp_f_per_day: 2"),
    ],
)
def test_a_note_in_the_units_of_the_season(
    folder: Folder, given: dict[str, str], written: str
) -> None:
    root = folder(US_FILES)
    noted(root, "aoi", **given)
    assert f"  {written}\n" in journal(root)
    noted(root, water="main pond", read_f="64.5")  # what was written is read again
    assert journal(root).endswith("  read_f: 64.5\n")


@pytest.mark.parametrize(
    ("fish", "given", "words"),
    [
        ("aoi", {"measured_cm": "21"}, "--measured-cm: '21' has no unit; with units: us write"),
        ("", {"water": "main pond", "read_c": "64"}, "write 64 F."),
        ("", {"water": "main pond", "read_f": "164"}, "--read-f: '164 F' is not a likely water"),
        ("aoi", {"measured_cm": "52 cm", "measured_in": "20"}, "--measured-cm and --measured-in"),
        ("aoi ren", {"measured_in": "20"}, "--measured-in is of one fish"),
    ],
)
def test_bare_and_doubled_amounts_are_refused(
    folder: Folder, fish: str, given: dict[str, str], words: str
) -> None:
    assert words in refused(folder(US_FILES), fish, **given)


def test_inches_may_be_noted_in_a_metric_season(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, "aoi", measured_in="20.75")
    assert "measured_cm: 52.705\n" in journal(root)


@pytest.mark.parametrize(
    ("units", "question", "written"),
    [
        ("us", "How warm (°F)?", "read_f: 64.5"),
        ("metric", "How warm (°C)?", "read_c: 18"),
        ("imperial", "How warm (°C)?", "read_c: 18 C"),
    ],
)
def test_the_question_says_the_unit_of_the_answer(
    folder: Folder, units: str, question: str, written: str
) -> None:
    keeper_yaml = str(US_FILES["keeper.yaml"]).replace("units: us", f"units: {units}")
    root = folder({**US_FILES, "keeper.yaml": keeper_yaml})
    keeper = Keeper(written.removesuffix(" C").split(": ")[1])
    run(root, {"water": "main pond", "saw": "temperature"}, [], TODAY, ask=keeper)
    assert keeper.asked == [question]
    assert journal(root).endswith(f"  {written}\n")


def words_of(root: Path) -> list[dict[str, str]]:
    return list(yaml.load(journal(root), Loader=yaml.BaseLoader))


def test_a_plain_note_needs_no_category(folder: Folder, capsys: pytest.CaptureFixture[str]) -> None:
    root = folder(FILES)
    noted(root, note="The heron came again.")
    noted(root, "Aoi", note="calm in the bowl")
    assert words_of(root) == [
        {"on": "2027-05-10", "note": "The heron came again."},
        {"on": "2027-05-10", "fish": "aoi", "note": "calm in the bowl"},
    ]
    summary.run(root, TODAY, as_json=False)
    told = capsys.readouterr().out
    assert "  note, Mon 10 May 2027: calm in the bowl\n" in told
    assert "Notes of no one fish\n  note, Mon 10 May 2027: The heron came again.\n" in told


def test_several_facts_of_one_handling_in_one_go(folder: Folder) -> None:
    """Measured, weighed, looked at with a photo, moved: an entry each, as each command reads it."""
    root = folder(FILES)
    noted(
        root,
        "aoi",
        measured_cm="53",
        weighed_kg="2.4",
        saw="closed",
        defect="torn fin",
        photo="photos/aoi.jpg",
        note="calm",
        to="isolation vat",
        water="main pond",
        read_c="17.5",
    )
    day = {"on": "2027-05-10"}
    assert words_of(root) == [
        {**day, "did": "move", "fish": "aoi", "to": "isolation vat"},
        {**day, "did": "measure", "fish": "aoi", "measured_cm": "53"},
        {**day, "did": "weigh", "fish": "aoi", "weighed_kg": "2.4"},
        {**day, "saw": "temperature", "water": "main pond", "read_c": "17.5"},
        {**day, "saw": "closed", "fish": "aoi", "defect": "split-fin",
         "photo": "photos/aoi.jpg", "note": "calm"},
    ]  # fmt: skip


def test_done_and_seen_in_one_go(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, "aoi", did="touch-up", bath_mg_per_l="35", measured_cm="53", saw="feeding well")
    assert [(one.get("did"), one.get("saw")) for one in words_of(root)] == [
        ("touch-up", None), ("measure", None), (None, "feeding well")]  # fmt: skip
    assert words_of(root)[0]["bath_mg_per_l"] == "35"


def test_of_several_facts_all_or_none_are_written(folder: Folder) -> None:
    assert "do not shrink" in refused(folder(FILES), "aoi", measured_cm="40", saw="clean")


def test_a_note_is_taken_back_by_a_later_line(
    folder: Folder, capsys: pytest.CaptureFixture[str]
) -> None:
    """The journal only grows; what was taken back counts nowhere, and both are told."""
    root = folder(FILES)
    noted(root, "aoi", did="touch-up", on="2027-05-01")
    noted(root, "aoi", saw="clean", defect="shimi", on="2027-05-09")
    before = journal(root)
    run(root, {}, [], TODAY, undo=True)
    assert journal(root).startswith(before)
    assert words_of(root)[2] == {**words_of(root)[1], "undone": "2027-05-10"}
    season = read_season(root, TODAY).season
    assert [entry.word for entry in season.journal] == ["touch-up"]
    assert [entry.word for entry in season.taken_back] == ["clean"]
    (fish,) = [one for one in year_end(season, TODAY).fish if one.id == "aoi"]
    assert [one.outcome for one in fish.blemishes if one.touched] == ["not looked at"]
    capsys.readouterr()
    summary.run(root, TODAY, as_json=False)
    assert (
        "  noted, Sun 9 May 2027: clean (shimi), taken back on Mon 10 May 2027\n"
        in capsys.readouterr().out
    )
    noted(root, "aoi", saw="clean", defect="shimi", on="2027-05-09")  # it may be noted again
    assert len(read_season(root, TODAY).season.journal) == 2


def test_undo_takes_the_last_with_the_values_given(folder: Folder) -> None:
    root = folder(FILES)
    noted(root, "aoi", note="one")
    noted(root, "ren", note="two")
    run(root, {}, ["Aoi"], TODAY, undo=True)
    assert [entry.note for entry in read_season(root, TODAY).season.journal] == ["two"]
    run(root, {"note": "two"}, [], TODAY, undo=True)
    assert read_season(root, TODAY).season.journal == ()
    with pytest.raises(Failure, match="no such note that still stands"):
        run(root, {}, [], TODAY, undo=True)


@pytest.mark.parametrize(
    ("units", "given", "again"),
    [
        ("metric", {"read_c": "22.0"}, {"read_c": "22"}),
        ("metric", {"read_c": "22"}, {"read_c": "22.00"}),
        ("us", {"read_f": "68.0"}, {"read_f": "68"}),
        ("us", {"read_f": "71.6"}, {"read_c": "22 C"}),
    ],
)
def test_undo_knows_an_amount_however_it_is_spelled(
    folder: Folder, units: str, given: dict[str, str], again: dict[str, str]
) -> None:
    root = folder(FILES if units == "metric" else US_FILES)
    run(root, {"water": "main pond", **given}, [], TODAY)
    run(root, {"water": "main pond", **again}, [], TODAY, undo=True)
    assert read_season(root, TODAY).season.journal == ()


def test_a_touch_up_taken_back_plans_it_again(folder: Folder) -> None:
    """The plan after note and undo is that of a journal which never had the note."""
    root = folder({**FILES, "journal.yaml": "- {on: 2027-05-02, fish: ren, note: well}\n"})
    clean = make_plan(read_season(root, TODAY).season, TODAY, costs=False)
    noted(root, "aoi", did="touch-up", on="2027-05-09")
    touched = make_plan(read_season(root, TODAY).season, TODAY, costs=False)
    run(root, {}, [], TODAY, undo=True)
    back = make_plan(read_season(root, TODAY).season, TODAY, costs=False)
    assert touched.tasks != clean.tasks
    assert (back.tasks, back.verdicts) == (clean.tasks, clean.verdicts)
