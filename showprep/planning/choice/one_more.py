"""Limits in words, and the same problem with one more of what a limit allows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from showprep.planning.choice.linear import Limit
from showprep.planning.choice.problem import Problem, ShowLimits

MORE_CM, MORE_KG = 10.0, 1.0  # what "one more" means for a length and a weight

# Kind: what stands in the way, and what one more of it would be.
WORDS = {
    "fish": ("the limit of {most:g} fish at {of} is used up", "one more entry at {of}"),
    "boxes": ("the {most:g} boxes for {of} are full", "one more box for {of}"),
    "kg": ("the {most:g} kg that can be carried to {of} are used up", "1 kg more for {of}"),
    "total cm": ("the {most:g} cm allowed at {of} are used up", "10 cm more at {of}"),
    "points": ("the {most:g} points allowed at {of} are used up", "one more point at {of}"),
    "entries per class": (
        "the {most:g} entries allowed in a class at {of} are taken",
        "one more entry in each class at {of}",
    ),
    "fish at least": ("{of} takes no fewer than {most:g} fish", "one fish fewer asked for by {of}"),
    "total cm at least": (
        "{of} takes no less than {most:g} cm of fish",
        "10 cm less asked for by {of}",
    ),
    "fees": ("the {most:g} set aside for fees are spent", "{more:g} more for fees"),
    "fish per day": (
        "on each fit day the {most:g} fish that can be touched up are others",
        "one more fish on each touch-up day",
    ),
    "touch-ups per fish": (
        "{of} is touched up as often as is allowed ({most:g})",
        "one more touch-up a fish",
    ),
    "vat places": (
        "the {most:g} places in the isolation vat are taken",
        "one more place in the isolation vat",
    ),
    "vat cohorts": ("the isolation vat is taken by fish that must not be joined", ""),
    "spacing": ("{of} must not be sedated again so soon", ""),
    "bars": ("a touch-up for another show stands against it", ""),
    "rest": ("{of} needs its rest and isolation between shows", "no rest needed between shows"),
}


def stands_in_way(problem: Problem, limit: Limit, names: Mapping[str, str]) -> str:
    """The limit in words, as a clause: "the 4 boxes for Larkfield are full"."""
    return WORDS[limit.kind][0].format(of=_name(limit, names), most=_most(problem, limit) or 0)


def one_more_words(problem: Problem, limit: Limit, names: Mapping[str, str]) -> str:
    """What one more would be: "one more box for Larkfield". Empty where there is no such thing."""
    of = _name(limit, names)
    return WORDS[limit.kind][1].format(of=of, more=_dearest(problem))


def _name(limit: Limit, names: Mapping[str, str]) -> str:
    own = limit.of.split("|")[0]
    return names.get(own, own)


def _dearest(problem: Problem) -> float:
    """The greatest fee one more entry could take."""
    return max((one.fee + problem.shows[one.show].fee for one in problem.entries), default=0.0)


def _most(problem: Problem, limit: Limit) -> float | None:
    show = problem.shows.get(limit.of.split("|")[0])
    if show is not None:
        return {
            "fish": show.fish,
            "boxes": show.boxes,
            "kg": show.kg,
            "total cm": show.total_cm,
            "points": show.points,
            "entries per class": show.entries_per_class,
            "fish at least": show.fish_at_least,
            "total cm at least": show.total_cm_at_least,
        }.get(limit.kind)
    return {
        "fees": problem.fees,
        "fish per day": problem.fish_per_day,
        "touch-ups per fish": problem.touch_ups_per_fish,
        "vat places": problem.vat_holds,
    }.get(limit.kind)


def merged(limit: Limit) -> Limit:
    """The limit that a keeper would lift: the number a day, not one day's; and so on."""
    if limit.kind in ("fish per day", "touch-ups per fish", "vat places", "rest"):
        return Limit(limit.kind)
    return Limit(limit.kind, limit.of.split("|")[0])


def one_more(problem: Problem, limit: Limit) -> Problem | None:
    """The problem with one more of what a limit allows; None where that has no meaning.

    One more fish, box, point, place, touch-up or entry; 1 kg; 10 cm; for fees, what the dearest
    entry costs. Rest, spacing, bars and cohorts guard the fish and are never offered.
    """
    if limit.kind == "fees" and problem.fees is not None:
        return replace(problem, fees=problem.fees + _dearest(problem))
    if limit.kind == "fish per day":
        return replace(problem, fish_per_day=problem.fish_per_day + 1)
    if limit.kind == "touch-ups per fish":
        return replace(problem, touch_ups_per_fish=problem.touch_ups_per_fish + 1)
    if limit.kind == "vat places" and problem.vat_holds is not None:
        return replace(problem, vat_holds=problem.vat_holds + 1)
    show = problem.shows.get(limit.of)
    more = None if show is None else _more_at(show, limit.kind)
    return None if more is None else replace(problem, shows={**problem.shows, limit.of: more})


def _more_at(show: ShowLimits, kind: str) -> ShowLimits | None:
    if kind == "fish" and show.fish is not None:
        return replace(show, fish=show.fish + 1)
    if kind == "boxes" and show.boxes is not None:
        return replace(show, boxes=show.boxes + 1)
    if kind == "kg" and show.kg is not None:
        return replace(show, kg=show.kg + MORE_KG)
    if kind == "total cm" and show.total_cm is not None:
        return replace(show, total_cm=show.total_cm + MORE_CM)
    if kind == "points" and show.points is not None:
        return replace(show, points=show.points + 1)
    if kind == "entries per class" and show.entries_per_class is not None:
        return replace(show, entries_per_class=show.entries_per_class + 1)
    if kind == "fish at least" and show.fish_at_least is not None:
        return replace(show, fish_at_least=show.fish_at_least - 1)
    if kind == "total cm at least" and show.total_cm_at_least is not None:
        return replace(show, total_cm_at_least=show.total_cm_at_least - MORE_CM)
    return None


def with_day(problem: Problem, options: Problem, day: date) -> Problem:
    """The problem with the touch-ups that another problem allows on a further work day."""
    further = tuple(option for option in options.touch_ups if option.day == day)
    return replace(problem, touch_ups=tuple(sorted({*problem.touch_ups, *further})))
