"""What has been picked: entries and touch-ups by place, and the model's columns that say so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from zlib import crc32

from showprep.planning.choice.model import Model
from showprep.planning.choice.options import Options


@dataclass(frozen=True, slots=True)
class Pick:
    """Places of the entries and touch-ups that are chosen."""

    entered: frozenset[int]
    touched: frozenset[int]


def read(model: Model, values: Sequence[float]) -> Pick:
    """The pick that a solver's values stand for."""
    entered = (n for n, place in enumerate(model.entered) if values[place] > 0.5)
    touched = (n for n, place in enumerate(model.touched) if values[place] > 0.5)
    return Pick(frozenset(entered), frozenset(touched))


def write(model: Model, pick: Pick) -> list[float]:
    """One value a column, as a start for the solver."""
    values = [0.0] * model.linear.columns
    options = model.options
    for place in pick.touched:
        values[model.touched[place]] = 1.0
        if options.touch_ups[place].day in model.session:
            values[model.session[options.touch_ups[place].day]] = 1.0
    for number in pick.entered:
        entry = options.entries[number]
        values[model.entered[number]] = 1.0
        if number in model.cleaned and is_clean(options, pick, number):
            values[model.cleaned[number]] = 1.0
        if entry.option.show in model.open_:
            values[model.open_[entry.option.show]] = 1.0
        if entry.option.vat is not None:
            values[model.returning[(entry.option.show, *entry.option.vat)]] = 1.0
    return values


def is_clean(options: Options, pick: Pick, number: int) -> bool:
    """Is this entry shown clean, its touch-up among those picked?"""
    entry = options.entries[number]
    return any(place in pick.touched for place in entry.cleaned_by)


def merit_of(options: Options, pick: Pick) -> int:
    """Total merit, in hundredths of a mark."""
    total = 0
    for number in pick.entered:
        entry = options.entries[number]
        clean = is_clean(options, pick, number)
        earned = entry.clean if clean or entry.base is None else entry.base
        total += earned or 0
    return total


def days_of(options: Options, pick: Pick) -> int:
    """Distinct touch-up days."""
    return len({options.touch_ups[place].day for place in pick.touched})


def stays_of(options: Options, pick: Pick) -> int:
    """Touch-ups that heal in the isolation vat."""
    return sum(options.touch_ups[place].vat is not None for place in pick.touched)


def earliness_of(options: Options, pick: Pick) -> int:
    """Days before the last day there is, summed over the touch-ups: less is later."""
    if not options.touch_ups:
        return 0
    last = max(option.day for option in options.touch_ups)
    return sum((last - options.touch_ups[place].day).days for place in pick.touched)


def lot(*words: str) -> int:
    """A fixed number from 1 to 65,521 drawn from ids, the same on every machine."""
    return crc32("|".join(words).encode()) % 65521 + 1


def lots_of(options: Options, pick: Pick) -> int:
    """The sum that settles ties: of plans equal in all else, the least is taken."""
    entries = (options.entries[number].key for number in pick.entered)
    touch_ups = (options.touch_ups[place] for place in pick.touched)
    return sum(lot(*key) for key in entries) + sum(
        lot(one.fish, one.day.isoformat(), one.water) for one in touch_ups
    )
