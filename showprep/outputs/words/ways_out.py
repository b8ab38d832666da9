"""What would change a verdict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.outputs.words.plain import counted
from showprep.season.values.unit_keys import key_in

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _tank(speaker: Speaker, reason: Reason) -> str:
    """A transport tank, with the key that tells of one."""
    litres, changes = speaker.say(reason["litres"]), reason["changes"]
    assert isinstance(changes, int)
    often = f", all its water changed {counted(changes, 'time', 'times')}" if changes else ""
    tank = f"A transport tank of {litres}{often}: `bags` has its sheet."
    if reason["own"]:
        return tank
    return f"{tank} If you have one, write carrying: {{{key_in('tank_litres', speaker.units)}}}."


SENTENCES: Sentences = {
    "change-water-at": (
        "All its water changed on the way, {at}: {fresh} of clean water of its own is taken along."
    ),
    "take-a-tank": _tank,
    "a-nearer-show": "In one bag it reaches a show no more than {longest:.1f} h away, bag to vat.",
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
