"""The limits of the choice as reasons: what stands in the way, and what one more would gain."""

from __future__ import annotations

from showprep.husbandry.reason import Centimetres, FishId, Kilograms, Reason, ShowId, Value, reason
from showprep.selection.explain import figure_of
from showprep.selection.model import MORE_CM, MORE_KG, dearest_fee
from showprep.selection.problem import Instance, Limit, Pair

OF_FISH = ("spacing", "touch-ups-per-fish", "rest")


def in_the_way(problem: Instance, limits: tuple[Limit, ...]) -> tuple[Reason, ...]:
    """The limits that stand in the way, each with its figure."""
    return tuple(
        dict.fromkeys(
            reason(
                "limit-used-up",
                limit=one.kind,
                of=_of(one),
                most=_amount(one, figure_of(problem, one) or 0),
            )
            for one in limits
        )
    )


def one_more(problem: Instance, limit: Limit, gain: float, at_least: bool) -> Reason:
    """What one more of a limit would gain, in points."""
    step = {"total-cm": MORE_CM, "total-cm-at-least": MORE_CM, "kg": MORE_KG}.get(limit.kind, 1)
    more = dearest_fee(problem) if limit.kind == "fees" else float(step)
    what = reason("one-more", limit=limit.kind, of=_of(limit), more=_amount(limit, more))
    return reason("would-gain", what=what, gain=gain, at_least=int(at_least))


def no_plan(limits: tuple[Limit, ...], impossible: tuple[Pair, ...]) -> Reason:
    """Why what must be cannot all be."""
    if impossible:
        pairs = (reason("nowhere", fish=FishId(f), show=ShowId(s)) for f, s in impossible)
        return reason("musts-impossible", pairs=tuple(pairs))
    if not limits:
        return reason("musts-clash-many")
    return reason(
        "musts-clash",
        limits=tuple(reason("limit-by-name", limit=one.kind, of=_of(one)) for one in limits),
    )


def _of(limit: Limit) -> Value:
    own = limit.of.split("|")
    if limit.kind == "bars":
        return (FishId(own[0]), ShowId(own[1])) if len(own) == 2 else None
    if not own[0]:
        return None
    return FishId(own[0]) if limit.kind in OF_FISH else ShowId(own[0])


def _amount(limit: Limit, amount: float) -> Value:
    if limit.kind in ("total-cm", "total-cm-at-least"):
        return Centimetres(amount)
    return Kilograms(amount) if limit.kind == "kg" else amount
