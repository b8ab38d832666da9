"""What is said to a note: what speaks against it, what it is about, what to do at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.husbandry.reason import Blemish
from showprep.outputs.words.plain import listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _about(speaker: Speaker, reason: Reason) -> str:
    """The kinds by their ids, as they are named again with --defect."""
    them = reason["them"]
    assert isinstance(them, tuple)
    named = listed(
        f"{one.kind} ({one.where})" if one.where else one.kind
        for one in them
        if isinstance(one, Blemish)
    )
    return f"This is about: {named}. Name another with --defect and --where."


def _had_no_such(speaker: Speaker, reason: Reason) -> str:
    at = f" at {reason['where']}" if reason["where"] else ""
    fish, on = speaker.say(reason["fish"]), speaker.formatted(reason["on"], "year")
    return f"{fish} had no {reason['kind']}{at} on {on}; note it first with --saw 'new defect'."


def _nothing_to_look_at(speaker: Speaker, reason: Reason) -> str:
    fish, kind = speaker.say(reason["fish"]), reason["kind"] or "blemish"
    return f"{fish} has no {kind} to look at on that day."


SENTENCES: Sentences = {
    "file-fault": "{what}; {right}.",
    "too-far-ahead": "{on:year} is more than a year ahead.",
    "noted-already": "The journal says this already.",
    "fish-was-gone": "{fish} was {how} on {on:year}.",
    "touched-up-already": "{fish} was touched up on {on:year} already.",
    "had-no-such": _had_no_such,
    "nothing-to-look-at": _nothing_to_look_at,
    "touched-up-only-then": "It was only touched up on {on:year}; it cannot be {saw}.",
    "touched-up-later": "The {kind} of {fish} was only touched up on {on:year}, after that.",
    "none-was-taken-off": ("{fish} has had no {kind} taken off; write --saw 'new defect' instead."),
    "measured-longer-before": "{fish} measured {length} on {on:year}; fish do not shrink.",
    "grown-too-much": "{fish} measured {length} on {on:year}; {now} is too much.",
    "measured-shorter-later": "{fish} measured {length} on {on:year}, which is later.",
    "is-there-already": "{fish} is in the {water} already.",
    "no-result-yet": "{show} is judged on {on:year}; there is no result before that.",
    "show-is-over": "{show} was judged on {on:year}; it cannot be {did} after that.",
    "show-was-cancelled": "{show} was cancelled.",
    "won-there": "{fish} has a result of {show}, so it was there.",
    "set-after-judging": "{show} is judged before {day:year}: no touch-up then is for it.",
    "day-had-passed": "{on:year} had passed when this was heard.",
    "speck-faded": "No touch-up is noted, so the speck is taken to have faded by itself.",
    "note-is-about": _about,
    "khv-signs-advice": (
        "These may be signs of a notifiable disease. Move no fish, water or net off the place; "
        "call your fish health authority and a vet today."
    ),
    "khv-clear-advice": (
        "Only a laboratory's negative test clears a water; keep its paper with the journal."
    ),
    "scrape-too-soon": (
        "Too soon to clear the {water}: a clean scrape counts from {counts:year}. Scrape again."
    ),
    "parasites-advice": ("A find means the whole water, not one fish. Ask a vet before you treat."),
    "vet-advice": "This is for a vet to look at.",
    "strong-bath-advice": (
        "A bath above {mg_per_l:g} mg/L can kill a koi. Watch the gills; ask a vet."
    ),
}
