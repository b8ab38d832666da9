"""`pondside`: from a tap to the journal, through the checks of `note`. Everything is invented."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
import urllib.request
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml

from showprep.commands import note
from showprep.commands import pondside as command
from showprep.commands.pondside import Pond, run
from showprep.outputs.failure import Failure
from showprep.outputs.home import pond_photos
from showprep.outputs.home.pond_memory import PondMemory, only_one
from showprep.outputs.home.pond_server import Tap, read_tap
from tests.outputs.pondside.pictures import huge_header, photo, png_bomb

Folder = Callable[[Mapping[str, str | bytes]], Path]
TODAY = date(2027, 5, 10)
FILES = {
    "keeper.yaml": """\
time_zone: Europe/Dublin
waters:
  main pond: {steady_c: 18}
  isolation vat: {steady_c: 22}
isolation: {water: isolation vat, holds: 3}
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
    - {kind: split-fin, where: tail fin, seen: 2027-04-20, merit_lost: 3}
ren: {name: Ren, variety: showa, lives_in: main pond, merit: 80, lengths_cm: {2027-03-20: 48}}
""",
}


def pond_of(root: Path, on: date = TODAY) -> Pond:
    pond = Pond(root, PondMemory(root), lambda: on)
    pond.plan_anew()
    return pond


def tap(number: int, *fish: str, on: date = TODAY, undo: bool = False, **given: str) -> Tap:
    return Tap(f"tap-{number:016d}", on, given, fish, undo)


def entries(root: Path) -> list[dict[str, str]]:
    path = root / "journal.yaml"
    text = path.read_text("utf-8") if path.exists() else ""
    return yaml.load(text, Loader=yaml.BaseLoader) or []


def test_the_page_shows_the_days_jobs_and_what_can_be_written(folder: Folder) -> None:
    pond = pond_of(folder(FILES))
    shown = json.loads(pond.state(0))
    assert shown["on"] == "2027-05-10"
    assert [one["id"] for one in shown["fish"]] == ["aoi", "ren"]
    assert {one["id"] for one in shown["waters"]} == {"main pond", "isolation vat"}
    assert shown["length"] == {"key": "measured_cm", "unit": "cm"}
    cards = [card for group in shown["groups"] for card in group["cards"]]
    assert cards
    assert shown["groups"][0]["late"] == any(card["late"] for card in cards)
    assert all(row["buttons"] or row.get("field") for card in cards for row in card["rows"])
    assert json.loads(pond.state(shown["number"]))["same"] is True


def test_a_job_that_is_ticked_has_left_the_page(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    shown = json.loads(pond.state(0))
    cards = [card for group in shown["groups"] for card in group["cards"]]
    card, button = next(
        (card, button)
        for card in cards
        for row in card["rows"]
        for button in row["buttons"]
        if button["given"].get("did") == "job"
    )
    told = pond.take(tap(1, *button["fish"], **button["given"]))
    assert told["ok"], told
    assert [one["job"] for one in entries(root)] == [card["id"]]
    assert json.loads(pond.state(shown["number"]))["planning"] is True
    pond.plan_anew()
    after = json.loads(pond.state(shown["number"]))
    assert card["id"] not in [one["id"] for group in after["groups"] for one in group["cards"]]


def test_a_fast_that_was_tapped_stays_in_sight_with_nothing_to_tap(folder: Folder) -> None:
    root, on = folder(FILES), date(2027, 6, 8)
    pond = pond_of(root, on)

    def fast() -> dict[str, Any]:
        groups = json.loads(pond.state(0))["groups"]
        (card,) = (one for group in groups for one in group["cards"] if "stop-feeding" in one["id"])
        return card

    ((button,),) = (row["buttons"] for row in fast()["rows"])
    assert pond.take(tap(1, *button["fish"], on=on, **button["given"]))["ok"]
    pond.plan_anew()
    assert fast()["rows"] == []
    (entry,) = entries(root)
    assert (entry["did"], entry["water"], entry["job"]) == (
        *("stop feeding", "main pond"),
        fast()["id"],
    )


HEALS = {
    "keeper.yaml": """\
time_zone: UTC
work_days: [saturday]
waters: {pond: {steady_c: 12}, vat: {steady_c: 22}}
isolation: {water: vat, holds: 2}
touch_up: {by: keeper, law_checked: yes, law_country: Ireland}
preferences: {heal_in_vat: yes}
""",
    "shows.yaml": """\
ash:
  name: Ash Show
  judging: 2027-06-12 10:00
  arrive: {from: 2027-06-11 13:00, to: 2027-06-11 20:00}
  travel_hours: 1
  altered_fish: tolerated
""",
    "fish.yaml": """\
aoi:
  name: Aoi
  variety: kohaku
  lives_in: pond
  merit: 80
  lengths_cm: {2027-03-20: 50}
  defects: [{kind: shimi, where: left flank, size_mm: 2, seen: 2027-03-20, merit_lost: 10}]
""",
}


def cards_of(pond: Pond) -> dict[str, Any]:
    shown = json.loads(pond.state(0))
    return {card["id"]: card for group in shown["groups"] for card in group["cards"]}


@pytest.mark.parametrize("to", ["vat", "pond"])
def test_where_a_fish_heals_is_tapped_and_counts_from_its_touch_up(folder: Folder, to: str) -> None:
    root, session = folder(HEALS), date(2027, 5, 15)
    for day in (date(2027, 5, 14), session):
        pond = pond_of(root, day)
    labels = [one["label"] for one in cards_of(pond)["into-vat/aoi"]["rows"][0]["buttons"]]
    assert labels == ["Into the vat"]  # before the touch-up it has not stayed either
    assert pond.take(tap(1, "aoi", on=session, did="touch-up"))["ok"]
    pond = pond_of(root, date(2027, 5, 18))
    card = cards_of(pond)["into-vat/aoi"]
    assert card["late"]
    (row,) = card["rows"]
    buttons = {one["label"]: one for one in row["buttons"]}
    assert list(buttons) == ["Into the vat", "Stayed in the pond"]
    button = buttons["Into the vat" if to == "vat" else "Stayed in the pond"]
    told = pond.take(Tap("the-tap-of-a-late-card", date(2027, 5, 18), button["given"], ("aoi",)))
    assert told["ok"], told
    assert entries(root)[-1] == {"on": "2027-05-15", "did": "move", "fish": "aoi", "to": to}
    pond.plan_anew()
    assert "into-vat/aoi" not in cards_of(pond)
    again = Tap("that-tap-taken-back", date(2027, 5, 18), button["given"], ("aoi",), undo=True)
    assert pond.take(again)["ok"]
    pond.plan_anew()
    assert "into-vat/aoi" in cards_of(pond)


@pytest.mark.parametrize("day", ["2027-05-11", "yesterday", ""])
def test_what_was_done_on_a_day_of_its_own_was_done_before_the_tap(day: str) -> None:
    def sent(on: str) -> bytes:
        given = {"did": "move", "to": "isolation vat", "on": on}
        told = {"tap": "tap-of-another-day", "on": "2027-05-10", "given": given, "fish": ["aoi"]}
        return json.dumps(told).encode()

    assert read_tap(sent("2027-05-09")).given["on"] == "2027-05-09"
    with pytest.raises(ValueError, match=r"no tap|isoformat"):
        read_tap(sent(day))


def test_looks_readings_and_lengths_are_entries_as_a_keeper_writes_them(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    for one in (
        tap(1, "aoi", saw="not clean"),
        tap(2, water="main pond", read_c="17.5"),
        tap(3, "ren", measured_cm="49.5"),
    ):
        assert pond.take(one)["ok"]
    assert entries(root) == [
        {"on": "2027-05-10", "saw": "not clean", "fish": "aoi"},
        {"on": "2027-05-10", "saw": "temperature", "water": "main pond", "read_c": "17.5"},
        {"on": "2027-05-10", "did": "measure", "fish": "ren", "measured_cm": "49.5"},
    ]


def test_a_blemish_may_be_looked_at_on_any_day_and_stands_once(folder: Folder) -> None:
    asked = 0
    for on in (TODAY, date(2027, 4, 21), date(2027, 4, 25)):
        shown = json.loads(pond_of(folder(FILES), on).state(0))
        cards = [card for group in shown["groups"] for card in group["cards"]]
        rows = [row for card in cards for row in card["rows"]] + [
            one["row"] for one in shown["looks"]
        ]
        looks = [row["who"] for row in rows if row.get("look")]
        assert looks == ["Aoi"], on
        asked += not shown["looks"]
    assert 0 < asked < 3


def test_worse_says_at_once_that_a_vet_may_be_needed(folder: Folder) -> None:
    pond = pond_of(folder(FILES))
    told: Any = pond.take(tap(1, "aoi", saw="not clean", note="worse than before"))
    assert "for a vet, today" in " ".join(told["mind"])


def test_a_tap_sent_again_is_written_once(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    one = tap(1, water="main pond", read_c="17.5")
    assert pond.take(one)["ok"]
    assert pond.take(one)["ok"]
    assert len(entries(root)) == 1
    # Another program after this one knows it as well.
    assert Pond(root, PondMemory(root), lambda: TODAY).take(one)["ok"]
    assert len(entries(root)) == 1


def test_a_tap_cut_off_between_journal_and_memory_is_not_doubled(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    one = tap(1, "aoi", saw="not clean")
    keep = PondMemory.keep

    def killed(memory: PondMemory, name: str, how: str) -> None:
        if how == "done":
            raise KeyboardInterrupt
        keep(memory, name, how)

    monkeypatch.setattr(PondMemory, "keep", killed)
    with pytest.raises(KeyboardInterrupt):
        pond.take(one)
    monkeypatch.undo()
    assert Pond(root, PondMemory(root), lambda: TODAY).take(one)["ok"]
    assert len(entries(root)) == 1


def test_a_tap_cut_off_before_the_journal_is_written_the_next_time(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    one = tap(1, "aoi", saw="not clean")

    def killed(*args: object, **more: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(note, "written", killed)
    with pytest.raises(KeyboardInterrupt):
        pond.take(one)
    monkeypatch.undo()
    assert Pond(root, PondMemory(root), lambda: TODAY).take(one)["ok"]
    assert len(entries(root)) == 1


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"fish": "ren", "saw": "clean"}, "Ren"),
        ({"fish": "aoi", "measured_cm": "520"}, "Length"),
        ({"water": "main pond", "read_c": "warm"}, "Temperature"),
        ({"did": "job", "job": "no/such-job"}, "no job"),
        ({"water": "nowhere", "read_c": "17"}, "nowhere"),
    ],
)
def test_what_cannot_be_true_is_refused_in_words(
    folder: Folder, given: dict[str, str], said: str
) -> None:
    root = folder(FILES)
    fish = [given.pop("fish")] if "fish" in given else []
    told = pond_of(root).take(tap(1, *fish, **given))
    assert told["ok"] is False
    assert told["again"] is False
    assert said in str(told["refused"])
    assert "--" not in str(told["refused"])
    assert entries(root) == []


def test_a_refused_tap_may_come_again_when_it_can_be_true(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    one = tap(1, "ren", saw="clean")
    assert not pond.take(one)["ok"]
    note.run(root, {"saw": "new defect", "defect": "split-fin"}, ["ren"], TODAY)
    assert pond.take(one)["ok"]


def test_a_day_that_has_not_come_is_refused(folder: Folder) -> None:
    root = folder(FILES)
    told = pond_of(root).take(tap(1, "aoi", on=date(2027, 5, 11), saw="not clean"))
    assert "has not come yet" in str(told["refused"])
    assert entries(root) == []


def test_a_tap_of_yesterday_keeps_its_day(folder: Folder) -> None:
    root = folder(FILES)
    assert pond_of(root).take(tap(1, "aoi", on=date(2027, 5, 9), saw="not clean"))["ok"]
    assert [one["on"] for one in entries(root)] == ["2027-05-09"]


def test_what_was_tapped_is_taken_back(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    assert pond.take(tap(1, "ren", measured_cm="49.5"))["ok"]
    told = pond.take(tap(2, "ren", undo=True, measured_cm="49.5"))
    assert told["ok"], told
    assert entries(root)[-1]["undone"] == "2027-05-10"
    assert "Taken back" in str(told["told"])


def look(number: int, sent: bytes, fish: str = "aoi", **given: str) -> Tap:
    return Tap(f"tap-{number:016d}", TODAY, given or {"saw": "not clean"}, (fish,), photo=sent)


def kept_photos(root: Path) -> list[str]:
    return sorted(f"photos/{one.name}" for one in (root / "photos").glob("*"))


def test_a_look_with_a_photo_is_one_entry_and_one_file(folder: Folder, outside: Any) -> None:
    outside.module("PIL")
    root, sent = folder(FILES), photo()
    pond = pond_of(root)
    told: Any = pond.take(look(1, sent))
    assert told["ok"], told
    assert "with a photo" in told["told"]
    assert pond.take(look(1, sent))["ok"]  # sent again
    (place,) = kept_photos(root)
    assert entries(root) == [
        {"on": "2027-05-10", "saw": "not clean", "fish": "aoi", "photo": place}
    ]

    # It is the last one beside which the next is taken, and it is handed out by its key.
    pond.plan_anew()
    text = pond.state(0).decode()
    rows = [one["row"] for one in json.loads(text)["looks"]]
    last = next(row["photo"] for row in rows if row["who"] == "Aoi")
    assert last["told"] == "Last photo, Mon 10 May"
    assert place not in text
    assert pond.photo(last["key"]) is not None
    assert pond.photo("0" * 16) is None

    # Taken back, the look does not count; the photo is the keeper's, and stays.
    assert pond.take(tap(2, "aoi", undo=True, saw="not clean"))["ok"]
    assert entries(root)[-1]["undone"] == "2027-05-10"
    assert kept_photos(root) == [place]


def test_a_look_that_is_refused_leaves_no_photo(folder: Folder, outside: Any) -> None:
    outside.module("PIL")
    root = folder(FILES)
    pond = pond_of(root)
    for one in (look(1, photo(), "ren", saw="clean"), look(2, photo(), "nobody", saw="clean")):
        assert not pond.take(one)["ok"]
    assert kept_photos(root) == []
    assert entries(root) == []


@pytest.mark.parametrize(
    "sent", [b"no photo", huge_header(), png_bomb()], ids=["text", "header", "bomb"]
)
def test_a_look_whose_photo_is_none_is_noted_without_it(
    folder: Folder, outside: Any, sent: bytes
) -> None:
    outside.module("PIL")
    root = folder(FILES)
    told: Any = pond_of(root).take(look(1, sent))
    assert told["ok"]
    assert "The photo was not kept" in told["mind"][0]
    assert [one.get("photo") for one in entries(root)] == [None]
    assert not (root / "photos").exists()


def test_without_the_library_looks_are_noted_and_the_page_says_why(
    folder: Folder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pond_photos, "can_read", lambda: False)
    pond = pond_of(folder(FILES))
    assert "showprep[photos]" in json.loads(pond.state(0))["no_photos"]
    told: Any = pond.take(look(1, photo()))
    assert told["ok"]
    assert "showprep[photos]" in told["mind"][0]


def test_a_disk_that_is_full_leaves_the_photo_on_the_phone(
    folder: Folder, outside: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    outside.module("PIL")
    root = folder(FILES)
    pond = pond_of(root)

    def full(*args: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(pond_photos, "stage", full)
    told = pond.take(look(1, photo()))
    assert (told["ok"], told["again"]) == (False, True)
    monkeypatch.undo()
    assert pond.take(look(1, photo()))["ok"]
    assert len(entries(root)) == len(kept_photos(root)) == 1


@pytest.mark.parametrize("at", ["journal", "done"])
def test_a_photo_cut_off_on_its_way_is_there_once_the_next_time(
    folder: Folder, outside: Any, monkeypatch: pytest.MonkeyPatch, at: str
) -> None:
    outside.module("PIL")
    root = folder(FILES)
    pond = pond_of(root)
    keep = PondMemory.keep

    def killed(memory: PondMemory, name: str, how: str) -> None:
        if how == "done":
            raise KeyboardInterrupt
        keep(memory, name, how)

    def cut_off(*args: object, **more: object) -> None:
        raise KeyboardInterrupt

    if at == "done":
        monkeypatch.setattr(PondMemory, "keep", killed)
    else:
        monkeypatch.setattr(note, "written", cut_off)
    with pytest.raises(KeyboardInterrupt):
        pond.take(look(1, photo()))
    monkeypatch.undo()
    assert Pond(root, PondMemory(root), lambda: TODAY).take(look(1, photo()))["ok"]
    assert [one["photo"] for one in entries(root)] == kept_photos(root)
    assert len(entries(root)) == 1


def test_faults_in_the_files_leave_the_tap_on_the_phone(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)
    (root / "keeper.yaml").write_text("time_zone: nowhere\n", "utf-8")
    told = pond.take(tap(1, "aoi", saw="not clean"))
    assert (told["ok"], told["again"]) == (False, True)
    (root / "keeper.yaml").write_text(FILES["keeper.yaml"], "utf-8")
    assert pond.take(tap(1, "aoi", saw="not clean"))["ok"]
    assert len(entries(root)) == 1


def test_two_phones_at_once_lose_and_double_nothing(folder: Folder) -> None:
    root = folder(FILES)
    pond = pond_of(root)

    def phone() -> None:
        for number in range(6):
            pond.take(tap(number, water="main pond", read_c=f"17.{number + 1}"))

    both = [threading.Thread(target=phone) for _ in range(2)]
    for one in both:
        one.start()
    for one in both:
        one.join()
    assert sorted(one["read_c"] for one in entries(root)) == [f"17.{n}" for n in range(1, 7)]


def test_the_address_stays_until_a_new_one_is_asked_for(folder: Folder) -> None:
    root = folder(FILES)
    first = PondMemory(root)
    first.keep_port(8123)
    assert len(first.token) == 22
    again = PondMemory(root)
    assert (again.token, again.port) == (first.token, 8123)
    assert PondMemory(root, new_address=True).token != first.token


@pytest.mark.parametrize("text", ["", "[]", '{"token": "../..", "port": -1, "taps": 5}', "\xff"])
def test_a_damaged_memory_is_begun_anew(folder: Folder, text: str) -> None:
    root = folder({**FILES, ".showprep/pondside.json": text.encode("latin-1")})
    memory = PondMemory(root)
    assert len(memory.token) == 22
    assert memory.port == 0
    assert memory.how("tap") is None


def test_one_page_a_season_at_a_time(folder: Folder) -> None:
    root = folder(FILES)
    with only_one(root), pytest.raises(Failure, match="served already"), only_one(root):
        pass
    with only_one(root):
        pass


def test_the_command_serves_a_tap_and_stops_when_told(folder: Folder, outside: Any) -> None:
    outside.module("waitress")
    root = folder(FILES)
    words = ["pondside", str(root), "--host", "127.0.0.1", "--on", "2027-05-10", "--minutes", "1"]
    with subprocess.Popen(
        [sys.executable, "-m", "showprep", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    ) as program:
        assert program.stdout is not None
        address = next(line.strip() for line in program.stdout if line.startswith("http://"))
        body = {"tap": "0123456789abcdef", "on": "2027-05-10", "fish": ["aoi"]}
        body["given"] = {"saw": "not clean"}
        request = urllib.request.Request(
            address + "tap",
            json.dumps(body).encode(),
            {"Content-Type": "application/json", "Origin": "/".join(address.split("/")[:3])},
        )
        with urllib.request.urlopen(request, timeout=20) as answer:
            assert json.load(answer)["ok"] is True
        program.send_signal(signal.SIGINT)
        rest, errors = program.communicate(timeout=30)
    assert "The page is not served any more." in rest
    assert program.returncode == 0
    assert "Traceback" not in errors
    assert [one["saw"] for one in entries(root)] == ["not clean"]


@pytest.mark.parametrize("minutes", [0.0, -1.0, 241.0, float("nan")])
def test_minutes_are_bounded(folder: Folder, minutes: float) -> None:
    with pytest.raises(Failure, match="--minutes"):
        run(season=folder(FILES), minutes=minutes, host=None, port=0, day=lambda: TODAY)


@pytest.mark.parametrize("host", ["0.0.0.0", "203.0.113.7", "100.64.0.1", None])
def test_the_address_of_all_the_world_is_refused(
    folder: Folder, monkeypatch: pytest.MonkeyPatch, host: str | None
) -> None:
    monkeypatch.setattr(command, "own_address", lambda: "198.51.100.7")
    with pytest.raises(Failure, match="no address of a home network"):
        run(season=folder(FILES), minutes=1, host=host, port=0, day=lambda: TODAY)
