"""Degree-days over several spans on one path of the water, as a few weighted paths.

All spans of one water lie under the same weather. Their sums are jointly normal (see
`warmth_ahead`); one uncertain part is averaged over at Gauss-Hermite nodes, several over stored
normal scores, the largest part first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from operator import mul

from showprep.husbandry.normal_scores import MOST_AT_ONCE, NODES, normal_scores
from showprep.husbandry.warmth_ahead import Span, Warmth

STEADY = 1e-4
"""A span whose degree-days are surer than this [°C d] is certain."""


def warmth_paths(
    base: float, spans: Sequence[Span], warmth: Warmth
) -> list[tuple[float, tuple[float, ...]]]:
    """Paths of the water: the weight of each, and its degree-days [°C d] over each of the spans."""
    means = [warmth.mean(base, span) for span in spans]
    root = _root(
        [warmth.variance(base, span) for span in spans],
        lambda one, other: warmth.covariance(base, spans[one], spans[other]),
    )
    if not root:
        return [(1.0, tuple(means))]
    if len(root) == 1:
        return [
            (
                weight,
                tuple(max(mean + z * far, 0.0) for mean, far in zip(means, root[0], strict=True)),
            )
            for z, weight in NODES
        ]
    scores = normal_scores(len(root))
    by_span = list(zip(means, zip(*root, strict=True), strict=True))
    return [
        (
            1 / len(scores),
            tuple(max(mean + sum(map(mul, point, parts)), 0.0) for mean, parts in by_span),
        )
        for point in scores
    ]


def _root(variances: Sequence[float], covariance: Callable[[int, int], float]) -> list[list[float]]:
    """A root of a covariance, the largest part first (Cholesky with pivots), parts of no size
    left out. `variances` are its diagonal."""
    left = list(variances)
    parts: list[list[float]] = []
    floor = max(STEADY**2, 1e-6 * max(left))
    while len(parts) < MOST_AT_ONCE:
        pivot = max(range(len(left)), key=left.__getitem__)
        if left[pivot] <= floor:
            break
        size = math.sqrt(left[pivot])
        part = [
            (
                (variances[at] if at == pivot else covariance(pivot, at))
                - math.fsum(done[pivot] * done[at] for done in parts)
            )
            / size
            for at in range(len(left))
        ]
        parts.append(part)
        left = [max(old - new * new, 0.0) for old, new in zip(left, part, strict=True)]
        left[pivot] = 0.0
    return parts
