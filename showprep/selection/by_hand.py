"""A plan made as one does it by hand: the best first, each on the last day that fits.

It is what the solver starts from, and what no answer is worse than.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from showprep.selection.model import Model
from showprep.selection.options import MeritLevel, Options
from showprep.selection.plans import Pick, levels_of, shows_of, tidied, worth_of
from showprep.selection.usage import Usage

MANY = 200  # entries; of so large a plan made by hand no single ones are given up


def by_hand(model: Model) -> Pick | None:
    """The best of two plans made by hand; None where neither keeps what must be.

    Entries are taken fish by fish, the best fish first, or one by one, the most worth first; what
    must be comes before. Each is touched up on the last day that fits, if that gains more than its
    price. Then whatever is not worth its price is given up.
    """
    options, entries = model.options, model.options.entries
    best: dict[str, int] = {}
    for entry in entries:
        merit = entry.levels[0].merit
        best[entry.option.fish] = max(best.get(entry.option.fish, merit), merit)

    def by_fish(number: int) -> tuple[object, ...]:
        option, merit = entries[number].option, entries[number].levels[0].merit
        return not option.must, -best[option.fish], option.fish, -merit, option.show

    def by_worth(number: int) -> tuple[object, ...]:
        option, value = entries[number].option, entries[number].levels[0].value
        return not option.must, option.price - value, number

    plans = [
        plan
        for order in (by_fish, by_worth)
        if (plan := _filled(model, sorted(range(len(entries)), key=order))) is not None
    ]
    return max(plans, key=lambda plan: worth_of(options, plan), default=None)


def _filled(model: Model, order: Iterable[int]) -> Pick | None:
    options, ledger = model.options, Usage(model)
    for number in order:
        if ledger.takes(number):
            _enter(ledger, number)
    ledger.give_up_short()
    return thinned(model, ledger.pick) if options.musts <= ledger.entered else None


def _enter(ledger: Usage, number: int, wanted: bool = False) -> None:
    """Make an entry at the best level that a day can be had for."""
    options, entry = ledger.options, ledger.options.entries[number]
    need = -inf if wanted or entry.option.must else float(entry.option.price)
    for level in entry.levels:
        if level.value <= need:
            return
        if not level.by or not ledger.touched.isdisjoint(level.by):
            ledger.enter(number)
            return
        before = max(entry.base.value, need) if entry.base is not None else need
        if level.value - before > options.problem.touch_up_price:
            day = _last_day(ledger, number, level)
            if day is not None:
                ledger.touch(day)
                ledger.enter(number)
                return


def _last_day(ledger: Usage, number: int, level: MeritLevel) -> int | None:
    return next((at for at in reversed(level.by) if ledger.takes(number, at)), None)


def with_entry(model: Model, pick: Pick, number: int) -> Pick | None:
    """A plan with one entry more: it goes first, then what of the plan still fits.

    None where not even that entry and what must be can be had so.
    """
    options, ledger = model.options, Usage(model)
    levels = levels_of(options, pick)
    for at in (number, *sorted(options.musts - {number})):
        if ledger.takes(at):
            _enter(ledger, at, wanted=True)
    for at in sorted(pick.touched):
        if ledger.takes(at=at):
            ledger.touch(at)
    for at in sorted(levels, key=lambda at: (-levels[at].value, at)):
        if ledger.takes(at) and options.entries[at].level(ledger.touched) is not None:
            ledger.enter(at)
    # Others take the places of those that gave way.
    lost = {options.entries[at].option.show for at in pick.entered - ledger.entered}
    free = (at for show in sorted(lost) for at in options.entries_at[show])
    for at in sorted(free, key=lambda at: (-options.entries[at].levels[0].value, at)):
        if ledger.takes(at):
            _enter(ledger, at)
    ledger.give_up_short()
    if not options.musts | {number} <= ledger.entered:
        return None
    return tidied(options, ledger.pick)


def thinned(model: Model, pick: Pick) -> Pick:
    """The plan without whatever is not worth its price."""
    options = model.options
    worth, again = worth_of(options, pick), True
    while again:
        again = False
        for entries, touch_ups in list(_steps(options, pick)):
            if not entries <= pick.entered or not touch_ups <= pick.touched:
                continue
            smaller = tidied(options, Pick(pick.entered - entries, pick.touched - touch_ups))
            if not options.musts.isdisjoint(pick.entered - smaller.entered):
                continue
            left = worth_of(options, smaller)
            if left < worth or (left == worth and smaller.touched == pick.touched):
                continue
            if not Usage(model, smaller).short():
                pick, worth, again = smaller, left, True
    return pick


def _steps(options: Options, pick: Pick) -> Iterable[tuple[frozenset[int], frozenset[int]]]:
    """What could be given up: entries and touch-ups together."""
    for show in shows_of(options, pick):
        yield frozenset(options.entries_at[show]) & pick.entered, frozenset()
    for at in sorted(pick.touched - options.fixed):
        yield frozenset(), frozenset((at,))
    if len(pick.entered) <= MANY:
        for number in sorted(pick.entered):
            yield frozenset((number,)), frozenset()
