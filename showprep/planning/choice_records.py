"""What a plan holds of the choice: the aims, who is left out, which limits bind."""

from __future__ import annotations

from dataclasses import dataclass

from showprep.husbandry.reason import Reason


@dataclass(frozen=True, slots=True)
class Aim:
    """One aim of the choice: its value, the bound, and whether it is proven."""

    name: str
    value: float
    bound: float
    proven: bool


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A fish left out of a show it could be in: what entering it would cost the whole plan."""

    fish: str
    show: str
    cost: float | None  # merit lost; None when it cannot be entered at all
    because: Reason | str
    gives_way: tuple[tuple[str, str], ...] = ()  # (fish, show) entries that would be lost


@dataclass(frozen=True, slots=True)
class Binding:
    """A limit that binds, and what one more would gain."""

    limit: str
    gain: float
    text: str


@dataclass(frozen=True, slots=True)
class Choice:
    """The entries chosen over the whole season."""

    merit: float
    proven: bool
    left_out: tuple[LeftOut, ...] = ()
    aims: tuple[Aim, ...] = ()
    binding: tuple[Binding, ...] = ()
    interrupted: bool = False
