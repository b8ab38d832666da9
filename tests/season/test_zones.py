"""Time zones: names of the tz database, and the place offered for whatever else is written."""

from __future__ import annotations

import importlib.resources
import os
import subprocess
import sys
import zoneinfo
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic_core import PydanticCustomError

from showprep.season import reading
from showprep.season.values import zones
from showprep.season.values.zones import time_zone

WINTER, SUMMER = datetime(2027, 1, 1, tzinfo=UTC), datetime(2027, 7, 1, tzinfo=UTC)


def told(written: object) -> tuple[str, str]:
    with pytest.raises(PydanticCustomError) as caught:
        time_zone(written)
    context = caught.value.context or {}
    return context["what"], context["right"]


def test_places_are_those_of_the_tz_database() -> None:
    for name in ("Europe/Dublin", "America/Los_Angeles", "Asia/Tokyo", "UTC", " Asia/Tokyo "):
        assert time_zone(name) == name.strip()
    taken = [name for name in sorted(zones._zones()) if zones._no_place(name, name) is None]
    for name in taken:
        assert zoneinfo.ZoneInfo(time_zone(name)).key == name
    assert not [name for name in taken if name.startswith("Etc/")]
    assert {"America/New_York", "US/Eastern", "Europe/Kyiv", "Japan"} <= set(taken)


@pytest.mark.parametrize(
    ("written", "places"),
    [
        ("EST", "America/New_York"),
        ("EDT", "America/New_York"),
        ("est", "America/New_York"),
        ("Eastern Time", "America/New_York"),
        ("US Eastern", "America/New_York"),
        ("Pacific Standard Time", "America/Los_Angeles"),
        ("MST", "America/Denver or America/Phoenix"),
        ("HST", "Pacific/Honolulu"),
        ("BST", "Europe/London"),
        ("CEST", "Europe/Amsterdam, Europe/Berlin or Europe/Paris"),
        ("JST", "Asia/Tokyo"),
        ("GMT", "Europe/London"),
        ("GMT0", "Europe/London"),
        ("Etc/GMT-0", "Europe/London"),
        ("Greenwich", "Europe/London"),
        # The sign of GMT+5 is read both ways; in the tz database itself (file etcetera) positive
        # signs are west of Greenwich, and in ISO 8601 they are east.
        ("GMT+5", "Asia/Karachi or America/New_York"),
        ("GMT-5", "America/New_York or Asia/Karachi"),
        ("Etc/GMT+5", "America/New_York"),
        ("UTC-5", "America/New_York"),
        ("utc+09:00", "Asia/Tokyo"),
        ("+0530", "Asia/Kolkata"),
        ("-5", "America/New_York"),
        ("\N{MINUS SIGN}5", "America/New_York"),
        ("UTC+3:45", "a large city that keeps your clocks"),
        ("Etc/GMT+99", "a large city that keeps your clocks"),
    ],
)
def test_a_fixed_offset_is_refused_with_a_place(written: str, places: str) -> None:
    what, right = told(written)
    assert what == f"'{written}' is not a place, and a fixed offset knows no change of clocks"
    assert places in right


@pytest.mark.parametrize("written", ["utc", "Etc/UTC", "Zulu", "Z", "UCT", "Etc/Universal"])
def test_other_names_of_utc(written: str) -> None:
    assert told(written)[1] == "write UTC"


@pytest.mark.parametrize("words", zones.PLACES_BY_ABBREVIATION)
def test_places_offered_for_an_abbreviation_use_it(words: str) -> None:
    # The tz database's own abbreviations, as the standard library reads them.
    used = {
        moment.astimezone(zoneinfo.ZoneInfo(place)).tzname()
        for place in zones.PLACES_BY_ABBREVIATION[words]
        for moment in (WINTER, SUMMER)
    }
    own = [word for word in words.split() if word[-2:] in ("ST", "DT") or len(word) > 2]
    own = [word for word in own if word not in ("EASTERN", "CENTRAL", "MOUNTAIN", "PACIFIC")]
    assert own and set(own) <= used


def test_places_offered_for_an_offset_keep_it_in_winter() -> None:
    for hours, places in zones.PLACES_BY_OFFSET.items():
        for place in places:
            zone = zoneinfo.ZoneInfo(place)
            offsets = [moment.astimezone(zone).utcoffset() for moment in (WINTER, SUMMER)]
            assert min(one for one in offsets if one is not None) == timedelta(hours=hours), place


@pytest.mark.parametrize(
    ("written", "place"),
    [
        ("Europe/Dublim", "Europe/Dublin"),
        ("dublin", "Europe/Dublin"),
        ("europe/dublin", "Europe/Dublin"),
        ("New York", "America/New_York"),
        ("new york, NY", "America/New_York"),
        ("London/England", "Europe/London"),
        ("Tokio", "Asia/Tokyo"),
        ("Chigago", "America/Chicago"),
        ("Germany", "Europe/Berlin"),
        ("Netherlands", "Europe/Amsterdam"),
        ("UK", "Europe/London"),
        ("South Korea", "Asia/Seoul"),
    ],
)
def test_the_place_meant(written: str, place: str) -> None:
    what, right = told(written)
    assert what == f"'{written}' is not a time zone"
    assert right.startswith(f"did you mean {place}?") or f"such as {place}" in right


def test_a_country_of_many_clocks() -> None:
    assert "America/New_York, America/Chicago, America/Denver" in told("United States")[1]
    assert told("USA") == ("'USA' is not a time zone", told("US")[1])


@pytest.mark.parametrize(
    "written",
    [
        *("Columbus", "columbus, OH", "America/Columbus", "Ohio", "Portland", "Houston", "Boston"),
        *("Osaka", "Nagoya", "Niigata", "Rotterdam", "Milan", "Leeds", "Manchester", "Toledo"),
        *("", "Nowhere at all", "/etc/passwd", "localtime", "Factory", "5", "\0", "x"),
        *("a" * 5000, "/" * 60, ",", "GMT" * 30, 1, None, [], True, "\N{SNOWMAN}", "e" * 60),
    ],
)
def test_no_place_is_guessed(written: object) -> None:
    what, right = told(written)
    assert "is not a time zone" in what
    assert right == zones.ADVICE


@given(st.text(max_size=80))
def test_any_text_is_a_zone_or_a_fault_in_words(text: str) -> None:
    try:
        name = time_zone(text)
    except PydanticCustomError as error:
        assert error.context and error.context["right"]
    else:
        assert zoneinfo.ZoneInfo(name).key == name


@pytest.mark.parametrize(("edition", "offset"), [("2020a", -5), ("2999a", 0), ("", -5)])
def test_the_newest_zone_data_of_the_machine_is_used(
    tmp_path: Path, edition: str, offset: int
) -> None:
    """A system whose data are older than those of the package `tzdata` (IANA time zone database)
    is not asked. Its New York is Dublin here, so that it shows who was asked."""
    dublin = importlib.resources.files("tzdata.zoneinfo").joinpath("Europe", "Dublin").read_bytes()
    place = tmp_path / "America" / "New_York"
    place.parent.mkdir()
    place.write_bytes(dublin)
    if edition:
        (tmp_path / "tzdata.zi").write_text(f"# version {edition}\n")
    told = (
        "from datetime import datetime; from zoneinfo import ZoneInfo;"
        "from showprep.season.values.zone_data import use_newest_zone_data;"
        "use_newest_zone_data();"
        "print(datetime(2027, 1, 5, tzinfo=ZoneInfo('America/New_York')).utcoffset())"
    )
    outcome = subprocess.run(
        [sys.executable, "-c", told],
        env={**os.environ, "PYTHONTZPATH": str(tmp_path)},
        capture_output=True,
        text=True,
        check=True,
    )
    hours = {0: "0:00:00", -5: "-1 day, 19:00:00"}
    assert outcome.stdout.strip() == hours[offset]


def test_a_season_is_read_with_the_newest_zone_data(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[bool] = []
    monkeypatch.setattr(reading, "use_newest_zone_data", lambda: asked.append(True))
    reading.read_season(Path("samples/first-show"), date(2027, 5, 1))
    assert asked
