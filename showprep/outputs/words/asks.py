"""What was presumed and is asked about, and the one line that settles it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.outputs.words.plain import listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker
    from showprep.planning.plan import Ask


def ask_text(speaker: Speaker, ask: Ask) -> str:
    """The question with the line to write."""
    return f"{speaker.say(ask.question)} {speaker.say(ask.note)}"


def _fish(reason: Reason) -> str:
    fish = reason["fish"]
    assert isinstance(fish, tuple)
    return " ".join(f"--fish {one}" for one in fish)


def _quoted(word: object) -> str:
    text = str(word)
    return f"'{text}'" if " " in text else text


def _travelled(speaker: Speaker, reason: Reason) -> str:
    """Written on any true day; `stayed` undoes what is presumed."""
    return (
        f"Note: --did {reason['did']}, or stayed, {_fish(reason)} --show {reason['show']} "
        f"--on {reason['on']}"
    )


def _entries(speaker: Speaker, reason: Reason) -> str:
    fish = reason["fish"]
    assert isinstance(fish, tuple)
    are = "Is" if len(fish) == 1 else "Are"
    show, named = speaker.say(reason["show"]), listed(map(speaker.say, fish))
    reserve = f" (reserve: {speaker.say(reason['reserve'])})" if reason["reserve"] else ""
    return f"{are} {named} entered in {show}{reserve}, and nobody else?"


def _entered(speaker: Speaker, reason: Reason) -> str:
    return (
        f"Note all that are: --did entered {_fish(reason)} --show {reason['show']} "
        f"--on {reason['on']}"
    )


def _unfed(speaker: Speaker, reason: Reason) -> str:
    return f"Note: --did 'stop feeding' --water {_quoted(reason['water'])} --on {reason['on']}"


def _cut(speaker: Speaker, reason: Reason) -> str:
    return (
        f"Note: --did touch-up {_fish(reason)} --on {reason['on']}, or --did 'not done' "
        f"--job {reason['job']}"
    )


def _move(speaker: Speaker, reason: Reason) -> str:
    return f"Note: --did move {_fish(reason)} --to {_quoted(reason['to'])} --on {reason['on']}"


def _vat(speaker: Speaker, reason: Reason) -> str:
    """A move to where it is says that it stayed there."""
    return (
        f"Note: --did move {_fish(reason)} --to {_quoted(reason['to'])} --on {reason['on']}, or "
        f"--to {_quoted(reason['left'])} if it stayed there."
    )


SENTENCES: Sentences = {
    "entries-not-noted": _entries,
    "journey-not-noted": "Did {fish} go to {show}?",
    "cut-not-noted": "Was the touch-up of {fish} done on {on}?",
    "unfed-not-noted": (
        "Has the {water} been unfed since {since}? A fish that was fed does not travel and is not "
        "sedated."
    ),
    "move-not-noted": "Did {fish} move from the {left} to the {water} on {on}?",
    "vat-not-noted": (
        "Did {fish} go into the {water} after the touch-up on {on}? Until you say, the plan takes "
        "it to be there: warm the vat by steps, and do not let it cool. Its wound counts at the "
        "colder of the two waters until then."
    ),
    "note-travelled": _travelled,
    "note-entered": _entered,
    "note-cut": _cut,
    "note-unfed": _unfed,
    "note-move": _move,
    "note-vat": _vat,
}
