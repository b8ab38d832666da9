"""Red spots in the skin: how long they may be waited for.

Common practice, no source: a stress flush is gone within a day or three; spots that stay longer,
spread, or stand on several fish are a sign of illness and go to a vet.
"""

from __future__ import annotations

from datetime import date, timedelta

WAIT_DAYS = 3


def look_again_on(seen: date) -> date:
    """The day on which red spots first `seen` then are looked for again: three days later."""
    return seen + timedelta(days=WAIT_DAYS)


def goes_to_vet(first_seen: date, last_seen: date) -> bool:
    """Were the spots still seen three days after they were first, or later?

    Raises ValueError if the last look comes before the first.
    """
    if last_seen < first_seen:
        raise ValueError("the last look at the red spots comes before the first")
    return last_seen >= look_again_on(first_seen)
