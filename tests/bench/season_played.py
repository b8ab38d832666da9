"""A season played week by week by an obedient keeper, with a truth that nobody in it knows.

Each show has one fish with one speck. The truth is drawn: the base of healing, what the fish asks
for, when the speck is back. The water is a real record; the keeper knows the monthly means of its
other years and reads it every week. On every work day an adviser says which fish to touch up
today; it is done if the water lets it, by the limits that the program keeps for the fish's sake.
Every rule is held to them, else one would gain by what the other may not do. A fish is shown clean
if its speck was taken off, had healed by benching and was not back by judging.

An adviser sees what a keeper can see (`Seen`), so the whole planner can stand here as well as a
rule. Only `WaterKnown` and the oracle are told more, by the `Hidden` they are made with.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random
from typing import Protocol

from showprep.husbandry.healing_base import ANCHOR_C, BASES_C, anchored
from showprep.husbandry.speck_return import RETURN_WEEKS
from showprep.husbandry.split_log_normal import SplitLogNormal
from tests.bench.open_waters import SiteYear

SPECK = SplitLogNormal(100, 180, 320)
WARM_ENOUGH_C = 10.0  # no sedation in colder water
TOO_WARM_C = 28.0  # nor in warmer
TOO_WARM_FOR_A_BAG_C = 30.0
FALL_C, FALL_DAYS = 8.0, 35  # nor so soon after so great a fall
READING_SPREAD_C = 0.3
FIRST_SHOW, LAST_SHOW = (5, 15), (9, 25)
_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Nature:
    """What specks do: the shares of the bases, degree-days over 8 °C, weeks until they are back."""

    bases: tuple[tuple[float, float], ...] = BASES_C
    speck: SplitLogNormal = SPECK
    least_days: int = 7
    weeks: SplitLogNormal = RETURN_WEEKS

    def over(self, base_c: float) -> SplitLogNormal:
        """The requirement in degree-days over another base [°C]."""
        return anchored(self.speck, ANCHOR_C, base_c)


@dataclass(frozen=True, slots=True)
class Show:
    """A show and the one fish prepared for it; judged the day after benching."""

    fish: str
    benching: date

    @property
    def judging(self) -> date:
        return self.benching + _DAY


@dataclass(frozen=True, slots=True)
class Truth:
    """What nobody knows of a fish: base [°C], requirement [degree-days over it], return [days]."""

    base_c: float
    need: float
    back_after_days: float


@dataclass(frozen=True, slots=True)
class Seen:
    """What a keeper knows on a day: the curve, the readings so far, the shows ahead."""

    today: date
    monthly_c: tuple[float, ...]
    readings: Mapping[date, float]
    shows: tuple[Show, ...]  # of fish not yet touched up


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do today, and what is planned and promised: chances by fish, 0 to 1."""

    touch_up: frozenset[str] = frozenset()
    planned: Mapping[str, date] = field(default_factory=dict)
    promised: Mapping[str, float] = field(default_factory=dict)
    kept_home: frozenset[str] = frozenset()
    """Fish that may not go at all, by a rule that has nothing to do with the day."""


class Adviser(Protocol):
    """Anything that can tell an obedient keeper what to do on a day."""

    def advise(self, seen: Seen) -> Advice: ...


@dataclass(frozen=True, slots=True)
class Played:
    """What came of one fish: when it was touched up, what was promised, what the judge saw.

    `expected` is the chance, with the water as it came and the truth not yet drawn. `kept_home`:
    it was not touched up because at the last it was not to go at all.
    """

    show: Show
    touched: date | None
    promised: float
    clean: bool
    expected: float
    moves: int
    kept_home: bool = False


@dataclass(frozen=True, slots=True)
class Season:
    """A water's year with its shows, its fish's truths and the keeper's readings."""

    water: SiteYear
    shows: tuple[Show, ...]
    truths: Mapping[str, Truth]
    readings: Mapping[date, float]
    nature: Nature


def invented(water: SiteYear, shows: int, seed: str, nature: Nature | None = None) -> Season:
    """Shows, readings and hidden truths of one site-year; the same seed gives the same.

    A show on a day on which the water is too warm for a bag is none: nobody goes, by any rule.
    """
    draw = Random(f"{seed}/{water.site}/{water.year}")
    first, last = (date(water.year, *ends) for ends in (FIRST_SHOW, LAST_SHOW))
    step = (last - first).days / shows
    going = []
    for number in range(shows):
        day = first + timedelta(days=int((number + draw.random()) * step))
        friday = day + timedelta(days=(4 - day.weekday()) % 7)
        if water.water_c[friday] <= TOO_WARM_FOR_A_BAG_C:
            going.append(Show(f"fish{number}", friday))
    readings = {
        day: max(c + draw.gauss(0, READING_SPREAD_C), 0.0)
        for day, c in sorted(water.water_c.items())
        if day.weekday() == 5
    }
    specks = nature or Nature()
    truths = {show.fish: truth(draw, specks) for show in going}
    return Season(water, tuple(going), truths, readings, specks)


def truth(draw: Random, specks: Nature) -> Truth:
    (base,) = draw.choices(*zip(*specks.bases, strict=True))
    need = specks.over(base).quantile(min(max(draw.random(), 1e-9), 1 - 1e-9))
    weeks = specks.weeks.quantile(min(max(draw.random(), 1e-9), 1 - 1e-9))
    return Truth(base, need, 7 * weeks)


def saturdays(first: date, last: date) -> list[date]:
    """The work days from the first day to the last."""
    day = first + timedelta(days=(5 - first.weekday()) % 7)
    return [day + timedelta(weeks=number) for number in range(max((last - day).days // 7 + 1, 0))]


def warmth(water_c: Mapping[date, float], base_c: float, after: date, until: date) -> float:
    """Degree-days [°C d] of the true water after one day, up to and with another."""
    total = 0.0
    for number in range((until - after).days):
        total += max(0.0, min(water_c[after + (number + 1) * _DAY], 26.0) - base_c)
    return total


def is_clean(season: Season, show: Show, touched: date | None) -> bool:
    """What the judge sees."""
    if touched is None or (show.benching - touched).days < season.nature.least_days:
        return False
    truth = season.truths[show.fish]
    had = warmth(season.water.water_c, truth.base_c, touched, show.benching)
    return truth.need <= had and truth.back_after_days > (show.judging - touched).days


def expected_clean(season: Season, show: Show, touched: date | None) -> float:
    """The chance of a clean fish with the water as it came, over all truths."""
    if touched is None or (show.benching - touched).days < season.nature.least_days:
        return 0.0
    healed = sum(
        share
        * season.nature.over(base).share_below(
            warmth(season.water.water_c, base, touched, show.benching)
        )
        for base, share in season.nature.bases
    )
    back = season.nature.weeks.share_below((show.judging - touched).days / 7)
    return healed * (1 - back)


def fit_to_sedate(c: float) -> bool:
    """Is water of so many °C fit for sedation?"""
    return WARM_ENOUGH_C <= c <= TOO_WARM_C


def may_sedate(readings: Mapping[date, float], water_c: Mapping[date, float], day: date) -> bool:
    """May a fish be sedated on a day? Every rule and the oracle are held to it.

    Not in water too cold or too warm, nor within 35 days of a fall by 8 °C or more: by the keeper's
    readings, as nobody beside the pond knows more.
    """
    warmest = -math.inf
    for number in range(FALL_DAYS, -1, -1):
        read = readings.get(day - number * _DAY)
        if read is not None:
            warmest = max(warmest, read)
            if warmest - read >= FALL_C:
                return False
    return fit_to_sedate(readings.get(day, water_c[day]))


def play(season: Season, adviser: Adviser) -> list[Played]:
    """Play the season with one adviser, Saturday by Saturday."""
    touched: dict[str, date] = {}
    promised: dict[str, float] = {}
    planned: dict[str, date] = {}
    moves: dict[str, int] = {}
    kept: frozenset[str] = frozenset()
    last = max((show.benching for show in season.shows), default=date.min)
    for today in saturdays(date(season.water.year, 2, 10), last):
        ahead = tuple(
            show
            for show in season.shows
            if show.fish not in touched and 0 < (show.benching - today).days <= 13 * 7
        )
        if not ahead:
            continue
        readings = {day: c for day, c in season.readings.items() if day <= today}
        advice = adviser.advise(Seen(today, season.water.monthly_c, readings, ahead))
        for fish, day in advice.planned.items():
            if fish in planned and planned[fish] != day:
                moves[fish] = moves.get(fish, 0) + 1
            planned[fish] = day
        promised.update(advice.promised)
        kept = (kept - {show.fish for show in ahead}) | advice.kept_home
        for fish in sorted(advice.touch_up & {show.fish for show in ahead}):
            if may_sedate(season.readings, season.water.water_c, today):
                touched[fish] = today
    return [
        Played(
            show,
            touched.get(show.fish),
            promised.get(show.fish, 0.0) if show.fish in touched else 0.0,
            is_clean(season, show, touched.get(show.fish)),
            expected_clean(season, show, touched.get(show.fish)),
            moves.get(show.fish, 0),
            show.fish in kept and show.fish not in touched,
        )
        for show in season.shows
    ]


def oracle(season: Season) -> list[bool]:
    """Which fish a keeper could have shown clean who knew the truth and the water."""
    found: list[bool] = []
    for show in season.shows:
        days: Sequence[date] = saturdays(show.benching - timedelta(weeks=26), show.benching)
        found.append(
            any(
                may_sedate(season.readings, season.water.water_c, day)
                and is_clean(season, show, day)
                for day in days
                if day in season.water.water_c
            )
        )
    return found
