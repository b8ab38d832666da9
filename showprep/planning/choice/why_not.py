"""Why nothing satisfies the musts: the limit that, lifted, would let a plan through."""

from __future__ import annotations

from itertools import combinations

from showprep.planning.choice.highs import maximise
from showprep.planning.choice.linear import Limit
from showprep.planning.choice.model_limits import build
from showprep.planning.choice.options import Options

# Kinds in the order in which a keeper would look for the fault.
KINDS = {
    "fish": "the limit of fish at {of}",
    "boxes": "the boxes that can be carried to {of}",
    "kg": "the weight that can be carried to {of}",
    "total cm": "the total length allowed at {of}",
    "points": "the points allowed at {of}",
    "entries per class": "the entries allowed in one class at {of}",
    "fish at least": "the least number of fish that {of} takes",
    "total cm at least": "the least total length that {of} takes",
    "rest": "the rest {of} needs between shows",
    "fees": "the budget of fees",
    "fish per day": "the fish that can be touched up on one day",
    "touch-ups per fish": "the touch-ups allowed for {of}",
    "spacing": "the days that must lie between two sedations of {of}",
    "bars": "a touch-up too near the show, or not closed by then, for {of}",
    "vat places": "the places in the isolation vat",
    "vat cohorts": "the rule that cohorts are never together in the isolation vat",
}
NODES = 2_000


def why_not(options: Options) -> str:
    """In words, which limit stands against the entries that must be made."""
    blocked = [one for one in options.impossible if one.must]
    if blocked:
        return " ".join(
            f"{one.fish} must go to {one.show}, but can be entered there neither clean nor marked."
            for one in blocked
        )
    for number in (1, 2):
        for kinds in combinations(KINDS, number):
            if _possible(options, frozenset(Limit(kind) for kind in kinds)):
                words = " and ".join(_named(options, kind, kinds) for kind in kinds)
                return f"The entries that must be made do not fit together because of {words}."
    return "The entries that must be made do not fit together; several limits stand against them."


def _possible(options: Options, lifted: frozenset[Limit]) -> bool:
    model = build(options, sessions=False, lifted=lifted)
    nothing = [0.0] * model.linear.columns
    return maximise(model.linear, nothing, nodes=NODES).values is not None


def _named(options: Options, kind: str, kinds: tuple[str, ...]) -> str:
    """The limit's words, with the show or fish it is of where lifting that one is enough."""
    words = KINDS[kind]
    if "{of}" not in words:
        return words
    others = {Limit(other) for other in kinds if other != kind}
    single = _single(options, kind)
    for limit in single:
        if _possible(options, frozenset({limit, *others})):
            return words.format(of=limit.of.replace("|", " at ") if kind == "bars" else _of(limit))
    names = sorted({_of(limit) for limit in single})
    return words.format(of=" and ".join(names) if names else "some fish")


def _single(options: Options, kind: str) -> list[Limit]:
    """The limits of a kind one by one: of each show, fish, or fish and show."""
    if kind == "bars":
        musts = [entry for entry in options.entries if entry.option.must and entry.barred_by]
        return [Limit(kind, "|".join(entry.key)) for entry in musts]
    if kind in ("spacing", "touch-ups per fish"):
        return [Limit(kind, fish) for fish in sorted(options.by_fish)]
    rows = build(options, sessions=False).linear.limits
    return sorted({limit for limit in rows if limit.kind == kind})


def _of(limit: Limit) -> str:
    return limit.of.split("|")[0]
