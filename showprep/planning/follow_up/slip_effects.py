"""What a slip of the pen would move: doses, verdicts, touch-ups and entries, two plans compared."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from math import log10

from showprep.husbandry.reason import FishId, Reason, ShowId, reason
from showprep.planning.plan import Plan
from showprep.planning.worksheets.bath_records import BathSheet
from showprep.planning.worksheets.bath_season import baths
from showprep.planning.yard.yard import Yard

WEIGHTS = {"slip-dose": 100.0, "slip-verdict": 10.0, "slip-touch-up": 3.0, "slip-entry": 1.0}
"""How much each sort of change counts when the values to read again are chosen."""

DOSE_MOVES = 0.05  # a share: a smaller change is lost in the syringe


def slip_effects(before: tuple[Yard, Plan], after: tuple[Yard, Plan]) -> tuple[Reason, ...]:
    """What differs between the plan as written and as it may have been meant, gravest first."""
    found = [*_doses(before, after), *_verdicts(before[1], after[1])]
    return tuple(sorted(found, key=lambda one: -WEIGHTS[one.code]))


def weight_of(effect: Reason) -> float:
    """How much one change counts; a dose as much more as it is changed, tenfold counts double."""
    weight = WEIGHTS[effect.code]
    if effect.code == "slip-dose":
        weight *= 1 + abs(log10(float(str(effect["now"])) / float(str(effect["was"]))))
    return weight


def _doses(before: tuple[Yard, Plan], after: tuple[Yard, Plan]) -> Iterator[Reason]:
    """The strongest dose of each plan, in millilitres of the product."""
    was, now = (
        max((one.millilitres or 0.0 for one in baths(*of) if isinstance(one, BathSheet)), default=0)
        for of in (before, after)
    )
    if was and now and abs(now - was) > DOSE_MOVES * was:
        yield reason("slip-dose", was=round(was, 2), now=round(now, 2))


def _verdicts(before: Plan, after: Plan) -> Iterator[Reason]:
    now = {(one.fish, one.show): one for one in after.verdicts}
    for one in before.verdicts:
        other = now.get((one.fish, one.show))
        if other is None:
            continue
        fish, show = FishId(one.fish), ShowId(one.show)
        if other.verdict != one.verdict:
            yield reason("slip-verdict", fish=fish, show=show, was=one.verdict, now=other.verdict)
        days: list[date | None] = [
            verdict.touch_up.day if verdict.touch_up is not None else None
            for verdict in (one, other)
        ]
        if days[0] != days[1]:
            yield reason("slip-touch-up", fish=fish, show=show, was=days[0], now=days[1])
        if other.entered != one.entered:
            yield reason("slip-entry", fish=fish, show=show, goes=int(other.entered))
