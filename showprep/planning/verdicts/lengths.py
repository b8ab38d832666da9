"""How long a fish will be on the benching day, in which class, and what it weighs."""

from __future__ import annotations

from datetime import date

from showprep.husbandry.growth import project
from showprep.husbandry.reason import Centimetres, Reason, reason
from showprep.husbandry.sizes import SizeTable, class_of, classes_between, near_boundary
from showprep.husbandry.weight import weight_from_length
from showprep.planning.as_of.state import FishState
from showprep.planning.plan import ExpectedClass, ExpectedLength
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard
from showprep.season.facts import size_table as own_size_table
from showprep.season.records import SizeTableRecord


def length_on(yard: Yard, fish: FishState, day: date) -> ExpectedLength | None:
    """Expected total length with its 95 % interval [cm]; None when it was never measured."""
    if not fish.lengths:
        return None
    return yard.once(("length", fish.id, day), lambda: _grown(yard, fish, day))


def _grown(yard: Yard, fish: FishState, day: date) -> ExpectedLength:
    grown = project(
        fish.lengths,
        day,
        yard.mean_on(fish),
        yard.figures,
        longest_cm=fish.record.longest_cm,
    )
    expected, low, high = (round(cm, 1) for cm in (grown.expected, grown.low, grown.high))
    return ExpectedLength(expected, low, high, grown.how)


def size_table(yard: Yard, events: Events) -> SizeTable | None:
    """The show's size table: its own, or a table by name; None when it states none."""
    sizes = events.record.sizes
    if sizes is None:
        return None
    if isinstance(sizes, SizeTableRecord):
        return own_size_table(events.show, sizes)
    return yard.facts.size_tables[sizes]


def size_class(yard: Yard, events: Events, length: ExpectedLength | None) -> ExpectedClass | None:
    """The class expected and every class inside the interval; None without table or length."""
    table = size_table(yard, events)
    if table is None or length is None:
        return None
    expected = class_of(length.expected, table)
    possible = classes_between(length.low, length.high, table)
    return ExpectedClass(
        expected=expected.label if expected is not None else None,
        possible=tuple(one.label for one in possible),
        near_limit=_near_limit(yard, length, table),
    )


def _near_limit(yard: Yard, length: ExpectedLength, table: SizeTable) -> Reason | None:
    limit = near_boundary(length.expected, table, yard.figures["class_margin"])
    if limit is None:
        return None
    expected = Centimetres(length.expected)
    return reason("near-class-limit", length=expected, limit=Centimetres(limit))


def class_index(yard: Yard, events: Events, length: ExpectedLength | None) -> int | None:
    """The number of the class expected, from 0; None when there is none."""
    table = size_table(yard, events)
    if table is None or length is None:
        return None
    expected = class_of(length.expected, table)
    return expected.index if expected is not None else None


def weight_kg(
    yard: Yard, fish: FishState, length: ExpectedLength | None
) -> tuple[float | None, bool]:
    """Weight [kg], and whether it is estimated from the length (Bister et al. 2000)."""
    if fish.weights:
        return fish.weights[-1][1], False
    if length is None:
        return None, True
    return round(weight_from_length(length.expected) / 1000, 2), True
