"""Every option and argument of every command with hostile values: planned, refused, never broken.

The commands are asked for their own options, so a new one is tried without a word here. One value
in a hundred and fifty by default, all of them with SHOWPREP_STORMS=full.
"""

from __future__ import annotations

import os
import re
import sys
from collections import defaultdict
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, NoReturn

import pytest
import typer

from showprep import cli
from showprep.commands.streams import make_ready
from tests.commands.test_figure_storm import at_most
from tests.storms import only_in_full, storm

Folder = Callable[[Mapping[str, str | bytes]], Path]
A_FEW = 150  # one value in so many
EVERY = storm(A_FEW, 1)
ON = "2027-05-01"
FILES = {
    "keeper.yaml": """\
time_zone: Europe/Dublin
waters: {pond: {litres: 20000, steady_c: 18}, vat: {litres: 3000, steady_c: 20}}
isolation: {water: vat, holds: 2}
touch_up: {by: keeper, law_checked: yes, law_country: Ireland, bath_litres: 40, \
strength_percent: 10}
""",
    "shows.yaml": "elm: {name: Elm, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish.yaml": """\
aoi: {name: Aoi, variety: kohaku, lives_in: pond, merit: 80, lengths_cm: {2027-03-01: 45},
  defects: [{kind: shimi, where: back, seen: 2027-03-01}]}
""",
}
# Numbers, days, paths, names and texts as nobody should write them. No path leads out of the test's
# own folder but by two steps up, which stay within it as well.
VALUES = (
    *(
        "",
        " ",
        "-",
        "--",
        ".",
        "../up/x",
        "a/b/c",
        "aoi",
        "nobody",
        "nan",
        "-inf",
        "-1",
        "0",
        "1e400",
    ),
    *(
        "1e308",
        "9" * 400,
        "1,5",
        "1/0",
        "5 parsec",
        "-300 C",
        "1e400 cm",
        "4/10/2027",
        "2027-02-30",
    ),
    *(
        "9999-12-31",
        "+99999w",
        "\x1b[2J",
        "a\nb",
        "\u202eabc",
        "\x85",
        "\udcff",
        "💥" * 40,
        "${HOME}",
    ),
    *("a" * 5_000, "!!python/object:os.system", "http://[::1", "file:///x", "127.0.0.1", "--help"),
)
# What each command needs besides, so that it comes as far as the value.
BASE: Mapping[str, tuple[str, ...]] = {
    "why": ("SEASON", "aoi", "elm"),
    "note": ("SEASON", "--did", "feed again", "--water", "pond"),
    "share": ("SEASON", "--minutes", "0.0001", "--port", "0", "--host", "127.0.0.1"),
    "pondside": ("SEASON", "--minutes", "0.0001", "--port", "0", "--host", "127.0.0.1"),
    "publish": ("SEASON", "--url", "http://127.0.0.1:9/c/", "--user", "keeper"),
    "collect": ("SEASON", "--url", "http://127.0.0.1:9/c/", "--user", "keeper"),
    "page": ("SEASON", "--to", "page.html"),
    "calendar": ("SEASON", "--to", "plan.ics"),
}
CONTROLS = re.compile("[\x00-\x08\x0b\x0d-\x1a\x1c-\x1f\x7f-\x9f]")


@cache
def commands() -> dict[str, Any]:
    """The commands by name, as the library under the program knows them."""
    found: dict[str, Any] = typer.main.get_command(cli.app).commands  # type: ignore[attr-defined]
    return found


def given(command: Any, one: Any, value: str) -> list[str]:
    """The words of the command line: the base, and the value in its place."""
    takes_season = any(each.name == "season" for each in command.params)
    base = BASE.get(str(command.name), ("SEASON",) if takes_season else ())
    words = [*base]
    if one.param_type_name == "argument":
        arguments = [each for each in command.params if each.param_type_name == "argument"]
        place = arguments.index(one)
        words[place : place + 1] = [value]
    else:
        option = max(one.opts, key=len)
        if option in words:
            at = words.index(option)
            del words[at : at + 2]
        words += [option] if getattr(one, "is_flag", False) else [option, value]
    if any("--on" in each.opts for each in command.params) and "--on" not in words:
        words += ["--on", ON]
    return [str(command.name), *words]


@cache
def cases(every: int = EVERY) -> Mapping[tuple[str, str], list[str]]:
    """The values to try, by command and option: one in so many."""
    number, found = 0, defaultdict(list)
    for name, command in sorted(commands().items()):
        for one in command.params:
            for value in VALUES:
                number += 7  # so that the few by default are not all of one kind
                if number % every == 0:
                    found[name, str(one.name)].append(value)
    return found


def status_of(words: list[str]) -> int:
    """Run the program as `main` does, but for its listening to Ctrl-C."""
    with at_most(60):
        try:
            cli.app(standalone_mode=True, prog_name="showprep", args=words)
        except SystemExit as end:
            return int(end.code or 0)
        except Exception as error:
            try:
                cli._report(error)
            except SystemExit as end:
                return int(end.code or 0)
    return 0


def end_with(words: list[str]) -> NoReturn:
    """Run the program in a child that was forked, and end it: whatever an interruption raises, the
    child must not go on as a second run of the tests."""
    try:
        os._exit(status_of(words))
    finally:
        os._exit(70)


@pytest.mark.parametrize(
    ("command", "name"),
    [*sorted(cases(A_FEW)), *only_in_full(sorted(cases().keys() - cases(A_FEW).keys()))],
)
def test_no_value_breaks_a_command(
    folder: Folder,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    command: str,
    name: str,
) -> None:
    own = commands()[command]
    (one,) = [each for each in own.params if each.name == name]
    inside = tmp_path / "in" / "here"
    inside.mkdir(parents=True)
    monkeypatch.chdir(inside)
    monkeypatch.setattr("builtins.input", lambda *_: (_ for _ in ()).throw(EOFError))
    monkeypatch.setattr(sys.stdin, "isatty", lambda: False, raising=False)
    monkeypatch.setenv("PYTHON_KEYRING_BACKEND", "keyring.backends.fail.Keyring")
    make_ready()
    for value in cases()[command, name]:
        root = folder(dict(FILES))
        words = [word.replace("SEASON", str(root)) for word in given(own, one, value)]
        status = status_of(words)
        out, err = capsys.readouterr()
        told = (command, name, value, status, err)
        assert status in (0, 1, 2, 3, 130), told
        assert "went wrong inside" not in err and "Traceback" not in err, told
        assert not CONTROLS.search(out.replace("\f\n", "").replace("\r\n", "")), told
        for file, text in FILES.items():
            assert (root / file).read_text("utf-8") == text, told
