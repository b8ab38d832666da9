"""Rules for the day of a touch-up: the best day by chance, and what it is measured against."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import cache

from showprep.husbandry.best_touch_up_day import BETTER_BY, best_touch_up_day
from showprep.husbandry.chances import WoundChances, chances_of
from showprep.husbandry.speck_return import known_return
from showprep.husbandry.thermal_time import latest_start
from showprep.husbandry.warmth_ahead import Warmth, held_steady
from showprep.husbandry.water import YearCurve, measured
from showprep.husbandry.water_departures import departures_given
from showprep.husbandry.wound_need import Need, Wound
from showprep.husbandry.yard_pace import Known
from showprep.planning.season_plan import make_plan
from showprep.planning.yard.last_plan import LastPlan, last_of
from showprep.season import records
from tests.bench.season_played import (
    Advice,
    Adviser,
    Nature,
    Season,
    Seen,
    Show,
    fit_to_sedate,
    may_sedate,
    saturdays,
)


@cache
def believed(nature: Nature) -> tuple[Need, Known]:
    """What a speck asks for and its return, by a planner that knows the nature of specks."""
    cases = tuple((base, share, Known(nature.over(base))) for base, share in nature.bases)
    return Need(cases, nature.least_days), known_return(nature.weeks)


def chances_on(day: date, show: Show, warmth: Warmth, nature: Nature) -> WoundChances:
    """The chances of a touch-up on a day for a show."""
    need, back = believed(nature)
    return chances_of(
        Wound(day, None, need, back), show.benching, show.benching, show.judging, warmth
    )


@cache
def _curve(monthly_c: tuple[float, ...]) -> YearCurve:
    return YearCurve.from_monthly_means(monthly_c)


def _days(first: date, last: date) -> list[date]:
    return [first + timedelta(days=number) for number in range((last - first).days + 1)]


def water_ahead(seen: Seen, with_readings: bool = True) -> Warmth:
    """The water from today to the last show ahead, as the departures say."""
    curve = _curve(seen.monthly_c)
    last = max(show.benching for show in seen.shows)
    read = seen.readings.items() if with_readings else ()
    ahead = departures_given([(day, c - curve.on(day)) for day, c in read], seen.today, last)
    days = _days(seen.today, last)
    means = [max(curve.on(day) + c, 0.0) for day, c in zip(days, ahead.means_c, strict=True)]
    return Warmth(seen.today, means, ahead.covariance)


@dataclass
class BestDay:
    """The best day by chance, planned anew every week; a planned day moves only for 2 points."""

    nature: Nature
    better_by: float = BETTER_BY
    planned: dict[str, date] = field(default_factory=dict)

    def ahead(self, seen: Seen) -> Warmth:
        return water_ahead(seen)

    def fit(self, days: Iterable[date], ahead: Warmth) -> list[date]:
        return [day for day in days if fit_to_sedate(ahead.means_c[(day - ahead.first).days])]

    def advise(self, seen: Seen) -> Advice:
        ahead = self.ahead(seen)
        found: dict[str, date] = {}
        promised: dict[str, float] = {}
        for show in seen.shows:
            best = best_touch_up_day(
                self.fit(saturdays(seen.today, show.benching), ahead),
                lambda day, show=show: chances_on(day, show, ahead, self.nature).shows_nothing,
                self.planned.get(show.fish),
                self.better_by,
            )
            if best is not None and best.chance > 0:
                found[show.fish], promised[show.fish] = best.day, best.chance
        self.planned = found
        today = frozenset(fish for fish, day in found.items() if day == seen.today)
        return Advice(today, found, promised)


@dataclass
class WaterKnown(BestDay):
    """The same, told how the water will go, and nothing of the fish."""

    season: Season = field(kw_only=True)

    def ahead(self, seen: Seen) -> Warmth:
        days = _days(seen.today, max(show.benching for show in seen.shows))
        return held_steady(seen.today, [self.season.water.water_c[day] for day in days])

    def fit(self, days: Iterable[date], ahead: Warmth) -> list[date]:
        return [
            day for day in days if may_sedate(self.season.readings, self.season.water.water_c, day)
        ]


@dataclass
class BestDayOnce(BestDay):
    """The best day by chance on the yearly curve, planned once and never again."""

    kept: dict[str, date] = field(default_factory=dict)

    def ahead(self, seen: Seen) -> Warmth:
        return water_ahead(seen, with_readings=False)

    def advise(self, seen: Seen) -> Advice:
        new = tuple(show for show in seen.shows if show.fish not in self.kept)
        promised: Mapping[str, float] = {}
        if new:
            once = BestDay.advise(self, Seen(seen.today, seen.monthly_c, seen.readings, new))
            self.kept |= once.planned
            promised = once.promised
        return Advice(
            frozenset(fish for fish, day in self.kept.items() if day <= seen.today),
            dict(self.kept),
            promised,
        )


@dataclass
class FourWeeksBefore:
    """The Saturday nearest to four weeks before benching, or the first warm enough after it."""

    def advise(self, seen: Seen) -> Advice:
        due = frozenset(show.fish for show in seen.shows if (show.benching - seen.today).days <= 31)
        return Advice(due)


@dataclass
class Guard:
    """The latest day that is in time in the slow case with five days to spare (base 8 °C).

    Not earlier than eight weeks before judging; planned anew every week on the curve drawn
    towards the readings.
    """

    nature: Nature
    spare_days: int = 5
    longest_days: int = 56

    def advise(self, seen: Seen) -> Advice:
        mean_on = measured(_curve(seen.monthly_c).on, sorted(seen.readings.items()))
        found: dict[str, date] = {}
        for show in seen.shows:
            latest = latest_start(
                show.benching - timedelta(days=self.spare_days),
                self.nature.speck.high,
                self.nature.least_days,
                mean_on,
                max(seen.today, show.judging - timedelta(days=self.longest_days)),
            )
            if latest is None:
                continue
            days = [
                day
                for day in saturdays(seen.today, latest)
                if fit_to_sedate(mean_on(day)) and (show.judging - day).days <= self.longest_days
            ]
            if days:
                found[show.fish] = days[-1]
        today = frozenset(fish for fish, day in found.items() if day == seen.today)
        return Advice(today, found)


@dataclass
class ThePlanner:
    """The program itself, planned anew every week with what it remembers of the week before.

    Prices are 0 and `least_chance` is 0, so that the day alone is measured. It knows the table's
    specks and not the season's nature.
    """

    last: LastPlan | None = None

    def advise(self, seen: Seen) -> Advice:
        plan = make_plan(_as_season(seen), seen.today, last=self.last, costs=False)
        self.last = last_of(plan)
        found = {one.fish: one.touch_up for one in plan.verdicts if one.show == f"for-{one.fish}"}
        planned = {fish: one.day for fish, one in found.items() if one and one.day}
        promised = {fish: one.chance or 0.0 for fish, one in found.items() if one and one.day}
        today = frozenset(fish for fish, day in planned.items() if day == seen.today)
        kept_home = frozenset(
            one.fish
            for one in plan.verdicts
            if one.show == f"for-{one.fish}" and one.verdict == "not-eligible"
        )
        return Advice(today, planned, promised, kept_home)


def show_record(name: str, benching: date, judging: date, **more: object) -> records.Show:
    """A show an hour away, whose fish are benched in the afternoon and judged at ten."""
    return records.Show.model_validate(
        {
            "name": name,
            "judging": datetime.combine(judging, time(10)),
            "benching": datetime.combine(benching, time(15)),
            "arrive": {
                "from": datetime.combine(benching, time(13)),
                "to": datetime.combine(benching, time(20)),
            },
            "travel_hours": 1.0,
            "altered_fish": "tolerated",
        }
        | more
    )


def _as_season(seen: Seen) -> records.Season:
    """What a keeper sees, as a season's records: a fish with one speck for each show."""
    keeper = records.Keeper.model_validate(
        {
            "time_zone": "UTC",
            "work_days": ("saturday",),
            "carrying": {"tank_litres": 4000},  # no way is too long for a bag
            "waters": {"pond": {"monthly_c": seen.monthly_c, "readings_c": dict(seen.readings)}},
            "touch_up": {
                "by": "keeper",
                "law_checked": True,
                "law_country": "Ireland",
                "fish_per_day": 99,
            },
            "preferences": {
                "least_chance": 0.0,
                "touch_up_price": 0.0,
                "session_price": 0.0,
                "journey_price": {"show": 0.0, "hour": 0.0, "fish": 0.0},
                "worth_showing": 0.0,
                "use_own_pace": "when enough",
            },
        }
    )
    shows = {
        f"for-{one.fish}": show_record(one.fish, one.benching, one.judging) for one in seen.shows
    }
    fish = {
        one.fish: records.Fish.model_validate(
            {
                "name": one.fish,
                "variety": "kohaku",
                "sex": "male",
                "lives_in": "pond",
                "merit": 80.0,
                "lengths_cm": {seen.today - timedelta(days=1): 50.0},
                "never_show": tuple(show for show in shows if show != f"for-{one.fish}"),
                "defects": (
                    {
                        "kind": "shimi",
                        "where": "left shoulder",
                        "seen": seen.today - timedelta(days=1),
                        "merit_lost": 10.0,
                    },
                ),
            }
        )
        for one in seen.shows
    }
    return records.Season(keeper=keeper, shows=shows, fish=fish)


RULES: dict[str, Callable[[Season], Adviser]] = {
    "guard": lambda season: Guard(season.nature),
    "four weeks before": lambda _: FourWeeksBefore(),
    "best day, curve, once": lambda season: BestDayOnce(season.nature),
    "best day, planned anew": lambda season: BestDay(season.nature),
    "water known": lambda season: WaterKnown(season.nature, season=season),
}
"""Every rule by name, made anew for each season."""

PLANNER = "the planner"
WITH_PLANNER = {**RULES, PLANNER: lambda _: ThePlanner()}
"""The same with the whole program, which takes its time."""
