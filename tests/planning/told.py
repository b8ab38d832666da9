"""What a plan tells of, by the codes of its reasons."""

from __future__ import annotations

from collections.abc import Iterable

from showprep.husbandry.reason import Reason


def codes(told: Iterable[object]) -> list[str]:
    """The codes of reasons, of warnings or of ways out, and of the reasons inside them."""
    reasons = [getattr(one, "reason", one) for one in told]
    return [inner.code for one in reasons if isinstance(one, Reason) for inner in one.inner()]
