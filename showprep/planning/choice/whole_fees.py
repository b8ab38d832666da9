"""What is left of the fees buys whole entries only: that, said in rows without whole numbers.

Entries at 12 each out of 80 are 6, not 6.67; where a show has a fee of its own, what is left
depends on how many are gone to. Mixed-integer rounding says so (G. L. Nemhauser and L. A. Wolsey,
Integer and Combinatorial Optimization, 1988, section II.1.7), and takes much off the bound.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import floor, gcd, lcm

Row = tuple[dict[int, float], float]  # coefficients by column, and the most their sum may be
MOST_UNITS = 4  # fees of entries looked at


def whole_fees(entries: Mapping[int, int], shows: Mapping[int, int], most: int) -> Iterator[Row]:
    """Rows that every plan within the fees keeps.

    `entries` and `shows` are fees by column, `most` what may be spent, all in thousandths. Shows
    are counted both as gone to and, the other way round, as stayed away from.
    """
    paid = sorted({fee for fee in entries.values() if fee > 0})
    units = sorted({gcd(*paid), *paid[:MOST_UNITS]}) if paid else []
    every = {**entries, **shows}
    for unit in units:
        yield _in_whole_numbers(*_rounded(every, most, unit))
        if shows:
            away = {**entries, **{at: -fee for at, fee in shows.items()}}
            coefficients, upper = _rounded(away, most - sum(shows.values()), unit)
            for at in shows:
                upper -= coefficients[at]
                coefficients[at] = -coefficients[at]
            yield _in_whole_numbers(coefficients, upper)


def _in_whole_numbers(coefficients: Mapping[int, Fraction], upper: Fraction) -> Row:
    """The same row without fractions, which a solver can only write down inexactly."""
    times = lcm(upper.denominator, *(value.denominator for value in coefficients.values()))
    return {at: float(value * times) for at, value in coefficients.items()}, float(upper * times)


def _rounded(fees: Mapping[int, int], most: int, unit: int) -> tuple[dict[int, Fraction], Fraction]:
    """The row in units, rounded: floor(a) + max(0, frac(a) - f) / (1 - f), at most floor(b)."""
    room = Fraction(most, unit)
    part = room - floor(room)

    def rounded(fee: int) -> Fraction:
        value = Fraction(fee, unit)
        over = value - floor(value) - part
        return floor(value) + max(Fraction(0), over) / (1 - part)

    return {at: rounded(fee) for at, fee in fees.items()}, Fraction(floor(room))
