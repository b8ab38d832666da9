"""What stands against an entry whatever the fish looks like."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences

SENTENCES: Sentences = {
    "not-to-be-shown": "You marked it as not to be shown here.",
    "too-long": "About {length} on the day; the show takes fish up to {most}.",
    "too-short": "About {length} on the day; the show takes fish from {least}.",
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
    "other-untested": (
        "{fish}, in the same water, came untested on {on:year}, inside the {months:month} of the "
        "show's declaration."
    ),
    "new-never-clear": (
        "It came on {on} and cannot be cleared in its water: time kept apart counts only from "
        "{low} to {high}, since KHV hides in colder and in warmer water."
    ),
    "new-kept-apart": "New since {on}: kept apart until {until}.",
    "rests-after-show": "Home from {show} on {on}; it rests and is kept apart until {until}.",
    "left-without-it": "The entries left on {on} without it.",
    "entries-closed": "Entries closed on {on}, and it was not among those entered.",
    "parasites-not-cleared": (
        "Parasites were found in the {water} on {on} and no clear check is written down: every "
        "fish of that water stays at home."
    ),
    "khv-signs-noted": (
        "Signs of KHV were written down on {on:year} ({water}). Move no fish, call a vet and tell "
        "the authority at once."
    ),
}
