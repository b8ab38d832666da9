"""The choice as one model: columns for entries, touch-ups and sessions, and the rows of one fish.

A touch-up belongs to a fish and a day, not to a fish, show and day: whether an entry is clean is
one column more, held by the touch-ups that would clean it. That makes the model several times
smaller than one yes/no for each fish, show and day, and its bound no worse.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from showprep.planning.choice.cliques import cliques
from showprep.planning.choice.linear import Limit, Linear
from showprep.planning.choice.options import Options, conflict


@dataclass(slots=True)
class Model:
    """A model with the place of every column.

    `touched[i]` is touch-up i of the options; `entered[j]` entry j, with or without a blemish
    seen; `cleaned[j]` whether a touch-up adds its bonus; `session[day]` whether anything is
    touched up on a day; `open_[show]` whether anything is entered; `returning` the cohorts in the
    isolation vat.
    """

    options: Options
    linear: Linear
    touched: list[int] = field(default_factory=list)
    entered: list[int] = field(default_factory=list)
    cleaned: dict[int, int] = field(default_factory=dict)
    session: dict[date, int] = field(default_factory=dict)
    open_: dict[str, int] = field(default_factory=dict)
    returning: dict[tuple[str, date, date], int] = field(default_factory=dict)

    def merit(self) -> list[float]:
        """What each column earns, in hundredths of a mark."""
        earned = [0.0] * self.linear.columns
        for number, entry in enumerate(self.options.entries):
            whole = entry.base if entry.base is not None else entry.clean
            earned[self.entered[number]] = float(whole or 0)
            if number in self.cleaned:
                earned[self.cleaned[number]] = float(entry.bonus)
        return earned


def columns(options: Options, lifted: frozenset[Limit] = frozenset()) -> Model:
    """The columns of entries and touch-ups, with what is fixed and what must be."""
    model = Model(options, Linear(lifted))
    linear = model.linear
    for place in range(len(options.touch_ups)):
        model.touched.append(linear.column(lower=1.0 if place in options.fixed else 0.0))
    for number, entry in enumerate(options.entries):
        limit = Limit("must", "|".join(entry.key))
        forced = entry.option.must and linear.holds(limit)
        model.entered.append(linear.column(lower=1.0 if forced else 0.0))
        if entry.base is not None and entry.bonus > 0:
            model.cleaned[number] = linear.column(integer=False)
    return model


def fish_rows(model: Model) -> None:
    """What holds for each fish by itself: cleaning, bars, spacing, how often, and rest."""
    options = model.options
    own_entries: dict[str, list[int]] = {}
    for number, entry in enumerate(options.entries):
        own_entries.setdefault(entry.option.fish, []).append(number)
        _cleaning(model, number)
    groups: dict[str, list[list[int]]] = {}
    for fish, own in options.by_fish.items():
        groups[fish] = _sedations(model, fish, own)
    for fish, numbers in own_entries.items():
        for number in numbers:
            _bars(model, number, groups.get(fish, []))
        _rest(model, fish, numbers)


def _cleaning(model: Model, number: int) -> None:
    entry = model.options.entries[number]
    by = [(model.touched[place], -1.0) for place in entry.cleaned_by]
    if number in model.cleaned:
        clean = model.cleaned[number]
        model.linear.row([(clean, 1.0), *by], upper=0.0)
        model.linear.row([(clean, 1.0), (model.entered[number], -1.0)], upper=0.0)
    elif entry.base is None:
        model.linear.row([(model.entered[number], 1.0), *by], upper=0.0)


def _sedations(model: Model, fish: str, own: Sequence[int]) -> list[list[int]]:
    """Rows of one fish's touch-ups; returns groups of which at most one can be done."""
    options, linear = model.options, model.linear
    problem = options.problem
    spacing, most = Limit("spacing", fish), Limit("touch-ups per fish", fish)
    fixed = [place for place in own if place in options.fixed]
    free = [place for place in own if place not in options.fixed]
    touch_ups = options.touch_ups
    for place in free:
        if any(conflict(problem, touch_ups[place], touch_ups[other]) for other in fixed):
            linear.forbid(model.touched[place], spacing)
    allowed = max(problem.touch_ups_per_fish - len(fixed), 0)
    if allowed == 0:
        for place in free:
            linear.forbid(model.touched[place], most)
    linear.row([(model.touched[place], 1.0) for place in free], upper=float(allowed), limit=most)
    if allowed <= 1 and linear.holds(most):
        return [free] if free else []
    groups = cliques(free, lambda a, b: conflict(problem, touch_ups[a], touch_ups[b]))
    for group in groups:
        linear.row([(model.touched[place], 1.0) for place in group], upper=1.0, limit=spacing)
    return groups if linear.holds(spacing) else []


def _bars(model: Model, number: int, groups: Sequence[Sequence[int]]) -> None:
    """An entry and the touch-ups that bar it: not both."""
    entry = model.options.entries[number]
    limit = Limit("bars", "|".join(entry.key))
    left = set(entry.barred_by)
    for place in entry.barred_by:
        if place in model.options.fixed:
            model.linear.forbid(model.entered[number], limit)
            left.discard(place)
    mine = [sorted(left & set(group)) for group in groups]
    for group in sorted(mine, key=lambda group: (-len(group), group)):
        if left & set(group):
            left -= set(group)
            terms = [(model.touched[place], 1.0) for place in group]
            model.linear.row([(model.entered[number], 1.0), *terms], upper=1.0, limit=limit)
    for place in sorted(left):
        terms = [(model.entered[number], 1.0), (model.touched[place], 1.0)]
        model.linear.row(terms, upper=1.0, limit=limit)


def _rest(model: Model, fish: str, numbers: Sequence[int]) -> None:
    """Shows this fish cannot both go to."""
    apart = model.options.problem.apart
    show = {number: model.options.entries[number].option.show for number in numbers}

    def clash(one: int, other: int) -> bool:
        return (show[one], show[other]) in apart or (show[other], show[one]) in apart

    for group in cliques(numbers, clash):
        terms = [(model.entered[number], 1.0) for number in group]
        model.linear.row(terms, upper=1.0, limit=Limit("rest", fish))


def session_rows(model: Model) -> None:
    """Columns for the days on which anything is touched up at all."""
    options, linear = model.options, model.linear
    by_day: dict[date, dict[str, list[int]]] = {}
    for place, option in enumerate(options.touch_ups):
        by_day.setdefault(option.day, {}).setdefault(option.fish, []).append(place)
    for day in sorted(by_day):
        column = linear.column()
        model.session[day] = column
        most = day_room(options, day)
        every = [place for own in by_day[day].values() for place in own]
        terms = [(model.touched[place], 1.0) for place in every]
        limit = Limit("fish per day", day.isoformat())
        linear.row([*terms, (column, -float(most))], upper=0.0, limit=limit)
        for fish in sorted(by_day[day]):
            own = [(model.touched[place], 1.0) for place in by_day[day][fish]]
            linear.row([*own, (column, -1.0)], upper=0.0)


def day_room(options: Options, day: date) -> int:
    """Fish that may be touched up on a day; never fewer than are fixed on it."""
    fixed = sum(1 for place in options.fixed if options.touch_ups[place].day == day)
    return max(options.problem.fish_per_day, fixed)


def day_rows(model: Model) -> None:
    """Fish per touch-up day, for a model without columns for the days."""
    options = model.options
    by_day: dict[date, list[int]] = {}
    for place, option in enumerate(options.touch_ups):
        by_day.setdefault(option.day, []).append(place)
    for day, places in sorted(by_day.items()):
        terms = [(model.touched[place], 1.0) for place in places]
        limit = Limit("fish per day", day.isoformat())
        model.linear.row(terms, upper=float(day_room(options, day)), limit=limit)
