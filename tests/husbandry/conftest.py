"""Open temperature records that husbandry is checked against."""

from __future__ import annotations

import csv
import gzip
from collections import defaultdict
from datetime import date
from pathlib import Path
from statistics import fmean
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from tests.conftest import Outside


def data_file(outside: Outside, package: str, name: str) -> Path:
    return outside.data_of(package) / "_data" / name


@pytest.fixture(scope="session")
def gulf_of_maine(outside: Outside) -> dict[date, float]:
    """Daily mean sea surface temperature [°C], buoy B01 (NERACOOS), 2016-02-15 to 2017-03-22.

    From the package bokeh-sampledata, free to use and redistribute.
    """
    path = data_file(outside, "bokeh_sampledata", "sea_surface_temperature.csv.gz")
    half_hours: dict[date, list[float]] = defaultdict(list)
    with gzip.open(path, "rt", encoding="utf-8") as file:
        for moment, c in list(csv.reader(file))[1:]:
            half_hours[date.fromisoformat(moment[:10])].append(float(c))
    return {day: fmean(values) for day, values in half_hours.items()}


@pytest.fixture(scope="session")
def seattle_air(outside: Outside) -> dict[date, float]:
    """Seattle's air temperature [°C], midway between the day's highest and lowest, 2012-15.

    From the package vega-datasets.
    """
    path = data_file(outside, "vega_datasets", "seattle-weather.csv")
    with path.open(encoding="utf-8") as file:
        return {
            date.fromisoformat(row["date"].replace("/", "-")): (
                float(row["temp_max"]) + float(row["temp_min"])
            )
            / 2
            for row in csv.DictReader(file)
        }
