"""What a plan holds of the choice: its worth, who is left out, which limits bind. In points."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from showprep.husbandry.reason import Reason


class PresumedForm(Struct, frozen=True):
    """Who is taken to be on a form that is in, and the first reserve it is taken to name."""

    fish: frozenset[str]
    reserve: str | None = None


class LeftOut(Struct, frozen=True):
    """A fish left out of a show it could be in: what entering it would cost the whole plan."""

    fish: str
    show: str
    cost: float | None  # points lost; None when it cannot be entered at all, or is not known
    because: Reason
    gives_way: tuple[tuple[str, str], ...] = ()  # (fish, show) entries that would be lost
    at_most: bool = False  # it may cost less


class Binding(Struct, frozen=True):
    """A limit that binds, and what one more would gain."""

    limit: str
    gain: float
    text: Reason | str


class EntryWorth(Struct, frozen=True):
    """What one entry is worth: (merit - worth_showing) times share times weight.

    `touch_up_on` is the day of the touch-up it rests on, and `touch_up_gains` what that adds.
    """

    fish: str
    show: str
    merit: float
    share: float
    weight: float
    worth: float
    touch_up_on: date | None = None
    touch_up_gains: float = 0.0


class Prices(Struct, frozen=True):
    """What the choice takes off, in points, and from which merit showing is worth it."""

    worth_showing: float
    touch_up: float
    session: float
    journeys: tuple[tuple[str, float], ...] = ()  # by show gone to, its fish not counted
    fish: tuple[tuple[str, float], ...] = ()  # by show gone to, each fish
    same_class_share: float = 1.0  # what a further fish of one class keeps


class Choice(Struct, frozen=True):
    """The entries chosen over the whole season.

    `worth` is what the plan is worth with all prices taken off; no plan is worth more than
    `bound`. `interrupted`: broken off by the keeper; `costs_known` is then False where the costs
    of the fish left out were not worked out to the end.
    """

    merit: float
    proven: bool
    left_out: tuple[LeftOut, ...] = ()
    binding: tuple[Binding, ...] = ()
    interrupted: bool = False
    worth: float = 0.0
    bound: float = 0.0
    entries: tuple[EntryWorth, ...] = ()
    prices: Prices | None = None
    reserves: tuple[tuple[str, str], ...] = ()  # show, fish
    costs_known: bool = True
