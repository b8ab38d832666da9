"""Changes of water: the moves, the ramps with their daily targets, and steps that are too great."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences

SENTENCES: Sentences = {
    "to-holding": "Move entries to the {water}: {show}",
    "to-holding-how": "Into water of the same warmth; the vat is brought nearer afterwards.",
    "to-holding-late": "The pond has to fast with them, or they travel fed.",
    "first-day-of-fast": "the first day of the fast",
    "own-move": "Move {fish} to the {water}",
    "own-move-how": "As your file says. Write it down afterwards.",
    "own-move-late": "Everything after it is worked out as if they were there.",
    "day-you-planned": "the day you planned it for",
    "ramp": "Ramp with {fish}: {water} from {here} to {there}",
    "ramp-days": "At most {rate} a day: {targets}. Oxygen watched.",
    "warm-on-day": "{day} {water}",
    "since-day": "the {day}",
    "step-of-water": "{fish} on {day}: from the {from_water} at {here} to the {water} at {there}.",
    "step-from-show": "{fish} on {day}: from {show} at {here} to the {water} at {there}.",
    "step-too-great": (
        "{step:sentence} That is too far: bring the vat nearer day by day first, or wait."
    ),
    "way-into-heat": (
        "{fish} would come into the {water} on {on}, at {there}: above {limit} no fish is moved "
        "there, by a ramp or without. Wait where they are until it is cooler, or cool it slowly."
    ),
    "vat-meets-show": (
        "{step:sentence} Have the vat at the warmth of {show} when they come, then bring it on "
        "with them in it, day by day."
    ),
    "step-tempered": "{step:sentence} Temper them slowly.",
    "step-to-show": "{show}: {water} {here}, the show {there}.",
    "step-to-show-too-great": (
        "{step:sentence} That is too far for a float: bring the entries nearer by {rate} a day in "
        "a vat."
    ),
    "step-tempered-at": (
        "{step:sentence} Temper them at {rate} an hour, do not just float the bags."
    ),
    "step-after-holding": "{step:sentence} Bring the {water} nearer first, by {rate} a day.",
}
