"""What touch-ups win in whole yards: the program beside a keeper who plans by hand.

    nice python -m tests.bench.yards_played [--yards 1] [--sites creek,brussels] [--seed TEXT]

A yard has four to six fish, most with one speck, and two or three shows with few places. It is
played Saturday by Saturday on a real record of water, with truths that nobody in it knows: whoever
advises says which fish to touch up today, looks at healing fish every week and on the eve of a
show, and says then which fish go. The water is read on the day they leave, and nobody travels in
water too warm for a bag, whoever advises. A fish is touched up once a season at most. Fish come
home into a warm vat, and are left alone until they are cleared and have settled in the pond again.
All of them are held to the program's own rules for the fish's sake, the oracle too, else one would
gain by what another may not do. Prices are 0 and fish of one class share nothing, so that merit
alone counts. What is printed is the merit shown by each, and as a share of what touch-ups could
have won: from the yard without any to an oracle that knows every truth and the water.

The seed is the commit that is measured, so that nothing can be tuned to it.
"""

from __future__ import annotations

import argparse
from collections.abc import Collection, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property
from itertools import product
from random import Random
from statistics import fmean
from typing import Protocol

from showprep.planning.plan import Plan
from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import LastPlan, last_of
from showprep.season import records
from tests.bench.advisers import show_record
from tests.bench.open_waters import SiteYear, site_years
from tests.bench.season_played import (
    FALL_C,
    FALL_DAYS,
    READING_SPREAD_C,
    TOO_WARM_FOR_A_BAG_C,
    Nature,
    Truth,
    may_sedate,
    saturdays,
    truth,
    warmth,
)
from tests.bench.shown_clean import commit_measured

BY_HAND_BEFORE = timedelta(days=31)  # the Saturday nearest to four weeks before benching
VAT_C = 22.0  # the vat in which fish stay apart after a show
CLEARS = timedelta(days=28)  # in water so warm, from the way home
SETTLES = timedelta(days=14)  # in the pond again, before it may be touched up
APART = (10, 12)  # weeks from one show to the next
FIRST_TOUCH = (2, 10)


@dataclass(frozen=True, slots=True)
class Fish:
    """A fish and what its speck takes from its merit; 0: it has none."""

    id: str
    merit: float
    lost: float


@dataclass(frozen=True, slots=True)
class Show:
    """A show, its places, and the Friday it is benched; judged the day after."""

    id: str
    benching: date
    places: int

    @property
    def judging(self) -> date:
        return self.benching + timedelta(days=1)

    @property
    def back(self) -> date:
        """The Saturday on which fish that went are cleared, and back in the pond."""
        clear = self.judging + timedelta(days=1) + CLEARS
        return clear + timedelta(days=(5 - clear.weekday()) % 7)


@dataclass(frozen=True)
class Yard:
    """A yard on one water, with the truth of each speck."""

    water: SiteYear
    fish: tuple[Fish, ...]
    shows: tuple[Show, ...]
    truths: Mapping[str, Truth]
    readings: Mapping[date, float]
    nature: Nature

    def may_travel(self, show: Show) -> bool:
        """Is the water cool enough for a bag on the day the fish leave?"""
        return self.water.water_c[show.benching] <= TOO_WARM_FOR_A_BAG_C

    @cached_property
    def _may_sedate(self) -> dict[date, bool]:
        return {
            day: may_sedate(self.readings, self.water.water_c, day)
            for day in saturdays(date(self.water.year, *FIRST_TOUCH), self.shows[-1].benching)
        }

    def sessions(self) -> list[date]:
        """The Saturdays on which the water lets a fish be touched up."""
        return [day for day, may in self._may_sedate.items() if may]

    def keeps(self, show: Show, day: date) -> bool:
        """Is a fish that went to a show left alone on `day`, a work day?

        It has to settle in the pond again, and for longer where that is so much colder.
        """
        fell = show.back in self.water.water_c and VAT_C - self.water.water_c[show.back] >= FALL_C
        settles = timedelta(days=FALL_DAYS) if fell else SETTLES
        return show.benching <= day < show.back + settles

    def is_clean(self, fish: str, touched: date, on: date, went: Collection[Show]) -> bool:
        """Healed, and not back; it `went` to these shows, and was in the vat after each."""
        if (on - touched).days < self.nature.least_days:
            return False
        known = self.truths[fish]
        water_c = dict(self.water.water_c)
        for show in went:
            apart = (show.back - show.benching).days
            water_c |= {show.benching + timedelta(days=at): VAT_C for at in range(1, apart + 1)}
        had = warmth(water_c, known.base_c, touched, on)
        return known.need <= had and known.back_after_days > (on - touched).days

    def worth(self, fish: Fish, touched: date | None, show: Show, went: Collection[Show]) -> float:
        """The merit a judge sees, or would see; before it `went` to these shows."""
        clean = not fish.lost or (
            touched is not None
            and touched < show.benching
            and self.is_clean(fish.id, touched, show.benching, went)
            and self.truths[fish.id].back_after_days > (show.judging - touched).days
        )
        return fish.merit if clean else fish.merit - fish.lost


def invented(water: SiteYear, number: int, seed: str) -> Yard:
    """One yard of a site-year; the same seed gives the same."""
    draw, nature = Random(f"{seed}/yard/{water.site}/{water.year}/{number}"), Nature()
    fish = tuple(
        Fish(
            f"fish{at}",
            round(draw.uniform(70, 95), 1),
            round(draw.uniform(4, 14), 1) if draw.random() < 0.7 else 0.0,
        )
        for at in range(draw.randint(4, 6))
    )
    day = date(water.year, 5, 15) + timedelta(days=draw.randrange(30))
    shows = []
    for at in range(draw.randint(2, 3)):
        if day > date(water.year, 9, 25):
            break
        friday = day + timedelta(days=(4 - day.weekday()) % 7)
        shows.append(Show(f"show{at}", friday, draw.randint(1, 3)))
        day += timedelta(weeks=draw.randint(*APART))
    readings = {
        on: max(c + draw.gauss(0, READING_SPREAD_C), 0.0)
        for on, c in sorted(water.water_c.items())
        if on.weekday() == 5
    }
    truths = {one.id: truth(draw, nature) for one in fish}
    return Yard(water, fish, tuple(shows), truths, readings, nature)


@dataclass
class Diary:
    """What the keeper did and saw so far."""

    touched: dict[str, date] = field(default_factory=dict)
    went: dict[str, tuple[str, ...]] = field(default_factory=dict)  # by show
    journal: list[records.JournalEntry] = field(default_factory=list)

    def journeys(self, yard: Yard, fish: str) -> list[Show]:
        """The shows that a fish has been to."""
        return [one for one in yard.shows if fish in self.went.get(one.id, ())]

    def noted(self, on: date, **told: object) -> None:
        self.journal.append(records.JournalEntry.model_validate({"on": on} | told))


class Keeper(Protocol):
    """Anything that can tell what to do on a Saturday, and who goes on the eve of a show."""

    def touch_up(self, yard: Yard, diary: Diary, today: date) -> set[str]: ...

    def going(self, yard: Yard, diary: Diary, show: Show) -> Sequence[str]: ...


def seen(yard: Yard, diary: Diary, fish: Fish, on: date) -> float:
    """The merit that a keeper sees by looking at the fish."""
    touched = diary.touched.get(fish.id)
    went = diary.journeys(yard, fish.id)
    clean = not fish.lost or (touched is not None and yard.is_clean(fish.id, touched, on, went))
    return fish.merit if clean else fish.merit - fish.lost


def best_seen(yard: Yard, diary: Diary, show: Show) -> list[str]:
    """The best fish as they look on the eve, as many as there are places."""
    eve = show.benching - timedelta(days=1)
    order = sorted(yard.fish, key=lambda one: (-seen(yard, diary, one, eve), one.id))
    return [one.id for one in order[: show.places]]


class Never:
    """No touch-up at all."""

    def touch_up(self, yard: Yard, diary: Diary, today: date) -> set[str]:
        return set()

    def going(self, yard: Yard, diary: Diary, show: Show) -> Sequence[str]:
        return best_seen(yard, diary, show)


class ByHand(Never):
    """Four weeks before each show, the best fish first, as many as there are places."""

    def touch_up(self, yard: Yard, diary: Diary, today: date) -> set[str]:
        due: set[str] = set()
        for show in yard.shows:
            if today < show.benching <= today + BY_HAND_BEFORE:
                order = sorted(yard.fish, key=lambda one: (-one.merit, one.id))
                due |= {one.id for one in order[: show.places] if one.lost}
        return due


@dataclass
class ByProgram:
    """The whole program, planned anew every week with what it remembers of the week before."""

    defaults: bool = False
    last: LastPlan | None = None

    def touch_up(self, yard: Yard, diary: Diary, today: date) -> set[str]:
        plan = self._plan(yard, diary, today)
        return {
            one.fish
            for one in plan.verdicts
            if one.entered and one.touch_up is not None and one.touch_up.day == today
        }

    def going(self, yard: Yard, diary: Diary, show: Show) -> Sequence[str]:
        plan = self._plan(yard, diary, show.benching)
        return next(one.entered for one in plan.shows if one.id == show.id)

    def _plan(self, yard: Yard, diary: Diary, on: date) -> Plan:
        plan = make_plan(as_season(yard, diary, on, self.defaults), on, last=self.last, costs=False)
        self.last = last_of(plan)
        return plan


def as_season(yard: Yard, diary: Diary, on: date, defaults: bool) -> records.Season:
    """What a keeper has written down by a day."""
    first = date(yard.water.year, 1, 2)
    readings = {day: c for day, c in yard.readings.items() if day <= on}
    if any(show.benching == on for show in yard.shows):
        readings[on] = yard.water.water_c[on]
    free = {
        "touch_up_price": 0.0,
        "session_price": 0.0,
        "journey_price": {"show": 0.0, "hour": 0.0, "fish": 0.0},
        "worth_showing": 0.0,
        "same_class_share": 1.0,
        "least_chance": 0.0,
    }
    keeper = records.Keeper.model_validate(
        {
            "time_zone": "UTC",
            "work_days": ("saturday",),
            "carrying": {"tank_litres": 4000},
            "waters": {
                "pond": {
                    "monthly_c": yard.water.monthly_c,
                    "readings_c": readings,
                },
                "vat": {"steady_c": VAT_C},
            },
            "isolation": {"water": "vat", "holds": len(yard.fish)},
            "touch_up": {
                "by": "keeper",
                "law_checked": True,
                "law_country": "Ireland",
                "fish_per_day": 99,
            },
            "preferences": {"touch_up_days_per_fish": 1} | ({} if defaults else free),
        }
    )
    shows = {
        one.id: show_record(
            one.id, one.benching, one.judging, vats="bag", limits={"fish": one.places}
        )
        for one in yard.shows
    }
    fish = {
        one.id: records.Fish.model_validate(
            {
                "name": one.id,
                "variety": "kohaku",
                "sex": "male",
                "lives_in": "pond",
                "merit": one.merit,
                "lengths_cm": {first: 50.0},
                "defects": (
                    {
                        "kind": "shimi",
                        "where": "left shoulder",
                        "seen": first,
                        "merit_lost": one.lost,
                    },
                )
                if one.lost
                else (),
            }
        )
        for one in yard.fish
    }
    return records.Season(keeper=keeper, shows=shows, fish=fish, journal=tuple(diary.journal))


@dataclass(frozen=True, slots=True)
class Came:
    """What came of a yard: the merit shown, and how many fish were touched up."""

    merit: float
    touched: int


def play(yard: Yard, keeper: Keeper) -> Came:
    """Play a yard with one keeper, Saturday by Saturday."""
    diary, merit = Diary(), 0.0
    for today in saturdays(date(yard.water.year, *FIRST_TOUCH), yard.shows[-1].benching):
        for show in yard.shows:
            if show.id not in diary.went and today > show.benching:
                merit += _shown(yard, diary, keeper, show)
            for fish in diary.went.get(show.id, ()) if today == show.back else ():
                diary.noted(today, did="move", fish=fish, to="pond")
        _look(yard, diary, today)
        if today not in yard.sessions():
            continue
        for fish in sorted(keeper.touch_up(yard, diary, today) - diary.touched.keys()):
            if not any(yard.keeps(show, today) for show in diary.journeys(yard, fish)):
                diary.touched[fish] = today
                diary.noted(today, did="touch-up", fish=fish)
    return Came(merit + _shown(yard, diary, keeper, yard.shows[-1]), len(diary.touched))


def _shown(yard: Yard, diary: Diary, keeper: Keeper, show: Show) -> float:
    fish = {one.id: one for one in yard.fish}
    _look(yard, diary, show.benching - timedelta(days=1))
    going = tuple(keeper.going(yard, diary, show)) if yard.may_travel(show) else ()
    assert len(going) <= show.places
    diary.went[show.id] = going
    for one in going:
        diary.noted(show.benching, did="travelled", fish=one, show=show.id)
    return sum(
        yard.worth(fish[one], diary.touched.get(one), show, diary.journeys(yard, one))
        for one in going
    )


def _look(yard: Yard, diary: Diary, today: date) -> None:
    """Every touched fish is looked at until its speck is seen back, and what is seen is noted."""
    for fish, touched in sorted(diary.touched.items()):
        said = [str(one.saw) for one in diary.journal if one.fish == fish and one.saw]
        if (today - touched).days < 7 or "speck back" in said:
            continue
        clean = yard.is_clean(fish, touched, today, diary.journeys(yard, fish))
        back = "speck back" if "clean" in said else "not clean"
        diary.noted(today, saw="clean" if clean else back, fish=fish)


def oracle(yard: Yard) -> float:
    """The most merit that any touch-ups could have won, every truth and the water known."""
    ways: list[list[tuple[float, ...]]] = []
    journeys = [
        [show for show, goes in zip(yard.shows, chosen, strict=True) if goes]
        for chosen in product((True, False), repeat=len(yard.shows))
    ]
    for fish in yard.fish:
        found = {
            tuple(yard.worth(fish, day, show, went) if show in went else 0.0 for show in yard.shows)
            for day in (None, *(yard.sessions() if fish.lost else ()))
            for went in journeys
            if day is None or not any(yard.keeps(show, day) for show in went)
        }
        ways.append([
            one
            for one in sorted(found)
            if not any(
                other != one and all(b >= a for a, b in zip(one, other, strict=True))
                for other in found
            )
        ])  # fmt: skip
    return max(
        sum(
            sum(sorted((way[at] for way in chosen), reverse=True)[: show.places])
            for at, show in enumerate(yard.shows)
            if yard.may_travel(show)
        )
        for chosen in product(*ways)
    )


def share_won(
    won: Sequence[float], could: Sequence[float], years: Sequence[Hashable], draws: int = 2000
) -> tuple[float, float, float]:
    """The share of what could be won, and the middle 95 % over whole site-years (bootstrap)."""
    blocks: dict[Hashable, tuple[float, float]] = {}
    for one, most, year in zip(won, could, years, strict=True):
        had, all_ = blocks.get(year, (0.0, 0.0))
        blocks[year] = had + one, all_ + most
    draw, every = Random(len(won)), list(blocks.values())
    shares = []
    for _ in range(draws):
        taken = draw.choices(every, k=len(every))
        most = sum(all_ for _, all_ in taken)
        shares.append(sum(had for had, _ in taken) / most if most else 0.0)
    shares.sort()
    whole = sum(could)
    return (
        sum(won) / whole if whole else 0.0,
        shares[round(0.025 * (draws - 1))],
        shares[round(0.975 * (draws - 1))],
    )


def report(waters: Sequence[SiteYear], yards: int, seed: str) -> str:
    """Play every site-year, and say what came of it."""
    keepers = {
        "by hand": lambda: ByHand(),
        "the program": lambda: ByProgram(),
        "the program, its defaults": lambda: ByProgram(defaults=True),
    }
    years: list[tuple[str, int]] = []
    none: list[float] = []
    most: list[float] = []
    came: dict[str, list[Came]] = {name: [] for name in keepers}
    for water in waters:
        for number in range(yards):
            yard = invented(water, number, seed)
            years.append((water.site, water.year))
            none.append(play(yard, Never()).merit)
            most.append(oracle(yard))
            for name, keeper in keepers.items():
                came[name].append(play(yard, keeper()))
    could = [all_ - nothing for all_, nothing in zip(most, none, strict=True)]
    lines = [
        f"{len(years)} yards on {len(set(years))} site-years; 95 % over whole site-years",
        f"merit a yard: {fmean(none):.1f} without touch-ups, {fmean(most):.1f} by the oracle",
        "",
        "keeper                        of what could be won      touched  merit a touch-up",
    ]
    for name, played in came.items():
        won = [one.merit - nothing for one, nothing in zip(played, none, strict=True)]
        share, low, high = share_won(won, could, years)
        cuts = sum(one.touched for one in played)
        lines.append(
            f"{name:28} {100 * share:5.1f} % ({100 * low:.1f} to {100 * high:.1f})   {cuts:6d}"
            f"   {sum(won) / cuts if cuts else 0.0:6.2f}"
        )
    return "\n".join(lines)


def main() -> None:
    """Run and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--yards", type=int, default=1, help="yards on each site-year")
    asked.add_argument("--sites", default="", help="sites by name, with commas; all if left out")
    asked.add_argument("--every", type=int, default=1, help="only one site-year in so many")
    asked.add_argument("--seed", default="", help="in place of the commit")
    options = asked.parse_args()
    seed = options.seed or commit_measured()
    sites = tuple(options.sites.split(",")) if options.sites else None
    print(f"seed {seed}")
    print(report(site_years(sites)[:: options.every], options.yards, seed))


if __name__ == "__main__":
    main()
