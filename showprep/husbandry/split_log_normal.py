"""A positive amount known by its low, usual and high figure: the split log-normal.

Low, usual and high are taken for the 5, 50 and 95 % points (assumption). Below the usual figure
ln x is half a normal distribution, above it half of another, and the halves meet at the median.
(Wallis 2014, "The two-piece normal, binormal, or double Gaussian distribution", Statistical
Science 29:106, joins them at the mode: another distribution.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import NormalDist

Z_95 = NormalDist().inv_cdf(0.95)
_ROOT_2 = math.sqrt(2)


def normal_share(z: float) -> float:
    """The share of a standard normal distribution at or below `z`, 0 to 1."""
    return math.erfc(-z / _ROOT_2) / 2


@dataclass(frozen=True, slots=True)
class SplitLogNormal:
    """An amount whose 5, 50 and 95 % points are `low`, `usual` and `high`, in any one unit.

    Raises ValueError unless 0 < low <= usual <= high < infinity. Equal figures are certain ones.
    """

    low: float
    usual: float
    high: float
    _below: float = field(default=0.0, init=False, repr=False, compare=False)  # widths, in logs
    _above: float = field(default=0.0, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not 0 < self.low <= self.usual <= self.high < math.inf:
            raise ValueError(
                f"low, usual and high must rise from above 0, not "
                f"{self.low}, {self.usual}, {self.high}"
            )
        object.__setattr__(self, "_below", math.log(self.usual / self.low))
        object.__setattr__(self, "_above", math.log(self.high / self.usual))

    def score(self, amount: float) -> float:
        """The normal score of an amount: 0 at the usual figure, 1.645 at the high one."""
        if amount <= 0:
            return -math.inf
        above = amount >= self.usual
        width = self._above if above else self._below
        far = math.log(amount / self.usual)
        if width == 0:
            return math.inf if above else -math.inf
        return Z_95 * far / width

    def share_below(self, amount: float) -> float:
        """The chance that the true figure is `amount` or less, 0 to 1."""
        return normal_share(self.score(amount))

    def share_below_given_above(self, amount: float, floor: float) -> float:
        """The same where it is known to be more than `floor`; 0 for an amount at or below it."""
        if amount <= floor:
            return 0.0
        left = normal_share(-self.score(floor))  # from the nearer tail: no digits are lost
        if left <= 0:
            return 1.0
        return 1 - normal_share(-self.score(amount)) / left

    def quantile(self, share: float) -> float:
        """The amount that the true figure stays below with the chance `share`.

        Raises ValueError unless 0 < share < 1.
        """
        if not 0 < share < 1:
            raise ValueError(f"a share must lie between 0 and 1, not {share}")
        z = NormalDist().inv_cdf(share)
        ratio = self.high / self.usual if z >= 0 else self.usual / self.low
        return float(self.usual * ratio ** (z / Z_95))

    def times(self, factor: float) -> SplitLogNormal:
        """The same distribution in another measure. Raises ValueError unless `factor` > 0."""
        return SplitLogNormal(factor * self.low, factor * self.usual, factor * self.high)
