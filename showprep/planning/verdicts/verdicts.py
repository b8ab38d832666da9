"""Prospects and the choice made together: the verdict on each fish for each show."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import Chance, Reason, reason
from showprep.planning.chances.chances import expected_loss
from showprep.planning.entries.question import healing_in_vat
from showprep.planning.plan import (
    VERDICT_ORDER,
    Doubt,
    HealingLine,
    PlannedTouchUp,
    TouchUpChance,
    Verdict,
    VerdictWord,
)
from showprep.planning.verdicts.prospects import (
    Prospect,
    after_touch_up,
    touched_healing,
    unseen,
)
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.yard import Yard
from showprep.selection.problem import Solution

DOUBTS: tuple[Literal["need", "base", "water", "return"], ...] = ("need", "base", "water", "return")


class PickedDay(Struct, frozen=True):
    """The touch-up chosen for a fish and show: its chances, and where it heals."""

    chance: TouchUpChance
    water: str
    there: TouchUps  # along the course it then has
    in_vat: bool


def verdict_of(yard: Yard, one: Prospect, touch_ups: TouchUps, solution: Solution) -> Verdict:
    """The verdict on one fish for one show, with the day chosen for it if there is one."""
    fish, show = one.fish.id, one.events.show
    entry = next((e for e in solution.entries if e[0] == fish and e[1] == show), None)
    chosen = _chosen(yard, one, touch_ups, solution)
    word, reasons = _word(yard, one, entry, chosen)
    reasons = (*_altered_by_then(one, entry, solution), *reasons)
    healing = _healing(yard, one, touch_ups, chosen)
    return Verdict(
        fish=fish,
        show=show,
        verdict=word,
        entered=entry is not None,
        merit=_merit(one, word, chosen),
        reasons=reasons,
        touch_up=_touch_up(one, chosen, touch_ups),
        healing=healing,
        length=one.length,
        size_class=one.size_class,
        cautions=one.cautions,
        first_day=_first_day(word, healing, one.events.benching_day),
        chance_clean=_chance_clean(one, word, touch_ups, chosen),
        chance_closed=one.closed,
    )


def _chosen(yard: Yard, one: Prospect, touch_ups: TouchUps, solution: Solution) -> PickedDay | None:
    """The chosen touch-up that is meant for this fish and show."""
    if one.window is None:
        return None
    for fish, day, water in solution.touch_ups:
        if fish != one.fish.id:
            continue
        if water == yard.taken_from(one.fish, day):
            if day in one.days:
                return PickedDay(one.days[day], water, touch_ups, in_vat=False)
        elif one.merit is not None and yard.on <= day < one.events.departure_day:
            there = healing_in_vat(yard, touch_ups, day)
            chance = replace(there.on(day, one.events), fit=True)
            if chance.both >= one.limits.least and there.closed_by(day, one.events):
                return PickedDay(chance, water, there, in_vat=True)
    return None


def _word(
    yard: Yard, one: Prospect, entry: tuple[str, str, bool] | None, chosen: PickedDay | None
) -> tuple[VerdictWord, tuple[Reason, ...]]:
    if chosen is None:
        if entry is not None and one.word in ("ready-after-touch-up", "tight") and one.has_speck:
            return "as-it-is", (reason("no-touch-up-planned"), *one.reasons)
        return one.word, one.reasons
    day, chance = chosen.chance.day, Chance(chosen.chance.both)
    if not chosen.in_vat:
        told = after_touch_up(one.likely[day], one.limits)
        planned = reason("touch-up-planned", day=day, chance=chance)
        if yard.by_vet:
            planned = reason("asked-of-the-vet", day=day, chance=chance)
        word = max(one.word, told, key=VERDICT_ORDER.index) if one.best is not None else told
        return word, (planned, *one.reasons)
    told = after_touch_up(chosen.chance.both, one.limits)
    in_vat = reason("touch-up-planned-in-vat", day=day, water=chosen.water, chance=chance)
    if yard.by_vet:
        in_vat = reason("asked-of-the-vet-in-vat", day=day, water=chosen.water, chance=chance)
    others = [view for view in one.outlooks if view.may != "touch-up"]
    words: list[VerdictWord] = [told, *(view.word for view in others)]
    seen = tuple(why for view in others for why in view.reasons)
    return max(words, key=VERDICT_ORDER.index), (in_vat, *seen)


def _altered_by_then(
    one: Prospect, entry: tuple[str, str, bool] | None, solution: Solution
) -> Iterator[Reason]:
    """A touch-up planned for another show bars the fish from one that excludes altered fish."""
    if entry is not None or one.events.record.altered_fish != "excluded":
        return
    days = [day for fish, day, _ in solution.touch_ups if fish == one.fish.id]
    if days and min(days) <= one.events.benching_day:
        yield reason("altered-for-another-show", on=min(days))


def _would_be_touched(one: Prospect, word: VerdictWord) -> bool:
    """Does the verdict rest on a touch-up that is not planned?"""
    return one.best is not None and word in ("ready-after-touch-up", "tight")


def _merit(one: Prospect, word: VerdictWord, chosen: PickedDay | None) -> float | None:
    """The merit to expect of it as it would go; None where it cannot."""
    if one.merit is None:
        return None
    if chosen is not None:
        return round(_with_touch_up(one, chosen.there, chosen.chance.day), 1)
    if _would_be_touched(one, word) and one.best is not None:
        return round(one.merits[one.best.day], 1)
    return round(one.merit, 1)


def _with_touch_up(one: Prospect, there: TouchUps, day: date) -> float:
    others = [view for view in one.outlooks if view.defect not in there.specks]
    losses = [(view.defect.merit_lost, view.unseen) for view in others]
    merit = one.fish.record.merit
    return merit - expected_loss([*losses, *there.unseen(day, one.events)], merit)


def _chance_clean(
    one: Prospect, word: VerdictWord, touch_ups: TouchUps, chosen: PickedDay | None
) -> float:
    """The chance that it shows no blemish, as it would go."""
    if chosen is not None:
        return unseen(chosen.there, one.outlooks, one.events, chosen.chance.day)
    if _would_be_touched(one, word) and one.best is not None:
        return unseen(touch_ups, one.outlooks, one.events, one.best.day)
    return one.chance


def _touch_up(
    one: Prospect, chosen: PickedDay | None, touch_ups: TouchUps
) -> PlannedTouchUp | None:
    if one.window is None:
        return None
    told = chosen.chance if chosen is not None else one.best
    likely = one.days or (one.window.latest is not None and one.window.latest >= touch_ups.yard.on)
    return PlannedTouchUp(
        earliest=one.window.earliest if likely else None,
        latest=one.window.latest,
        best=one.best.day if one.best is not None else None,
        day=chosen.chance.day if chosen is not None else None,
        chance_healed=told.healed if told is not None else None,
        chance_not_back=told.not_back if told is not None else None,
        usual_by=one.window.usual_by,
        slow_by=one.window.slow_by,
        curve=_curve(one, chosen),
        doubts=_doubts(one, chosen, touch_ups),
        defect=touch_ups.specks[0].kind,
        water=chosen.water if chosen is not None else None,
        nothing_because=one.no_day_because if chosen is None else None,
    )


def _curve(one: Prospect, chosen: PickedDay | None) -> tuple[TouchUpChance, ...]:
    """The chances of every day ahead, those of the chosen one in the water it heals in."""
    if one.window is None:
        return ()
    picked = {} if chosen is None else {chosen.chance.day: chosen.chance}
    fit = {**one.days, **picked}
    return tuple(fit.get(each.day, each) for each in one.window.ahead)


def _doubts(one: Prospect, chosen: PickedDay | None, touch_ups: TouchUps) -> tuple[Doubt, ...]:
    told = chosen.chance if chosen is not None else one.best
    if told is None:
        return ()
    there = chosen.there if chosen is not None else touch_ups
    lost = there.chances.lost_to(there.specks, one.events, told.day)
    return tuple(Doubt(of, round(lost[of], 4)) for of in DOUBTS)


def _healing(
    yard: Yard, one: Prospect, touch_ups: TouchUps, chosen: PickedDay | None
) -> tuple[HealingLine, ...]:
    """Healing of what is there, and of the wound: on the day chosen, else as if done now."""
    found = tuple(healing for view in one.outlooks for healing in view.healing)
    if one.window is None:
        return found
    if chosen is not None:
        wound = touched_healing(yard, chosen.there, one.events, chosen.chance.day)
        if chosen.in_vat:
            wound = tuple(replace(healing, water=chosen.water) for healing in wound)
        return found + wound
    supposed = one.best.day if one.best is not None else yard.on
    return found + touched_healing(yard, touch_ups, one.events, supposed)


def _first_day(word: VerdictWord, healing: tuple[HealingLine, ...], benching: date) -> date | None:
    """The first day the fish could be shown: closed in a slow case too, else usually clean.

    None where healing is not what stands in the way: it would be done by benching.
    """
    if word == "too-late":
        days = [one.high_on for one in healing if one.milestone == "closed"]
    elif word in ("as-it-is", "tight"):
        days = [one.usual_on for one in healing if one.milestone == "clean"]
    else:
        return None
    known = [day for day in days if day is not None]
    if not known or len(known) < len(days):
        return None
    return max(known) if word in ("tight", "too-late") or max(known) > benching else None
