"""Seasons for the planner's tests, written as a keeper writes them: as the text of the files.

Everything here is invented. The waters are steady, so that every day in a test can be worked out
by hand: water of 20 °C gives 20 - 8 = 12 degree-days a day, and a speck needs 180 (usual) or 320
(slow) to be clean, so 180 / 12 = 15 days or 320 / 12 = 26.7, which is 27 days.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from showprep.planning.plan import Plan, Task, Verdict
from showprep.planning.season_plan import make_plan
from showprep.planning.verdicts.prospects import Prospect, prospects_of, touch_ups_of
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.yard import Yard, yard_on
from showprep.season.reading import read_season
from showprep.season.records import Season

KEEPER = """\
time_zone: Europe/Dublin
work_days: [monday, tuesday, wednesday, thursday, friday, saturday, sunday]
waters:
  pond: {litres: 20000, steady_c: 20}
  vat: {litres: 4000, steady_c: 22}
isolation: {water: vat, holds: 4}
touch_up: {by: keeper, law_checked: yes, law_country: Ireland, fish_per_day: 4, \
bath_litres: 30, strength_percent: 10}
"""

SHOWS = """\
larkfield:
  name: Larkfield Show
  judging: 2027-06-12 10:00
  arrive: {from: 2027-06-11 13:00, to: 2027-06-11 20:00}
  check_out: 2027-06-13 14:00
  travel_hours: 2
  vats: own
  altered_fish: tolerated
"""

AOI = """\
aoi:
  name: Aoi
  variety: kohaku
  lives_in: pond
  merit: 80
  lengths_cm: {2027-03-01: 50}
"""

SPECK = "  defects: [{kind: shimi, where: left shoulder, size_mm: 2, seen: 2027-03-01}]\n"


class Written:
    """A season in a folder of its own: change one file, then plan it on a day."""

    def __init__(self, folder: Callable[[Mapping[str, str | bytes]], Path]) -> None:
        self._folder = folder
        self.keeper, self.shows, self.fish, self.journal = KEEPER, SHOWS, AOI + SPECK, ""

    def with_keeper(self, *lines: str) -> Written:
        """Lines added to keeper.yaml; a line of a key that stands there replaces it."""
        keys = {line.split(":")[0] for line in lines}
        kept = [line for line in self.keeper.splitlines() if line.split(":")[0] not in keys]
        if "waters" in keys:
            kept = [line for line in kept if not line.startswith("  ")]
        self.keeper = "\n".join([*kept, *lines]) + "\n"
        return self

    def with_show(self, *lines: str) -> Written:
        """Lines added to the one show; a line of a key that stands there replaces it."""
        keys = {f"  {line.split(':')[0]}" for line in lines}
        kept = [line for line in self.shows.splitlines() if line.split(":")[0] not in keys]
        self.shows = "\n".join([*kept, *(f"  {line}" for line in lines)]) + "\n"
        return self

    def noted(self, *entries: str) -> Written:
        """Entries of the journal, each the inside of a flow mapping."""
        self.journal += "".join(f"- {{{entry}}}\n" for entry in entries)
        return self

    def season(self, on: date) -> Season:
        files: dict[str, str | bytes] = {
            "keeper.yaml": self.keeper,
            "shows.yaml": self.shows,
            "fish.yaml": self.fish,
            "journal.yaml": self.journal,
        }
        return read_season(self._folder(files), on).season

    def yard(self, on: date) -> Yard:
        return yard_on(self.season(on), on)

    def plan(self, on: date, *, tells: bool = False) -> Plan:
        return make_plan(self.season(on), on, "test", tells=tells)

    def touch_ups(self, on: date, fish: str = "aoi") -> TouchUps:
        return touch_ups_of(self.yard(on))[fish]

    def prospects(self, on: date) -> dict[tuple[str, str], Prospect]:
        yard = self.yard(on)
        return prospects_of(yard, touch_ups_of(yard))


@pytest.fixture
def written(folder: Callable[[Mapping[str, str | bytes]], Path]) -> Written:
    """One fish with one speck in 20 °C, one show on 12 June 2027: benching on Friday the 11th."""
    return Written(folder)


@pytest.fixture
def verdict() -> Callable[..., Verdict]:
    """The verdict on one fish for one show."""

    def find(plan: Plan, fish: str = "aoi", show: str = "larkfield") -> Verdict:
        return next(one for one in plan.verdicts if (one.fish, one.show) == (fish, show))

    return find


@pytest.fixture
def job() -> Callable[[Plan, str], Task]:
    """The one job with this id."""

    def find(plan: Plan, task_id: str) -> Task:
        found = [task for task in plan.tasks if task.id == task_id]
        assert len(found) == 1, [task.id for task in plan.tasks]
        return found[0]

    return find


@pytest.fixture
def ids() -> Callable[[Plan], set[str]]:
    """The ids of all jobs; two jobs of one id are a fault."""

    def find(plan: Plan) -> set[str]:
        every = [task.id for task in plan.tasks]
        assert len(every) == len(set(every)), sorted(every)
        return set(every)

    return find
