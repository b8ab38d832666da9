"""The choice as one compact model: columns for entries, touch-ups, sessions and journeys.

A touch-up belongs to a fish and a day, not to a fish, show and day: which level an entry has is a
column more, held by the touch-ups that give it. The share an entry keeps in its group is an
assignment of levels to ranks; as a better rank is worth more, the best plan gives the best fish
the first, so nothing else need say so. Only entries, touch-ups, sessions, journeys and stays in
the vat are whole by demand: levels and ranks then come out whole by themselves.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from itertools import combinations, pairwise
from typing import NamedTuple
from zlib import crc32

from msgspec import Struct

from showprep.selection.linear import Linear
from showprep.selection.options import MeritLevel, Options, conflict, free_again, overlap
from showprep.selection.plans import HALF, Pick, levels_of, ranks
from showprep.selection.problem import EntryOption, Instance, Limit, ShowLimits, TouchUpOption

MORE_CM, MORE_KG = 10, 1  # what "one more" means for a length and a weight
# Plans of equal worth: shares of half a hundredth of a point by which the tie is broken.
TIE_SESSIONS, TIE_TOUCH_UPS, TIE_STAYS, TIE_DAYS, TIE_LOTS = 0.4, 0.25, 0.1, 0.15, 0.09


class VatStay(NamedTuple):
    """Days in the isolation vat, first and last included, of fish that may be there together."""

    healing: bool  # or home from a show, which the cohort names then
    cohort: str
    first: date
    last: date


def stay_of(option: EntryOption | TouchUpOption) -> VatStay | None:
    """The stay in the vat that an entry or a touch-up brings with it."""
    if option.vat is None:
        return None
    if isinstance(option, EntryOption):
        return VatStay(False, option.show, *option.vat)
    return VatStay(True, option.cohort, *option.vat)


class Model(Struct):
    """A model with the place of every column.

    `touched[i]` is touch-up i of the options; `entered[j]` entry j; `levels[j]` its columns by
    level and rank (rank None: it takes nobody's share); `session[day]` whether anything is
    touched up on a day; `journey[show]` whether anything is entered; `stays` whether a cohort is
    in the isolation vat. The columns' `worth` is in hundredths of a point.
    """

    options: Options
    linear: Linear
    touched: list[int] = []
    entered: list[int] = []
    levels: list[dict[tuple[MeritLevel, int | None], int]] = []
    session: dict[date, int] = {}
    journey: dict[str, int] = {}
    stays: dict[VatStay, int] = {}
    ranked: set[int] = set()
    rows: list[list[tuple[int, float]]] = []  # of limits, by column

    def of_entry(self, number: int) -> tuple[int, ...]:
        """The column of an entry, and those that it turns on."""
        option = self.options.entries[number].option
        stay = stay_of(option)
        places = (self.entered[number], self.journey[option.show])
        return places if stay is None else (*places, self.stays[stay])

    def of_touch_up(self, at: int) -> tuple[int, ...]:
        """The column of a touch-up, and those that it turns on."""
        option = self.options.touch_ups[at]
        stay = stay_of(option)
        places = (self.touched[at], self.session[option.day])
        return places if stay is None else (*places, self.stays[stay])

    def read(self, values: Sequence[float]) -> Pick:
        """The pick that a solver's values stand for."""
        entered = (n for n, place in enumerate(self.entered) if values[place] > 0.5)
        touched = (n for n, place in enumerate(self.touched) if values[place] > 0.5)
        return Pick(frozenset(entered), frozenset(touched))

    def write(self, pick: Pick) -> list[float]:
        """One value a column, as a start for the solver."""
        values = [0.0] * self.linear.columns
        options = self.options
        for at in pick.touched:
            for place in self.of_touch_up(at):
                values[place] = 1.0
        chosen = levels_of(options, pick)
        rank = ranks(options, chosen)
        for number, level in chosen.items():
            for place in self.of_entry(number):
                values[place] = 1.0
            columns = self.levels[number]
            found = columns.get((level, rank[number]), columns.get((level, None)))
            if found is not None:
                values[found] = 1.0
        return values


def build(options: Options, lifted: frozenset[Limit] = frozenset()) -> Model:
    """The whole model; `lifted` limits are left out of it."""
    model = Model(options, Linear(lifted))
    _columns(model)
    _levels(model)
    _fish_rows(model)
    _session_rows(model)
    for show, numbers in options.entries_at.items():
        _show_rows(model, options.problem.shows[show], numbers)
    _fee_row(model)
    _vat_rows(model)
    _break_ties(model)
    model.rows = model.linear.limits_of_columns()
    return model


def _columns(model: Model) -> None:
    options, linear, problem = model.options, model.linear, model.options.problem
    for at in range(len(options.touch_ups)):
        lower = 1.0 if at in options.fixed else 0.0
        model.touched.append(linear.column(-float(problem.touch_up_price), lower))
    for day in sorted({one.day for one in options.touch_ups}):
        model.session[day] = linear.column(-float(problem.session_price))
    for show in options.entries_at:
        model.journey[show] = linear.column(-float(problem.shows[show].price))
    for entry in options.entries:
        forced = entry.option.must and linear.holds(Limit("must", "|".join(entry.option.key)))
        model.entered.append(linear.column(-float(entry.option.price), float(forced)))
        model.levels.append({})


def _levels(model: Model) -> None:
    """Columns of levels, and the ranks of those that compete."""
    options = model.options
    groups: dict[tuple[str, str], list[int]] = defaultdict(list)
    for number, entry in enumerate(options.entries):
        if entry.group is not None and options.problem.share(1) < 1:
            groups[entry.group].append(number)
    competing = {number for own in groups.values() if len(own) > 1 for number in own}
    for number in range(len(options.entries)):
        if number not in competing:
            _levels_alone(model, number)
    for key in sorted(groups):
        if len(groups[key]) > 1:
            _levels_ranked(model, groups[key])


def _levels_alone(model: Model, number: int) -> None:
    """An entry that keeps its whole share: what a touch-up adds to the least it can have."""
    entry, linear = model.options.entries[number], model.linear
    column, least = model.entered[number], entry.levels[-1]
    linear.worth[column] += least.value
    terms = [(column, -1.0)]
    for level in entry.levels[:-1]:
        place = linear.column(level.value - least.value)
        model.levels[number][level, None] = place
        linear.row([(place, 1.0), *((model.touched[at], -1.0) for at in level.by)], upper=0.0)
        terms.append((place, 1.0))
    if len(terms) > 1:
        linear.row(terms, upper=0.0)
    if entry.base is None:
        every = [(model.touched[at], -1.0) for level in entry.levels for at in level.by]
        linear.row([(column, 1.0), *every], upper=0.0)


def _levels_ranked(model: Model, own: Sequence[int]) -> None:
    """Entries that compete: each level in each rank it can have."""
    options, linear = model.options, model.linear
    best = [options.entries[number].levels[0].value for number in own]
    limits = options.problem.shows[options.entries[own[0]].option.show]
    most = min((limit for limit in (limits.fish, limits.boxes) if limit is not None), default=999)
    in_rank: dict[int, list[int]] = defaultdict(list)
    for number in own:
        entry, columns = options.entries[number], model.levels[number]
        model.ranked.add(number)
        for level in entry.levels:
            if level.value > 0:
                better = sum(value >= level.value for value in best)  # itself among them
                for rank in range(min(better, most + 1)):
                    worth = level.value * options.problem.share(rank)
                    if worth < HALF:  # from here on it is nothing
                        columns[level, None] = linear.column()
                        break
                    place = linear.column(worth)
                    columns[level, rank] = place
                    in_rank[rank].append(place)
            else:
                columns[level, None] = linear.column(level.value)
            if level.by:
                mine = [(place, 1.0) for (one, _), place in columns.items() if one is level]
                by = [(model.touched[at], -1.0) for at in level.by]
                linear.row([*mine, *by], upper=0.0)
        every = [(place, 1.0) for place in columns.values()]
        linear.row([*every, (model.entered[number], -1.0)], 0.0, 0.0)
    for rank in sorted(in_rank):
        linear.row([(place, 1.0) for place in in_rank[rank]], upper=1.0)


def _one_at_a_time(options: Options, own: Sequence[int]) -> list[list[int]]:
    """Groups of one fish's touch-ups of which only one can be done; together they hold every clash.

    Each keeps its fish from the next until a day: all that reach over one day are a group.
    """
    touch_ups = options.touch_ups
    until = {at: free_again(options.problem, touch_ups[at]) for at in own}
    groups = [
        [at for at in own if touch_ups[at].day <= day < until[at]]
        for day in sorted({touch_ups[at].day for at in own})
    ]
    return [one for one, later in pairwise([*groups, []]) if not set(one) <= set(later)]


def _clashing(places: Sequence[int], clash: Callable[[int, int], bool]) -> list[list[int]]:
    """Groups of places that all clash, so that one row says what many pairs would."""
    found: list[list[int]] = []
    for pair in combinations(places, 2):
        if clash(*pair) and not any(set(pair) <= set(group) for group in found):
            group = [*pair]
            for place in places:
                if place not in group and all(clash(place, other) for other in group):
                    group.append(place)
            found.append(group)
    return found


def _fish_rows(model: Model) -> None:
    """What holds for each fish by itself: spacing, how often, bars and rest."""
    options = model.options
    groups = {fish: _sedations(model, fish, own) for fish, own in options.touch_ups_of.items()}
    for fish, numbers in options.entries_of.items():
        for number in numbers:
            _bars(model, number, groups.get(fish, []))
        _rest(model, fish, numbers)


def _sedations(model: Model, fish: str, own: Sequence[int]) -> list[list[int]]:
    """Rows of one fish's touch-ups; returns groups of which at most one can be done."""
    options, linear = model.options, model.linear
    problem, touch_ups = options.problem, options.touch_ups
    spacing, often = Limit("spacing", fish), Limit("touch-ups-per-fish", fish)
    fixed = [at for at in own if at in options.fixed]
    free = [at for at in own if at not in options.fixed]
    for at in free:
        if any(conflict(problem, touch_ups[at], touch_ups[other]) for other in fixed):
            linear.forbid(model.touched[at], spacing)
    allowed = max(problem.touch_ups_per_fish - len(fixed), 0)
    linear.row(
        [(model.touched[at], 1.0) for at in free], upper=float(allowed), limit=often, more=1.0
    )
    groups = _one_at_a_time(options, free)
    if allowed <= 1 and linear.holds(often) and free:
        groups = [free]
    for group in groups:
        linear.row([(model.touched[at], 1.0) for at in group], upper=1.0, limit=spacing)
    return groups if linear.holds(spacing) or groups == [free] else []


def _bars(model: Model, number: int, groups: Sequence[Sequence[int]]) -> None:
    """An entry and the touch-ups that bar it: not both."""
    entry, linear = model.options.entries[number], model.linear
    limit = Limit("bars", "|".join(entry.option.key))
    left = set(entry.barred_by)
    for at in entry.barred_by:
        if at in model.options.fixed:
            linear.forbid(model.entered[number], limit)
            left.discard(at)
    mine = [sorted(left & set(group)) for group in groups] + [[at] for at in sorted(left)]
    for group in sorted(mine, key=lambda group: (-len(group), group)):
        if left & set(group):
            left -= set(group)
            terms = [(model.touched[at], 1.0) for at in group]
            linear.row([(model.entered[number], 1.0), *terms], upper=1.0, limit=limit)


def _rest(model: Model, fish: str, numbers: Sequence[int]) -> None:
    """Shows this fish cannot both go to."""
    apart = model.options.problem.apart
    show = {number: model.options.entries[number].option.show for number in numbers}

    def clash(one: int, other: int) -> bool:
        return (show[one], show[other]) in apart or (show[other], show[one]) in apart

    for group in _clashing(numbers, clash):
        terms = [(model.entered[number], 1.0) for number in group]
        model.linear.row(terms, upper=1.0, limit=Limit("rest", fish))


def _session_rows(model: Model) -> None:
    """Fish per day, and the day they pay for."""
    options, linear = model.options, model.linear
    by_day: dict[date, dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for at, option in enumerate(options.touch_ups):
        by_day[option.day][option.fish].append(at)
    fixed = Counter(options.touch_ups[at].day for at in options.fixed)
    for day, column in model.session.items():
        most = max(options.problem.fish_per_day, fixed[day])
        every = [(model.touched[at], 1) for own in by_day[day].values() for at in own]
        linear.at_most(every, most, Limit("fish-per-day", day.isoformat()), column)
        for own in by_day[day].values():
            linear.row([*((model.touched[at], 1.0) for at in own), (column, -1.0)], upper=0.0)


def thousandths(value: float) -> int:
    """Lengths, weights, points and fees are compared to a thousandth."""
    return round(value * 1000)


def _within(model: Model, limits: ShowLimits, numbers: Sequence[int], presence: int) -> None:
    """Keep the ceilings of a show; `presence` is 1 if any of these entries is made."""
    own = [model.options.entries[number].option for number in numbers]
    one = [1] * len(own)
    for kind, amounts, most, more in (
        ("fish", one, limits.fish, 1),
        ("boxes", one, limits.boxes, 1),
        ("total-cm", [thousandths(e.length_cm) for e in own], limits.total_cm, 1000 * MORE_CM),
        ("points", [thousandths(e.points) for e in own], limits.points, 1000),
        ("kg", [thousandths(e.kg) for e in own], limits.kg, 1000 * MORE_KG),
    ):
        if most is not None:
            whole = most if amounts is one else thousandths(most)
            terms = [(model.entered[n], each) for n, each in zip(numbers, amounts, strict=True)]
            model.linear.at_most(terms, int(whole), Limit(kind, limits.show), presence, more)


def _show_rows(model: Model, limits: ShowLimits, numbers: Sequence[int]) -> None:
    linear, entries, journey = model.linear, model.options.entries, model.journey[limits.show]
    for number in numbers:
        linear.row([(model.entered[number], 1.0), (journey, -1.0)], upper=0.0)
    linear.row([*((model.entered[number], 1.0) for number in numbers), (journey, -1.0)], lower=0.0)
    _within(model, limits, numbers, journey)
    if limits.entries_per_class is not None:
        for size in sorted({entries[n].option.size_class for n in numbers} - {""}):
            own = [n for n in numbers if entries[n].option.size_class == size]
            limit = Limit("entries-per-class", f"{limits.show}|{size}")
            linear.at_most([(model.entered[n], 1) for n in own], limits.entries_per_class, limit)
    lengths = [thousandths(entries[n].option.length_cm) for n in numbers]
    for kind, amounts, least, more in (
        ("fish-at-least", [1] * len(numbers), limits.fish_at_least, 1),
        ("total-cm-at-least", lengths, limits.total_cm_at_least, 1000 * MORE_CM),
    ):
        if least is not None:
            whole = least if kind == "fish-at-least" else thousandths(least)
            terms = [(model.entered[n], float(a)) for n, a in zip(numbers, amounts, strict=True)]
            terms.append((journey, -float(whole)))
            linear.row(terms, lower=0.0, limit=Limit(kind, limits.show), more=float(more))


def _fee_row(model: Model) -> None:
    problem = model.options.problem
    if problem.fees is None:
        return
    shows = {at: thousandths(problem.shows[show].fee) for show, at in model.journey.items()}
    entries = {
        at: thousandths(entry.option.fee)
        for at, entry in zip(model.entered, model.options.entries, strict=True)
    }
    limit, more = Limit("fees"), thousandths(dearest_fee(problem))
    most = thousandths(problem.fees)
    model.linear.at_most([*entries.items(), *shows.items()], most, limit, more=more)


def dearest_fee(problem: Instance) -> float:
    """The greatest fee one more entry could take."""
    fees = (one.fee + problem.shows[one.show].fee for one in problem.entries)
    return max(fees, default=0.0)


def _vat_rows(model: Model) -> None:
    """The isolation vat over time: places, and one cohort at a time."""
    options, linear = model.options, model.linear
    home: dict[VatStay, list[int]] = defaultdict(list)
    healing: dict[VatStay, list[int]] = defaultdict(list)
    for number, entry in enumerate(options.entries):
        if (stay := stay_of(entry.option)) is not None:
            home[stay].append(number)
    for at, option in enumerate(options.touch_ups):
        if (stay := stay_of(option)) is not None:
            healing[stay].append(at)
    for stay in sorted([*home, *healing]):
        column = model.stays[stay] = linear.column()
        own = [model.entered[number] for number in home[stay]] if stay in home else []
        own += [model.touched[at] for at in healing[stay]] if stay in healing else []
        for place in own:
            linear.row([(place, 1.0), (column, -1.0)], upper=0.0)
        if stay in home:
            _within(model, options.problem.shows[stay.cohort], home[stay], column)
    promised = {stay for stay, own in healing.items() if not options.fixed.isdisjoint(own)}
    stays = list(model.stays)

    def clash(one: int, other: int) -> bool:
        a, b = stays[one], stays[other]
        return a[:2] != b[:2] and overlap(a[2:], b[2:]) and not {a, b} <= promised

    for group in _clashing(range(len(stays)), clash):
        terms = [(model.stays[stays[number]], 1.0) for number in group]
        linear.row(terms, upper=1.0, limit=Limit("vat-cohorts"))
    if options.problem.vat_holds is not None:
        _places(model, home, healing, options.problem.vat_holds)


def _places(
    model: Model,
    home: Mapping[VatStay, Sequence[int]],
    healing: Mapping[VatStay, Sequence[int]],
    holds: int,
) -> None:
    """Places in the vat, on the days on which a stay begins: it is never fuller on another."""
    options, linear = model.options, model.linear
    for day in sorted({stay.first for stay in model.stays}):
        limit = Limit("vat-places", day.isoformat())
        there = [stay for stay in model.stays if stay.first <= day <= stay.last]
        inside = [at for stay in there if stay.healing for at in healing[stay]]
        homes = [stay for stay in there if not stay.healing]
        room = max(holds, sum(1 for at in inside if at in options.fixed))
        terms = [(model.touched[at], 1.0) for at in inside]
        one_stay_each = len({stay.cohort for stay in homes}) == len(homes)
        if inside and one_stay_each and linear.holds(Limit("vat-cohorts")):
            terms += [(model.stays[stay], float(room)) for stay in homes]
        linear.row(terms, upper=float(room), limit=limit, more=1.0)
        for show in sorted({stay.cohort for stay in homes}):
            back = [number for stay in homes if stay.cohort == show for number in home[stay]]
            linear.at_most([(model.entered[number], 1) for number in back], holds, limit)
    for stay, numbers in sorted(home.items()):
        own = [(model.entered[number], 1) for number in numbers]
        limit = Limit("vat-places", stay.first.isoformat())
        linear.at_most(own, holds, limit, model.stays[stay])


def lot(*words: str) -> int:
    """A fixed number from 1 to 65,521 drawn from ids, the same on every machine."""
    return crc32("|".join(words).encode()) % 65521 + 1


def _break_ties(model: Model) -> None:
    """Fewer sessions, fewer touch-ups, fewer in the vat, later days, then ids.

    Each is a small price; all of them together are less than half a hundredth of a point in any
    plan, so that of two plans whose worth differs by a hundredth the better one stays the better.
    """
    options, worth = model.options, model.linear.worth
    touch_ups = options.touch_ups
    most = min(
        len(touch_ups), len(options.touch_ups_of) * options.problem.touch_ups_per_fish
    ) + len(options.fixed)
    each = HALF / max(most, 1)
    last = max((one.day for one in touch_ups), default=date.min)
    span = max(((last - one.day).days for one in touch_ups), default=0) + 1
    for at, one in zip(model.touched, touch_ups, strict=True):
        worth[at] -= each * TIE_TOUCH_UPS + each * TIE_DAYS * (last - one.day).days / span
        worth[at] -= each * TIE_STAYS if one.vat is not None else 0.0
    for at in model.session.values():
        worth[at] -= HALF * TIE_SESSIONS / max(min(most, len(model.session)), 1)
    for at, entry in zip(model.entered, options.entries, strict=True):
        worth[at] -= HALF * TIE_LOTS * lot(*entry.option.key) / 65522 / len(options.entries)
