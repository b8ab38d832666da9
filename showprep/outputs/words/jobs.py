"""What jobs are called, and why a reading is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.planning.words import listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _heal_by_it(speaker: Speaker, reason: Reason) -> str:
    fish, more = reason["fish"], reason["more"]
    assert isinstance(fish, tuple)
    names = [speaker.say(one) for one in fish] + ([f"{more} more"] if more else [])
    return f"{listed(names)} {'heals' if len(names) == 1 else 'heal'} by its warmth"


# Both are told within a sentence: "Read the pond: it was not read of late".
def _not_read(speaker: Speaker, reason: Reason) -> str:
    return f"it was not read of late, and {_heal_by_it(speaker, reason)}."


def _reading_is_old(speaker: Speaker, reason: Reason) -> str:
    last, days = speaker.say(reason["last"]), speaker.formatted(reason["days"], "day")
    return f"its last reading, of {last}, is {days} old, and {_heal_by_it(speaker, reason)}."


SENTENCES: Sentences = {
    "ring-a-vet": "Ring a vet about {fish}: {it:small}",
    "not-read-of-late": _not_read,
    "reading-is-old": _reading_is_old,
}
