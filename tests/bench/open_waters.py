"""Open daily records as waters to play seasons on: one entry a site and year.

From Python packages of the public registry, none of them made for this: vega-datasets (Seattle's
air), aquacrop (examples of the AquaCrop-OSPy crop model: daily air of four places) and glm-py
(examples of the General Lake Model: a stream measured in Virginia, and the weather of four
lakes). The last is wanted for the full run only: `pip install --no-deps glm-py`, since what it
needs itself brings along a package called "tests". Weather is turned into ponds by `pond_model`.
The kernel of the water's departures was fitted by others to waters like those of glm-py; the
places of the other two packages it has not seen.
"""

from __future__ import annotations

import csv
import importlib.util
import io
import zipfile
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from statistics import fmean

from tests.bench.pond_model import Weather, pond_of_air, pond_of_weather

SEASON = (date(2000, 2, 1), date(2000, 10, 15))  # days of a year that must all be there
SEEN_BY_KERNEL = ("creek", "sparkling", "dhuenn", "falling", "kinneret")
AIR_OF = ("brussels", "champion", "northumberland", "tunis")


@dataclass(frozen=True, slots=True)
class SiteYear:
    """One water in one year: its true daily means, and the monthly means of its other years."""

    site: str
    year: int
    water_c: Mapping[date, float]
    monthly_c: tuple[float, ...]


def site_years(sites: tuple[str, ...] | None = None) -> list[SiteYear]:
    """Every full season of the sites; if none is named, of all whose package is installed.

    Raises ModuleNotFoundError where a named one's package is not.
    """
    found = []
    for site in sites or installed():
        daily = series(site)
        years = [year for year in sorted({day.year for day in daily}) if _is_full(daily, year)]
        for year in years:
            others = _monthly(daily, year)
            if others is not None:
                here = {day: c for day, c in daily.items() if day.year == year}
                found.append(SiteYear(site, year, here, others))
    return found


def installed() -> tuple[str, ...]:
    """The sites whose records are here."""
    packages = {"vega_datasets": ("seattle",), "aquacrop": AIR_OF, "glmpy": SEEN_BY_KERNEL}
    return tuple(
        site
        for package, sites in packages.items()
        if importlib.util.find_spec(package)
        for site in sites
    )


@cache
def series(site: str) -> dict[date, float]:
    """The daily water temperature [°C] of a site."""
    return _SITES[site]()


def _monthly(daily: Mapping[date, float], without: int) -> tuple[float, ...] | None:
    months: dict[int, list[float]] = defaultdict(list)
    for day, c in daily.items():
        if day.year != without:
            months[day.month].append(c)
    if len(months) < 12 or min(map(len, months.values())) < 50:
        return None
    return tuple(fmean(months[month]) for month in range(1, 13))


def _is_full(daily: Mapping[date, float], year: int) -> bool:
    first, last = (day.replace(year=year) for day in SEASON)
    days = (last - first).days
    return all(first + timedelta(days=number) in daily for number in range(days + 1))


def _home(package: str) -> Path:
    spec = importlib.util.find_spec(package)
    if spec is None or not spec.submodule_search_locations:
        raise ModuleNotFoundError(f"the package with {package} is not installed")
    return Path(spec.submodule_search_locations[0])


def _rows(lake: str, table: str) -> Iterator[dict[str, str]]:
    with zipfile.ZipFile(_home("glmpy") / "data" / "example_sims" / f"{lake}.glmpy") as files:
        yield from csv.DictReader(io.TextIOWrapper(files.open(table), "utf-8"))


def _creek() -> dict[date, float]:
    rows = _rows("falling_creek_reservoir", "inflow1.csv")
    return {date.fromisoformat(row["time"][:10]): float(row["TEMP"]) for row in rows}


def _lake(lake: str, table: str, time: str) -> dict[date, float]:
    """The pond under a lake's weather, hours put together to days."""
    hours: dict[date, list[dict[str, str]]] = defaultdict(list)
    for row in _rows(lake, table):
        hours[date.fromisoformat(row[time][:10])].append(row)

    def mean(rows: list[dict[str, str]], name: str) -> float:
        return fmean(float(row[name]) for row in rows)

    return pond_of_weather(
        {
            day: Weather(
                sun=mean(rows, "ShortWave"),
                air_c=mean(rows, "AirTemp"),
                humidity=mean(rows, "RelHum"),
                wind=mean(rows, "WindSpeed"),
                sky=mean(rows, "LongWave") if "LongWave" in rows[0] else None,
                cloud=mean(rows, "Cloud") if "Cloud" in rows[0] else 0.5,
            )
            for day, rows in hours.items()
        }
    )


def _air(place: str) -> dict[date, float]:
    lines = (_home("aquacrop") / "data" / f"{place}_climate.txt").read_text("utf-8").splitlines()
    found = {}
    for line in lines[1:]:
        day, month, year, low, high = line.split()[:5]
        found[date(int(year), int(month), int(day))] = (float(low) + float(high)) / 2
    return pond_of_air(found)


def _seattle() -> dict[date, float]:
    path = _home("vega_datasets") / "_data" / "seattle-weather.csv"
    with path.open(encoding="utf-8") as lines:
        return pond_of_air(
            {
                date.fromisoformat(row["date"].replace("/", "-")): (
                    float(row["temp_min"]) + float(row["temp_max"])
                )
                / 2
                for row in csv.DictReader(lines)
            }
        )


_SITES: dict[str, Callable[[], dict[date, float]]] = {
    "creek": _creek,
    "sparkling": lambda: _lake("sparkling_lake", "nldas_driver.csv", "time"),
    "dhuenn": lambda: _lake("grosse_dhuenn", "met.csv", "time"),
    "falling": lambda: _lake("falling_creek_reservoir", "met.csv", "time"),
    "kinneret": lambda: _lake("warm_lake", "met.csv", "Date"),
    **{place: (lambda place=place: _air(place)) for place in AIR_OF},
    "seattle": _seattle,
}
