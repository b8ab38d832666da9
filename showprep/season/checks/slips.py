"""What is possible but most likely a slip of the pen: asked as a question, never a fault.

A line that ends with the comment `# sure` is not asked about. The bounds are assumptions: wide
enough that a true value is seldom asked about, near enough that a wrong digit, month or unit is.
"""

from __future__ import annotations

import importlib.resources
from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache, partial
from itertools import pairwise

from showprep.husbandry.water import YearCurve
from showprep.husbandry.weight import condition_k, kg_from_length
from showprep.season.checks.checked import Checked, Finding
from showprep.season.records import Fish
from showprep.season.values.days import MONTHS
from showprep.season.values.product import MG_PER_ML, PERCENT, product_strength
from showprep.season.values.quantities import (
    show_length,
    show_temperature,
    show_volume,
    show_weight,
)

FAR_FROM_NEIGHBOURS_C = 4.0  # a monthly mean from the middle of those beside it
FAR_FROM_CURVE_C = 6.0  # a reading from the curve through the monthly means
SEASONAL_C = 5.0  # with less between its coldest and warmest month a water has no winter to check
FAR_SHOW = timedelta(days=550)
EARLY_DUE = timedelta(days=200)  # before the fish arrive
LONG_AWAY = timedelta(days=60)
OLD_BLEMISH = timedelta(days=3 * 365)
LITRES_A_FISH = 150.0
CROWD = 5  # fewer fish may well live in a tub
FASTEST_CM_A_YEAR = 30.0  # of a fish measured twice, three months apart at least
LONGEST_AT_AGE_CM = (38.0, 58.0, 72.0, 85.0, 95.0)  # by years since it was born; then 110
LONGEST_CM = 110.0
LARGEST_SPECK_MM = 15.0
LARGEST_BLEMISH_MM = 150.0
THINNEST_K, FATTEST_K = 0.8, 2.8  # koi of 1.1 are thin and of 1.9 stout
WINTER = {1: "north", 2: "north", 3: "north", 12: "north", 6: "south", 7: "south", 8: "south"}
WINTER[9] = "south"


def _asked(path: tuple[object, ...], what: str, right: str) -> Finding:
    return Finding(path, what, right, "question")


def monthly_means(checked: Checked) -> Iterator[Finding]:
    """Each month lies near its neighbours, and the coldest one in the winter of the place."""
    keeper = checked.season.keeper
    shown_c = partial(show_temperature, units=keeper.units)
    for name, water in keeper.waters.items():
        means = water.monthly_c
        if means is None:
            continue
        for at, mean in enumerate(means):
            beside = (means[at - 1] + means[(at + 1) % 12]) / 2
            if abs(mean - beside) > FAR_FROM_NEIGHBOURS_C:
                what = (
                    f"{name}: is {MONTHS[at]} really {shown_c(mean)}, between "
                    f"{shown_c(means[at - 1])} and {shown_c(means[(at + 1) % 12])}?"
                )
                yield _asked(("keeper", "waters", name, "monthly_c", at), what, "look again")
        if max(means) - min(means) < SEASONAL_C:
            continue
        coldest = means.index(min(means)) + 1
        where = WINTER.get(coldest)
        if where is None or (where == "north") == _is_south(keeper.time_zone):
            what = f"{name}: is {MONTHS[coldest - 1]} your coldest month?"
            path = ("keeper", "waters", name, "monthly_c")
            yield _asked(path, what, "the twelve means begin with January")


@cache
def _is_south(time_zone: str) -> bool | None:
    """Does the zone's place lie south of the equator? None where the tz database has no place."""
    table = importlib.resources.files("tzdata").joinpath("zoneinfo", "zone.tab")
    for line in table.read_text("utf-8").splitlines():
        columns = line.split("\t")
        if len(columns) > 2 and columns[2] == time_zone:
            return columns[1].startswith("-")
    return None


def readings(checked: Checked) -> Iterator[Finding]:
    """A temperature that was read lies near what the water has at that time of the year."""
    keeper = checked.season.keeper
    usual = {}
    for name, water in keeper.waters.items():
        if water.monthly_c is not None:
            usual[name] = YearCurve.from_monthly_means(water.monthly_c).on
    read: list[tuple[tuple[object, ...], str, date, float]] = [
        (("keeper", "waters", name, "readings_c", day), name, day, c)
        for name, water in keeper.waters.items()
        for day, c in water.readings_c.items()
    ]
    read += [
        (("journal", at, "read_c"), entry.water, entry.on, entry.read_c)
        for at, entry in enumerate(checked.season.journal)
        if entry.read_c is not None and entry.water is not None
    ]
    for path, name, day, c in read:
        if name in usual and abs(c - usual[name](day)) > FAR_FROM_CURVE_C:
            said, mean = (
                show_temperature(one, keeper.units) for one in (c, round(usual[name](day), 1))
            )
            what = f"{name}: {said} on {day}, where your monthly means give {mean}?"
            yield _asked(path, what, "see the day, the number and its unit")


def crowded(checked: Checked) -> Iterator[Finding]:
    """A water has room for the fish that live in it."""
    keeper = checked.season.keeper
    living = Counter(one.lives_in for one in checked.season.fish.values())
    for name, water in keeper.waters.items():
        fish = living[name]
        if water.litres is not None and fish > CROWD and water.litres < LITRES_A_FISH * fish:
            said = show_volume(water.litres, keeper.units)
            path = ("keeper", "waters", name, "litres")
            yield _asked(path, f"{name}: {fish} fish in {said}?", "see the number and its unit")


def days_of_shows(checked: Checked) -> Iterator[Finding]:
    """A show lies near the day of the plan, and what it asks for near the show."""
    for name, show in checked.season.shows.items():
        judging = show.judging.date()
        if not show.cancelled and abs(judging - checked.on) > FAR_SHOW:
            what = f"judging on {judging}, when today is {checked.on}?"
            yield _asked(("shows", name, "judging"), what, "see the year")
            continue
        for key in ("entries_close", "photos_due", "vat_booked_by"):
            day = getattr(show, key)
            if day is not None and judging - day > EARLY_DUE:
                what = f"{day}, {(judging - day).days} days before judging on {judging}?"
                yield _asked(("shows", name, key), what, "see the month and the year")


def weak_bottle(checked: Checked) -> Iterator[Finding]:
    """The oil is not so weak that a decimal place may be missing: the dose would be tenfold."""
    touch_up = checked.season.keeper.touch_up
    try:
        strength = product_strength(touch_up)
    except ValueError:
        return  # a fault already
    if strength is not None and strength.is_weak:
        key, said = PERCENT, touch_up.strength_percent
        if said is None:
            key, said = MG_PER_ML, touch_up.strength_mg_per_ml
        what = f"{key}: is the bottle really as weak as {said}?"
        right = "bottles for fish are mostly of 10 % or undiluted; a wrong digit is a deadly dose"
        yield _asked(("keeper", "touch_up", key), what, right)


def long_away(checked: Checked) -> Iterator[Finding]:
    for at, away in enumerate(checked.season.keeper.away):
        if away.to - away.from_ > LONG_AWAY:
            what = f"away for {(away.to - away.from_).days + 1} days?"
            yield _asked(("keeper", "away", at), what, "see the month of both days")


def births_and_lengths(checked: Checked) -> Iterator[Finding]:
    """A fish is born before it is measured, and grows no faster than koi do."""
    shown_cm = partial(show_length, units=checked.season.keeper.units)
    for name, fish in checked.season.fish.items():
        path = ("fish", name)
        born = _birth_year(fish)
        if born is not None and born > checked.on.year:
            what = f"born in {born}, when today is {checked.on}?"
            yield _asked((*path, "born"), what, "see the year")
            continue
        lengths = sorted(fish.lengths_cm.items())
        for day, length in lengths:
            if born is not None and day.year < born:
                what = f"measured on {day}, and born in {born}?"
                yield _asked((*path, "lengths_cm", day), what, "see both years")
            elif length > (most := _longest_at(born, day)):
                aged = f" and born in {born}" if born is not None else ""
                what = f"{shown_cm(length)} on {day}{aged}, where {shown_cm(most)} is very long?"
                yield _asked((*path, "lengths_cm", day), what, "see the number, its unit, the year")
        for (day, length), (later, grown) in pairwise(lengths):
            years = max((later - day).days, 90) / 365.25
            if grown - length > FASTEST_CM_A_YEAR * years + 3:
                what = f"from {shown_cm(length)} on {day} to {shown_cm(grown)} on {later}?"
                yield _asked((*path, "lengths_cm", later), what, "see both numbers and both days")


def _birth_year(fish: Fish) -> int | None:
    return fish.born.year if isinstance(fish.born, date) else fish.born


def _longest_at(born: int | None, day: date) -> float:
    if born is None or day.year < born:
        return LONGEST_CM
    years = day.year - born
    return LONGEST_AT_AGE_CM[years] if years < len(LONGEST_AT_AGE_CM) else LONGEST_CM


def weights(checked: Checked) -> Iterator[Finding]:
    """A weight fits the length that was measured nearest to it."""
    units = checked.season.keeper.units
    for name, fish in checked.season.fish.items():
        for day, kilograms in fish.weights_kg.items():
            near = min(fish.lengths_cm, key=lambda one: (abs(one - day), one), default=None)
            if near is None or abs(near - day) > timedelta(days=180):
                continue
            length = fish.lengths_cm[near]
            if not THINNEST_K <= condition_k(1000 * kilograms, length) <= FATTEST_K:
                usual = show_weight(kg_from_length(length), units)
                what = (
                    f"{show_weight(kilograms, units)} with {show_length(length, units)}, "
                    f"where about {usual} is usual?"
                )
                path = ("fish", name, "weights_kg", day)
                yield _asked(path, what, "see both numbers and their units")


def blemishes(checked: Checked) -> Iterator[Finding]:
    """A blemish is no larger than can be, and was not seen years ago."""
    for name, fish in checked.season.fish.items():
        for at, defect in enumerate(fish.defects):
            path = ("fish", name, "defects", at)
            most = LARGEST_SPECK_MM if defect.kind == "shimi" else LARGEST_BLEMISH_MM
            if defect.size_mm is not None and defect.size_mm > most:
                said = show_length(defect.size_mm / 10, checked.season.keeper.units)
                what = f"a {defect.kind} of {said}?"
                yield _asked((*path, "size_mm"), what, "the size is in millimetres")
            if defect.clean is None and checked.on - defect.seen > OLD_BLEMISH:
                what = f"seen on {defect.seen}, and still there on {checked.on}?"
                yield _asked((*path, "seen"), what, "see the year; once it is gone, add clean")


SLIP_CHECKS = (
    readings,
    crowded,
    days_of_shows,
    births_and_lengths,
    weights,
    blemishes,
)
OF_THE_YARD = (monthly_means, weak_bottle, long_away)
