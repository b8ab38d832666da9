"""Who is in whose company: the vat that is taken, the pond that was exposed, the declaration."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.husbandry.reason import Reason

if TYPE_CHECKING:
    from showprep.outputs.words.speaker import Sentences, Speaker


def _until(speaker: Speaker, told: Reason) -> str:
    if told["until"] is None:
        return "no time in this water clears them"
    return f"they are not cleared before {speaker.say(told['until'])}"


def _taken(speaker: Speaker, told: Reason) -> str:
    return (
        f"The {told['water']} is taken by {speaker.say(told['fish'])} when it would come home on "
        f"{speaker.say(told['home'])}, and {_until(speaker, told)}: all in, all out."
    )


def _shared(speaker: Speaker, told: Reason) -> str:
    return (
        f"It is in the {told['water']} with {speaker.say(told['fish'])}, shares what they have "
        f"met, and {_until(speaker, told)}."
    )


def _exposed(speaker: Speaker, told: Reason) -> str:
    return (
        f"{speaker.say(told['fish'])} came into the {told['water']} on {speaker.say(told['on'])} "
        f"before its time apart was over: all it has met since is exposed, and "
        f"{_until(speaker, told)}."
    )


def _moved(speaker: Speaker, told: Reason) -> str:
    does = "would join" if told["ahead"] else "joined"
    home = f", home from {speaker.say(told['show'])}," if told["show"] is not None else ""
    said = (
        f"{speaker.say(told['fish'])}{home} {does} the {told['water']} on "
        f"{speaker.say(told['on'])}, before its time apart is over. "
    )
    if told["ahead"]:
        return said + "Leave it where it is until it is cleared."
    others = speaker.say(told["others"]) if told["others"] else "that water"
    return said + (
        f"Treat {others} as exposed: no fish in or out, and {_until(speaker, told)}. Ask a vet."
    )


def _again(speaker: Speaker, told: Reason) -> str:
    home = f", home from {speaker.say(told['show'])}," if told["show"] is not None else ""
    over = (
        f"now until {speaker.say(told['until'])}"
        if told["until"] is not None
        else "and no time in it clears them"
    )
    return (
        f"When {speaker.say(told['fish'])}{home} come into the {told['water']} on "
        f"{speaker.say(told['on'])}, the count of {speaker.say(told['others'])} starts "
        f"again, {over}. "
        "A second vat would spare them that."
    )


def _mates(speaker: Speaker, told: Reason) -> str:
    if told["until"] is None:
        why = "its water is too cold or too warm to show KHV, so no time there clears it"
    else:
        why = f"it is not cleared before {speaker.say(told['until'])}"
    return (
        f"{speaker.say(told['fish'])} came untested on {speaker.formatted(told['on'], 'year')} and "
        f"{why}: {speaker.say(told['others'])} have met it. Ask a vet about a test before any of "
        "them goes to a show."
    )


def _sign(speaker: Speaker, told: Reason) -> str:
    return (
        "The declaration may be signed as far as your files tell: nothing without a test has "
        f"joined these fish since {speaker.formatted(told['since'], 'year')} "
        f"({speaker.formatted(told['months'], 'month')})."
    )


def _against(speaker: Speaker, told: Reason) -> str:
    met = f", and has met {speaker.say(told['others'])}" if told["others"] else ""
    if told["ahead"]:
        joint = ", and" if not met else "; it"
        met += f"{joint} is to meet {speaker.say(told['ahead'])} on {speaker.say(told['first'])}"
    return (
        f"Not for these: {speaker.say(told['fish'])} came without a test on "
        f"{speaker.formatted(told['on'], 'year')}, after "
        f"{speaker.formatted(told['since'], 'year')}{met}."
    )


def _test(speaker: Speaker, told: Reason) -> str:
    fish, frees = speaker.say(told["fish"]), _frees(speaker, told)
    if told["late"]:
        return (
            f"Have a vet test {fish} for KHV now: the answer may come too late for the form (two "
            "weeks, assumption). In water that has been too cold or too warm a test may miss "
            f"it.{frees}"
        )
    return (
        f"Have a vet test {fish} for KHV by {speaker.say(told['by'])} (two weeks for the answer, "
        f"assumption), in water warm enough to show it, and write down tested: yes.{frees}"
    )


def _drop(speaker: Speaker, told: Reason) -> str:
    return (
        f"Drop the move of {speaker.say(told['fish'])} into the {told['water']} on "
        f"{speaker.say(told['on'])}; they have not met yet.{_frees(speaker, told)}"
    )


def _frees(speaker: Speaker, told: Reason) -> str:
    """For whom a way would let the declaration be signed."""
    if not told["frees"]:
        return " Not enough alone: others stand against the same fish."
    return f" It may then be signed for {speaker.say(told['frees'])}."


def _way(speaker: Speaker, told: Reason) -> str:
    way = told["way"]
    assert isinstance(way, Reason)
    said = speaker.phrase(way)
    return f"{'Cheapest' if told['cheapest'] else 'Or'}: {said[:1].lower()}{said[1:]}."


SENTENCES: Sentences = {
    "vat-taken": _taken,
    "vat-shared": _shared,
    "exposed": _exposed,
    "moved-before-clear": _moved,
    "count-starts-again": _again,
    "kept-apart-then": (
        "It is kept apart on {day}, and handled with fish of its own company alone: others are to "
        "be touched up too."
    ),
    "move-would-bar": (
        "{fish} came without a test: moved into the {water} on {on}, it would meet {others}, and "
        "for months none of them could go to a show that asks for a declaration. Test it first, or "
        "drop the move."
    ),
    "mates-of-new": _mates,
    "may-sign": _sign,
    "may-sign-for": "For {fish}, who go, the declaration may be signed as far as your files tell.",
    "signs-against": "Not to be signed: signs of KHV were written down on {on:year}.",
    "stands-against": _against,
    "way-to-sign": _way,
    "drop-move": _drop,
    "test-by": _test,
    "leave-at-home": "Leave {fish} at home.",
}
