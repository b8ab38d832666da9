"""Columns and rows of a model of yes/no choices, as plain lists that know no solver."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import gcd, inf

from msgspec import Struct, field

from showprep.selection.problem import Limit

CLOSE = 1e-6
STRUCTURE = Limit("structure")  # what the words mean, not a limit that could be lifted


class Linear(Struct):
    """A model in rows: lower <= sum of coefficient times column <= upper. Columns are 0 to 1.

    `lifted` names limits, by kind or one by one, whose rows are left out.
    """

    lifted: frozenset[Limit] = frozenset()
    col_lower: list[float] = []
    col_upper: list[float] = []
    worth: list[float] = []
    starts: list[int] = field(default_factory=lambda: [0])
    places: list[int] = []
    values: list[float] = []
    row_lower: list[float] = []
    row_upper: list[float] = []
    limits: list[Limit] = []
    more: list[float] = []  # what the limit relaxed by one adds to a row

    @property
    def columns(self) -> int:
        return len(self.col_lower)

    @property
    def rows(self) -> int:
        return len(self.row_lower)

    def column(self, worth: float = 0.0, lower: float = 0.0) -> int:
        """Add a column and return its place."""
        self.col_lower.append(lower)
        self.col_upper.append(1.0)
        self.worth.append(worth)
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
        more: float = 0.0,
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
        self.more.append(more)

    def at_most(
        self,
        amounts: Sequence[tuple[int, int]],
        most: int,
        limit: Limit,
        presence: int | None = None,
        more: int = 1,
    ) -> None:
        """Whole amounts, together at most `most` (times `presence`, where that is a column).

        `more` is what one more of the limit would be. Multiplying the right side by a column that
        is 1 if any of these is 1 says nothing new of whole numbers, but much of the bound. Common
        factors are taken out, so that the numbers stay small: HiGHS 1.16 can go round for ever in
        tightening rows of many large odd ones.
        """
        whole = gcd(*(amount for _, amount in amounts if amount))
        if whole == 0:
            return
        room = most // whole
        relaxed = float((most + more) // whole - room)
        terms = [(place, float(amount // whole)) for place, amount in amounts]
        if presence is None:
            self.row(terms, upper=float(room), limit=limit, more=relaxed)
        else:
            self.row([*terms, (presence, -float(room))], upper=0.0, limit=limit, more=relaxed)

    def forbid(self, place: int, limit: Limit) -> None:
        """Hold a column at 0 for the sake of a limit."""
        if self.holds(limit):
            self.col_upper[place] = 0.0

    def limits_of_columns(self) -> list[list[tuple[int, float]]]:
        """The limits' rows in which each column stands, with its coefficient there."""
        rows: list[list[tuple[int, float]]] = [[] for _ in range(self.columns)]
        for row, limit in enumerate(self.limits):
            if limit != STRUCTURE:
                for at in range(self.starts[row], self.starts[row + 1]):
                    rows[self.places[at]].append((row, self.values[at]))
        return rows
