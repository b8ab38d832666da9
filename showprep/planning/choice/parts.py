"""Fish by fish and show by show: what one of them alone can earn, at any prices.

The whole model without whole numbers lets a fish be half touched up for two shows and a show take
two thirds of a fish. One fish alone, or one show alone, is so small a model that its best plan in
whole numbers is found in a moment; and that no plan earns more at the prices the bound puts on
everything is a row the whole model may be given. Such rows are what Lagrangean decomposition adds
to a bound (M. Guignard and S. Kim, Lagrangean decomposition: a model yielding stronger Lagrangean
bounds, Mathematical Programming 39, 1987, 215-228).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import inf
from typing import Any

from showprep.planning.choice.highs import Outcome, pass_model, solver
from showprep.planning.choice.linear import SHARPER, Linear
from showprep.planning.choice.screen import Screen

CEILINGS = frozenset({"fish", "boxes", "total cm", "points", "kg", "entries per class"})
APART = 1e-6  # nearer to 0 or 1 than this is whole
NOISE = 1e-7  # coefficients smaller than this are none
SLACK = 1e-6


@dataclass(slots=True)
class Part:
    """One fish or one show: its columns, and the rows of the whole model that are its own.

    `opens` is the column that says whether a show is gone to at all, where there is one. `others`
    are the entries at this show of fish left aside, by their number among those.
    """

    screen: Screen
    columns: list[int]
    rows: list[int]
    opens: int | None = None
    others: list[int] = field(default_factory=list)
    highs: Any = None

    def broken(self, bound: Outcome) -> bool:
        """Does the bound have anything of this part neither done nor left?"""
        values = bound.values or ()
        return any(APART < values[place] < 1 - APART for place in self.columns)

    def prices(self, bound: Outcome, aside: Sequence[float]) -> list[float]:
        """What each column and each other entry earns once all outside this part has its price.

        `aside` are the prices of all entries of fish left aside.
        """
        reduced, duals = bound.reduced or (), bound.duals or ()
        prices = [*(reduced[place] for place in self.columns), *(aside[one] for one in self.others)]
        for row in self.rows:
            if duals[row]:
                for number, value in self._terms(row):
                    prices[number] += duals[row] * value
        least = len(self.columns)  # an entry left aside that earns nothing is not spoken of
        return [
            0.0 if abs(price) < NOISE or (number >= least and price < 0) else price
            for number, price in enumerate(prices)
        ]

    def most(self, prices: Sequence[float]) -> float:
        """What the best plan of this part alone earns at these prices, or a little more."""
        import numpy as np

        if self.highs is None:
            self.highs = solver()
            pass_model(self.highs, self._alone(), prices, whole=True)
            self.highs.setOptionValue("mip_abs_gap", 0.5)
        else:
            self.highs.clearSolver()
            places = np.arange(len(prices), dtype=np.int32)
            self.highs.changeColsCost(len(prices), places, np.array(prices, dtype=float))
        self.highs.run()
        bound = float(self.highs.getInfo().mip_dual_bound)
        return max(bound, 0.0) if abs(bound) < inf else inf

    def add(self, prices: Sequence[float], most: float) -> None:
        """Give the whole model the row that this part earns no more than `most` at these prices."""
        linear, kept = self.screen.linear, len(self.columns)
        terms = [(at, price) for at, price in zip(self.columns, prices[:kept], strict=True)]
        upper = most + SLACK
        if self.opens is not None:
            terms.append((self.opens, -upper))
            upper = 0.0
        row = linear.rows
        linear.row(terms, upper=upper, limit=SHARPER)
        if linear.rows == row:
            return
        self.rows.append(row)
        for one, price in zip(self.others, prices[kept:], strict=True):
            if price:
                self.screen.aside.take(row, one, price)

    def _terms(self, row: int) -> Iterator[tuple[int, float]]:
        """Number and value of what a row asks of the columns and other entries of this part."""
        linear, aside = self.screen.linear, self.screen.aside
        at = {place: number for number, place in enumerate(self.columns)}
        for term in range(linear.starts[row], linear.starts[row + 1]):
            if linear.places[term] in at:
                yield at[linear.places[term]], linear.values[term]
        for number, one in enumerate(self.others, len(self.columns)):
            value = aside.asked(row, one)
            if value:
                yield number, value

    def _alone(self) -> Linear:
        """The rows of this part, with its show gone to and its cohort come home."""
        whole, own = self.screen.linear, Linear()
        for place in self.columns:
            own.column(whole.col_lower[place], whole.col_upper[place], whole.integer[place])
        for _ in self.others:
            own.column()
        mine = set(self.columns)
        for row in self.rows:
            span = range(whole.starts[row], whole.starts[row + 1])
            rest = sum(whole.values[i] for i in span if whole.places[i] not in mine)
            own.row(self._terms(row), whole.row_lower[row] - rest, whole.row_upper[row] - rest)
        return own


def fish_and_shows(screen: Screen) -> tuple[list[Part], list[Part]]:
    """The parts of a model: every fish, and every show that sets a ceiling, in order of their ids.

    Of a show's limits only ceilings count, so that leaving a fish at home breaks none.
    """
    model, linear, at = screen.model, screen.linear, screen.at
    fish: dict[str, list[int]] = {}
    shows: dict[str, list[int]] = {}
    for number, entry in enumerate(model.options.entries):
        if model.entered[number] in at:
            place = at[model.entered[number]]
            shows.setdefault(entry.option.show, []).append(place)
            fish.setdefault(entry.option.fish, []).append(place)
            if number in model.cleaned:
                fish[entry.option.fish].append(at[model.cleaned[number]])
    for option, touched in zip(model.options.touch_ups, model.touched, strict=True):
        if touched in at:
            fish.setdefault(option.fish, []).append(at[touched])
    rows_of_fish, rows_of_show = _own_rows(linear, fish)
    others: dict[str, list[int]] = {}
    for index, number in enumerate(screen.aside.numbers):
        others.setdefault(model.options.entries[number].option.show, []).append(index)
    opens = {show: at[place] for show, place in model.open_.items() if place in at}
    return (
        [Part(screen, sorted(fish[one]), rows_of_fish.get(one, [])) for one in sorted(fish)],
        [
            Part(screen, sorted(shows[one]), rows_of_show[one], opens.get(one), others.get(one, []))
            for one in sorted(shows)
            if one in rows_of_show
        ],
    )


def _own_rows(
    linear: Linear, fish: dict[str, list[int]]
) -> tuple[dict[str, list[int]], dict[str, list[int]]]:
    owner = {place: one for one, places in fish.items() for place in places}
    of_fish: dict[str, list[int]] = {}
    of_show: dict[str, list[int]] = {}
    for row in range(linear.rows):
        owners = {owner.get(p) for p in linear.places[linear.starts[row] : linear.starts[row + 1]]}
        only = owners.pop() if len(owners) == 1 else None
        if only is not None:
            of_fish.setdefault(only, []).append(row)
        if linear.limits[row].kind in CEILINGS:
            of_show.setdefault(linear.limits[row].of.split("|")[0], []).append(row)
    return of_fish, of_show
