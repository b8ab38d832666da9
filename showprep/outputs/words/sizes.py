"""Where an expected length comes from, and the limits a show sets."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences

SENTENCES: Sentences = {
    "measured-on-the-day": "Measured on the day.",
    "line-through": "A line through {measurements:measurement}, by warmth.",
    "own-growth": "The fish's own growth between two measurements.",
    "usual-growth": "One measurement and the usual growth of koi.",
    "limit-fish": "At most {most:g} fish.",
    "limit-fish-least": "At least {least:g} fish.",
    "limit-points": "At most {most:g} points.",
    "limit-points-used": "At most {most:g} points, {used:g} used at the lengths expected.",
    "limit-oldest": "No fish over {oldest:year} old.",
    "limit-class": "At most {most:g} in a class.",
    "limit-total": "At most {most} in all.",
    "limit-total-least": "At least {least} in all.",
    "limit-longest": "No fish over {most}.",
    "limit-shortest": "No fish under {least}.",
}
