"""A plan: what has been picked, what it is worth, and whether one thing more still fits."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import fsum

from showprep.selection.options import MeritLevel, Options, conflict
from showprep.selection.problem import EntryOption, ScoredEntry, ShowLimits

HALF = 0.5  # hundredths of a point: less than that is no difference
HEALING = ""  # the cohort of fish that heal in the vat; the others are named by their show


@dataclass(frozen=True, slots=True)
class Pick:
    """Places of the entries and touch-ups that are chosen."""

    entered: frozenset[int]
    touched: frozenset[int]


def ranks(options: Options, levels: Mapping[int, MeritLevel]) -> dict[int, int | None]:
    """The place of each entry in its group, the best 0; None where it competes with nobody."""
    groups: dict[tuple[str, str], list[int]] = defaultdict(list)
    for number, level in levels.items():
        group = options.entries[number].group
        if group is not None and level.value > 0:
            groups[group].append(number)
    found: dict[int, int | None] = dict.fromkeys(levels)
    for own in groups.values():
        own.sort(key=lambda number: (-levels[number].value, number))
        found.update((number, rank) for rank, number in enumerate(own))
    return found


def shares(options: Options, levels: Mapping[int, MeritLevel]) -> dict[int, float]:
    """The share of its worth that each entry keeps in its group."""
    share = options.problem.share
    return {number: share(rank or 0) for number, rank in ranks(options, levels).items()}


def levels_of(options: Options, pick: Pick) -> dict[int, MeritLevel]:
    """The level each entry has; one that cannot go so is left out."""
    found = {}
    for number in sorted(pick.entered):
        level = options.entries[number].level(pick.touched)
        if level is not None:
            found[number] = level
    return found


def worth_of(options: Options, pick: Pick) -> float:
    """What a plan is worth, in hundredths of a point, all prices taken off."""
    problem = options.problem
    levels = levels_of(options, pick)
    share = shares(options, levels)
    earned = [level.value * share[number] for number, level in levels.items()]
    paid = [options.entries[number].option.price for number in levels]
    paid += [problem.shows[show].price for show in shows_of(options, pick)]
    days = {options.touch_ups[at].day for at in pick.touched}
    paid.append(problem.touch_up_price * len(pick.touched) + problem.session_price * len(days))
    return fsum([*earned, *(-price for price in paid)])


def shows_of(options: Options, pick: Pick) -> list[str]:
    """The shows gone to."""
    return sorted({options.entries[number].option.show for number in pick.entered})


def needless(options: Options, pick: Pick) -> frozenset[int]:
    """Touch-ups that no entry rests on; none that is fixed."""
    levels = levels_of(options, pick)
    used = {at for level in levels.values() for at in _last_of(options, pick, level)}
    return pick.touched - used - options.fixed


def _last_of(options: Options, pick: Pick, level: MeritLevel) -> list[int]:
    """The touch-up a level rests on: of several the one that is last in order."""
    return sorted(pick.touched.intersection(level.by))[-1:]


def parts_of(options: Options, pick: Pick) -> tuple[ScoredEntry, ...]:
    """What each entry of a plan is worth, in its parts."""
    levels = levels_of(options, pick)
    share = shares(options, levels)
    found = []
    for number, level in levels.items():
        entry = options.entries[number]
        worth = level.value * share[number]
        touch_up, gain = None, 0.0
        if level.by:
            touch_up = options.touch_ups[_last_of(options, pick, level)[0]].key
            plain = dict(levels)
            del plain[number]
            if entry.base is not None:
                plain[number] = entry.base
            gain = earned(options, levels) - earned(options, plain)
        found.append(
            ScoredEntry(
                fish=entry.option.fish,
                show=entry.option.show,
                touch_up=touch_up,
                merit=level.merit,
                share=share[number],
                weight=options.problem.shows[entry.option.show].weight,
                worth=worth,
                gain=gain,
            )
        )
    return tuple(found)


def earned(options: Options, levels: Mapping[int, MeritLevel]) -> float:
    """What entries at these levels earn together, before any price."""
    share = shares(options, levels)
    return fsum(level.value * share[number] for number, level in levels.items())


class Usage:
    """A plan in the making: what each show, day, fish and the vat have taken so far.

    Lengths, weights, points and fees are counted in whole thousandths. The least a show takes is
    not looked at here (see `short`). It begins with what is fixed, or with a plan.
    """

    def __init__(self, options: Options, pick: Pick | None = None) -> None:
        self.options = options
        self.entered: set[int] = set()
        self.touched: set[int] = set()
        self._used: dict[str, Counter[str]] = defaultdict(Counter)  # by show
        self._days: Counter[date] = Counter()
        self._vat: dict[date, Counter[str]] = defaultdict(Counter)
        self._paid = 0
        problem = options.problem
        self._most = {show: dict(_ceilings(problem.shows[show])) for show in problem.shows}
        self._fees = None if problem.fees is None else _thousandths(problem.fees)
        self._fixed_days = Counter(options.touch_ups[at].day for at in options.fixed)
        begun = Pick(frozenset(), options.fixed) if pick is None else pick
        for at in sorted(begun.touched):
            self.touch(at)
        for number in sorted(begun.entered):
            self.enter(number)

    @property
    def pick(self) -> Pick:
        return Pick(frozenset(self.entered), frozenset(self.touched))

    def takes(self, number: int) -> bool:
        """May this entry be made besides, as far as all limits but the least go?"""
        options, entry = self.options, self.options.entries[number]
        option, touched = entry.option, self.touched
        if number in self.entered or not touched.isdisjoint(entry.barred_by):
            return False
        used, most = self._used[option.show], self._most[option.show]
        for kind, amount in _amounts(option).items():
            limit = most.get(kind.split("|")[0])
            if limit is not None and used[kind] + amount > limit:
                return False
        fee = _thousandths(option.fee)
        if not used["fish"]:
            fee += _thousandths(options.problem.shows[option.show].fee)
        if self._fees is not None and fee > 0 and self._paid + fee > self._fees:
            return False
        apart = options.problem.apart
        for other in options.entries_of[option.fish]:
            there = options.entries[other].option.show
            if other in self.entered and (
                (option.show, there) in apart or (there, option.show) in apart
            ):
                return False
        return self._vat_takes(option.vat, option.show)

    def takes_touch_up(self, at: int) -> bool:
        """May this touch-up be done besides?"""
        options, one = self.options, self.options.touch_ups[at]
        problem = options.problem
        own = [other for other in options.touch_ups_of[one.fish] if other in self.touched]
        return (
            at not in self.touched
            and self._days[one.day] < max(problem.fish_per_day, self._fixed_days[one.day])
            and len(own) < problem.touch_ups_per_fish
            and not any(conflict(problem, one, options.touch_ups[other]) for other in own)
            and not any(
                number in self.entered and at in options.entries[number].barred_by
                for number in options.entries_of.get(one.fish, ())
            )
            and self._vat_takes(one.vat, HEALING)
        )

    def enter(self, number: int, times: int = 1) -> None:
        """Make an entry; with -1 take it back."""
        option = self.options.entries[number].option
        used, was = self._used[option.show], self._used[option.show]["fish"]
        for kind, amount in _amounts(option).items():
            used[kind] += times * amount
        self._paid += times * _thousandths(option.fee)
        if (was > 0) != (used["fish"] > 0):
            self._paid += times * _thousandths(self.options.problem.shows[option.show].fee)
        self._stay(option.vat, option.show, times)
        (self.entered.add if times > 0 else self.entered.discard)(number)

    def touch(self, at: int, times: int = 1) -> None:
        """Do a touch-up; with -1 take it back."""
        one = self.options.touch_ups[at]
        self._days[one.day] += times
        self._stay(one.vat, HEALING, times)
        (self.touched.add if times > 0 else self.touched.discard)(at)

    def short(self) -> list[str]:
        """Shows gone to with less than they take at least."""
        found = []
        for show in sorted(self._used):
            limits, used = self.options.problem.shows[show], self._used[show]
            least_cm = _thousandths(limits.total_cm_at_least or 0)
            if used["fish"] and (
                used["fish"] < (limits.fish_at_least or 0) or used["total-cm"] < least_cm
            ):
                found.append(show)
        return found

    def _stay(self, stay: tuple[date, date] | None, cohort: str, times: int) -> None:
        for day in _days(stay):
            self._vat[day][cohort] += times

    def _vat_takes(self, stay: tuple[date, date] | None, cohort: str) -> bool:
        holds = self.options.problem.vat_holds
        for day in _days(stay):
            if day not in self._vat:
                continue
            for other, inside in self._vat[day].items():
                if inside and (other != cohort or (holds is not None and inside >= holds)):
                    return False
        return holds is None or holds > 0 or stay is None


def _days(stay: tuple[date, date] | None) -> Iterator[date]:
    if stay is not None:
        for number in range((stay[1] - stay[0]).days + 1):
            yield stay[0] + timedelta(days=number)


def _thousandths(value: float) -> int:
    return round(value * 1000)


def _ceilings(limits: ShowLimits) -> Iterator[tuple[str, int]]:
    for kind, name, unit in (
        ("fish", "fish", 1),
        ("boxes", "boxes", 1),
        ("total-cm", "total_cm", 1000),
        ("points", "points", 1000),
        ("kg", "kg", 1000),
        ("entries-per-class", "entries_per_class", 1),
    ):
        most = getattr(limits, name)
        if most is not None:
            yield kind, round(most * unit)


def _amounts(option: EntryOption) -> dict[str, int]:
    """What one entry takes of each limit of its show; in whole ones or thousandths."""
    taken = {
        "fish": 1,
        "boxes": 1,
        "total-cm": _thousandths(option.length_cm),
        "points": _thousandths(option.points),
        "kg": _thousandths(option.kg),
    }
    if option.size_class:
        taken[f"entries-per-class|{option.size_class}"] = 1
    return taken
