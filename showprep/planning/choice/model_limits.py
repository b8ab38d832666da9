"""The rows of the shows' limits, the fees and the isolation vat; and the whole model."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from showprep.planning.choice.cliques import cliques
from showprep.planning.choice.linear import Limit
from showprep.planning.choice.model import Model, columns, day_rows, fish_rows, session_rows
from showprep.planning.choice.options import Options, conflict
from showprep.planning.choice.problem import ShowLimits

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


def _show_rows(model: Model, limits: ShowLimits, numbers: Sequence[int]) -> None:
    linear, show = model.linear, limits.show
    entries = model.options.entries
    one = [(model.entered[number], 1.0) for number in numbers]
    cm = [(model.entered[n], thousandths(entries[n].option.length_cm)) for n in numbers]
    points = [(model.entered[n], thousandths(entries[n].option.points)) for n in numbers]
    kg = [(model.entered[n], thousandths(entries[n].option.kg)) for n in numbers]
    for kind, terms, most in (
        ("fish", one, limits.fish),
        ("boxes", one, limits.boxes),
        ("total cm", cm, limits.total_cm),
        ("points", points, limits.points),
        ("kg", kg, limits.kg),
    ):
        if most is not None:
            linear.row(terms, upper=most + HALF_A_THOUSANDTH, limit=Limit(kind, show))
    if limits.entries_per_class is not None:
        for size in sorted({entries[n].option.size_class for n in numbers} - {""}):
            terms = [
                (model.entered[n], 1.0) for n in numbers if entries[n].option.size_class == size
            ]
            limit = Limit("entries per class", f"{show}|{size}")
            linear.row(terms, upper=float(limits.entries_per_class), limit=limit)
    _at_least(model, limits, numbers, one, cm)


def _at_least(
    model: Model,
    limits: ShowLimits,
    numbers: Sequence[int],
    one: list[tuple[int, float]],
    cm: list[tuple[int, float]],
) -> None:
    """What a show wants at least, if anything is entered; and whether its fee is paid."""
    show, linear = limits.show, model.linear
    pays = model.options.problem.fees is not None and limits.fee > 0
    if limits.fish_at_least is None and limits.total_cm_at_least is None and not pays:
        return
    column = linear.column()
    model.open_[show] = column
    for number in numbers:
        linear.row([(model.entered[number], 1.0), (column, -1.0)], upper=0.0)
    linear.row([*one, (column, -1.0)], lower=0.0)
    for kind, terms, least in (
        ("fish at least", one, limits.fish_at_least),
        ("total cm at least", cm, limits.total_cm_at_least),
    ):
        if least is not None:
            wanted = [(column, HALF_A_THOUSANDTH - float(least))]
            linear.row([*terms, *wanted], lower=0.0, limit=Limit(kind, show))


def _fee_row(model: Model) -> None:
    problem = model.options.problem
    if problem.fees is None:
        return
    terms = [
        (model.entered[number], thousandths(entry.option.fee))
        for number, entry in enumerate(model.options.entries)
    ]
    terms += [(place, thousandths(problem.shows[show].fee)) for show, place in model.open_.items()]
    model.linear.row(terms, upper=problem.fees + HALF_A_THOUSANDTH, limit=Limit("fees"))


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
