"""Red spots in the skin: how long they may be waited for.

Common practice, no source: a stress flush is gone within a day or three; spots that stay longer,
spread, or stand on several fish are a sign of illness and go to a vet.
"""

from __future__ import annotations

from datetime import date, timedelta
from math import floor

from showprep.husbandry.figures import FiguresInForce


def look_again_on(seen: date, figures: FiguresInForce) -> date:
    """The day on which red spots first `seen` then are looked for again: three days later
    (`red_spots_wait`)."""
    return seen + timedelta(days=floor(figures["red_spots_wait"]))


def goes_to_vet(first_seen: date, last_seen: date, figures: FiguresInForce) -> bool:
    """Were the spots still seen three days after they were first, or later?

    Raises ValueError if the last look comes before the first.
    """
    if last_seen < first_seen:
        raise ValueError("the last look at the red spots comes before the first")
    return last_seen >= look_again_on(first_seen, figures)
