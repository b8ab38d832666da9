"""What a plan takes of every limit, and what one thing more would break: the rows of the model.

The plan made by hand, the reserves and the reasons for an entry left out all count here, and so
by the same rows as the solver.
"""

from __future__ import annotations

from collections import Counter, defaultdict

from showprep.selection.linear import CLOSE
from showprep.selection.model import Model
from showprep.selection.plans import Pick
from showprep.selection.problem import Limit


class Usage:
    """A plan in the making. It begins with what is fixed, or with a plan."""

    def __init__(self, model: Model, pick: Pick | None = None) -> None:
        self.model, self.options = model, model.options
        self.entered: set[int] = set()
        self.touched: set[int] = set()
        self._used: dict[int, float] = defaultdict(float)  # by row
        self._there: Counter[int] = Counter()  # how often each journey, stay and session is needed
        begun = Pick(frozenset(), self.options.fixed) if pick is None else pick
        for at in sorted(begun.touched):
            self.touch(at)
        for number in sorted(begun.entered):
            self.enter(number)

    @property
    def pick(self) -> Pick:
        return Pick(frozenset(self.entered), frozenset(self.touched))

    def takes(self, number: int | None = None, at: int | None = None) -> bool:
        """May an entry, a touch-up or both be added, as far as all limits but the least go?"""
        model = self.model
        columns = [] if number is None else [*model.of_entry(number)]
        columns += [] if at is None else [*model.of_touch_up(at)]
        return (
            number not in self.entered
            and at not in self.touched
            and all(model.linear.col_upper[place] for place in columns)  # none forbidden
            and not self.broken(number, at, least=False)
        )

    def broken(self, number: int | None, at: int | None, least: bool = True) -> set[Limit]:
        """The limits that an entry, a touch-up or both would break, the least a show takes too."""
        linear, total = self.model.linear, dict[int, float]()
        columns = [] if number is None else self._turned(*self.model.of_entry(number))
        columns += [] if at is None else self._turned(*self.model.of_touch_up(at))
        for column in columns:
            for row, value in self.model.rows[column]:
                total[row] = total.get(row, self._used.get(row, 0.0)) + value
        return {
            linear.limits[row]
            for row, value in total.items()
            if value > linear.row_upper[row] + CLOSE
            or (least and value < linear.row_lower[row] - CLOSE)
        }

    def short(self) -> list[str]:
        """Shows gone to with less than they take at least."""
        linear = self.model.linear
        return sorted(
            {
                linear.limits[row].of
                for row, value in self._used.items()
                if value < linear.row_lower[row] - CLOSE
            }
        )

    def give_up_short(self) -> None:
        """Take back what is entered at shows gone to with too little."""
        short = {number for show in self.short() for number in self.options.entries_at[show]}
        for number in sorted(short & self.entered):
            self.enter(number, -1)

    def enter(self, number: int, times: int = 1) -> None:
        """Make an entry; with -1 take it back."""
        (self.entered.add if times > 0 else self.entered.discard)(number)
        self._put(self.model.of_entry(number), times)

    def touch(self, at: int) -> None:
        """Do a touch-up."""
        self.touched.add(at)
        self._put(self.model.of_touch_up(at), 1)

    def _turned(self, own: int, *needs: int) -> list[int]:
        """The columns that a thing turns on."""
        return [own, *(place for place in needs if not self._there[place])]

    def _put(self, columns: tuple[int, ...], times: int) -> None:
        needs = Counter(columns[1:])
        if times < 0:
            self._there.subtract(needs)
        for column in self._turned(*columns):
            for row, value in self.model.rows[column]:
                self._used[row] += times * value
        if times > 0:
            self._there.update(needs)
