"""Time zones: the name of a place whose clocks the keeper keeps, as the tz database has it.

A fixed offset is refused. It keeps no summer time, so that half the year every alarm would ring an
hour off; and the sign of `GMT+5` means one thing to most people and the other one to the database.
"""

from __future__ import annotations

import difflib
import importlib.resources
import re
import zoneinfo
from collections.abc import Iterator
from datetime import UTC, datetime
from functools import cache

from pydantic_core import PydanticCustomError

from showprep.season.values.wording import LONGEST_SHOWN, listed, shown, wrong
from showprep.season.values.zone_data import use_newest_zone_data

ADVICE = "write a large city that keeps your clocks, such as Europe/Dublin or America/New_York"
_NEAR = 0.8  # how alike two names of cities are at least, when one is a slip for the other

PLACES_BY_ABBREVIATION: dict[str, tuple[str, ...]] = {
    "EST EDT ET EASTERN": ("America/New_York",),
    "CST": ("America/Chicago", "Asia/Shanghai"),
    "CDT CT CENTRAL": ("America/Chicago",),
    "MST MDT MT MOUNTAIN": ("America/Denver", "America/Phoenix"),
    "PST PDT PT PACIFIC": ("America/Los_Angeles",),
    "AKST AKDT": ("America/Anchorage",),
    "HST": ("Pacific/Honolulu",),
    "AST ADT": ("America/Halifax",),
    "NST NDT": ("America/St_Johns",),
    "GMT BST": ("Europe/London",),
    "IST": ("Asia/Kolkata", "Europe/Dublin", "Asia/Jerusalem"),
    "WEST": ("Europe/Lisbon",),
    "CEST": ("Europe/Amsterdam", "Europe/Berlin", "Europe/Paris"),
    "EEST": ("Europe/Athens",),
    "MSK": ("Europe/Moscow",),
    "SAST": ("Africa/Johannesburg",),
    "PKT": ("Asia/Karachi",),
    "WIB": ("Asia/Jakarta",),
    "HKT": ("Asia/Hong_Kong",),
    "JST": ("Asia/Tokyo",),
    "KST": ("Asia/Seoul",),
    "AWST": ("Australia/Perth",),
    "ACST ACDT": ("Australia/Adelaide", "Australia/Darwin"),
    "AEST AEDT": ("Australia/Sydney", "Australia/Brisbane"),
    "NZST NZDT": ("Pacific/Auckland",),
}
PLACES_BY_OFFSET: dict[float, tuple[str, ...]] = {
    -10: ("Pacific/Honolulu",),
    -9: ("America/Anchorage",),
    -8: ("America/Los_Angeles",),
    -7: ("America/Denver",),
    -6: ("America/Chicago",),
    -5: ("America/New_York",),
    -4: ("America/Halifax",),
    -3.5: ("America/St_Johns",),
    -3: ("America/Sao_Paulo",),
    0: ("Europe/London",),
    1: ("Europe/Amsterdam", "Europe/Berlin", "Europe/Paris"),
    2: ("Europe/Athens", "Africa/Johannesburg"),
    3: ("Europe/Moscow", "Europe/Istanbul"),
    4: ("Asia/Dubai",),
    5: ("Asia/Karachi",),
    5.5: ("Asia/Kolkata",),
    7: ("Asia/Bangkok", "Asia/Jakarta"),
    8: ("Asia/Singapore", "Asia/Shanghai"),
    9: ("Asia/Tokyo",),
    9.5: ("Australia/Adelaide",),
    10: ("Australia/Sydney",),
    12: ("Pacific/Auckland",),
}
"""By hours ahead of UTC in winter."""

_COUNTRIES = {
    **dict.fromkeys(("uk", "britain", "great britain", "england", "scotland", "wales"), "GB"),
    **dict.fromkeys(("usa", "america"), "US"),
    **dict.fromkeys(("korea", "south korea"), "KR"),
    "holland": "NL",
}
"""Names that the database's list of countries writes in another way."""

_CLOCKS = r"^us |( standard| daylight)? time$"
_WINTER, _SUMMER = datetime(2027, 1, 1, tzinfo=UTC), datetime(2027, 7, 1, tzinfo=UTC)
_SAME_AS_UTC = frozenset(("utc", "uct", "universal", "zulu", "z"))
_OFFSET = (
    r"(?i)(?P<etc>etc/)?(?P<base>gmt|utc)?"
    r"\s*(?P<sign>[+\-−])?\s*(?P<hours>[0-9]{1,2})(?::?(?P<minutes>[0-9]{2}))?"
)


def time_zone(value: object) -> str:
    """The name of a time zone, such as Europe/Dublin, or UTC."""
    text = value.strip() if isinstance(value, str) else ""
    fault = _no_place(text, value)
    if fault is not None:
        raise fault
    if text in _zones():
        return text
    near = _places_near(text) if 0 < len(text) <= LONGEST_SHOWN else ()
    if len(near) == 1:
        raise wrong(f"{shown(value)} is not a time zone", f"did you mean {near[0]}?")
    if near:
        right = f"write the place that keeps your clocks, such as {listed(near[:8])}"
        raise wrong(f"{shown(value)} is not a time zone", right)
    raise wrong(f"{shown(value)} is not a time zone", ADVICE)


def _no_place(text: str, value: object) -> PydanticCustomError | None:
    """The fault that a fixed offset, or an abbreviation of the clocks' name, is no place."""
    if text == "UTC":
        return None
    word = re.sub(_CLOCKS, "", text.casefold().removeprefix("etc/"))
    if word in _SAME_AS_UTC:
        return wrong(f"{shown(value)} is not the name used here", "write UTC")
    named = _by_abbreviation().get("GMT" if word == "greenwich" else word.upper())
    places = _by_offset(text) if named is None else named
    if places is None:
        return None
    what = f"{shown(value)} is not a place, and a fixed offset knows no change of clocks"
    if not places:
        return wrong(what, ADVICE)
    return wrong(what, f"write the place that keeps your clocks, such as {listed(places)}")


@cache
def _by_abbreviation() -> dict[str, tuple[str, ...]]:
    return {
        word: places for words, places in PLACES_BY_ABBREVIATION.items() for word in words.split()
    }


def _by_offset(text: str) -> tuple[str, ...] | None:
    """Places with a written offset, in both readings of its sign; None where there is no offset."""
    found = re.fullmatch(_OFFSET, text) if len(text) <= LONGEST_SHOWN else None
    if found is None or not (found["base"] or found["sign"]):
        return None
    hours = int(found["hours"]) + int(found["minutes"] or 0) / 60
    if found["sign"] in ("-", "−"):
        hours = -hours
    ahead = PLACES_BY_OFFSET.get(hours, ())
    behind = PLACES_BY_OFFSET.get(-hours, ())
    if found["etc"]:
        return behind  # in the tz database Etc/GMT+5 is five hours behind UTC
    if (found["base"] or "").casefold() == "gmt" and hours:
        return (*ahead[:1], *behind[:1])
    return ahead


@cache
def _zones() -> frozenset[str]:
    # The data package lists the names the same on every machine; the system's own may not.
    try:
        names = importlib.resources.files("tzdata").joinpath("zones").read_text("utf-8").split()
    except (ModuleNotFoundError, FileNotFoundError):
        names = list(zoneinfo.available_timezones())
    return frozenset(name for name in names if name != "Factory")


def _table(name: str) -> Iterator[list[str]]:
    """The rows of one of the database's own tables; none where it is not at hand."""
    try:
        table = importlib.resources.files("tzdata").joinpath("zoneinfo", name).read_text("utf-8")
    except (ModuleNotFoundError, FileNotFoundError):
        return
    for line in table.splitlines():
        if line and not line.startswith("#"):
            yield line.split("\t")


def _places_near(text: str) -> tuple[str, ...]:
    """The place of that city, the places of that country, or the place of a city spelt much alike.

    A city that is not in the database is near none: what looks like it lies anywhere on earth.
    """
    by_city: dict[str, str] = {}
    for name in sorted(_zones()):
        if not name.startswith(("Etc/", "US/", "Canada/")):
            by_city.setdefault(_folded(name.rpartition("/")[2]), name)
    *areas, city = [_folded(part) for part in re.split(r"[/,]", text)]
    for part in (city, *reversed(areas)):
        if part in by_city:
            return (by_city[part],)
    if of_country := _of_country(text.casefold()):
        return of_country
    cities = [row[2] for row in _table("zone.tab")]
    alike = {_folded(name.rpartition("/")[2]): name for name in cities}
    wanted = [name for name in alike if name[:1] == city[:1]]
    found = difflib.get_close_matches(city, wanted, n=1, cutoff=_NEAR) if len(city) > 3 else []
    return tuple(alike[name] for name in found)


def _of_country(country: str) -> tuple[str, ...]:
    """Places of a country by its name or code, one for each way its clocks go."""
    use_newest_zone_data()
    codes = {_COUNTRIES.get(country)} | {
        code
        for code, name in _table("iso3166.tab")
        if country in (code.casefold(), name.casefold())
    }
    found: dict[object, str] = {}
    for row in _table("zone.tab"):
        if row[0] in codes:
            zone = zoneinfo.ZoneInfo(row[2])
            found.setdefault(
                (_WINTER.astimezone(zone).time(), _SUMMER.astimezone(zone).time()), row[2]
            )
    return tuple(found.values())


def _folded(name: str) -> str:
    return "_".join(name.casefold().replace("_", " ").split())
