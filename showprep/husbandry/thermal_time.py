"""Thermal time: how much of its healing a day gives a wound, by the water it is in.

Two clocks, for the film of skin and the repair beneath it share no law. What goes through the
skin, and all colour, scales and fins, is counted in degree-days: a day whose mean water
temperature is T gives ``max(0, min(T, cap) - base)`` [°C d]. The film that closes a shallow wound
is counted in days (`skin_days`). The day a wound is made counts for nothing: what heals it is
gathered on the days after it. `CLOCKS` has the figures of both, with source and grade.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from datetime import date, timedelta

from showprep.husbandry.figure_record import CHOICE, DERIVED, Figure

MeanOn = Callable[[date], float]
"""Daily mean water temperature [°C] of the water a fish is in on a day."""

Gain = Callable[[float], float]
"""What one day of a mean water temperature [°C] gives, in the unit of a requirement."""

FILM = (
    "Bullock, Marks & Roberts 1978, plaice: skin over a wound in 12 h at 5 °C and 9 h at 10 °C;"
    " Andrews et al. 2015, Journal of Fish Diseases, salmon: 6 to 12 h at 4 °C, 4 to 6 h at 10 and"
    " 14 °C"
)
_LINE = (
    "the straight line is that of Anderson & Roberts 1975, Journal of Fish Biology 7:173-182, two"
    " teleosts at 5, 10, 23 and 30 °C, which would put the base below 5 °C"
)
CLOCKS: dict[str, Figure] = {
    row.name: row
    for row in (
        Figure("base", 5, 8, 10, "°C", DERIVED,
               "our choice, the careful end: the linear paper supports the line, not its base;"
               " Knights & Lasee 1996, Transactions of the American Fisheries Society, bluegill:"
               " little further healing in 56 days at 6 °C; Wishkovsky & Avtalion 1987: no antibody"
               f" response of carp at 12 °C; {_LINE}"),
        Figure("cap", 20, 26, 30, "°C", DERIVED,
               "our choice: no study of healing shows a plateau at 26 °C; Oyugi et al. 2012,"
               " Journal of Thermal Biology 37:89, carp feed and grow best from 20 to 24 °C and"
               f" worse at 28 °C; {_LINE}"),
        Figure("film_full", 5, 8, 10, "°C", DERIVED,
               f"our choice: from here on a day counts as one for the film of skin; {FILM}"),
        Figure("film_least", 4, 4, 5, "°C", DERIVED,
               f"below the coldest water it was watched in no day counts; {FILM}"),
        Figure("film_cold", 0.25, 0.5, 0.75, "d/d", CHOICE,
               "what a day from film_least to film_full counts; salmon took 1 to 3"
               f" times as long at 4 °C as at 14 °C; {FILM}"),
    )
}  # fmt: skip
"""The figures of both clocks. None of them is a setting."""

BASE_C = CLOCKS["base"].typical
CAP_C = CLOCKS["cap"].typical
HORIZON_DAYS = 1100
"""How far ahead a healing day is looked for [d]: three years; later is too slow to plan."""

_TOLERANCE = 1e-9  # fifteen days of 4 degree-days must make 60 whatever the rounding
_DAY = timedelta(days=1)


def degree_days(mean_c: float, base_c: float = BASE_C, cap_c: float = CAP_C) -> float:
    """Degree-days [°C d] that one day of mean temperature `mean_c` [°C] gives.

    Never negative. `base_c` 0 and `cap_c` infinite give the degree-days of the withdrawal
    periods in Regulation (EU) 2019/6, article 115. Raises ValueError if the temperature is not
    a number or the cap is not above the base.
    """
    if math.isnan(mean_c):
        raise ValueError("the water temperature of a day is not a number")
    if not cap_c > base_c:
        raise ValueError(f"the cap ({cap_c} °C) must lie above the base ({base_c} °C)")
    return max(0.0, min(mean_c, cap_c) - base_c)


def skin_days(mean_c: float) -> float:
    """What one day of mean temperature `mean_c` [°C] gives the film of skin [d]: 1, 0.5 or 0.

    A whole day from 8 °C on, half a day from 4 °C, nothing in colder water, where it was not
    watched. The film closes in hours in all water of 4 °C and more; no film of carp was read
    below 27 °C with its temperature, so days are asked for and twice as many in the cold (derived).
    Raises ValueError if the temperature is not a number.
    """
    if math.isnan(mean_c):
        raise ValueError("the water temperature of a day is not a number")
    if mean_c < CLOCKS["film_least"].typical:
        return 0.0
    return 1.0 if mean_c >= CLOCKS["film_full"].typical else CLOCKS["film_cold"].typical


def thermal_sum(
    daily_means: Iterable[float], base_c: float = BASE_C, cap_c: float = CAP_C
) -> float:
    """Degree-days [°C d] of a run of daily means [°C]."""
    return math.fsum([degree_days(mean, base_c, cap_c) for mean in daily_means])


def gathered(
    after: date, until: date, mean_on: MeanOn, base_c: float = BASE_C, cap_c: float = CAP_C
) -> float:
    """Degree-days [°C d] over the days later than `after`, up to and with `until`.

    Zero when `until` is not later than `after`.
    """
    return thermal_sum(map(mean_on, _days(after, until)), base_c, cap_c)


def gathered_by(gain: Gain, after: date, until: date, mean_on: MeanOn) -> float:
    """What `gain` gives over the days later than `after`, up to and with `until`, in its unit."""
    return math.fsum(map(gain, map(mean_on, _days(after, until))))


def first_day(
    after: date,
    requirement: float,
    least_days: int,
    mean_on: MeanOn,
    until: date | None = None,
    base_c: float = BASE_C,
    cap_c: float = CAP_C,
    gain: Gain | None = None,
) -> date | None:
    """First day by which `requirement` is gathered and `least_days` [d] have passed.

    In degree-days [°C d] over base and cap, or in the unit of `gain` where one is given. None if
    that day is not reached by `until` (HORIZON_DAYS after `after` when not given). Raises
    ValueError if the requirement or the least days are negative or not numbers.
    """
    _check(requirement, least_days)
    last = after + timedelta(days=HORIZON_DAYS) if until is None else until
    earliest = after + timedelta(days=least_days)
    need = requirement - _TOLERANCE
    total = 0.0
    if total >= need and after == earliest and after <= last:
        return after
    for day in _days(after, last):
        mean = mean_on(day)
        total += degree_days(mean, base_c, cap_c) if gain is None else gain(mean)
        if total >= need and day >= earliest:
            return day
    return None


def latest_start(
    finish_by: date,
    requirement: float,
    least_days: int,
    mean_on: MeanOn,
    not_before: date,
    base_c: float = BASE_C,
    cap_c: float = CAP_C,
    gain: Gain | None = None,
) -> date | None:
    """Latest day whose `first_day` is not later than `finish_by`.

    Walks back from `finish_by`, adding up the warmth. None if that day would lie before
    `not_before`. Raises ValueError as `first_day` does.
    """
    _check(requirement, least_days)
    latest = finish_by - timedelta(days=least_days)
    need = requirement - _TOLERANCE
    total = 0.0
    start = finish_by
    while start >= not_before:
        if total >= need and start <= latest:
            return start
        mean = mean_on(start)
        total += degree_days(mean, base_c, cap_c) if gain is None else gain(mean)
        start -= _DAY
    return None


def _days(after: date, until: date) -> Iterator[date]:
    return map(date.fromordinal, range(after.toordinal() + 1, until.toordinal() + 1))


def _check(requirement: float, least_days: int) -> None:
    if not requirement >= 0:
        raise ValueError(f"a healing requirement must be 0 or more, not {requirement}")
    if least_days < 0:
        raise ValueError(f"the least number of days must be 0 or more, not {least_days}")
