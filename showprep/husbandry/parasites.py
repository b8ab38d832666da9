"""Repeat doses against parasites, the clean scrape that ends them, and baths too near a show.

Nothing here says what to give, or how much: a vet and the product's own label come first. One dose
is seldom enough, since eggs and cysts outlive it; when the next one is due hangs on the warmth of
the water. No published trial on koi was found: the days are of keepers and traders.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from showprep.husbandry.figure_record import DERIVED, PRACTICE, Grade
from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.plausible import water_temperature
from showprep.husbandry.thermal_time import MeanOn

Level = Literal["fit", "warn", "block"]
Parasite = Literal["flukes", "white spot", "anchor worm", "fish lice"]
Substance = Literal[
    "permanganate", "formalin", "worm medicine", "insecticide", "other", "not named"
]

HORIZON_DAYS = 183
"""How far ahead a repeat dose is looked for [d]: fluke eggs lie for up to 6 months in the cold."""


class Schedule(Struct, frozen=True):
    """Doses in all, and days between two of them by water temperature.

    `days` holds pairs of temperature [°C] and days [d], from cold to warm: between two pairs on a
    straight line, above the last its days, below the first none can be named.
    """

    doses: int
    days: tuple[tuple[float, float], ...]
    grade: Grade
    source: str


SCHEDULES: dict[Parasite, Schedule] = {
    "flukes": Schedule(
        2,
        ((16, 7), (20, 5)),
        DERIVED,
        "a keepers' forum: above 16 °C again after 5 to 7 days; eggs hatch in about 4 days at "
        "20 °C and last up to 6 months in the cold, so the longer in the colder water",
    ),
    "white spot": Schedule(
        3,
        ((10, 10), (18, 6), (25, 4)),
        PRACTICE,
        "a UK trade page of 2007: three doses, 4 days apart at 25 °C, 6 at 18 °C, 10 at 10 °C",
    ),
    "anchor worm": Schedule(
        2,
        ((16, 7),),
        PRACTICE,
        "two keepers' pages: again after 7 days, or 5; the longer, since eggs mature within 14",
    ),
    "fish lice": Schedule(
        2,
        ((16, 14),),
        DERIVED,
        "eggs hatch in about 2 weeks, longer in colder water, so again once they have (an "
        "encyclopaedia on Argulus japonicus); below 16 °C no figure",
    ),
}

_NAMES: tuple[tuple[Substance, tuple[str, ...]], ...] = (
    ("permanganate", ("permangan", "kmno4", "condy")),
    ("formalin", ("formalin", "formaldehyd", "formol", "fmg")),
    ("worm medicine", ("praziquantel", "flubendazole", "triclabendazole")),
    ("insecticide", ("diflubenzuron", "trichlorfon", "lufenuron")),
)


def substance_in(treatment: str | None) -> Substance:
    """The active substance that the keeper's own words name; the harshest where there are two.

    `other` for words that name none of these, `not named` where nothing was written.
    """
    if treatment is None:
        return "not named"
    words = treatment.casefold()
    for substance, names in _NAMES:
        if any(name in words for name in names):
            return substance
    return "other"


def treated_against(told: str | None, substance: Substance) -> Parasite:
    """The parasite whose doses are counted: the one that was `told`, else one that the substance
    is given for.

    Unknown parasites go by the days of flukes, which are the sheets' for any parasite above 16 °C
    (common practice); an insecticide is given for anchor worm or fish lice, and by the sooner of
    the two.
    """
    for known in SCHEDULES:
        if told == known:
            return known
    return "anchor worm" if substance == "insecticide" else "flukes"


def days_to_next_dose(against: Parasite, water_c: float) -> float | None:
    """Days [d] between two doses in water of a steady `water_c` [°C]; None where none can be named.

    Raises ValueError for a temperature that koi water cannot have.
    """
    steps = SCHEDULES[against].days
    water_temperature(water_c)
    if water_c < steps[0][0]:
        return None
    for (low_c, low_days), (high_c, high_days) in pairwise(steps):
        if water_c < high_c:
            share = (water_c - low_c) / (high_c - low_c)
            return low_days + share * (high_days - low_days)
    return steps[-1][1]


def repeat_doses(against: Parasite, first: date, mean_on: MeanOn) -> tuple[date | None, ...]:
    """The days on which the doses after the `first` are due; None from where none can be named.

    In water of changing temperature each day counts as its share of the days needed at that day's
    temperature (derived); days too cold for a figure count nothing. A dose is due on the first day
    on which the shares make one.
    """
    due: list[date | None] = []
    last: date | None = first
    for _ in range(SCHEDULES[against].doses - 1):
        last = None if last is None else _next_dose(against, last, mean_on)
        due.append(last)
    return tuple(due)


def _next_dose(against: Parasite, last: date, mean_on: MeanOn) -> date | None:
    done = 0.0
    for number in range(1, HORIZON_DAYS + 1):
        day = last + timedelta(days=number)
        needed = days_to_next_dose(against, mean_on(day))
        done += 0.0 if needed is None else 1 / needed
        if done >= 1 - 1e-9:
            return day
    return None


def clean_scrape_counts_from(found: date, doses: Iterable[date], figures: FiguresInForce) -> date:
    """First day on which a clean scrape clears a water in which parasites were `found`.

    14 days after the last dose noted (derived, `parasite_clear_check`), or after the find where no
    dose is noted. Doses before the find do not count.
    """
    last = max((day for day in doses if day >= found), default=found)
    return last + timedelta(days=round(figures["parasite_clear_check"]))


def cleared_on(
    finds: Sequence[date],
    doses: Sequence[date],
    clean_scrapes: Sequence[date],
    figures: FiguresInForce,
) -> date | None:
    """The day on which a water was clear again after the last of its `finds`; None if it is not.

    A dose noted within the wait after a clean scrape belongs to the same course and starts the wait
    again; a later one was given for another reason. Raises ValueError without any find.
    """
    if not finds:
        raise ValueError("nothing was found, so there is nothing to clear")
    given = sorted(doses)
    wait = timedelta(days=round(figures["parasite_clear_check"]))
    for day in sorted(clean_scrapes):
        until = [dose for dose in given if dose <= day]
        again = any(day < dose <= day + wait for dose in given)
        if day >= clean_scrape_counts_from(max(finds), until, figures) and not again:
            return day
    return None


def after_bath_treatment(
    days: int, substance: Substance, figures: FiguresInForce, *, by_vet: bool = False
) -> Level:
    """Judge a departure `days` [d] after a bath treatment: `fit`, `warn` or `block`.

    Any treatment inside 14 days (`treatment_warn`) is a warning; permanganate or formalin inside 7
    (`treatment_stop`) a stop, and no more than a warning where a vet ordered it. Both change skin
    and gills even when the fish looks well. What was not named may have been either. Raises
    ValueError for a treatment after the departure.
    """
    if days < 0:
        raise ValueError("the treatment lies after the departure")
    if (
        days < figures["treatment_stop"]
        and substance in ("permanganate", "formalin", "not named")
        and not by_vet
    ):
        return "block"
    return "warn" if days < figures["treatment_warn"] else "fit"
