"""The rows of the shows' limits, the fees and the isolation vat; and the whole model."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import floor

from showprep.planning.choice.cliques import cliques
from showprep.planning.choice.linear import Limit
from showprep.planning.choice.model import Model, columns, day_rows, fish_rows, session_rows
from showprep.planning.choice.options import Options, conflict
from showprep.planning.choice.problem import ShowLimits
from showprep.planning.choice.whole_fees import whole_fees

HALF_A_THOUSANDTH = 0.0005  # lengths, weights, points and fees are compared to a thousandth


def build(options: Options, sessions: bool, lifted: frozenset[Limit] = frozenset()) -> Model:
    """The whole model, with columns for the touch-up days or without."""
    model = columns(options, lifted)
    fish_rows(model)
    if sessions:
        session_rows(model)
    else:
        day_rows(model)
    by_show: dict[str, list[int]] = {}
    for number, entry in enumerate(options.entries):
        by_show.setdefault(entry.option.show, []).append(number)
    for show in sorted(by_show):
        _show_rows(model, options.problem.shows[show], by_show[show])
    _fee_row(model)
    _vat_rows(model)
    return model


def thousandths(value: float) -> float:
    return round(value * 1000) / 1000


def _ceilings(
    options: Options, limits: ShowLimits, numbers: Sequence[int]
) -> list[tuple[str, list[float], float]]:
    """What may not be exceeded at a show: kind, what each entry counts for, and how much."""
    own = [options.entries[number].option for number in numbers]
    one = [1.0] * len(own)
    every = (
        ("fish", one, limits.fish),
        ("boxes", one, limits.boxes),
        ("total cm", [thousandths(entry.length_cm) for entry in own], limits.total_cm),
        ("points", [thousandths(entry.points) for entry in own], limits.points),
        ("kg", [thousandths(entry.kg) for entry in own], limits.kg),
    )
    return [(kind, each, most) for kind, each, most in every if most is not None]


def _within(model: Model, limits: ShowLimits, numbers: Sequence[int], presence: int | None) -> None:
    """Keep the ceilings of a show.

    `presence` is a column that is 1 if any of these entries is made: multiplying a ceiling by it
    says nothing new of whole numbers, but much of the bound.
    """
    for kind, each, most in _ceilings(model.options, limits, numbers):
        terms = [(model.entered[n], value) for n, value in zip(numbers, each, strict=True)]
        room = most + HALF_A_THOUSANDTH
        if presence is not None:
            terms.append((presence, -room))
        upper = room if presence is None else 0.0
        model.linear.row(terms, upper=upper, limit=Limit(kind, limits.show))


def _show_rows(model: Model, limits: ShowLimits, numbers: Sequence[int]) -> None:
    linear, entries = model.linear, model.options.entries
    presence = _presence(model, limits, numbers)
    _within(model, limits, numbers, presence)
    if limits.entries_per_class is not None:
        for size in sorted({entries[n].option.size_class for n in numbers} - {""}):
            terms = [
                (model.entered[n], 1.0) for n in numbers if entries[n].option.size_class == size
            ]
            limit = Limit("entries per class", f"{limits.show}|{size}")
            linear.row(terms, upper=float(limits.entries_per_class), limit=limit)
    if presence is None:
        return
    least_fish, least_cm = limits.fish_at_least, limits.total_cm_at_least
    lengths = [thousandths(entries[n].option.length_cm) for n in numbers]
    for kind, each, least in (
        ("fish at least", [1.0] * len(numbers), least_fish),
        ("total cm at least", lengths, least_cm),
    ):
        if least is not None:
            terms = [(model.entered[n], value) for n, value in zip(numbers, each, strict=True)]
            terms.append((presence, HALF_A_THOUSANDTH - float(least)))
            linear.row(terms, lower=0.0, limit=Limit(kind, limits.show))


def _presence(model: Model, limits: ShowLimits, numbers: Sequence[int]) -> int | None:
    """A column for whether anything is entered at a show, where something hangs on it."""
    pays = model.options.problem.fees is not None and limits.fee > 0
    if limits.fish_at_least is None and limits.total_cm_at_least is None and not pays:
        return None
    column = model.linear.column()
    model.open_[limits.show] = column
    for number in numbers:
        model.linear.row([(model.entered[number], 1.0), (column, -1.0)], upper=0.0)
    every = [(model.entered[number], 1.0) for number in numbers]
    model.linear.row([*every, (column, -1.0)], lower=0.0)
    return column


def _fee_row(model: Model) -> None:
    problem = model.options.problem
    if problem.fees is None:
        return
    entries = {
        model.entered[number]: round(entry.option.fee * 1000)
        for number, entry in enumerate(model.options.entries)
    }
    shows = {at: round(problem.shows[show].fee * 1000) for show, at in model.open_.items()}
    terms = [(at, fee / 1000) for at, fee in {**entries, **shows}.items()]
    limit = Limit("fees")
    model.linear.row(terms, upper=problem.fees + HALF_A_THOUSANDTH, limit=limit)
    for coefficients, upper in whole_fees(entries, shows, floor(problem.fees * 1000 + 0.5)):
        model.linear.row(coefficients.items(), upper=upper + HALF_A_THOUSANDTH, limit=limit)


def overlap(one: tuple[date, date], other: tuple[date, date]) -> bool:
    """Do two stays, first and last day included, share a day?"""
    return one[0] <= other[1] and other[0] <= one[1]


def _vat_rows(model: Model) -> None:
    """The isolation vat over time: places, and one cohort at a time."""
    entries = model.options.entries
    groups: dict[tuple[str, date, date], list[int]] = {}
    for number, entry in enumerate(entries):
        if entry.option.vat is not None:
            groups.setdefault((entry.option.show, *entry.option.vat), []).append(number)
    healing = [
        place for place, option in enumerate(model.options.touch_ups) if option.vat is not None
    ]
    for key in sorted(groups):
        column = model.linear.column()
        model.returning[key] = column
        for number in groups[key]:
            model.linear.row([(model.entered[number], 1.0), (column, -1.0)], upper=0.0)
        _within(model, model.options.problem.shows[key[0]], groups[key], column)
        _healing_apart(model, key, healing)
    _cohorts_apart(model)
    _places(model, groups, healing)


def _healing_apart(model: Model, key: tuple[str, date, date], healing: Sequence[int]) -> None:
    """Fish home from a show and fish healing are never in the vat on the same day."""
    options, column = model.options, model.returning[key]
    limit = Limit("vat cohorts")
    touch_ups = options.touch_ups
    by_fish: dict[str, list[int]] = {}
    for place in healing:
        stay = options.touch_ups[place].vat
        if stay is None or not overlap(stay, (key[1], key[2])):
            continue
        if place in options.fixed:
            model.linear.forbid(column, limit)
        else:
            by_fish.setdefault(options.touch_ups[place].fish, []).append(place)

    def clash(one: int, other: int) -> bool:
        return conflict(options.problem, touch_ups[one], touch_ups[other])

    for own in by_fish.values():
        rest = set(own)
        for group in cliques(own, clash) + [[place] for place in own]:
            if rest & set(group):
                rest -= set(group)
                terms = [(model.touched[place], 1.0) for place in group]
                model.linear.row([*terms, (column, 1.0)], upper=1.0, limit=limit)


def _cohorts_apart(model: Model) -> None:
    """Fish home from different shows are never in the vat on the same day."""
    groups = sorted(model.returning)
    limit = Limit("vat cohorts")

    def clash(one: int, other: int) -> bool:
        a, b = groups[one], groups[other]
        return a[0] != b[0] and overlap((a[1], a[2]), (b[1], b[2]))

    for group in cliques(range(len(groups)), clash):
        terms = [(model.returning[groups[number]], 1.0) for number in group]
        model.linear.row(terms, upper=1.0, limit=limit)


def _places(
    model: Model, groups: dict[tuple[str, date, date], list[int]], healing: Sequence[int]
) -> None:
    """Places in the vat, on the days on which a stay begins: it is never fuller on another."""
    holds = model.options.problem.vat_holds
    if holds is None:
        return
    stays = [(place, model.options.touch_ups[place].vat) for place in healing]
    starts = {stay[0] for _, stay in stays if stay} | {key[1] for key in groups}
    for day in sorted(starts):
        inside = [place for place, stay in stays if stay and stay[0] <= day <= stay[1]]
        homes = [key for key in sorted(groups) if key[1] <= day <= key[2]]
        _places_healing(model, day, holds, inside, homes)
        for show in sorted({key[0] for key in homes}):
            back = [number for key in homes if key[0] == show for number in groups[key]]
            terms = [(model.entered[number], 1.0) for number in back]
            model.linear.row(terms, upper=float(holds), limit=_places_on(day))
    for key, numbers in sorted(groups.items()):
        terms = [(model.entered[number], 1.0) for number in numbers]
        terms.append((model.returning[key], -float(holds)))
        model.linear.row(terms, upper=0.0, limit=_places_on(key[1]))


def _places_on(day: date) -> Limit:
    return Limit("vat places", day.isoformat())


def _places_healing(
    model: Model,
    day: date,
    holds: int,
    inside: Sequence[int],
    homes: Sequence[tuple[str, date, date]],
) -> None:
    """Places for fish healing: none while a cohort home from a show is in the vat."""
    room = max(holds, sum(1 for place in inside if place in model.options.fixed))
    terms = [(model.touched[place], 1.0) for place in inside]
    one_stay_each = len({key[0] for key in homes}) == len(homes)
    if inside and one_stay_each and model.linear.holds(Limit("vat cohorts")):
        terms += [(model.returning[key], float(room)) for key in homes]
    model.linear.row(terms, upper=float(room), limit=_places_on(day))
