"""Why a speck can or cannot come off: what speaks against a day, and what is left of the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _speck(speaker: Speaker, reason: Reason) -> str:
    name, more = speaker.say(reason["it"]), reason["more"]
    return f"{name} and {more} more" if more else name


def _speck_back(speaker: Speaker, reason: Reason) -> str:
    name, back, more = speaker.say(reason["it"]), speaker.say(reason["back"]), reason["more"]
    told = f"{name}, taken off before and likely back from {back} (assumption)"
    return f"{told} and {more} more" if more else told


def _can_come_off(speaker: Speaker, reason: Reason) -> str:
    speck, first, last = (speaker.say(reason[name]) for name in ("speck", "first", "last"))
    when = f"on {last}" if first == last else f"from {first} to {last}"
    return f"{speck}: can be taken off {when} and be clean in time, in a slow case too."


SENTENCES: Sentences = {
    "water-too-cold": "The water is {water}, below {limit}: too cold to sedate.",
    "water-too-warm": "The water is {water}, above {limit}: too warm to sedate.",
    "water-cold": (
        "The water is {water}, below {limit}: the oil mixes badly, and the fish goes under and "
        "comes round slowly; do not raise the dose to hurry it."
    ),
    "water-warm": (
        "The water is {water}, above {limit}: it holds little oxygen, so aerate well and keep the "
        "time short."
    ),
    "cold-drop": (
        "The water fell by {fall} within the last {days:day}; after a fall of {limit} a fish "
        "heals badly and is left alone."
    ),
    "day-has-passed": "{day} has passed.",
    "no-work-day": "{day} is no work day.",
    "fed-again": "The {water} is fed again since {on}.",
    "fed-until": "Its water was fed until {until}, and must be unfed from {first}.",
    "moved-lately": "It is moved on {on}, within {days:day}.",
    "moved-not-long-ago": "It is moved on {on}, within {days:day}: it has hardly settled.",
    "home-from-show": "It is home from {show} on {on}, within {days:day}.",
    "sedated-lately": "It was sedated on {on}, within {days:day}.",
    "spawned-lately": "It spawned on {on}, within {days:day}.",
    "treated-lately": "It was treated on {on}, within {days:day}.",
    "parasites-found": "Parasites were found in the {water} on {on}.",
    "off-its-food": "It is off its food.",
    "comes-first": "{it:small} comes first.",
    "journey-too-near": "Only {days:day} between touch-up and journey.",
    "journey-near": "Only {days:day} between touch-up and journey.",
    "nobody-does-touch-ups": "Nobody does touch-ups here (touch_up: by).",
    "speck-left-for-the-rule": "The show excludes altered fish, so the speck is left.",
    "too-cold-to-heal": "The water is too cold for the wound to heal in a year.",
    "slow-case-never-heals": ("At the slow pace the wound would not heal in a year of this water."),
    "back-too-late": ("It is likely back only from {back}, and the last day in time is {latest}."),
    "too-early-and-too-late": (
        "In water this cold it must come off by {latest} to heal in time, but taken off before "
        "{earliest} it would be back by the show."
    ),
    "last-day-has-passed": "The last day in time was {latest}.",
    "no-work-day-between": "No work day falls between {first} and {last}.",
    "no-day-is-fit": "No day from {first} to {last} is fit: {why:clause}.",
    "every-day-near-the-journey": "Every fit day is too near the journey.",
    "speck": _speck,
    "speck-back": _speck_back,
    "speck-can-come-off": _can_come_off,
    "speck-tight": (
        "{speck}: taken off by {by} it is clean in time at the usual pace, not in a slow case."
    ),
    "speck-stays-not-tight": (
        "{speck} stays: {why:clause}. A touch-up by {by} would be tight, and you do not accept "
        "tight ones."
    ),
    "speck-stays": "{speck} stays: {why:clause}.",
}
