"""What a plan tells of: the codes of its reasons, and their words."""

from __future__ import annotations

from collections.abc import Iterable

from showprep.husbandry.reason import Reason, Value
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Plan


def codes(told: Iterable[object]) -> list[str]:
    """The codes of reasons, of warnings or of ways out, and of the reasons inside them."""
    reasons = [getattr(one, "reason", one) for one in told]
    return [inner.code for one in reasons if isinstance(one, Reason) for inner in one.inner()]


def told(plan: Plan, value: Value) -> str:
    """What a keeper reads of a title, a note or a reason of this plan."""
    return Speaker.of(plan).say(value)
