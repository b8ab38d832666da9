"""What a water is fed: the names of the feeding jobs and what is said of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _fed(speaker: Speaker, reason: Reason) -> str:
    """`50 % ration: pond, no colour food, Larkfield`; `Feed again, 33 % ration: pond`."""
    share, shows = reason["share"], reason["shows"]
    assert isinstance(share, int | float) and isinstance(shows, tuple)
    ration = f"{round(100 * share)} % ration" if share < 1 else "full ration"
    ration = (
        f"Feed again, {ration}" if reason.code == "feed-again-by-steps" else ration.capitalize()
    )
    colour = "" if reason["colour_food"] else ", no colour food"
    about = f", {speaker.say(shows)}" if shows else ""
    return f"{ration}: {speaker.say(reason['water'])}{colour}{about}"


SENTENCES: Sentences = {
    "fed": _fed,
    "feed-again-by-steps": _fed,
    "unfed-before-touch-up": "No food: {water}, before the touch-up",
    "unfed-until-shows": "No food: {water}, until {shows}",
    "unfed-home-from": "No food: {water}, home from {shows}",
    "unfed": "No food: {water}",
    "fasts-as-one": (
        "The whole {water} fasts, and {others:fish/fish} at home with it; with a holding vat "
        "only the entries would."
    ),
    "too-cold-to-feed": "The water is too cold to feed in: below {least}.",
    "unfed-for-sedation": "{days:day} unfed, so that nothing comes up under sedation.",
    "unfed-for-journey": "Nobody feeds at the show, and nothing is fed for two days at home.",
    "unfed-at-home": "Nothing on the day they come home and the next.",
    "fed-by-steps": "By steps, and only what is eaten in a few minutes.",
    "colour-food-stains": "It turns white ground pink or yellow. Guides say 30 to 90 days.",
    "fast-long-in-warmth": (
        "{days:g} days without food in all is long in warm water: a fish may lose {lost:.1f} % of "
        "its weight by the end."
    ),
    "fast-long-in-all": (
        "{days:g} days without food in all is long: a fish may lose {lost:.1f} % of its weight by "
        "the end."
    ),
    "fast-long-before": (
        "{days:g} days without food before the show is long: a fish may lose {lost:.1f} % of its "
        "weight by the end."
    ),
    "long-fast-for": "{show}, {water}: {why:sentence}",
    "ration-in-this-water": (
        "At about {water} that is {typical:.2g} % of body weight a day ({low:.2g} to {high:.2g}; "
        "{grade}), {diet}. Thin and young fish are excused."
    ),
}

ON_PHONE: Sentences = {
    "ration-in-this-water": (
        "At about {water} that is {typical:.2g} % of body weight a day ({low:.2g} to {high:.2g}), "
        "{diet}. Thin and young fish are excused."
    ),
}
