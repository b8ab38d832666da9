"""What may be done about a blemish, and when it heals."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.husbandry.reason import Celsius
from showprep.season.values.quantities import DEGREE_DAYS, Units, show_degree_days, show_number

if TYPE_CHECKING:
    from collections.abc import Mapping

    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker
    from showprep.planning.plan import VerdictWord


def healing_unit(unit: str, units: Units) -> str:
    """The name of what a wound gathers: degree-days by the keeper's thermometer."""
    return DEGREE_DAYS[units] if unit == "degree-days" else unit


def healing_amount(amount: float, unit: str, units: Units, places: int = 1) -> str:
    """How much of it, without the unit."""
    if unit == "degree-days":
        return show_degree_days(amount, units, places)
    return show_number(amount, places)


IN_TIME: Mapping[VerdictWord, str] = {
    "ready": "in time, in a slow case too",
    "tight": "in time, not in a slow case",
    "as-it-is": "not in time",
    "too-late": "not in time",
}
"""What the days of one milestone alone come to; the verdict on the fish weighs their chances."""


def skin_days(speaker: Speaker) -> str:
    """What a skin-day is, as part of a sentence."""
    full, half = speaker.say(Celsius(8)), speaker.say(Celsius(4))
    return (
        f"a skin-day is a day of the film of skin: one in water of {full} or more, half from "
        f"{half}, none below"
    )


def _by(speaker: Speaker, reason: Reason) -> str:
    """`departure on Fri 11 June`: a wound must be closed by then, a blemish clean by benching."""
    event = "departure" if reason["milestone"] == "closed" else "benching"
    return f"{event} on {speaker.say(reason['by'])}"


def _usual(speaker: Speaker, reason: Reason) -> str:
    it, usual = speaker.say(reason["it"]), speaker.say(reason["usual"])
    return f"{it}: {reason['milestone']} about {usual}"


def _late(speaker: Speaker, reason: Reason) -> str:
    days = speaker.formatted(reason["days"], "day")
    return f"{_usual(speaker, reason)}, {days} after {_by(speaker, reason)}."


SENTENCES: Sentences = {
    "place-not-said": "It is not said where the speck sits.",
    "place-for-a-vet": (
        "The place names “{named}”: near eye, gill, vent or lateral line only a vet may say what "
        "is done."
    ),
    "place-on-the-head": (
        "The place names “{named}”: the head has no scales, and a speck taken off there nearly "
        "always leaves a trace."
    ),
    "place-on-a-fin": (
        "The place names “{named}”: a fin has no scales; only specks on the scaled body are "
        "touched up."
    ),
    "place-on-scales": "It sits on the scaled body.",
    "trace-stays": "It has left a trace that will stay.",
    "vet-dealt-with-it": "A vet dealt with it on {on}; it heals by itself.",
    "touched-up": "Touched up on {on}.",
    "scaleless-fish": "A scaleless fish: only specks on scales are touched up.",
    "speck-too-large": "At {size} it is larger than the {most} that a keeper may take off.",
    "speck-for-a-vet": "{it} is left alone; only a vet may take it off. {why:sentence}",
    "vet-first": "{it}: a vet first. {why:sentence}",
    "never-altered": "{it} is never altered. {why:sentence}",
    "left-alone": "{it} is left alone. {why:sentence}",
    "speck-shows": "{it} shows.",
    "no-figure-for-clean": "{it}: no figure for when it is clean; it is taken to show.",
    "still-seen": (
        "{it}: still seen on {on}, later than even a slow case; no date is known, chance {chance}. "
        "Look again every week."
    ),
    "heals-out-of-sight": "{it}: too slow to plan in this water; no day for {milestone}.",
    "heals-late": _late,
    "heals-in-time": ("{it}: clean about {usual}; benching on {by}: chance {chance}."),
    "heals-doubtful": ("{it}: clean about {usual}; benching on {by}: chance only {chance}."),
    "heals-perhaps": ("{it}: usually clean only after benching on {by}; chance {chance}."),
    "open-at-departure": (
        "{it}: usually closed about {usual}; the chance that it is by departure on {by} is only "
        "{chance}."
    ),
    "fin-open": (
        "{it}: perhaps not closed by the journey. A torn fin without redness may travel; if it is "
        "red, ask a vet first."
    ),
    "cannot-heal-in-time": "{why:phrase}: it cannot heal before judging.",
}
