"""A whole small season as a keeper would write it, and its faults as they are told."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from showprep.season.problems import SeasonError
from showprep.season.reading import Reading, read_season

ON = date(2027, 4, 1)
Files = Mapping[str, str | bytes]

KEEPER = """\
time_zone: Europe/Dublin
units: metric                      # how results are printed: metric, us or imperial
work_days: [saturday, sunday]      # days with hands free
away: [{from: 2027-04-10, to: 2027-04-12}]
waters:
  main pond:
    litres: 28000
    monthly_c: [4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5]
    readings_c: {2027-03-14: 9.2, 2027-03-20: 9.8}
  isolation vat:
    litres: 2000
    steady_c: 22
isolation: {water: isolation vat, holds: 3}
touch_up:
  by: keeper                       # keeper, vet or nobody
  law_checked: yes                 # the keeper's own statement; missing means no
  law_country: Ireland
  bath_litres: 30
  agent: clove oil
  strength_percent: 10             # by volume, from the bottle's label; no default
carrying: {boxes: 4}
preferences: {least_chance: .7, sure_enough: .8, speck_returns_after_weeks: 8}
"""

SHOWS = """\
larkfield:
  name: Larkfield Spring Show
  judging: 2027-06-12 10:00
  arrive: {from: 2027-06-11 13:00, to: 2027-06-11 20:00}
  check_out: 2027-06-13 14:00
  entries_close: 2027-05-22
  travel_hours: 2.5
  vats: own                        # own, shared or bag
  water_c: 18
  altered_fish: not stated         # excluded, not stated or tolerated
  sizes: {unit: cm, upper: [25, 35, 45, 55, 65, 75], upper_included: yes}
  limits: {fish: 4, total_cm: 250} # also points with points_by_size
  fee: 30
  fast_days: 7                     # the show's own rule, where it has one
  declaration_months: 6
"""

AOI = """\
name: Aoi
variety: kohaku
sex: female
born: 2022
lives_in: main pond
merit: 82                          # the keeper's own mark for the clean fish, 0 to 100
lengths_cm: {2026-09-20: 50.5, 2027-03-20: 52.0}
defects:
  - {kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-20, merit_lost: 6}
"""

JOURNAL = """\
- {on: 2027-03-21, saw: temperature, water: main pond, read_c: 9.9}
- on: 2027-03-27
  did: measure
  fish: aoi
  measured_cm: 52
  note: "calm in the bowl"
"""


@pytest.fixture
def season_files() -> dict[str, str | bytes]:
    """The season's files, to be changed at will."""
    return {
        "keeper.yaml": KEEPER,
        "shows.yaml": SHOWS,
        "fish/aoi.yaml": AOI,
        "journal.yaml": JOURNAL,
    }


@pytest.fixture
def read(folder: Callable[[Files], Path]) -> Callable[[Files], Reading]:
    """Read a season from its files' text as on 1 April 2027."""
    return lambda files: read_season(folder(files), ON)


@pytest.fixture
def told(folder: Callable[[Files], Path]) -> Callable[[Files], list[str]]:
    """Every fault and warning of the files, a line each; warnings begin with `Note: `."""

    def tell(files: Files) -> list[str]:
        try:
            reading = read_season(folder(files), ON)
        except SeasonError as error:
            return str(error).splitlines()
        return [f"Note: {warning}" for warning in reading.warnings]

    return tell
