"""A good plan for very many fish: a few shows at a time, the others held as they are.

Shows that lie near each other in the year share fish, days and the vat; those far apart share
little but the fees. So the plan is first built window by window through the season, each show
given about the places that the bound gives it, and then improved window by window.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil
from threading import Event

from showprep.planning.choice.highs import Outcome
from showprep.planning.choice.linear import Linear
from showprep.planning.choice.model import Model
from showprep.planning.choice.screen import Screen
from showprep.planning.choice.work import Work

# Shows in a window, and how far the next one lies: few large windows do better than many small.
BUILD, IMPROVE = (7, 4), ((7, 3), (9, 4), (12, 4))
HOPELESS = 1_500.0  # hundredths of a mark: an entry that the bound prices out by more stays out
WINDOW_NODES = 200


def by_windows(
    work: Work, screen: Screen, bound: Outcome, share: float, stop: Event
) -> Outcome | None:
    """The best plan found; None when there is none in the time."""
    going = _Going(screen, bound)
    values = [0.0] * screen.linear.columns
    for place, lower in enumerate(screen.linear.col_lower):
        values[place] = lower
    best: Outcome | None = None
    for width, step in (BUILD, *IMPROVE):
        building = (width, step) == BUILD
        for window in _windows(going.shows, width, step):
            if work.interrupted or work.seconds_left(share) <= 0.1:
                return best
            rows = going.held(values, window, building)
            start = None if building and best is None else values
            outcome = work.run_rows(
                rows, going.earned, "merit", start, share, nodes=WINDOW_NODES, stop=stop
            )
            if outcome.values is not None:
                best, values = outcome, [float(round(value, 6)) for value in outcome.values]
    return best


def _windows(shows: Sequence[str], width: int, step: int) -> Iterator[frozenset[str]]:
    for first in range(0, max(len(shows) - width, 0) + step, step):
        yield frozenset(shows[first : first + width])


class _Going:
    """Which columns say that a fish goes to a show, and whether it is clean there."""

    def __init__(self, screen: Screen, bound: Outcome) -> None:
        self.screen, self.bound = screen, bound
        self.earned = screen.cut(screen.model.merit())
        model, at = screen.model, screen.at
        self.columns = [
            (at[place], at.get(model.cleaned.get(number, -1)), entry.option.show)
            for number, (place, entry) in enumerate(
                zip(model.entered, model.options.entries, strict=True)
            )
            if place in at
        ]
        self.shows = _in_season(model)

    def held(self, values: Sequence[float], window: frozenset[str], building: bool) -> Linear:
        """The rows with the entries outside a window held as they are."""
        linear, bound = self.screen.linear, self.bound
        lower, upper = list(linear.col_lower), list(linear.col_upper)
        reduced = bound.reduced or ()
        for place, cleaned, show in self.columns:
            now = float(round(values[place]))
            if show not in window:
                lower[place] = upper[place] = now
                if cleaned is not None:
                    lower[cleaned] = float(round(values[cleaned]))
            elif reduced[place] < -HOPELESS:
                upper[place] = max(lower[place], now)
        held = replace(linear, col_lower=lower, col_upper=upper)
        return self._shared_out(held, window) if building else held

    def _shared_out(self, linear: Linear, window: frozenset[str]) -> Linear:
        """Give each show about the places that the bound gives it, so that the fees last."""
        rows = linear.copy()
        values = self.bound.values or ()
        for show in sorted(window):
            own = [place for place, _, at in self.columns if at == show]
            places = ceil(sum(values[place] for place in own) - 1e-6)
            rows.row([(place, 1.0) for place in own], upper=places + 0.5)
        return rows


def _in_season(model: Model) -> list[str]:
    """Shows in the order of the year, as far as the touch-ups tell."""
    days: dict[str, list[int]] = {entry.option.show: [] for entry in model.options.entries}
    for option in model.options.touch_ups:
        for show in option.clean_for:
            days.setdefault(show, []).append(option.day.toordinal())
    return sorted(days, key=lambda show: (sum(days[show]) / max(len(days[show]), 1), show))
