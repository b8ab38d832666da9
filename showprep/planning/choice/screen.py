"""The few fish that matter, out of very many; and what the others could add at most.

At a thousand fish and twenty shows most fish are never near a place. The model is cut down to the
fish that are; and at every bound, the prices the shows put on their places tell how much any fish
left aside could add. That sum is added to the bound, so that the bound holds for all fish.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.linear import Linear
from showprep.planning.choice.model import Model
from showprep.planning.choice.options import Options
from showprep.planning.choice.relaxation import Relaxation

MANY_FISH = 60  # so many are not cut down
FISH_A_PLACE = 0.5  # kept to begin with: a fish goes to several shows
NEAR = 1_200.0  # hundredths of a mark within which a fish left aside is taken in


class Aside:
    """The entries of the fish left aside: what each earns at most, and what it takes of rows."""

    def __init__(self, model: Model, numbers: list[int]) -> None:
        self.linear, self.numbers = model.linear, numbers
        self.merits = [float(_most(model, number)) for number in numbers]
        self.at = {model.entered[number]: index for index, number in enumerate(numbers)}
        self.terms: dict[tuple[int, int], float] = {}  # what a row kept asks of an entry

    def take(self, row: int, index: int, value: float) -> None:
        """Keep what a row asks of one of these entries."""
        self.terms[row, index] = value

    def asked(self, row: int, index: int) -> float:
        """What a row asks of one of these entries."""
        return self.terms.get((row, index), 0.0)

    def take_row(self, row: int, span: range) -> None:
        """Keep what a row that is kept as `row` asks of these entries."""
        for i in span:
            index = self.at.get(self.linear.places[i])
            if index is not None:
                self.take(row, index, self.linear.values[i])


@dataclass
class Screen:
    """A model cut down to some fish: `columns` are places in the whole model, `linear` its rows."""

    model: Model
    columns: list[int]
    linear: Linear
    aside: Aside

    @cached_property
    def at(self) -> dict[int, int]:
        """Where each column of the whole model is that is kept."""
        return {place: number for number, place in enumerate(self.columns)}

    @property
    def cut_down(self) -> bool:
        """Is any fish left aside?"""
        return len(self.columns) < self.model.linear.columns

    def lift(self, values: Sequence[float]) -> list[float]:
        """Values of the whole model: fish left aside stay at home."""
        whole = [0.0] * self.model.linear.columns
        for place, value in zip(self.columns, values, strict=True):
            whole[place] = value
        return whole

    def cut(self, values: Sequence[float]) -> list[float]:
        """The values that concern the fish kept."""
        return [values[place] for place in self.columns]

    def prices(self, bound: Outcome) -> list[float]:
        """What each entry left aside would add at most, in hundredths of a mark; below 0: costs."""
        prices, duals = list(self.aside.merits), bound.duals or ()
        for (row, index), value in self.aside.terms.items():
            if row < len(duals):  # rows added since this bound was reckoned have no price in it
                prices[index] -= value * duals[row]
        return prices

    def added(self, bound: Outcome) -> float:
        """What the fish left aside could add to a bound, all of them together."""
        return sum(price for price in self.prices(bound) if price > 0)


def screened(model: Model, rounds: int = 6) -> Screen:
    """The model cut down to the fish near a place, where there are very many fish.

    The fish kept are those of the greatest merit, then, bound by bound, all that could add
    anything at its prices or miss a place by little.
    """
    options = model.options
    fish = {entry.option.fish for entry in options.entries}
    whole = uncut(model)
    if len(fish) <= MANY_FISH:
        return whole
    kept = _first(model)
    if len(kept) >= len(fish):
        return whole
    for _ in range(rounds):
        screen = cut_to(model, kept)
        bound = Relaxation(screen.linear, screen.cut(model.merit())).solve({})
        if bound.values is None:
            return whole
        prices = screen.prices(bound)
        if all(price <= 1e-6 for price in prices):
            return screen
        kept |= {
            options.entries[number].option.fish
            for number, price in zip(screen.aside.numbers, prices, strict=True)
            if price > -NEAR
        }
    return cut_to(model, kept) if len(kept) < len(fish) else whole


def uncut(model: Model) -> Screen:
    """The model with all its fish."""
    return Screen(model, list(range(model.linear.columns)), model.linear, Aside(model, []))


def _most(model: Model, number: int) -> int:
    entry = model.options.entries[number]
    return max(entry.base or 0, entry.clean or 0)


def _first(model: Model) -> set[str]:
    """Fish bound by a must or a promise, and the best."""
    options = model.options
    kept = {entry.option.fish for entry in options.entries if entry.option.must}
    kept |= {options.touch_ups[place].fish for place in options.fixed}
    best: dict[str, int] = {}
    for number, entry in enumerate(options.entries):
        fish = entry.option.fish
        best[fish] = max(best.get(fish, 0), _most(model, number))
    ranked = sorted(best, key=lambda fish: (-best[fish], fish))
    return kept | set(ranked[: max(MANY_FISH, round(FISH_A_PLACE * _places(options)))])


def _places(options: Options) -> int:
    """Entries that could be made at all shows together, as far as their limits tell."""
    entries = Counter(entry.option.show for entry in options.entries)
    places = 0
    for show, number in entries.items():
        limits = options.problem.shows[show]
        places += min(one for one in (number, limits.fish, limits.boxes) if one is not None)
    return places


def cut_to(model: Model, kept: set[str]) -> Screen:
    """The model of these fish alone; rows that bind only others go with them."""
    options, linear = model.options, model.linear
    gone = [number for number, e in enumerate(options.entries) if e.option.fish not in kept]
    dropped = {model.entered[number] for number in gone}
    dropped |= {model.cleaned[number] for number in gone if number in model.cleaned}
    both = zip(options.touch_ups, model.touched, strict=True)
    dropped |= {place for option, place in both if option.fish not in kept}
    own = ({*model.entered} | {*model.touched}) - dropped
    columns = [place for place in range(linear.columns) if place not in dropped]
    at = {place: number for number, place in enumerate(columns)}
    cut, aside = Linear(linear.lifted), Aside(model, gone)
    cut.col_lower = [linear.col_lower[place] for place in columns]
    cut.col_upper = [linear.col_upper[place] for place in columns]
    cut.integer = [linear.integer[place] for place in columns]
    for row in range(linear.rows):
        span = range(linear.starts[row], linear.starts[row + 1])
        inside = [i for i in span if linear.places[i] in at]
        if len(inside) < len(span) and not any(linear.places[i] in own for i in inside):
            continue
        aside.take_row(cut.rows, span)
        cut.places += [at[linear.places[i]] for i in inside]
        cut.values += [linear.values[i] for i in inside]
        cut.starts.append(len(cut.places))
        cut.row_lower.append(linear.row_lower[row])
        cut.row_upper.append(linear.row_upper[row])
        cut.limits.append(linear.limits[row])
    return Screen(model, columns, cut, aside)
