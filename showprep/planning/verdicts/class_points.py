"""The points of a show's size classes: what one fish counts, and what all the entries come to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from showprep.husbandry.reason import FishId, ShowId, reason
from showprep.husbandry.sizes import class_of, classes_between
from showprep.planning.plan import ExpectedLength, Verdict, Warning_
from showprep.planning.verdicts.lengths import size_table
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard


class Points(Struct, frozen=True):
    """What entries count at the lengths expected, and at the dearest they may turn out."""

    expected: float
    most: float


def points_of(yard: Yard, events: Events, length: ExpectedLength | None) -> Points:
    """What one fish counts; nothing where the show counts none, or the fish has no class."""
    points, table = events.record.limits.points_by_size, size_table(yard, events)
    if not points or table is None or length is None:
        return Points(0.0, 0.0)
    expected = class_of(length.expected, table)
    possible = classes_between(length.low, length.high, table)
    counted = 0.0 if expected is None else points[expected.index]
    return Points(counted, max((points[one.index] for one in possible), default=counted))


def points_used(yard: Yard, events: Events, verdicts: Sequence[Verdict]) -> Points | None:
    """What the entries of a show come to; None where there are none, or no points."""
    lengths = [one.length for one in verdicts if one.show == events.show and one.entered]
    if not lengths or events.record.limits.points_by_size is None:
        return None
    each = [points_of(yard, events, length) for length in lengths]
    return Points(sum(one.expected for one in each), sum(one.most for one in each))


def points_warnings(yard: Yard, verdicts: Sequence[Verdict]) -> Iterator[Warning_]:
    """Points that may run out at the bench, where fish come out in a dearer class."""
    for events in yard.planned():
        most, used = events.record.limits.points, points_used(yard, events, verdicts)
        if most is None or used is None or used.most <= most + 1e-9:
            continue
        unsure = []
        for one in verdicts:
            if one.show == events.show and one.entered:
                points = points_of(yard, events, one.length)
                if points.most > points.expected:
                    unsure.append(FishId(one.fish))
        why = reason(
            "points-may-run-out",
            fish=tuple(unsure),
            show=ShowId(events.show),
            used=used.expected,
            most=most,
            longest=used.most,
        )
        yield Warning_("warn", why, show=events.show)
