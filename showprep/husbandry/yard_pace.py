"""What is known of one requirement in one yard: the table, and how its looks have moved it.

The yard's pace works on normal scores. The score z of a requirement in the table's split
log-normal is taken as the yard's own middle m plus the fish's own part with scatter s. Half of
the table's variance is laid to the yard and half to the fish (assumption, as in
`husbandry.pace`, whose grid of m and s after the looks is used here as it is, with no floor and
no "enough": the prior restrains by itself). Without looks z is standard normal, so the
distribution is the table's.
"""

from __future__ import annotations

import math
from bisect import bisect
from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from msgspec import Struct

from showprep.husbandry.healing_base import BASES_C, anchored
from showprep.husbandry.normal_scores import NODES
from showprep.husbandry.pace import SCATTER_SPREAD, Bounds, Posterior, Prior, posterior
from showprep.husbandry.split_log_normal import SplitLogNormal, normal_share

_HALF, _ROOT_2 = math.sqrt(0.5), math.sqrt(2)
# The scatter is uncertain, ln s with a spread of 0.3: this middle keeps the mean of s² at one half.
_PRIOR = Prior(0.0, _HALF, _HALF * math.exp(-(SCATTER_SPREAD**2)))
_MIDDLES, _SCATTERS = 9, 3
_REACH = 2.6
_TOO_SOON = 0.001
_GridPoint = tuple[float, float, float]  # middle, scatter, share
_FAR = 40.0  # a score as good as infinite: exp(40) is still a number


class PacePoint(NamedTuple):
    """One pace the yard may have, in normal scores: its middle, its scatter, and its share."""

    middle: float
    scatter: float
    share: float


BEFORE_LOOKS: tuple[PacePoint, ...] = tuple(
    PacePoint(_HALF * z, _HALF, weight) for z, weight in NODES
)
"""The paces a yard may have before it has seen anything; mixed they give the table back."""


class Known(Struct, frozen=True):
    """A requirement as one yard knows it: the table's figures and the paces it may have.

    `looks` is the number of looks that say something; `evidence` is the logarithm of their
    probability under these figures. `paces` are those to multiply several requirements within.
    """

    figures: SplitLogNormal
    paces: tuple[PacePoint, ...] = BEFORE_LOOKS
    looks: int = 0
    evidence: float = 0.0

    def share_below(self, amount: float, above: float = 0.0) -> float:
        """The chance that the requirement is at most `amount`, known to be more than `above`.

        The look that showed `above` is one of those that this was learned from. Where nothing
        was learned yet it is weighed in here. Both are the same by Bayes' rule.
        """
        if not self.looks and above <= 0:
            return self.figures.share_below(amount)
        return 1 - self.share_above(amount, above)

    def share_above(self, amount: float, above: float = 0.0) -> float:
        """The chance that the requirement is more than `amount`: one less `share_below`."""
        if amount <= above:
            return 1.0
        score = self.figures.score(amount)
        if not self.looks and above <= 0:
            return normal_share(-score)
        floor = self.figures.score(above)
        if not self.looks:
            left = normal_share(-floor)
            return normal_share(-score) / left if left > 0 else 0.0
        return math.fsum(pace.share * more_than(pace, score, floor) for pace in self.paces)

    def all_below(self, amount: float, count: int) -> float:
        """The chance that so many requirements of this yard are all at most `amount`, 0 to 1.

        They share the yard's pace: within each they are multiplied, then averaged.
        """
        score = self.figures.score(amount)  # asked most of all: `normal_share` is written out
        if count == 1 and not self.looks:
            return math.erfc(-score / _ROOT_2) / 2
        told = 0.0
        for middle, scatter, share in self.paces:
            told += share * (math.erfc((middle - score) / (_ROOT_2 * scatter)) / 2) ** count
        return told


def more_than(pace: PacePoint, score: float, floor: float = -math.inf) -> float:
    """The chance that a score is above `score` at one pace, known to be above `floor`."""
    beyond = normal_share((pace.middle - score) / pace.scatter)
    if floor == -math.inf:
        return beyond
    if score <= floor:
        return 1.0
    left = normal_share((pace.middle - floor) / pace.scatter)
    return min(1.0, beyond / left) if left > 0 else 0.0


def known_from(figures: SplitLogNormal, looks: Iterable[tuple[float, float]] = ()) -> Known:
    """What looks (above, at most) leave known of a requirement, in the unit of the figures.

    `above` 0: it was reached at the first look. `at most` infinite: not yet at the last. Raises
    ValueError unless 0 <= above < at most.
    """
    bounds = [Bounds(low, high) for low, high in looks]
    useful = [_scored(figures, bound) for bound in bounds if bound.says_something]
    if not useful:
        return Known(figures)
    after = posterior(_PRIOR, useful)
    return Known(figures, _few(after), len(useful), _evidence(after, useful))


def known_by_base(
    figures: SplitLogNormal,
    anchor_c: float,
    looks: Sequence[Callable[[float], tuple[float, float]]] = (),
) -> tuple[tuple[float, float, Known], ...]:
    """What is known of a requirement in degree-days above 8 °C: (base [°C], share, known) of each.

    A look is a function of the base [°C]: the same days give other degree-days over another
    base. The looks move the shares of the bases too, by Bayes' rule. A wound seen healed on less
    warmth than one in a thousand needs over some base says nothing of the pace over that base,
    only against it: in cold water "healed on nothing" would make the careful base the quickest.
    """
    cases = []
    for base, before in BASES_C:
        over = anchored(figures, anchor_c, base)
        told = [look(base) for look in looks]
        kept = [(low, high) for low, high in told if over.share_below(high) >= _TOO_SOON]
        known = known_from(over, kept)
        against = (len(told) - len(kept)) * math.log(_TOO_SOON)
        cases.append((base, before, known, known.evidence + against))
    best = max(evidence for *_, evidence in cases)
    weights = [before * math.exp(evidence - best) for _, before, _, evidence in cases]
    total = math.fsum(weights)
    return tuple(
        (base, weight / total, known)
        for (base, _, known, _), weight in zip(cases, weights, strict=True)
    )


def _scored(figures: SplitLogNormal, bound: Bounds) -> Bounds:
    """The same bounds as exponentials of normal scores: `pace` takes the logarithm again."""
    low = math.exp(min(figures.score(bound.low), _FAR))
    high = math.exp(min(figures.score(bound.high), _FAR + 1)) if bound.high < math.inf else math.inf
    return Bounds(low, max(high, math.nextafter(low, math.inf)))


def _few(after: Posterior) -> tuple[PacePoint, ...]:
    """27 points in place of the grid: groups by middle, in each groups by scatter, put together.

    A group keeps its share, its mean and its variance. Chances differ from the whole grid's by
    0.2 points, for a wound seen not yet clean by 0.5 at most (derived, beside plain quadrature).
    """
    found = []
    for near in _groups(sorted(after.points), _MIDDLES):
        for group in _groups(sorted(near, key=lambda point: point[1]), _SCATTERS):
            total = math.fsum(share for _, _, share in group)
            middle = math.fsum(m * share for m, _, share in group) / total
            inside = math.fsum((s * s + (m - middle) ** 2) * share for m, s, share in group)
            found.append(PacePoint(middle, math.sqrt(inside / total), total))
    return tuple(found)


def _groups(points: Sequence[_GridPoint], count: int) -> list[list[_GridPoint]]:
    """Points in order, cut where a normal distribution would be cut at equal distances."""
    edges = [normal_share(_REACH * (2 * number / count - 1)) for number in range(1, count)]
    total = math.fsum(share for _, _, share in points)
    groups: list[list[_GridPoint]] = [[] for _ in range(count)]
    gone = 0.0
    for point in points:
        groups[bisect(edges, (gone + point[2] / 2) / total)].append(point)
        gone += point[2]
    return [group for group in groups if math.fsum(share for _, _, share in group) > 0]


def _evidence(after: Posterior, looks: Sequence[Bounds]) -> float:
    """The logarithm of the looks' probability, by the candidate's formula.

    Prior times likelihood over posterior is the same at every point (Besag 1989, Biometrika 76,
    from memory); the likeliest is taken.
    """
    m, s, share = max(after.points, key=lambda point: point[2])
    step = after.points[1][0] - after.points[0][0]
    shift = math.log(s / _PRIOR.scatter) / SCATTER_SPREAD
    off = (m - _PRIOR.middle) / _PRIOR.yard_spread
    told = math.fsum(
        math.log(max(_between(_score(look.low, m, s), _score(look.high, m, s)), 1e-300))
        for look in looks
    )
    return told - (off * off + shift * shift) / 2 + math.log(step / share)


def _score(exponential: float, middle: float, scatter: float) -> float:
    if exponential <= 0:
        return -math.inf
    return (math.log(exponential) - middle) / scatter if exponential < math.inf else math.inf


def _between(low: float, high: float) -> float:
    if low > 0:
        return normal_share(-low) - normal_share(-high)
    return normal_share(high) - normal_share(low)
