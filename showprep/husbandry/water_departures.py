"""How far an open water may stray from its yearly curve, on the days after and between readings.

The departure x(d) of day d, water less curve [°C], is taken as normal with mean 0 and

    k(d, e) = g(d) g(e) [s1² (1 + √3 t/l) exp(-√3 t/l) + s2² exp(-t/u)] + s0²,  t = |d - e|:

a smooth fast part (the weather's own memory and the pond's), a slow part (the season's), and an
offset of the year. Plain exponential kernels fit daily water badly. The figures were fitted to
78 site-years of ponds worked out from real weather and of one measured stream (derived, by
maximum likelihood; with resampled years s1 1.86 to 2.00 °C, l 3.9 to 4.3 d, s2 1.00 to 1.32 °C,
u 31 to 56 d, s0 0 to 0.44 °C). No measured koi pond was found.

Given readings y on days t with the error r, the departures on days f have
mean k(f,t) K⁻¹ y and covariance k(f,f) - k(f,t) K⁻¹ k(t,f), K = k(t,t) + r² I. The spread is
learned from the readings: the covariance times (8 + y' K⁻¹ y) / (8 + n) (the 8 is an
assumption). A brook strays less than a pond, and its readings say so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from operator import mul

from msgspec import Struct

_ROOT_3 = math.sqrt(3)
_SPREAD_COUNT = 8.0
_REACH_DAYS = 150  # the slow part has faded to 3 % by then
_DENSE_DAYS = 28  # of the readings before the last four weeks one in three days is enough
_THIN_DAYS = 3


class Kernel(Struct, frozen=True):
    """The departures' memory: spreads [°C], lengths [d], and the size of each month's departures.

    `by_month` is g, January first. March to October are fitted; November to February take the
    nearest of them (assumption).
    """

    fast_c: float = 1.92
    fast_days: float = 4.03
    slow_c: float = 1.18
    slow_days: float = 43.3
    year_c: float = 0.0
    by_month: tuple[float, ...] = (
        0.93, 0.93, 0.93, 1.08, 1.11, 1.08, 0.97, 0.89, 0.95, 0.97, 0.97, 0.97,
    )  # fmt: skip
    reading_c: float = 0.3
    """Error of one reading [°C], standard deviation (assumption)."""

    def at_lag(self, days: float) -> float:
        """Covariance [°C²] of two days of one year so far apart [d], where g is 1."""
        return self._moving(days) + self.year_c**2

    def between(self, first: date, second: date) -> float:
        """Covariance [°C²] of the departures of two days."""
        g = self.by_month[first.month - 1] * self.by_month[second.month - 1]
        year = self.year_c**2 if first.year == second.year else 0.0
        return g * self._moving(abs((second - first).days)) + year

    def _moving(self, days: float) -> float:
        reach = _ROOT_3 * days / self.fast_days
        fast = self.fast_c**2 * (1 + reach) * math.exp(-reach)
        return fast + self.slow_c**2 * math.exp(-days / self.slow_days)


class Departures(Struct, frozen=True):
    """Departures [°C] of the days from `first` on: their means and their covariance [°C²].

    `spread` is the learned factor already in the covariance; `log_density` that of the readings
    before it was learned; `readings` how many days with a reading were used.
    """

    first: date
    means_c: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    spread: float
    log_density: float
    readings: int


def departures_given(
    differences: Iterable[tuple[date, float]],
    first: date,
    last: date,
    kernel: Kernel | None = None,
    learn_spread: bool = True,
) -> Departures:
    """The departures from `first` to `last`, given (day, reading less curve [°C]).

    Several readings of a day count as their mean. Readings more than 150 days before `first` or
    after `last` are not used, and of those older than four weeks before the newest only one in
    three days. Raises ValueError if `last` lies before `first`.
    """
    if last < first:
        raise ValueError(f"the last day ({last}) lies before the first ({first})")
    known = Kernel() if kernel is None else kernel
    days = [first + timedelta(days=number) for number in range((last - first).days + 1)]
    read = _used(differences, first, last)
    at = [day for day, _ in read]
    table = _Table(known, days, at)
    among = [table.row(one, at) for one in at]
    for place, row in enumerate(among):
        row[place] += known.reading_c**2
    root = _cholesky(among)
    told = _solve(root, [c for _, c in read])
    size = math.fsum(one * one for one in told)
    spread = (_SPREAD_COUNT + size) / (_SPREAD_COUNT + len(at)) if learn_spread else 1.0
    rows = [_solve(root, table.row(day, at)) for day in days]
    means = tuple(math.fsum(map(mul, row, told)) for row in rows)
    density = -size / 2 - math.fsum(math.log(root[n][n]) for n in range(len(at)))
    density -= len(at) / 2 * math.log(2 * math.pi)
    return Departures(first, means, _left(table, len(days), rows, spread), spread, density, len(at))


class _Table:
    """The kernel with its exponentials worked out once for every distance.

    `days` follow each other; `others` are any days besides.
    """

    def __init__(self, kernel: Kernel, days: Sequence[date], others: Sequence[date]) -> None:
        every = [*days, *others]
        numbers = [day.toordinal() for day in every]
        self._lags = [kernel._moving(lag) for lag in range(max(numbers) - min(numbers) + 1)]
        self._sizes = [kernel.by_month[day.month - 1] for day in days]
        self._years = [day.year for day in days]
        self._year = kernel.year_c**2
        self._place = {
            day: (day.toordinal(), kernel.by_month[day.month - 1], day.year) for day in every
        }

    def row(self, day: date, others: Sequence[date]) -> list[float]:
        """Covariances of one day with others."""
        number, g, year = self._place[day]
        lags, offset, place = self._lags, self._year, self._place
        found = []
        for other in others:
            its_number, its_g, its_year = place[other]
            told = g * its_g * lags[abs(its_number - number)]
            found.append(told + offset if offset and its_year == year else told)
        return found

    def up_to(self, at: int) -> list[float]:
        """Covariances of the day in place `at` of `days` with those up to it."""
        g = self._sizes[at]
        told = [g * size for size in map(mul, self._sizes, self._lags[at::-1])]
        if self._year:
            new_year = self._years.index(self._years[at])
            told[new_year:] = [one + self._year for one in told[new_year:]]
        return told


def _left(
    table: _Table, count: int, rows: Sequence[Sequence[float]], spread: float
) -> tuple[tuple[float, ...], ...]:
    """What the readings leave open of the covariance of `count` days, by rows, both halves."""
    half = []
    for at in range(count):
        row = rows[at]
        before = table.up_to(at)
        if row:
            half.append(
                [
                    spread * (k - sum(map(mul, row, other)))
                    for k, other in zip(before, rows, strict=False)
                ]
            )
        else:
            half.append([spread * k for k in before])
        half[at][at] = max(half[at][at], 0.0)
    return tuple((*half[at], *(half[to][at] for to in range(at + 1, count))) for at in range(count))


def _used(
    differences: Iterable[tuple[date, float]], first: date, last: date
) -> list[tuple[date, float]]:
    reach = timedelta(days=_REACH_DAYS)
    several: dict[date, list[float]] = {}
    for day, c in differences:
        if not math.isfinite(c):
            raise ValueError(f"the difference of {day} is not a number")
        if first - reach <= day <= last + reach:
            several.setdefault(day, []).append(c)
    days = sorted(several, reverse=True)
    kept: list[date] = []
    for day in days:
        dense = (days[0] - day).days < _DENSE_DAYS
        if dense or not kept or (kept[-1] - day).days >= _THIN_DAYS:
            kept.append(day)
    return [(day, math.fsum(several[day]) / len(several[day])) for day in reversed(kept)]


def _cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """The lower root of a positive definite matrix."""
    root: list[list[float]] = []
    for at, row in enumerate(matrix):
        new: list[float] = []
        for to in range(at):
            done = root[to]
            new.append((row[to] - sum(map(mul, new, done))) / done[to])
        new.append(math.sqrt(row[at] - sum(map(mul, new, new))))
        root.append(new)
    return root


def _solve(root: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """The solution of root · x = right, from the top down."""
    found: list[float] = []
    for row, value in zip(root, right, strict=True):
        found.append((value - sum(map(mul, found, row))) / row[len(found)])
    return found
