"""What would change a verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences

SENTENCES: Sentences = {
    "heal-warmer": (
        "Moved to the {water} on {on} and warmed {ramp} a day, {it:small} would be {milestone} "
        "about {there}, in time for {show}."
    ),
    "heal-speck-in-vat": (
        "Touched up on {on} and healed in the {water}, warmed {ramp} a day, the chance is "
        "{chance}; at home it is {here} (preferences: heal_in_vat)."
    ),
    "free-hands-on": ("With free hands on {on} the speck could come off: chance {chance}."),
    "accept-less": (
        "If you accept less (preferences: least_chance), {on} is the likeliest fit day: "
        "chance {chance}."
    ),
    "next-show": "The next show it would be clean for is {show}, {on}.",
    "enter-as-it-is": "Entered as it is, it counts for {merit:g} (the blemish costs {lost:g}).",
}
