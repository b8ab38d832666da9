"""How good stated chances were: Brier score and its parts, reliability, CRPS, paired intervals."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from itertools import accumulate
from random import Random
from statistics import NormalDist, fmean

_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class BrierParts:
    """Brier score = reliability - resolution + uncertainty (Murphy 1973; from memory)."""

    score: float
    reliability: float
    resolution: float
    uncertainty: float


def brier_parts(stated: Sequence[float], came: Sequence[bool]) -> BrierParts:
    """The score of chances, and its parts over groups of equal statements."""
    groups: dict[float, list[bool]] = defaultdict(list)
    for chance, outcome in zip(stated, came, strict=True):
        groups[chance].append(outcome)
    count, base = len(stated), fmean(came)
    reliability = resolution = 0.0
    for chance, outcomes in sorted(groups.items()):
        share = fmean(outcomes)
        reliability += len(outcomes) * (chance - share) ** 2 / count
        resolution += len(outcomes) * (share - base) ** 2 / count
    score = fmean((c - o) ** 2 for c, o in zip(stated, came, strict=True))
    return BrierParts(score, reliability, resolution, base * (1 - base))


@dataclass(frozen=True, slots=True)
class Bin:
    """Statements between two chances: how many, what they said on average, and what came.

    `low` and `high` are the consistency bars: where 99 % of such shares lie if every chance is
    right (after Bröcker & Smith 2007, "Increasing the reliability of reliability diagrams").
    """

    count: int
    stated: float
    came: float
    low: float
    high: float


def reliability_table(stated: Sequence[float], came: Sequence[bool], bins: int = 10) -> list[Bin]:
    """The reliability of chances in bins of equal width; empty ones are left out."""
    groups: dict[int, list[tuple[float, bool]]] = defaultdict(list)
    for chance, outcome in zip(stated, came, strict=True):
        groups[min(int(chance * bins), bins - 1)].append((chance, outcome))
    table = []
    for _, group in sorted(groups.items()):
        chances = [chance for chance, _ in group]
        low, high = _bars(chances)
        table.append(
            Bin(len(group), fmean(chances), fmean(outcome for _, outcome in group), low, high)
        )
    return table


def _bars(chances: Sequence[float], outside: float = 0.005) -> tuple[float, float]:
    """The shares between which all but twice `outside` lie if every chance is right."""
    law = [1.0]  # of the number that come true: a sum of chances that differ
    for chance in chances:
        law = [
            (law[at] * (1 - chance) if at < len(law) else 0.0)
            + (law[at - 1] * chance if at else 0.0)
            for at in range(len(law) + 1)
        ]
    below = list(accumulate(law))
    low = next(at for at, share in enumerate(below) if share > outside)
    high = next(at for at, share in enumerate(below) if share >= 1 - outside - 1e-12)
    return low / len(chances), high / len(chances)


def crps_normal(mean: float, spread: float, came: float) -> float:
    """Continuous ranked probability score of a normal forecast (Gneiting & Raftery 2007)."""
    z = (came - mean) / spread
    return spread * (z * (2 * _NORMAL.cdf(z) - 1) + 2 * _NORMAL.pdf(z) - 1 / math.sqrt(math.pi))


def crps_members(members: Sequence[float], came: float, fair: bool = False) -> float:
    """The same of a few equally likely values; `fair` does not punish that they are few."""
    count = len(members)
    off = fmean(abs(member - came) for member in members)
    apart = math.fsum(abs(one - other) for one in members for other in members)
    return off - apart / (2 * count * (count - 1 if fair else count))


def worst_mean(losses: Sequence[float], share: float) -> float:
    """The mean of the worst `share` of losses (conditional value at risk)."""
    worst = sorted(losses, reverse=True)[: max(1, round(share * len(losses)))]
    return fmean(worst)


@dataclass(frozen=True, slots=True)
class Interval:
    """A mean and the middle 95 % of what it would be with other site-years."""

    mean: float
    low: float
    high: float


def over_whole_years(
    values: Sequence[float], years: Sequence[Hashable], draws: int = 2000
) -> Interval:
    """The mean of values and its interval by drawing whole site-years again (bootstrap)."""
    sums: dict[Hashable, tuple[float, int]] = {}
    for value, year in zip(values, years, strict=True):
        total, count = sums.get(year, (0.0, 0))
        sums[year] = total + value, count + 1
    blocks = list(sums.values())
    draw = Random(len(values))
    means = []
    for _ in range(draws):
        taken = draw.choices(blocks, k=len(blocks))
        means.append(sum(total for total, _ in taken) / sum(count for _, count in taken))
    means.sort()
    return Interval(
        fmean(values), means[round(0.025 * (draws - 1))], means[round(0.975 * (draws - 1))]
    )
