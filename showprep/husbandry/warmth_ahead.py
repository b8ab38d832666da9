"""The degree-days of days whose water is not yet known: their mean, and how sure they are.

A day whose water is normal with mean m and spread s gives between base b and cap c, with
u = (b - m)/s and v = (c - m)/s (elementary integral),

    E = (m - b)[Φ(v) - Φ(u)] + s[φ(u) - φ(v)] + (c - b)[1 - Φ(v)]

degree-days on average, and moves by h = Φ(v) - Φ(u) for each degree of departure. So the sum of
several days has about the variance h' C h, C the covariance of the days (derived). Days are never
taken as independent: that would make the spread of four weeks three times too small.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from datetime import date
from itertools import accumulate
from operator import mul
from statistics import NormalDist

from showprep.husbandry.normal_scores import NODES
from showprep.husbandry.split_log_normal import normal_share
from showprep.husbandry.thermal_time import BASE_C, CAP_C, degree_days, skin_days
from showprep.husbandry.water_departures import Departures

Span = tuple[date, date]
"""The days later than the first, up to and with the second."""

_PARTS = 5  # of a tail of a normal, each stood for by its middle
_NO_TAIL = 1e-6


def clipped_day(
    mean_c: float, spread_c: float, base_c: float = BASE_C, cap_c: float = CAP_C
) -> tuple[float, float]:
    """Mean degree-days of a day [°C d], and the share h of a departure that counts, 0 to 1.

    Raises ValueError for a spread below 0 and as `degree_days` does.
    """
    if not spread_c >= 0:
        raise ValueError(f"a spread must be 0 °C or more, not {spread_c}")
    held = degree_days(mean_c, base_c, cap_c)
    if spread_c == 0:
        return held, 1.0 if base_c < mean_c < cap_c else 0.0
    u, v = (base_c - mean_c) / spread_c, (cap_c - mean_c) / spread_c
    if u < -8 and v > 8:
        return held, 1.0
    counts = normal_share(v) - normal_share(u)
    mean = (mean_c - base_c) * counts + spread_c * (_density(u) - _density(v))
    return mean + (cap_c - base_c) * normal_share(-v), counts


class Warmth:
    """What a fish gathers along its course: the mean of each day's water, and its covariance.

    `means_c` [°C] are those of the days from `first` on, `covariance` [°C²] that of their
    departures. Days before and after have no figure: asking for them raises ValueError.
    """

    def __init__(
        self, first: date, means_c: Sequence[float], covariance: Sequence[Sequence[float]]
    ) -> None:
        if len(covariance) != len(means_c):
            raise ValueError("every day needs its row of the covariance")
        self.first = first
        self.means_c = tuple(means_c)
        self._covariance = covariance
        self._days: dict[float, tuple[list[float], list[float]]] = {}
        self._variances: dict[tuple[float, int], list[float]] = {}
        self._within: dict[tuple[date, date, float, float], float] = {}
        self._film: list[list[float]] = []
        self.answers: dict[Hashable, tuple[object, float]] = {}
        """Chances already worked out along this course, each beside what it was asked about."""

    def mean(self, base_c: float, span: Span) -> float:
        """Mean degree-days [°C d] over a span; 0 for an empty one."""
        after, until = self._ends(span)
        known = self._of(base_c)[0]
        return known[until] - known[after]

    def variance(self, base_c: float, span: Span) -> float:
        """Variance [(°C d)²] of the degree-days over a span."""
        after, until = self._ends(span)
        known = self._variances.setdefault((base_c, until), [0.0])
        counts = self._of(base_c)[1]
        while len(known) <= until - after:
            at = until - len(known)  # one day further back
            row = self._covariance[at]
            told = sum(map(mul, row[at + 1 : until], counts[at + 1 : until]))
            known.append(known[-1] + counts[at] * (counts[at] * row[at] + 2 * told))
        return max(known[until - after], 0.0)

    def covariance(self, base_c: float, one: Span, other: Span) -> float:
        """Covariance [(°C d)²] of the degree-days over two spans."""
        if one == other:
            return self.variance(base_c, one)
        after, until = self._ends(one)
        start, stop = self._ends(other)
        counts = self._of(base_c)[1]
        weights = counts[start:stop]
        return math.fsum(
            counts[at] * sum(map(mul, self._covariance[at][start:stop], weights))
            for at in range(after, until)
        )

    def film(self, span: Span) -> tuple[tuple[float, float], ...]:
        """Days of the film of skin [d] over a span: (weight, days) of several waters.

        The film closes within a few days, and so near to each other days are cold or warm
        together: all of them stray by the same number of spreads (assumption; careful, as nothing
        cancels out).
        """
        if not self._film:
            spreads = [
                math.sqrt(max(self._covariance[at][at], 0.0)) for at in range(len(self.means_c))
            ]
            self._film = [
                [
                    0.0,
                    *accumulate(
                        skin_days(mean + z * far)
                        for mean, far in zip(self.means_c, spreads, strict=True)
                    ),
                ]
                for z, _ in NODES
            ]
        after, until = self._ends(span)
        return tuple(
            (weight, sums[until] - sums[after])
            for (_, weight), sums in zip(NODES, self._film, strict=True)
        )

    def chance_within(self, day: date, low_c: float, high_c: float) -> float:
        """The chance, 0 to 1, that the water of a day has from `low_c` to `high_c` [°C].

        Raises ValueError for a day without a figure.
        """
        mean, spread = self._day(day)
        return _share_within(mean, spread, low_c, high_c)

    def chance_within_after(self, first: date, day: date, low_c: float, high_c: float) -> float:
        """The same of a day if the water of another, `first`, has less or more than that.

        A cold week makes a cold one after it likelier: the water of `day` is normal given that of
        `first` (regression of one normal on another), averaged over equal parts of what lies
        outside. Raises ValueError for a day without a figure.
        """
        asked = first, day, low_c, high_c
        if asked not in self._within:
            self._within[asked] = self._within_after(first, day, low_c, high_c)
        return self._within[asked]

    def _within_after(self, first: date, day: date, low_c: float, high_c: float) -> float:
        (mean, spread), (then, wide) = self._day(first), self._day(day)
        if spread <= 0:
            return _share_within(then, wide, low_c, high_c)
        told = self._covariance[(first - self.first).days][(day - self.first).days] / spread
        left = math.sqrt(max(wide**2 - told**2, 0.0))
        cold, hot = normal_share((low_c - mean) / spread), normal_share((mean - high_c) / spread)
        inside = 0.0
        for tail, side in ((cold, 1.0), (hot, -1.0)):
            if tail < _NO_TAIL:
                continue
            for part in range(_PARTS):
                far = side * NormalDist().inv_cdf(tail * (part + 0.5) / _PARTS)
                inside += tail * _share_within(then + told * far, left, low_c, high_c) / _PARTS
        outside = cold + hot
        return inside / outside if outside >= _NO_TAIL else 0.0

    def _day(self, day: date) -> tuple[float, float]:
        """Mean and spread [°C] of the water of a day."""
        at = (day - self.first).days
        if not 0 <= at < len(self.means_c):
            raise ValueError(f"the water of {day} is not known here")
        return self.means_c[at], math.sqrt(max(self._covariance[at][at], 0.0))

    def after_reading(self, day: date, far: float, error_c: float) -> Warmth:
        """The same as it would be known after one more reading on `day`.

        The reading is `far` of its own standard deviations warmer than expected; `error_c` [°C] is
        its error. By the rule for a normal distribution given one of its sums: the means move by
        C(f, day) far / s, and C less C(f, day) C(day, g) / s² is left, s² = C(day, day) + error².
        Raises ValueError for a day without a figure.
        """
        at = (day - self.first).days
        if not 0 <= at < len(self.means_c):
            raise ValueError(f"the water of {day} is not known here")
        row = self._covariance[at]
        size = row[at] + error_c**2
        means = [m + c * far / math.sqrt(size) for m, c in zip(self.means_c, row, strict=True)]
        left = [
            [k - pull * c / size for k, c in zip(line, row, strict=True)] if pull else line
            for line, pull in zip(self._covariance, row, strict=True)
        ]
        return Warmth(self.first, means, left)

    def _of(self, base_c: float) -> tuple[list[float], list[float]]:
        """Mean degree-days gathered before each day, and the share h of each day."""
        if base_c not in self._days:
            days = [
                clipped_day(mean, math.sqrt(max(self._covariance[at][at], 0.0)), base_c)
                for at, mean in enumerate(self.means_c)
            ]
            sums = [0.0, *accumulate(mean for mean, _ in days)]
            self._days[base_c] = sums, [counts for _, counts in days]
        return self._days[base_c]

    def _ends(self, span: Span) -> tuple[int, int]:
        """The span as places in the list of days: from the first of them, up to the second."""
        after, until = (span[0] - self.first).days + 1, (span[1] - self.first).days + 1
        if until <= after:
            return 0, 0
        if after < 0 or until > len(self.means_c):
            raise ValueError(f"the water of {span[0]} to {span[1]} is not known here")
        return after, until


def _share_within(mean_c: float, spread_c: float, low_c: float, high_c: float) -> float:
    if spread_c <= 0:
        return float(low_c <= mean_c <= high_c)
    below = normal_share((low_c - mean_c) / spread_c)
    return max(normal_share((high_c - mean_c) / spread_c) - below, 0.0)


def held_steady(first: date, means_c: Sequence[float]) -> Warmth:
    """Warmth of water that is known for certain: a heated vat, or a year already over."""
    nothing = (0.0,) * len(means_c)
    return Warmth(first, means_c, [nothing] * len(means_c))


def along_course(
    first: date, means_c: Sequence[float], waters: Sequence[Departures | None]
) -> Warmth:
    """Warmth along a fish's course: each day's mean [°C] and the water it is in that day.

    None is a water held steady. Days in one water share its path; the paths of two waters are
    taken as independent (assumption: the same weather is over both, but a vat under a roof and a
    pond answer it differently). Raises ValueError if a day lies outside what its water knows.
    """
    if len(waters) != len(means_c):
        raise ValueError("every day of a course needs its mean and its water")
    rows: list[list[float]] = [[0.0] * len(means_c) for _ in means_c]
    for water in {id(one): one for one in waters if one is not None}.values():
        places = [at for at, one in enumerate(waters) if one is water]
        shift = (first - water.first).days
        if places[0] + shift < 0 or places[-1] + shift >= len(water.means_c):
            raise ValueError("a day of the course lies outside what is known of its water")
        if len(places) == places[-1] - places[0] + 1:
            begin, end = places[0], places[-1] + 1
            for at in places:
                rows[at][begin:end] = water.covariance[at + shift][begin + shift : end + shift]
        else:
            for at in places:
                row, from_water = rows[at], water.covariance[at + shift]
                for to in places:
                    row[to] = from_water[to + shift]
    return Warmth(first, means_c, rows)


def _density(z: float) -> float:
    return math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
