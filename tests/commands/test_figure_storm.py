"""Every figure by nine values through every command: refused with its line or planned with.

No value makes an error inside the program, and none makes it run on. A few figures by default,
all of them with SHOWPREP_STORMS=full; the commands take turns over figures and values.
"""

from __future__ import annotations

import re
import signal
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

import pytest

from showprep import cli
from showprep.husbandry.figure_record import Figure
from showprep.husbandry.figures import FIGURES
from showprep.season.checks.own_figures import own_range
from tests.storms import FULL, only_in_full

Folder = Callable[[Mapping[str, str | bytes]], Path]
SECONDS = 60  # far beyond any plan of these two fish; a hang is a hang
EVERY = 43  # one figure in so many on every run

KEEPER = """\
time_zone: Europe/Dublin
waters:
  pond: {litres: 20000, monthly_c: [4, 5, 8, 12, 16, 19, 21, 21, 18, 13, 8, 5], alkalinity_meq_l: 2}
  vat: {litres: 3000, steady_c: 22}
  tub: {litres: 2000, steady_c: 18}
isolation: {water: vat, holds: 2}
holding: {water: tub}
touch_up: {by: keeper, law_checked: yes, law_country: Ireland, bath_litres: 40, \
strength_percent: 10}
"""
REST: dict[str, str | bytes] = {
    "shows.yaml": """\
larkfield: {name: Larkfield, judging: 2027-06-12 10:00, travel_hours: 3, water_c: 19, vats: own}
otterby: {name: Otterby, judging: 2027-08-28 10:00, travel_hours: 7, water_c: 21}
""",
    "fish.yaml": """\
aoi:
  {name: Aoi, variety: kohaku, sex: female, lives_in: pond, merit: 82, lengths_cm: {2027-03-20: 50},
   defects: [{kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-20, merit_lost: 6}]}
ben:
  {name: Ben, variety: showa, lives_in: pond, merit: 70, lengths_cm: {2027-03-20: 40},
   defects: [{kind: stitches, where: belly, seen: 2027-03-20}]}
""",
    "journal.yaml": """\
- {on: 2027-03-20, did: treatment, water: pond, treatment: formalin}
- {on: 2027-03-25, saw: spawned, fish: ben}
- {on: 2027-03-28, saw: parasites, water: vat}
""",
}
ON = ("--on", "2027-04-01")
COMMANDS: tuple[tuple[str, ...], ...] = (
    ("check", "SEASON", *ON),
    ("plan", "SEASON", *ON),
    ("plan", "SEASON", *ON, "--json"),
    ("plan", "SEASON", *ON, "--out", "SEASON/out"),
    ("why", "SEASON", "aoi", "larkfield", *ON),
    ("today", "SEASON", *ON),
    ("summary", "SEASON", *ON),
    ("page", "SEASON", *ON, "--to", "SEASON/out.html"),
    ("calendar", "SEASON", *ON, "--to", "SEASON/out.ics"),
    ("bath", "SEASON", *ON),
    ("bags", "SEASON", *ON),
)


def nine(row: Figure) -> tuple[str, ...]:
    """Nothing, less, next to nothing, the ends of what is legal and what lies beyond them."""
    least, most = own_range(row)
    beyond = (least * 0.99 - 1e-6, most * 1.01 + 1e-6)
    return ("0", "-1", "1e-9", *(repr(one) for one in (least, most, *beyond)), "1e308", ".inf")


class StillRunning(BaseException):
    """A command went on for too long; no command takes this for a fault of its own."""


@contextmanager
def at_most(seconds: int) -> Iterator[None]:
    def stop(number: int, frame: FrameType | None) -> None:
        raise StillRunning(f"still running after {seconds} s")

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def run(
    words: tuple[str, ...],
    root: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> tuple[int, str, str]:
    given = ["showprep", *(word.replace("SEASON", str(root)) for word in words)]
    monkeypatch.setattr(sys, "argv", given)
    status = 0
    with at_most(SECONDS):
        try:
            cli.app(standalone_mode=False, args=given[1:])
        except SystemExit as end:
            status = int(end.code or 0)
        except Exception as error:  # as `main` reports it
            try:
                cli._report(error)
            except SystemExit as end:
                status = int(end.code or 0)
    out, err = capsys.readouterr()
    return status, out, err


@pytest.mark.parametrize(
    ("at", "name"),
    [
        *([*enumerate(FIGURES)][::EVERY]),
        *only_in_full((at, one) for at, one in enumerate(FIGURES) if FULL and at % EVERY),
    ],
)
def test_every_figure_by_nine_values_through_every_command(
    folder: Folder,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    at: int,
    name: str,
) -> None:
    row = FIGURES[name]
    least, most = own_range(row)
    for number, value in enumerate(nine(row)):
        keeper = f"{KEEPER}figures:\n  {name}: {value}\n"
        root = folder({**REST, "keeper.yaml": keeper})
        legal = value != ".inf" and least <= float(value) <= most
        turn = (at + number) % len(COMMANDS)
        for words in {COMMANDS[turn], COMMANDS[turn - 4 if FULL else 0], COMMANDS[0]}:
            status, _, err = run(words, root, monkeypatch, capsys)
            assert "went wrong inside" not in err and "Traceback" not in err, (name, value, words)
            if legal:
                # A bath or a journey may be refused with a reason; the files are in order.
                # Another line may be at fault now: a tub smaller than the bath in the files.
                own_line = f"keeper.yaml:{len(keeper.splitlines())}:" in err
                assert status in (0, 1, 2) or not own_line, (name, value, words, err)
            else:
                assert status == 3, (name, value, words, err)
                assert re.search(rf"keeper\.yaml:\d+:\d+: .*{name}", err), (name, value, words, err)


@pytest.mark.parametrize(
    "figure", ["tan20_bag: 0", "o2_r20: 0.001", "bag_water_share: 0.99", "temp_ramp: 1e-12"]
)
def test_what_passed_in_silence_is_refused_with_its_line(
    folder: Folder,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    figure: str,
) -> None:
    line = len(KEEPER.splitlines()) + 2
    root = folder({**REST, "keeper.yaml": f"{KEEPER}figures:\n  {figure}\n"})
    for words in COMMANDS:
        status, out, err = run(words, root, monkeypatch, capsys)
        assert (status, f"keeper.yaml:{line}:" in err + out) == (3, True), (words, err)


@pytest.mark.parametrize(
    "own",
    [
        "shimi: {clean: {low: 0, usual: 0, high: 0}}",
        "shimi: {closed: {low: 0, usual: 1, high: 2, unit: skin-days}}",
        "ulcer: {closed: {low: 0, usual: 500, high: 1000}}",
        "shimi: {clean: {low: 1, usual: 2, high: 3, unit: days}}",
    ],
)
def test_a_wound_is_not_healed_by_nothing(
    folder: Folder, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], own: str
) -> None:
    root = folder({**REST, "keeper.yaml": f"{KEEPER}defect_kinds:\n  {own}\n"})
    status, _, err = run(("plan", "SEASON", *ON), root, monkeypatch, capsys)
    assert status == 3 and f"keeper.yaml:{len(KEEPER.splitlines()) + 2}:" in err


def test_a_legal_own_requirement_is_taken(
    folder: Folder, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    own = "shimi: {clean: {low: 90, usual: 150, high: 300}}"
    root = folder({**REST, "keeper.yaml": f"{KEEPER}defect_kinds:\n  {own}\n"})
    status, out, _ = run(("why", "SEASON", "aoi", "larkfield", *ON), root, monkeypatch, capsys)
    assert status == 0 and "150" in out
