"""A yard's own pace, learned from looks that bound it: the table first, moved by the evidence.

A look never sees the moment a wound turns clean. It says "not yet" (the requirement is more than
what was gathered), "already" (it is no more than that), or, with both, that it lies between. Each
requirement x is taken as log-normal, ln x ~ N(m, s²), with the yard's middle m unknown and s the
scatter from fish to fish. The table's low, usual and high are taken for the 5th, 50th and 95th
percentile over all fish of all yards; half of that variance is laid to the yard and half to the
fish (assumption). What is then known of m and s is calculated on a grid, as in any textbook of
Bayesian statistics (Gelman et al. 2013, "Bayesian Data Analysis", section 3.7, from memory).

The same serves for the weeks until a speck comes back: any positive quantity bounded by looks.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from statistics import NormalDist

from msgspec import Struct

_NORMAL = NormalDist()
_TAIL = _NORMAL.inv_cdf(0.95)
_ROOT_2 = math.sqrt(2)

SCATTER_SPREAD = 0.3
"""Standard deviation of ln s around its starting value (assumption)."""

ENOUGH_COUNT = 5.0
ENOUGH_NARROWING = 0.5

_STEPS = 41
_SCATTER_STEPS = 21
_REACH = 6.0  # standard deviations of the prior that the first grid spans
_NEGLIGIBLE = 12.0  # a log-probability this far below the best adds nothing


class Bounds(Struct, frozen=True):
    """One requirement, known to lie above `low` and at or below `high`, in the table's unit.

    `low` 0: it was already reached at the first look. `high` infinite: not yet at the last.
    Raises ValueError unless 0 <= low < high.
    """

    low: float
    high: float = math.inf

    def __post_init__(self) -> None:
        if not 0 <= self.low < self.high:
            raise ValueError(f"bounds must rise from 0 or more, not {self.low} to {self.high}")

    @property
    def says_something(self) -> bool:
        return self.low > 0 or self.high < math.inf


class Figures(Struct, frozen=True):
    """Low, usual and high requirement, in one unit; 0 < low <= usual <= high."""

    low: float
    usual: float
    high: float

    def __post_init__(self) -> None:
        if not 0 < self.low <= self.usual <= self.high < math.inf:
            raise ValueError(
                f"low, usual and high must rise from above 0, not "
                f"{self.low}, {self.usual}, {self.high}"
            )


class Prior(Struct, frozen=True):
    """What is believed before any look: ln x is near `middle`, give or take both spreads."""

    middle: float
    yard_spread: float
    scatter: float

    @classmethod
    def of(cls, table: Figures) -> Prior:
        """The prior that a table's figures stand for."""
        both = max(math.log(table.high / table.low) / (2 * _TAIL), 0.05)
        share = both / _ROOT_2
        return cls(math.log(table.usual), share, share)


class Pace(Struct, frozen=True):
    """Table and own figures side by side, and what the own ones rest on.

    `count` is the number of looks that bound something; `weight` is how many exactly seen
    requirements they are worth, at most `count`. `narrowing` is the width of what is still
    open about the yard's middle, as a share of what the table leaves open. `enough` by the rule
    of `is_enough`.
    """

    table: Figures
    own: Figures
    count: int
    weight: float
    narrowing: float
    enough: bool


class Posterior(Struct, frozen=True):
    """What is known of the yard's middle m and the scatter s: grid points with their shares."""

    points: tuple[tuple[float, float, float], ...]  # m, s, probability

    @property
    def middle(self) -> float:
        return math.fsum(m * share for m, _, share in self.points)

    @property
    def middle_spread(self) -> float:
        mean = self.middle
        return math.sqrt(math.fsum(share * (m - mean) ** 2 for m, _, share in self.points))

    @property
    def scatter(self) -> float:
        return math.fsum(s * share for _, s, share in self.points)

    def quantile(self, share: float) -> float:
        """The requirement that the next fish of this yard stays below with this probability."""
        low, high = -20.0, 20.0
        for _ in range(60):
            half = (low + high) / 2
            below = math.fsum(p * _phi((half - m) / s) for m, s, p in self.points)
            low, high = (half, high) if below < share else (low, half)
        return math.exp((low + high) / 2)


def learn(table: Figures, looks: Iterable[Bounds]) -> Pace:
    """The yard's own figures from its looks, in the unit of the table.

    Without looks they are the table's. However fast a yard seems, no figure falls below the
    table's low one, and the high one, on which "in time even in a slow case" rests, not below
    the table's usual one.
    """
    useful = [look for look in looks if look.says_something]
    if not useful:
        return Pace(table, table, 0, 0.0, 1.0, False)
    prior = Prior.of(table)
    known = posterior(prior, useful)
    usual = max(math.exp(known.middle), table.low)
    # The table is skew, the log-normal is not: its ends are moved as the middle and the spread are.
    spread = math.log(known.quantile(0.95) / known.quantile(0.05)) / math.log(
        table.high / table.low
    )
    low = max(usual * (table.low / table.usual) ** spread, table.low)
    high = max(usual * (table.high / table.usual) ** spread, usual, table.usual)
    own = Figures(min(low, usual), usual, high)
    weight = math.fsum(worth(look, known.middle, known.scatter) for look in useful)
    narrowing = known.middle_spread / prior.yard_spread
    return Pace(table, own, len(useful), weight, narrowing, is_enough(weight, narrowing))


def is_enough(weight: float, narrowing: float) -> bool:
    """Whether the evidence may stand in for the table.

    The looks must be worth at least five exactly seen requirements, and leave open at most half
    of what the table left open about this yard's middle (assumption: a rule of this program).
    """
    return weight >= ENOUGH_COUNT and narrowing <= ENOUGH_NARROWING


def worth(look: Bounds, middle: float, scatter: float) -> float:
    """How much of one requirement a look tells, 0 to 1.

    One less the variance of ln x that the look leaves, as a share of the variance without it:
    the moments of a normal distribution cut off at both ends.
    """
    a = (_log(look.low) - middle) / scatter
    b = (_log(look.high) - middle) / scatter
    inside = _between(a, b)
    if inside < 1e-12:
        return 1.0
    at_a, at_b = _density(a), _density(b)
    mean = (at_a - at_b) / inside
    pull = ((a * at_a if at_a else 0.0) - (b * at_b if at_b else 0.0)) / inside
    return min(1.0, max(0.0, mean * mean - pull))


def posterior(prior: Prior, looks: Sequence[Bounds]) -> Posterior:
    """What the looks leave of the prior: a wide grid first, then a fine one where it counts."""
    middles = _spaced(
        prior.middle - _REACH * prior.yard_spread, prior.middle + _REACH * prior.yard_spread, _STEPS
    )
    scatters = _spaced(-3 * SCATTER_SPREAD, 3 * SCATTER_SPREAD, _SCATTER_STEPS)
    rough = _weighed(prior, looks, middles, scatters)
    best = max(weight for _, _, weight in rough)
    held = [point for point in rough if point[2] > best - _NEGLIGIBLE]
    step = middles[1] - middles[0]
    first, last = min(m for m, _, _ in held) - step, max(m for m, _, _ in held) + step
    fine = _weighed(prior, looks, _spaced(first, last, _STEPS), scatters)
    best = max(weight for _, _, weight in fine)
    shares = [(m, s, math.exp(weight - best)) for m, s, weight in fine]
    total = math.fsum(share for _, _, share in shares)
    return Posterior(tuple((m, s, share / total) for m, s, share in shares))


def _weighed(
    prior: Prior, looks: Sequence[Bounds], middles: Sequence[float], scatters: Sequence[float]
) -> list[tuple[float, float, float]]:
    """Grid points with the logarithm of their probability, up to a constant."""
    ends = [(_log(look.low), _log(look.high)) for look in looks]
    points = []
    for shift in scatters:
        s = prior.scatter * math.exp(shift)
        for m in middles:
            told = sum(math.log(_between((a - m) / s, (b - m) / s)) for a, b in ends)
            off = (m - prior.middle) / prior.yard_spread
            points.append((m, s, told - (off * off + (shift / SCATTER_SPREAD) ** 2) / 2))
    return points


def _spaced(first: float, last: float, steps: int) -> list[float]:
    return [first + (last - first) * number / (steps - 1) for number in range(steps)]


def _log(value: float) -> float:
    return math.log(value) if value > 0 else -math.inf


def _phi(z: float) -> float:
    return math.erfc(-z / _ROOT_2) / 2


def _between(a: float, b: float) -> float:
    """The normal probability of (a, b], taken from the nearer tail; never quite 0."""
    found = _phi(-a) - _phi(-b) if a > 0 else _phi(b) - _phi(a)
    return max(found, 1e-300)


def _density(z: float) -> float:
    return math.exp(-z * z / 2) / math.sqrt(2 * math.pi) if math.isfinite(z) else 0.0
