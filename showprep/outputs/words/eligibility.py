"""What stands against an entry whatever the fish looks like."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _parasites(speaker: Speaker, told: Reason) -> str:
    late = " That is too late for this show." if told["too_late"] else ""
    return (
        f"Parasites were found in the {told['water']} on {speaker.say(told['on'])} and it is not "
        "clear of them: it stays at home until a clean scrape is written down, which counts from "
        f"{speaker.say(told['scrape'])}.{late}"
    )


def _treated(speaker: Speaker, told: Reason) -> str:
    on, until = speaker.say(told["on"]), speaker.say(told["until"])
    if told["what"] is None:
        return (
            f"Treated on {on} with what you did not name, and it may have been formalin or "
            f"permanganate: it stays at home until {until}, unless you write down what it was."
        )
    return (
        f"Treated on {on} with {told['what']}: it stays at home until {until}, unless a vet "
        "ordered it (by_vet: yes)."
    )


def _untested(speaker: Speaker, told: Reason) -> str:
    """One that came without a test: whom it has met, or is to meet, itself or through others."""
    fish, met = speaker.say(told["fish"]), speaker.formatted(told["met"], "short")
    so = f"it is to meet {fish} on {met}" if told["ahead"] else f"it has met {fish}"
    return (
        f"{so[:1].upper()}{so[1:]}, or fish that did, which came untested on "
        f"{speaker.formatted(told['on'], 'year')}, inside the "
        f"{speaker.formatted(told['months'], 'month')} of the show's declaration."
    )


def _no_way(speaker: Speaker, told: Reason) -> str:
    longest, hours = told["longest"], told["hours"]
    assert isinstance(longest, int | float) and isinstance(hours, int | float)
    fish = speaker.say(told["fish"])
    if longest <= 0:
        return (
            f"With its {fish} it is too much fish, in water this warm, for any bag that two people "
            "lift, for however short a way."
        )
    return (
        f"No bag that two people lift carries its {fish} for {hours:g} h, bag to vat: it is good "
        f"for {longest:.1f} h, too short to change the water on the way."
    )


SENTENCES: Sentences = {
    "not-to-be-shown": "You marked it as not to be shown here.",
    "too-long": "About {length} on the day; the show takes fish up to {most}.",
    "too-short": "About {length} on the day; the show takes fish from {least}.",
    "longer-than-any-class": (
        "About {length} on the day; the show's classes end at {limit}, with none beyond."
    ),
    "shorter-than-any-class": "About {length} on the day; the show's classes begin at {limit}.",
    "too-old": (
        "Born in {born}; the show takes fish up to {oldest:year}, born in {first} or later."
    ),
    "variety-not-taken": "The show takes {varieties:or} only.",
    "altered-fish-excluded": (
        "It was touched up on {on:year}, and the show excludes altered fish."
    ),
    "altered-for-another-show": (
        "Touched up on {on} for another show, it is barred here: the show excludes altered fish."
    ),
    "came-untested": (
        "It came untested on {on:year}, inside the {months:month} of the show's declaration."
    ),
    "other-untested": _untested,
    "new-never-clear": (
        "It came on {on} and cannot be cleared in its water: time kept apart counts only from "
        "{low} to {high}, since KHV hides in colder and in warmer water."
    ),
    "new-kept-apart": "New since {on}: kept apart until {until}.",
    "rests-after-show": "Home from {show} on {on}; it rests and is kept apart until {until}.",
    "left-without-it": "The entries left on {on} without it.",
    "entries-closed": "Entries closed on {on}, and it was not among those entered.",
    "form-sent": "The form was sent on {on} without it.",
    "not-on-presumed-form": (
        "The form went in by {on}, and by the plan of that day it was not on it. If it is entered, "
        "note that."
    ),
    "parasites-not-cleared": _parasites,
    "parasites-ahead": (
        "It is to meet the parasites found in the {water} on {on}: let it wait until a clean "
        "scrape of that water is written down."
    ),
    "treated-too-near": _treated,
    "no-way-to-travel": _no_way,
    "spawned-not-ready": (
        "It spawned on {on}: torn fins and lost scales are open still. It stays at home until "
        "{until} (from memory)."
    ),
    "khv-signs-noted": (
        "Signs of KHV were written down on {on:year} ({water}). Move no fish, call a vet and tell "
        "the authority at once."
    ),
}
