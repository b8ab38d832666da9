"""Turns reasons into text: the one place where a code meets its sentence and the keeper's units.

The sentences stand in the modules of this room, a table each: a code with a template, or with a
function where a template is not enough. In a template a value is spoken as its type asks:

    {day}           a date, with its year where that is not the plan's
    {day:year}      a date with its year
    {at:time}       a time of day; {at} is day and time; abroad with its zone and the time at home
    {days:day}      a count: "1 day", "2 days"; {fish:entry/entries} where the plural is irregular
    {names:or}      a list with its last joint; {names} joins with "and"
    {why:sentence}  another reason after this sentence, whole
    {why:clause}    another reason as part of this sentence: small first letter, no full stop
    {why:phrase}    the same, with its first letter as it is
    {it:small}      a blemish within a sentence: "net mark, left flank"
    {amount:g}      a plain number
    {18 °C}         an amount that is the same for every keeper, in the keeper's units; a
                    temperature, a difference {2 K}, or the size of a blemish {3 mm}
"""

from __future__ import annotations

import re
import string
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, datetime
from functools import cache
from importlib import import_module

from msgspec import Struct, field

from showprep.husbandry.reason import (
    Amount,
    Blemish,
    Celsius,
    Centimetres,
    Chance,
    FishId,
    Grams,
    Kelvin,
    Kilograms,
    KilogramsPerLitre,
    Litres,
    MilligramsPerLitre,
    Millimetres,
    Reason,
    ShowId,
    Value,
)
from showprep.outputs.words.chances import in_ten
from showprep.outputs.words.kinds import blemish_text
from showprep.outputs.words.plain import (
    clock,
    counted,
    listed,
    spoken,
    spoken_from,
    spoken_with_year,
)
from showprep.planning.plan import Plan
from showprep.season.values.quantities import (
    Units,
    show_dissolved,
    show_grams,
    show_length,
    show_load,
    show_number,
    show_temperature,
    show_volume,
    show_warming,
    show_weight,
)

Sentence = str | Callable[["Speaker", Reason], str]
Sentences = Mapping[str, Sentence]

# The modules of this room that hold a table SENTENCES.
TABLES: tuple[str, ...] = (
    "asks",
    "bags",
    "bath",
    "cautions",
    "chances",
    "changes",
    "choice",
    "company",
    "eligibility",
    "feeding",
    "heal",
    "healing",
    "jobs",
    "kept_apart",
    "kinds",
    "notes",
    "packing",
    "sheet_changes",
    "sizes",
    "slips",
    "steps",
    "touch_ups",
    "verdicts",
    "warnings",
    "ways_out",
)


class Speaker(Struct, frozen=True):
    """Knows the keeper's units, the day of the plan, and what fish and shows are called."""

    units: Units = "metric"
    on: date | None = None
    fish: Mapping[str, str] = field(default_factory=dict)
    shows: Mapping[str, str] = field(default_factory=dict)
    zone: str = ""  # the keeper's; times of another carry theirs, with the time at home beside them
    on_phone: bool = False  # a job in a calendar: no file, command or grade of evidence

    @classmethod
    def of(cls, plan: Plan) -> Speaker:
        """The speaker for one plan."""
        return cls(
            units=plan.units,
            on=plan.planned_on,
            fish={one.id: one.name for one in plan.fish} | dict(plan.fish_gone),
            shows={one.id: one.name for one in plan.shows},
            zone=plan.time_zone,
        )

    def text(self, reason: Reason) -> str:
        """The sentence of a reason. Raises KeyError for a code without words."""
        sentence = self._sentence(reason)
        if not isinstance(sentence, str):
            return sentence(self, reason)
        return self.filled(sentence, reason)

    def _sentence(self, reason: Reason) -> Sentence:
        if self.on_phone and reason.code in _on_phone():
            return _on_phone()[reason.code]
        return _sentences()[reason.code]

    def filled(self, template: str, reason: Reason) -> str:
        """A template with the values of a reason in it."""
        return _Template(self).vformat(template, (), dict(reason.values))

    def texts(self, reasons: Iterable[Reason]) -> tuple[str, ...]:
        """The sentences of several reasons, in their order."""
        return tuple(self.text(one) for one in reasons)

    def clause(self, reason: Reason) -> str:
        """A reason as part of a longer sentence: small first letter, no full stop.

        A template that begins with a value, such as a name or a day, keeps its capital, and so
        does what a function has made.
        """
        text, sentence = self.phrase(reason), self._sentence(reason)
        if isinstance(sentence, str) and not sentence.startswith("{"):
            return text[:1].lower() + text[1:]
        return text

    def phrase(self, reason: Reason) -> str:
        """A reason as part of a longer sentence, its first letter as it is."""
        return self.text(reason).removesuffix(".")

    def say(self, value: Value) -> str:
        """One value in words, by its type; a reason as its whole sentence."""
        return self.formatted(value, "sentence" if isinstance(value, Reason) else "")

    def formatted(self, value: Value, how: str) -> str:
        """One value in words, as the format in a template asks."""
        if isinstance(value, Reason):
            return self._reason(value, how)
        if isinstance(value, datetime):
            return self._moment(value, how)
        if isinstance(value, date):
            return self._day(value, how)
        if isinstance(value, tuple):
            return listed((self.say(one) for one in value), how or "and")
        if isinstance(value, FishId):
            return self.fish.get(value.id, value.id)
        if isinstance(value, ShowId):
            return self.shows.get(value.id, value.id)
        if isinstance(value, Chance):
            return in_ten(value.share)
        if isinstance(value, Blemish):
            return blemish_text(value, small=how == "small")
        if isinstance(value, str | None):
            return value or ""
        if isinstance(value, int | float):
            return _number(value, how)
        return self._amount(value)

    def _reason(self, reason: Reason, how: str) -> str:
        if how == "clause":
            return self.clause(reason)
        return self.text(reason) if how == "sentence" else self.phrase(reason)

    def _day(self, day: date, how: str) -> str:
        if how == "year" or self.on is None:
            return spoken_with_year(day)
        return spoken(day) if how == "short" else spoken_from(day, self.on)

    def _moment(self, at: datetime, how: str) -> str:
        time = clock(at, self.zone)
        return time if how == "time" else f"{self._day(at.date(), how)} {time}"

    def _amount(self, value: Amount) -> str:
        if isinstance(value, Celsius):
            return show_temperature(value.amount, self.units)
        if isinstance(value, Kelvin):
            return show_warming(value.amount, self.units)
        if isinstance(value, Centimetres):
            return show_length(value.amount, self.units)
        if isinstance(value, Litres):
            return show_volume(value.amount, self.units)
        if isinstance(value, Kilograms):
            return show_weight(value.amount, self.units)
        if isinstance(value, KilogramsPerLitre):
            return show_load(value.amount, self.units)
        if isinstance(value, MilligramsPerLitre):
            return show_dissolved(value.amount, self.units, 2)
        if isinstance(value, Grams):
            return show_grams(value.amount, self.units)
        if self.units == "metric":
            return f"{show_number(value.amount)} mm"
        return f"{show_number(value.amount / 25.4, 2)} in"


def codes_of(told: Iterable[Reason]) -> list[str]:
    """The codes of reasons, as their texts stand beside them in JSON."""
    return [one.code for one in told]


_AMOUNT = re.compile(r"([\d.]+) (°C|K|mm)")
_UNITS: Mapping[str, Callable[[float], Value]] = {"°C": Celsius, "K": Kelvin, "mm": Millimetres}


class _Template(string.Formatter):
    """Formats each value through the speaker."""

    def __init__(self, speaker: Speaker) -> None:
        self._speaker = speaker

    def get_field(
        self, field_name: str, args: Sequence[object], kwargs: Mapping[str, object]
    ) -> tuple[object, int | str]:
        amount = _AMOUNT.fullmatch(field_name)
        if amount is None:
            found: tuple[object, int | str] = super().get_field(field_name, args, kwargs)
            return found
        return _UNITS[amount[2]](float(amount[1])), field_name

    def format_field(self, value: Value, format_spec: str) -> str:
        return self._speaker.formatted(value, format_spec)

    def check_unused_args(
        self, used_args: object, args: Sequence[object], kwargs: Mapping[str, object]
    ) -> None:
        """A reason may carry more than its sentence tells: the JSON shows all of it."""


def _number(value: float, how: str) -> str:
    if not how or how == "g":
        return f"{value:g}"
    if how[-1] in "fdeg%" and how[:-1].strip("0123456789.+,") == "":
        return format(value, how)
    one, _, more = how.partition("/")
    assert isinstance(value, int), f"{value} {how} is not a whole count"
    return counted(value, one, more or None)


@cache
def _sentences() -> Sentences:
    """All tables in one; a code stands in one of them only."""
    found: dict[str, Sentence] = {}
    for name in TABLES:
        table: Sentences = import_module(f"showprep.outputs.words.{name}").SENTENCES
        twice = found.keys() & table.keys()
        assert not twice, f"these codes have two sentences: {sorted(twice)}"
        found |= table
    return found


@cache
def _on_phone() -> Sentences:
    """What a phone is told in other words: the tables ON_PHONE, each below its SENTENCES."""
    found: dict[str, Sentence] = {}
    for name in TABLES:
        found |= getattr(import_module(f"showprep.outputs.words.{name}"), "ON_PHONE", {})
    return found
