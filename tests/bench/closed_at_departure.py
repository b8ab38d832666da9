"""Wounds said closed at departure are closed in 95 of 100: held to what comes, on open waters.

    nice python -m tests.bench.closed_at_departure [--wounds 8] [--sites a,b] [--seed TEXT]

Each fish has one wound, 3 to 70 days old when it leaves for its show, and nobody looks at it
again. Its truth is drawn from the table's own figures, so that the program's way of weighing water,
base and pace is put to the test, not the table. The keeper knows the monthly means of the water's
other years, reads it every Saturday, and asks the program 28, 14, 7 and 1 days before the fish
leave how sure it is that the wound is closed by then.

A kind without a figure for `closed` is left out, and so is one that is a wound only once it is
taken off, or whose share that is lost must be measured. Where a vet must see to it, the vet came on
the day it happened. Whether a fish is held at home for something else is not asked.

The seed is the commit that is measured, so that nothing can be tuned to it.
"""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import product
from random import Random
from statistics import fmean

from showprep.husbandry.healing import DefectKind, Milestone
from showprep.husbandry.healing_base import BASES_C, anchor_of, anchored
from showprep.husbandry.split_log_normal import SplitLogNormal
from showprep.husbandry.thermal_time import gathered
from showprep.planning.chances.chances import Chances
from showprep.planning.chances.limits import CLOSED_LEAST
from showprep.planning.yard.presumed import yard_as_known
from showprep.season import records
from showprep.season.facts import after_what_they_hold, shipped_facts
from tests.bench.advisers import show_record
from tests.bench.open_waters import SiteYear, site_years
from tests.bench.scores import over_whole_years, reliability_table
from tests.bench.season_played import Season, invented
from tests.bench.shown_clean import commit_measured

DAYS_BEFORE = (28, 14, 7, 1)
OLD = (3, 70)  # days from the wound to departure
SHOWS = 4  # in each site-year; its wounds are shared out among them
SURELY = 0.98  # above it a statement is far from the limit


@dataclass(frozen=True, slots=True)
class Wound:
    """A wound and its truth: base [°C] and requirement, in the unit of the kind's milestone."""

    kind: str
    happened: date
    departure: date
    base_c: float
    need: float


@dataclass(frozen=True, slots=True)
class Statement:
    """What the program said of a wound so many days before departure, and what came."""

    water: tuple[str, int]
    wound: Wound
    days_before: int
    said: float
    came: bool

    @property
    def is_closed(self) -> bool:
        """Is it said to be closed?"""
        return self.said >= CLOSED_LEAST


def kinds() -> dict[str, DefectKind]:
    """The kinds of wounds that are asked about."""
    return {
        name: kind
        for name, kind in after_what_they_hold(shipped_facts().kinds).items()
        if kind.is_wound and kind.closed and kind.may != "touch-up" and not kind.by_lost_share
    }


def closed_of(kind: str) -> Milestone:
    """What a wound of a kind asks for to be closed."""
    found = kinds()[kind].closed
    assert found is not None
    return found


def wounds_of(season: Season, count: int, seed: str) -> list[Wound]:
    """So many wounds of a site-year, shared out among its shows; the same seed gives the same."""
    draw = Random(f"{seed}/closed/{season.water.site}/{season.water.year}")
    found = []
    for number in range(count if season.shows else 0):
        departure = season.shows[number % len(season.shows)].benching
        kind = draw.choice(sorted(kinds()))
        (base,) = draw.choices(*zip(*BASES_C, strict=True))
        asked = closed_of(kind)
        figures = SplitLogNormal(asked.low, asked.usual, asked.high)
        if asked.unit == "degree-days":
            figures = anchored(figures, anchor_of(kind), base)
        need = figures.quantile(min(max(draw.random(), 1e-9), 1 - 1e-9))
        happened = departure - timedelta(days=draw.randint(*OLD))
        found.append(Wound(kind, happened, departure, base, need))
    return found


def is_closed(wound: Wound, water_c: Mapping[date, float]) -> bool:
    """Is it closed on the day the fish leave, in the true water?"""
    asked, span = closed_of(wound.kind), (wound.happened, wound.departure)
    if (wound.departure - wound.happened).days < asked.least_days:
        return False
    if asked.unit == "degree-days":
        return gathered(*span, water_c.__getitem__, wound.base_c) >= wound.need
    return asked.gathered(*span, water_c.__getitem__) >= wound.need


def said(season: Season, wounds: Sequence[Wound], on: date) -> list[float]:
    """The chances that wounds are closed when the fish leave for one show, by the program."""
    yard = yard_as_known(as_season(season, wounds, on), on, None)
    (events,) = yard.planned()
    chances = Chances(yard)
    found = []
    for number, wound in enumerate(wounds):
        fish = yard.state.fish[f"fish{number}"]
        (defect,) = fish.defects
        assert (defect.heals_from, events.departure_day) == (wound.happened, wound.departure)
        found.append(chances.of_fish(fish).closed(defect, events))
    return found


def as_season(season: Season, wounds: Sequence[Wound], on: date) -> records.Season:
    """What the keeper has written down by a day: a fish for each wound, all for one show."""
    readings = {day: c for day, c in season.readings.items() if day <= on}
    pond = {"monthly_c": season.water.monthly_c, "readings_c": readings}
    fish = {
        f"fish{number}": records.Fish.model_validate(
            {
                "name": f"fish{number}",
                "variety": "kohaku",
                "lives_in": "pond",
                "merit": 80.0,
                "defects": (
                    {"kind": one.kind, "seen": one.happened}
                    | ({"vet": one.happened} if kinds()[one.kind].may == "vet" else {}),
                ),
            }
        )
        for number, one in enumerate(wounds)
    }
    leaves = wounds[0].departure
    return records.Season(
        keeper=records.Keeper.model_validate({"time_zone": "UTC", "waters": {"pond": pond}}),
        shows={"show": show_record("show", leaves, leaves + timedelta(days=1))},
        fish=fish,
    )


def run(waters: Sequence[SiteYear], count: int, seed: str) -> list[Statement]:
    """Every statement about `count` wounds in each site-year."""
    found = []
    for water in waters:
        season, key = invented(water, SHOWS, seed), (water.site, water.year)
        wounds = wounds_of(season, count, seed)
        for leaves, days in product(sorted({one.departure for one in wounds}), DAYS_BEFORE):
            on = leaves - timedelta(days=days)
            here = [one for one in wounds if one.departure == leaves and one.happened < on]
            chances = said(season, here, on) if here else []
            found += [
                Statement(key, one, days, chance, is_closed(one, water.water_c))
                for one, chance in zip(here, chances, strict=True)
            ]
    return found


def _row(name: str, told: Sequence[Statement]) -> str:
    if not told:
        return f"{name:24}     0"
    came = over_whole_years([float(one.came) for one in told], [one.water for one in told])
    return (
        f"{name:24} {len(told):5d}   {100 * fmean(one.said for one in told):5.1f}"
        f"   {100 * came.mean:5.1f} ({100 * came.low:.1f} to {100 * came.high:.1f})"
    )


def _ahead(told: Sequence[Statement]) -> list[str]:
    return [
        _row(f"  {days} days before", [one for one in told if one.days_before == days])
        for days in DAYS_BEFORE
    ]


def report(told: Sequence[Statement]) -> str:
    """The figures as text."""
    years, wounds = ({one.water for one in told}, {(one.water, one.wound) for one in told})
    closed = [one for one in told if one.is_closed]
    warm = [one for one in closed if closed_of(one.wound.kind).unit == "degree-days"]
    lines = [
        f"{len(told)} statements about {len(wounds)} wounds on {len(years)} site-years;"
        " 95 % over whole site-years",
        "",
        f"said closed (at least {100 * CLOSED_LEAST:.0f} %)      n    said %   came %",
        _row("all", closed),
        _row(f"  under {100 * SURELY:.0f} %", [one for one in closed if one.said < SURELY]),
        *_ahead(closed),
        _row("in degree-days", warm),
        *_ahead(warm),
        *(_row(kind, [one for one in closed if one.wound.kind == kind]) for kind in kinds()),
        "",
        "reliability of all statements: n, said %, came %, 99 % of right ones, each by itself",
    ]
    table = reliability_table([one.said for one in told], [one.came for one in told])
    lines += [
        f"  {row.count:5d}   {100 * row.stated:5.1f}   {100 * row.came:5.1f}"
        f"   {100 * row.low:.1f} to {100 * row.high:.1f}"
        for row in table
    ]
    return "\n".join(lines)


def main() -> None:
    """Run and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--wounds", type=int, default=8, help="wounds in each site-year")
    asked.add_argument("--sites", default="", help="sites by name, with commas; all if left out")
    asked.add_argument("--seed", default="", help="in place of the commit")
    options = asked.parse_args()
    seed = options.seed or commit_measured()
    sites = tuple(options.sites.split(",")) if options.sites else None
    print(f"seed {seed}")
    print(report(run(site_years(sites), options.wounds, seed)))


if __name__ == "__main__":
    main()
