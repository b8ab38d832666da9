"""Columns and rows of a model of yes/no choices, as plain lists that know no solver."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import inf
from typing import NamedTuple


class Limit(NamedTuple):
    """What a row of the model stands for: the kind of limit, and the show, fish or day it is of."""

    kind: str
    of: str = ""


STRUCTURE = Limit("structure")  # what the words mean, not a limit that could be lifted
SHARPER = Limit("sharper")  # rows that follow from others, added after all of them


@dataclass(slots=True)
class Linear:
    """A model in rows: lower <= sum of coefficient times column <= upper. Columns are 0 or 1.

    `lifted` names limits, by kind or one by one, whose rows are left out.
    """

    lifted: frozenset[Limit] = frozenset()
    col_lower: list[float] = field(default_factory=list)
    col_upper: list[float] = field(default_factory=list)
    integer: list[bool] = field(default_factory=list)
    starts: list[int] = field(default_factory=lambda: [0])
    places: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    row_lower: list[float] = field(default_factory=list)
    row_upper: list[float] = field(default_factory=list)
    limits: list[Limit] = field(default_factory=list)

    @property
    def columns(self) -> int:
        return len(self.col_lower)

    @property
    def rows(self) -> int:
        return len(self.row_lower)

    def column(self, lower: float = 0.0, upper: float = 1.0, integer: bool = True) -> int:
        """Add a column and return its place."""
        self.col_lower.append(lower)
        self.col_upper.append(upper)
        self.integer.append(integer)
        return len(self.col_lower) - 1

    def holds(self, limit: Limit) -> bool:
        """Is this limit kept, or lifted?"""
        return limit not in self.lifted and Limit(limit.kind) not in self.lifted

    def row(
        self,
        terms: Iterable[tuple[int, float]],
        lower: float = -inf,
        upper: float = inf,
        limit: Limit = STRUCTURE,
    ) -> None:
        """Add a row, unless its limit is lifted or it can bind nothing."""
        if not self.holds(limit):
            return
        kept = [(place, value) for place, value in terms if value != 0]
        most = sum(value for _, value in kept if value > 0)
        least = sum(value for _, value in kept if value < 0)
        if least >= lower and most <= upper:
            return
        for place, value in kept:
            self.places.append(place)
            self.values.append(value)
        self.starts.append(len(self.places))
        self.row_lower.append(lower)
        self.row_upper.append(upper)
        self.limits.append(limit)

    def forbid(self, place: int, limit: Limit) -> None:
        """Hold a column at 0 for the sake of a limit."""
        if self.holds(limit):
            self.col_upper[place] = 0.0

    def unsharpened(self) -> Linear:
        """The rows without those that only sharpen a bound.

        HiGHS 1.16 can go round for ever in making coefficients smaller where rows have many odd
        ones, heeding neither clock nor interruption; without whole numbers it does not try.
        """
        if SHARPER not in self.limits:
            return self
        rows = self.limits.index(SHARPER)
        terms = self.starts[rows]
        return replace(
            self,
            starts=self.starts[: rows + 1],
            places=self.places[:terms],
            values=self.values[:terms],
            row_lower=self.row_lower[:rows],
            row_upper=self.row_upper[:rows],
            limits=self.limits[:rows],
        )

    def copy(self) -> Linear:
        """A copy whose rows and bounds can be added to."""
        own = (getattr(self, name).copy() for name in self.__slots__ if name != "lifted")
        return Linear(self.lifted, *own)
