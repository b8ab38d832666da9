"""Prospects and the choice made together: the verdict on each fish for each show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from showprep.husbandry.reason import Reason, reason
from showprep.planning.entries.question import vat_clean_on
from showprep.planning.plan import VERDICT_ORDER, HealingLine, PlannedTouchUp, Verdict, VerdictWord
from showprep.planning.verdicts.prospects import Prospect, touched_healing
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.yard.yard import Yard
from showprep.selection.problem import Solution


def verdict_of(yard: Yard, one: Prospect, touch_ups: TouchUps, solution: Solution) -> Verdict:
    """The verdict on one fish for one show, with the day chosen for it if there is one."""
    fish, show = one.fish.id, one.events.show
    entry = next((e for e in solution.entries if e[0] == fish and e[1] == show), None)
    day, water = _day_for(yard, one, touch_ups, solution)
    home = yard.taken_from(one.fish, day) if day is not None else None
    word, reasons = _word(one, entry, day, water, home)
    reasons = (*_altered_by_then(one, entry, solution), *reasons)
    healing = _healing(yard, one, touch_ups, day, water)
    return Verdict(
        fish=fish,
        show=show,
        verdict=word,
        entered=entry is not None,
        merit=_merit(one, entry, word),
        reasons=reasons,
        touch_up=_touch_up(one, day, water, touch_ups),
        healing=healing,
        length=one.length,
        size_class=one.size_class,
        cautions=one.cautions,
        first_day=_first_day(word, healing, one.events.benching_day),
    )


def _day_for(
    yard: Yard, one: Prospect, touch_ups: TouchUps, solution: Solution
) -> tuple[date | None, str | None]:
    """The chosen touch-up that makes this fish clean for this show, and where it heals."""
    if one.window is None:
        return None, None
    for fish, day, water in solution.touch_ups:
        if fish != one.fish.id:
            continue
        if water == yard.taken_from(one.fish, day):
            if day in one.days or day in one.tight_days:
                return day, water
        elif vat_clean_on(yard, touch_ups, one.events, day) is not None:
            return day, water
    return None, None


def _word(
    one: Prospect,
    entry: tuple[str, str, bool] | None,
    day: date | None,
    water: str | None,
    home: str | None,
) -> tuple[VerdictWord, tuple[Reason, ...]]:
    if day is None:
        if entry is not None and one.word in ("ready-after-touch-up", "tight") and one.has_speck:
            if entry[2]:
                return one.word, one.reasons
            return "as-it-is", (reason("no-touch-up-day-left"), *one.reasons)
        return one.word, one.reasons
    if water == home:
        return one.word, (reason("touch-up-planned", day=day), *one.reasons)
    in_vat = reason("touch-up-planned-in-vat", day=day, water=water)
    others = [view for view in one.outlooks if view.may != "touch-up"]
    words: list[VerdictWord] = ["ready-after-touch-up", *(view.word for view in others)]
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


def _merit(one: Prospect, entry: tuple[str, str, bool] | None, word: VerdictWord) -> float | None:
    if one.merit_clean is None:
        return None
    if not one.has_speck:
        return one.merit_clean
    clean = entry[2] if entry is not None else word in ("ready-after-touch-up", "tight")
    return one.merit_clean if clean else one.merit_marked


def _touch_up(
    one: Prospect, day: date | None, water: str | None, touch_ups: TouchUps
) -> PlannedTouchUp | None:
    if one.window is None:
        return None
    return PlannedTouchUp(
        earliest=one.window.earliest,
        latest=one.window.latest,
        best=one.days[-1] if one.days else None,
        day=day,
        usual_by=one.window.latest_if_usual,
        slow_by=one.window.latest,
        defect=touch_ups.specks[0].kind,
        water=water,
        nothing_because=one.no_day_because if day is None else None,
    )


def _healing(
    yard: Yard, one: Prospect, touch_ups: TouchUps, day: date | None, water: str | None
) -> tuple[HealingLine, ...]:
    """Healing of what is there, and of the wound: on the day chosen, else as if done now."""
    found = tuple(healing for view in one.outlooks for healing in view.healing)
    if one.window is None:
        return found
    if day is not None and water is not None and water != yard.taken_from(one.fish, day):
        ramp = yard.figures["temp_ramp"]
        warm = yard.waters.moved(touch_ups.mean_on, water, day, ramp)
        in_vat = TouchUps(yard, one.fish, warm)
        wound = touched_healing(yard, in_vat, one.events, day)
        return found + tuple(replace(healing, water=water) for healing in wound)
    supposed = day or _supposed_day(yard, one)
    return found + touched_healing(yard, touch_ups, one.events, supposed)


def _supposed_day(yard: Yard, one: Prospect) -> date:
    """The day a wound is counted from when none is planned: the last in time, or today."""
    if one.days:
        return one.days[-1]
    return one.tight_days[-1] if one.tight_days else yard.on


def _first_day(word: VerdictWord, healing: tuple[HealingLine, ...], benching: date) -> date | None:
    """The first day the fish could be shown: closed if that is what is short, else clean.

    None where healing is not what stands in the way: it would be done by benching.
    """
    if word == "too-late":
        days = [one.usual_on for one in healing if one.milestone == "closed"]
    elif word in ("as-it-is", "tight"):
        days = [one.usual_on for one in healing if one.milestone == "clean"]
    else:
        return None
    known = [day for day in days if day is not None]
    if not known or len(known) < len(days):
        return None
    return max(known) if word == "tight" or max(known) > benching else None
