"""Size classes of shows: which class a length falls into, and which it might.

Shows write their bounds in at least four ways, so a table says which end of a class belongs to
it, in what unit, and to what step lengths are read. Lengths in are always centimetres.
"""

from __future__ import annotations

from itertools import pairwise
from math import floor, isfinite
from typing import Literal

from msgspec import Struct

from showprep.husbandry.figure_record import ASSUMED, Grade
from showprep.husbandry.plausible import more_than_nothing

CM_PER_INCH = 2.54


class SizeTable(Struct, frozen=True):
    """A show's size classes, smallest first, by the upper bound of each in `unit`.

    `upper_included`: a fish of exactly the bound belongs to the class below it. `resolution`: the
    step [unit] lengths are read to, nearest step, halves up; None if as measured. `lowest`: the
    shortest length shown, itself included. `above`: a class follows the last bound. `labels`:
    one for each class, or empty for `size 1`, `size 2` and so on.
    """

    name: str
    unit: Literal["cm", "in"]
    upper: tuple[float, ...]
    upper_included: bool = True
    resolution: float | None = None
    lowest: float | None = None
    above: bool = True
    labels: tuple[str, ...] = ()
    source: str = ""
    grade: Grade = ASSUMED

    def __post_init__(self) -> None:
        fault = _fault(self)
        if fault is not None:
            raise ValueError(f"size table {self.name}: {fault}")


class SizeClass(Struct, frozen=True):
    """One size class: its place in the table, 0 for the smallest, and its name."""

    index: int
    label: str


def _fault(table: SizeTable) -> str | None:
    if not table.upper:
        return "it has no bounds"
    if not all(isfinite(bound) and bound > 0 for bound in table.upper):
        return "every bound must be more than 0"
    for one, two in pairwise(table.upper):
        if not one < two:
            return f"the bounds must rise, but {two:g} follows {one:g}"
    if table.lowest is not None and not 0 <= table.lowest < table.upper[0]:
        return f"the shortest length shown ({table.lowest:g}) must lie below the first bound"
    if table.resolution is not None and not table.resolution > 0:
        return "the step that lengths are read to must be more than 0"
    count = len(table.upper) + table.above
    if table.labels and len(table.labels) != count:
        return f"it has {count} classes but {len(table.labels)} labels"
    return None


def class_of(length_cm: float, table: SizeTable) -> SizeClass | None:
    """Class of a fish of `length_cm` [cm]; None if it is shorter or longer than any class.

    Raises ValueError for a length that is not above 0.
    """
    length = _read(more_than_nothing(length_cm, "the length of a fish", "cm"), table)
    if table.lowest is not None and length < table.lowest - 1e-9:
        return None
    for index, bound in enumerate(table.upper):
        if length < bound - 1e-9 or (table.upper_included and length <= bound + 1e-9):
            return _class(index, table)
    return _class(len(table.upper), table) if table.above else None


def no_class_beyond(length_cm: float, table: SizeTable) -> tuple[float, bool]:
    """Bound [cm] that keeps `length_cm` [cm] out of every class, and whether it is the longest.

    For a length that `class_of` gives no class.
    """
    if _below(length_cm, table):
        assert table.lowest is not None
        return table.lowest * _cm_per_unit(table), False
    return table.upper[-1] * _cm_per_unit(table), True


def classes_between(low_cm: float, high_cm: float, table: SizeTable) -> tuple[SizeClass, ...]:
    """Every class that a fish between `low_cm` and `high_cm` [cm] could fall into, in order.

    Empty if no length between them has a class. Raises ValueError if `low_cm` exceeds `high_cm`.
    """
    if low_cm > high_cm:
        raise ValueError(f"the least length ({low_cm:g} cm) exceeds the greatest ({high_cm:g} cm)")
    last = len(table.upper) - (0 if table.above else 1)
    first = class_of(low_cm, table)
    final = class_of(high_cm, table)
    if first is None and _below(low_cm, table) and not _below(high_cm, table):
        first = _class(0, table)
    if final is None and first is not None:
        final = _class(last, table)
    if first is None or final is None:
        return ()
    return tuple(_class(index, table) for index in range(first.index, final.index + 1))


def near_boundary(length_cm: float, table: SizeTable, within_cm: float = 1.0) -> float | None:
    """Bound [cm] nearest to a fish of `length_cm` [cm], if within `within_cm`, else None.

    A length so near a bound is undecided: a live fish in a bowl is measured to 0.5 to 1 cm.
    """
    bounds = [bound * _cm_per_unit(table) for bound in table.upper]
    if not table.above and table.lowest is not None:
        bounds.append(table.lowest * _cm_per_unit(table))
    nearest = min(bounds, key=lambda bound: (abs(bound - length_cm), bound))
    return nearest if abs(nearest - length_cm) <= within_cm + 1e-9 else None


def _read(length_cm: float, table: SizeTable) -> float:
    length = length_cm / _cm_per_unit(table)
    if table.resolution is None:
        return length
    return floor(length / table.resolution + 0.5 + 1e-9) * table.resolution


def _below(length_cm: float, table: SizeTable) -> bool:
    return table.lowest is not None and _read(length_cm, table) < table.lowest - 1e-9


def _class(index: int, table: SizeTable) -> SizeClass:
    return SizeClass(index, table.labels[index] if table.labels else f"size {index + 1}")


def _cm_per_unit(table: SizeTable) -> float:
    return CM_PER_INCH if table.unit == "in" else 1.0
