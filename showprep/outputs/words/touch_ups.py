"""Why a speck can or cannot come off: what speaks against a day, and what is left of the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _speck(speaker: Speaker, reason: Reason) -> str:
    name, more = speaker.say(reason["it"]), reason["more"]
    return f"{name} and {more} more" if more else name


def _can_come_off(speaker: Speaker, reason: Reason) -> str:
    speck, first, last, best = (
        speaker.say(reason[name]) for name in ("speck", "first", "last", "best")
    )
    when = f"on {last}" if first == last else f"from {first} to {last}, best on {best}"
    return f"{speck}: can be taken off {when}: chance {speaker.say(reason['chance'])}."


def _on_set_day(speaker: Speaker, reason: Reason) -> str:
    text = (
        f"{speaker.say(reason['speck'])}: taken off on {speaker.say(reason['day'])}, the day you"
        f" set: chance {speaker.say(reason['chance'])}"
    )
    if reason["best"] == reason["day"]:
        return f"{text}."
    best = f"{speaker.say(reason['best'])} would be {speaker.say(reason['best_chance'])}"
    return f"{text}; {best}."


def _set_day_barred(speaker: Speaker, reason: Reason) -> str:
    why = speaker.formatted(reason["why"], "clause")
    text = f"{speaker.say(reason['day'])}, the day you set, will not do: {why}"
    if "best" not in dict(reason.values):
        return f"{text}."
    best, chance = speaker.say(reason["best"]), speaker.say(reason["best_chance"])
    return f"{text}; {best} would be the best day, {chance}."


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
    "water-may-not-be-fit": (
        "It is done only in water of {coldest} to {warmest}: chance that {day} has that {chance}. "
        "Read it first; if it has not, the plan takes another day."
    ),
    "cold-drop": (
        "The water fell by {fall} within the last {days:day}; after a fall of {limit} a fish "
        "heals badly and is left alone."
    ),
    "day-has-passed": "{day} has passed.",
    "no-work-day": "{day} is no work day.",
    "no-weekday": "{day} is no weekday, and the vet is asked for one.",
    "nobody-there": "Nobody is there on {day}.",
    "nobody-to-look": "Nobody is there to look back at it within {within:day} of {day}.",
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
    "too-cold-to-heal": (
        "In water this cold the wound is not healed by the show, or the speck is back."
    ),
    "no-day-likely-enough": (
        "No day is likely enough: even on {best} the chance is only {chance}."
    ),
    "last-day-has-passed": "The last day in time was {latest}.",
    "no-work-day-between": "No work day falls between {first} and {last}.",
    "no-day-is-fit": "No day from {first} to {last} is fit: {why:clause}.",
    "every-day-near-the-journey": "Every fit day is too near the journey.",
    "speck": _speck,
    "speck-can-come-off": _can_come_off,
    "speck-comes-off-on-set-day": _on_set_day,
    "set-day-barred": _set_day_barred,
    "set-day-after-show": "{day}, the day you set, is not before this show.",
    "open-at-departure-then": (
        "A wound made on {day} may be open at departure, in more than 1 case in 20."
    ),
    "set-day-unused": "The day you set for a touch-up of {fish}, {day}, is not used: {why:clause}.",
    "no-speck-to-take": "It has no speck that may be taken off.",
    "not-needed-then": "No show that it goes to gains enough by it, or too many are done that day.",
    "speck-stays": "{speck} stays: {why:clause}.",
    "cut-never-clean": (
        "{it}: this place was cut before and never seen clean since; it is left alone until it "
        "was seen clean and then back."
    ),
    "speck-stays-away": (
        "{it}: taken off on {taken_off}; chance that it is not back by judging {chance}."
    ),
    "speck-may-be-back": (
        "{it}: taken off on {taken_off}; chance that it is not back by judging only {chance}."
    ),
}
