"""What the options of a worksheet say: amounts with or without a unit, refused in plain words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import TypeVar

from showprep.commands.day_words import day_asked
from showprep.outputs.failure import Failure
from showprep.season.values import measures
from showprep.season.values.measures import Amount
from showprep.season.values.quantities import Units
from showprep.season.values.wording import choose, wrong

Given = Mapping[str, str]
Value = TypeVar("Value")
UNITS: dict[str, Units] = {"metric": "metric", "us": "us", "imperial": "imperial"}


def value(given: Given, name: str, read: Callable[[object], Value]) -> Value | None:
    """The value of one option, None where it was not given. Raises Failure naming the option."""
    if name not in given:
        return None
    words = given[name].encode("utf-8", "replace").decode()  # a shell may hand on any bytes
    try:
        return read(words)
    except ValueError as error:
        raise Failure(f"--{name.replace('_', '-')}: {error}.", status=2) from None


def amount(given: Given, name: str, read: Amount, units: Units) -> float | None:
    """An amount that has to carry its unit unless `units` are metric."""
    return value(given, name, lambda words: read(words, units))


def above_nothing(words: object) -> float:
    """A number above 0."""
    found = measures.number(words)
    if found <= 0:
        raise wrong(f"{words} is not above 0", "write a number such as 35")
    return found


def between(low: float, high: float) -> Callable[[object], float]:
    """A reader of numbers from `low` to `high`."""

    def read(words: object) -> float:
        found = measures.number(words)
        if not low <= found <= high:
            raise wrong(f"{words} is not likely", f"{low:g} to {high:g} is plausible")
        return found

    return read


def units_in(given: Given) -> Units | None:
    """How amounts are printed, where that was said."""

    def read(words: object) -> Units:
        if str(words) not in UNITS:
            raise wrong(f"{words} is no way of printing", choose(str(words), UNITS))
        return UNITS[str(words)]

    return value(given, "units", read)


def day_in(given: Given, on: date) -> date | None:
    """The day asked for, where one was: a date, or a day told from `on`."""
    return value(given, "day", lambda words: day_asked(words, on))
