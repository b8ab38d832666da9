"""The words of the choice: who is left out and why, and what one more of a limit would gain."""

from __future__ import annotations

from typing import cast

from showprep.husbandry.reason import Reason, Value
from showprep.outputs.words.plain import points
from showprep.outputs.words.speaker import Sentences, Speaker

MOST_NAMED = 3  # entries that would give way


def _left_out(speaker: Speaker, told: Reason) -> str:
    """What stands in the way; then the cost, and who would give way."""
    limits = _each(told["limits"])
    why = "; ".join(speaker.text(one) for one in limits) or "the plan is better without it"
    cost, gone = cast("float | None", told["cost"]), _each(told["gives_way"])
    if cost is None:
        unknown = {
            "not-asked": f"{why}; showprep why tells what it would cost",
            "none-found": f"{why}; no plan with it was found",
            "impossible": f"no plan with it is possible: {why}",
        }
        return unknown[cast("str", told["without"])]
    loss = "with it the plan would be worth as much"
    if cost > 0:
        most = "at most " if told["at_most"] else ""
        loss = f"with it the plan would lose {most}{points(cost)}"
    if gone:
        away = " and ".join(speaker.text(one) for one in gone[:MOST_NAMED])
        more = f" and {len(gone) - MOST_NAMED} more" if len(gone) > MOST_NAMED else ""
        loss = f"{loss}, and {away}{more} would give way"
    return f"{why}; {loss}"


def _would_gain(speaker: Speaker, told: Reason) -> str:
    what = speaker.text(cast("Reason", told["what"]))
    least = "at least " if told["at_least"] else ""
    return f"{what} would gain {least}{points(cast('float', told['gain']))}"


def _musts_clash(speaker: Speaker, told: Reason) -> str:
    words = " and ".join(speaker.text(one) for one in _each(told["limits"]))
    return (
        f"What you marked as must cannot all be: it does not fit together because of {words}. "
        "The plan ignores it."
    )


def _musts_impossible(speaker: Speaker, told: Reason) -> str:
    words = "; ".join(speaker.text(one) for one in _each(told["pairs"]))
    return f"What you marked as must cannot all be: {words}. The plan ignores it."


def _each(value: Value) -> tuple[Reason, ...]:
    return cast("tuple[Reason, ...]", value)


# Of each limit: what it is when it is used up, what one more of it would be, and its name.
LIMITS: dict[str, tuple[str, str, str]] = {
    "fish": (
        "the limit of {most} fish at {of} is used up",
        "one more entry at {of}",
        "the limit of fish at {of}",
    ),
    "boxes": (
        "no box is left for {of} ({most} in all)",
        "one more box for {of}",
        "the boxes that can be carried to {of}",
    ),
    "kg": (
        "the {most} that can be carried to {of} are used up",
        "{more} more for {of}",
        "the weight that can be carried to {of}",
    ),
    "total-cm": (
        "the {most} allowed at {of} are used up",
        "{more} more at {of}",
        "the total length allowed at {of}",
    ),
    "points": (
        "the points allowed at {of} are used up ({most})",
        "one more point at {of}",
        "the points allowed at {of}",
    ),
    "entries-per-class": (
        "its class at {of} is full (at most {most})",
        "one more entry in each class at {of}",
        "the entries allowed in one class at {of}",
    ),
    "fish-at-least": (
        "{of} takes no fewer than {most} fish",
        "one fish fewer asked for by {of}",
        "the least number of fish that {of} takes",
    ),
    "total-cm-at-least": (
        "{of} takes no less than {most} of fish",
        "{more} less asked for by {of}",
        "the least total length that {of} takes",
    ),
    "fees": (
        "the {most} set aside for fees are spent",
        "{more} more for fees",
        "the budget of fees",
    ),
    "fish-per-day": (
        "on each fit day other fish are touched up (at most {most})",
        "one more fish on each touch-up day",
        "the fish that can be touched up on one day",
    ),
    "touch-ups-per-fish": (
        "{of} is touched up as often as is allowed ({most})",
        "one more touch-up a fish",
        "the touch-ups allowed for {of}",
    ),
    "vat-places": (
        "no place in the isolation vat is left ({most} in all)",
        "one more place in the isolation vat",
        "the places in the isolation vat",
    ),
    "vat-cohorts": (
        "the isolation vat is taken by fish that must not be joined",
        "",
        "the rule that groups are never together in the isolation vat",
    ),
    "spacing": (
        "{of} must not be sedated again so soon",
        "",
        "the days that must lie between two sedations of {of}",
    ),
    "bars": (
        "a touch-up for another show stands against it",
        "",
        "a touch-up too near the show, or not closed by then ({of})",
    ),
    "rest": (
        "{of} needs its rest and its time apart between shows",
        "",
        "the rest that {of} needs between shows",
    ),
}
SOME = "some fish"  # a limit of no one fish


def _limit(speaker: Speaker, told: Reason, which: int, **amounts: Value) -> str:
    text = LIMITS[cast("str", told["limit"])][which]
    said = {name: speaker.say(value) for name, value in amounts.items()}
    return text.format(of=speaker.say(told["of"]) or SOME, **said)


def _used_up(speaker: Speaker, told: Reason) -> str:
    return _limit(speaker, told, 0, most=told["most"])


def _one_more(speaker: Speaker, told: Reason) -> str:
    return _limit(speaker, told, 1, more=told["more"])


def _by_name(speaker: Speaker, told: Reason) -> str:
    return _limit(speaker, told, 2)


def _pair(speaker: Speaker, told: Reason) -> str:
    return f"{speaker.say(told['fish'])} at {speaker.say(told['show'])}"


def _hands(speaker: Speaker, told: Reason) -> str:
    return f"free hands on {speaker.formatted(told['day'], 'short')}"


def _nowhere(speaker: Speaker, told: Reason) -> str:
    return f"{_pair(speaker, told)} can be entered neither as it is nor after a touch-up"


SENTENCES: Sentences = {
    "left-out": _left_out,
    "gives-way": _pair,
    "limit-used-up": _used_up,
    "one-more": _one_more,
    "limit-by-name": _by_name,
    "would-gain": _would_gain,
    "more-hands": _hands,
    "musts-clash": _musts_clash,
    "musts-impossible": _musts_impossible,
    "musts-clash-many": "What you marked as must cannot all be: several limits stand in the way. "
    "The plan ignores it.",
    "nowhere": _nowhere,
}
