"""Fish home from a show: how long they stay apart, what clears them, and what is wrong with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.outputs.words.plain import listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker

VATS = {"own": "own vats", "shared": "shared vats", "bag": "bags"}


def _days_apart(speaker: Speaker, reason: Reason) -> str:
    """The days, and why they are more than the table says where water hid the disease."""
    days, vats = speaker.formatted(reason["days"], "day"), VATS[str(reason["vats"])]
    said = f"{days} after a show with {vats}."
    where = [
        f"{side} {speaker.say(reason[side])}"
        for side in ("below", "above")
        if reason[side] is not None
    ]
    if not where:
        return said
    return f"{said} A day {listed(where, 'or')} starts the count again: KHV hides there."


SENTENCES: Sentences = {
    "stay-apart": "Fish stay apart: {water}, home from {show}",
    "stay-apart-how": (
        "{how_long:sentence} All in, all out: one more fish starts the count again. Serve this "
        "vat last, with its own net."
    ),
    "no-time-clears": "No time in this water clears them: see the warning in the plan.",
    "days-apart": _days_apart,
    "way-home": "the way home",
    "tell-the-authority": (
        "White or brown dead gill patches, sunken eyes, many deaths: tell the authority at once."
    ),
    "may-join": "May join the others: home from {show}",
    "may-join-how": (
        "Only if nothing has died, nobody flashes, and the last scrape was clean. Within {near}, "
        "or by a ramp."
    ),
    "may-join-late": "They are crowded for longer than need be.",
    "days-after-home": "cleared on {clear}, {days:day} after coming home",
    "nowhere-apart": (
        "No vat to keep fish apart in: fish home from {show} would go straight back to the others, "
        "with whatever they met there. Name one (isolation, in keeper.yaml) before you enter."
    ),
    "more-than-vat-holds": (
        "{fish:fish/fish} would be in the {water} once the fish are home from {show}; it holds "
        "{holds}."
    ),
    "vat-too-small": (
        "{fish:fish/fish} home from {show} want about {needed} (assumption); the {water} has "
        "{litres}. More water changes, or fewer fish."
    ),
}
