"""Fish, shows and waters asked for by name, as people say them. Everything is invented."""

from __future__ import annotations

from datetime import date

import pytest

from showprep.commands import calendar, why
from showprep.commands.names import meant, named
from showprep.commands.note import run as note
from showprep.outputs.failure import Failure

FISH = {"aoi": "Aoi", "hana": "Hana", "hana-2": "Hana", "grune": "Große Grüne", "ren": "Ren-san"}
SHOWS = {"larkfield": "Larkfield Spring Show", "elm": "Elm Park Open", "elm-2": "Elm Park Autumn"}


@pytest.mark.parametrize(
    ("written", "ids"),
    [
        ("aoi", ["aoi"]),
        ("AOI", ["aoi"]),
        ("hana", ["hana"]),  # an id before all names
        ("Hana", ["hana", "hana-2"]),
        ("Hana 2", ["hana-2"]),
        ("grosse grune", ["grune"]),
        ("GRÜNE", ["grune"]),
        ("ren_san", ["ren"]),
        ("Ao", []),
        ("", []),
    ],
)
def test_a_fish_is_meant_by_its_id_or_its_name(written: str, ids: list[str]) -> None:
    assert meant(written, FISH) == ids


@pytest.mark.parametrize(
    ("written", "ids"),
    [
        ("Larkfield", ["larkfield"]),
        ("larkfield spring", ["larkfield"]),
        ("Larkfield Spring Show", ["larkfield"]),
        ("elm park", ["elm", "elm-2"]),
        ("Elm Park Open", ["elm"]),
        ("spring", ["larkfield"]),
        ("autumn", ["elm-2"]),
        ("open", ["elm"]),
        ("pring", []),
    ],
)
def test_a_show_is_meant_by_the_words_of_its_name(written: str, ids: list[str]) -> None:
    assert meant(written, SHOWS) == ids


def test_what_may_be_several_is_named() -> None:
    with pytest.raises(Failure, match=r"'Hana' may be the fish hana \(Hana\) and hana-2 \(Hana\)"):
        named("fish", "Hana", FISH)
    with pytest.raises(Failure, match="There is no show larkfeld: did you mean larkfield"):
        named("show", "larkfeld", SHOWS)


YARD = {
    "keeper.yaml": "time_zone: UTC\nwaters:\n  Teich Süd: {steady_c: 18}\n  vat: {steady_c: 22}\n",
    "shows.yaml": "elm: {name: Elm Park Open, judging: 2027-06-12 10:00, travel_hours: 2}\n",
    "fish.yaml": "k1: {name: Große Grüne, variety: kohaku, lives_in: Teich Süd, merit: 80}\n",
}


def test_every_command_takes_names(folder, capsys, tmp_path) -> None:
    root = folder(YARD)
    on = date(2027, 5, 10)
    note(root, {"to": "VAT", "show": "elm park"}, ["große grüne"], on)
    note(root, {"read_c": "17", "water": "teich sud"}, [], on)
    written = (root / "journal.yaml").read_text("utf-8")
    assert "fish: k1" in written and "to: vat" in written and "water: Teich Süd" in written
    why.run(root, "Grosse Grüne", "Elm", on, as_json=False)
    assert "Große Grüne for Elm Park Open" in capsys.readouterr().out
    calendar.run(
        season=root, to="-", purpose="subscribe", show="elm park", fish="GRÜNE", on=on, now=None
    )
