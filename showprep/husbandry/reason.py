"""What is to be told to a keeper, as data: a code and its typed values, never a sentence.

Every room may make a `Reason`; only `outputs/words` turns one into text, in the keeper's units.
Amounts carry their unit in their type, so that no reader has to guess it from a name.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from typing import TypeAlias, Union

from msgspec import Struct


class Celsius(Struct, frozen=True, order=True):
    """A temperature [°C]."""

    amount: float


class Kelvin(Struct, frozen=True, order=True):
    """A difference or a daily change of temperature [K]."""

    amount: float


class Centimetres(Struct, frozen=True, order=True):
    """The length of a fish or a vessel [cm]."""

    amount: float


class Millimetres(Struct, frozen=True, order=True):
    """The size of a blemish [mm]."""

    amount: float


class Litres(Struct, frozen=True, order=True):
    """A volume of water [L]."""

    amount: float


class Kilograms(Struct, frozen=True, order=True):
    """A weight [kg]."""

    amount: float


class KilogramsPerLitre(Struct, frozen=True, order=True):
    """How much fish a litre of water carries [kg/L]."""

    amount: float


class MilligramsPerLitre(Struct, frozen=True, order=True):
    """What is dissolved in the water a fish lives in [mg/L]; the strength of a dose is a number."""

    amount: float


class Grams(Struct, frozen=True, order=True):
    """What is weighed out and is no dose [g]."""

    amount: float


Amount = (
    Celsius
    | Kelvin
    | Centimetres
    | Millimetres
    | Litres
    | Kilograms
    | KilogramsPerLitre
    | MilligramsPerLitre
    | Grams
)


class Chance(Struct, frozen=True, order=True):
    """How sure something is, 0 to 1."""

    share: float


class FishId(Struct, frozen=True, order=True):
    """A fish, by the id of its file."""

    id: str


class ShowId(Struct, frozen=True, order=True):
    """A show, by its id."""

    id: str


class Blemish(Struct, frozen=True, order=True):
    """A blemish: the id of its kind, and where it is as the keeper wrote it (may be empty)."""

    kind: str
    where: str = ""


Value: TypeAlias = Union[
    str,
    int,
    float,
    date,
    datetime,
    Amount,
    Chance,
    FishId,
    ShowId,
    Blemish,
    "Reason",
    tuple["Value", ...],
    None,
]


class Reason(Struct, frozen=True):
    """A code and its values, in the order they were given.

    A plain `str` value is either another code (of which `outputs/words` has the words) or a name
    the keeper wrote, such as a water's.
    """

    code: str
    values: tuple[tuple[str, Value], ...] = ()

    def __getitem__(self, name: str) -> Value:
        """The value called `name`. Raises KeyError if there is none."""
        for key, value in self.values:
            if key == name:
                return value
        raise KeyError(f"{self.code} has no value {name}")

    def inner(self) -> Iterator[Reason]:
        """This reason and every one inside its values."""
        yield self
        for _, value in self.values:
            for one in value if isinstance(value, tuple) else (value,):
                if isinstance(one, Reason):
                    yield from one.inner()


class Refusal(ValueError):
    """What cannot be done with what was asked, with the reason to tell the keeper."""

    def __init__(self, told: Reason) -> None:
        super().__init__(told.code)
        self.told = told


def reason(code: str, **values: Value) -> Reason:
    """A reason from a code and its values by name."""
    return Reason(code, tuple(values.items()))
