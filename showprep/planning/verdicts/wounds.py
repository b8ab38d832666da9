"""Blemishes that heal by themselves, for one show: closed by departure, clean by benching."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from showprep.husbandry.figures import FiguresInForce
from showprep.husbandry.healing import (
    TOUCH_UP_MAX_MM,
    DefectKind,
    May,
    Milestone,
    healing_days,
)
from showprep.husbandry.places import may_touch_up
from showprep.husbandry.reason import Blemish, Millimetres, Reason, reason
from showprep.husbandry.red_spots import goes_to_vet
from showprep.husbandry.thermal_time import MeanOn
from showprep.planning.as_of.defects import RED_SPOTS
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.chances.needs import milestones
from showprep.planning.plan import VERDICT_ORDER, HealingLine, VerdictWord
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

CURVE_DAYS = 400  # longer than any healing worth drawing


@dataclass(frozen=True, slots=True)
class Ruling:
    """What may be done about one defect, and why."""

    may: May
    why: Reason


@dataclass(frozen=True, slots=True)
class Outlook:
    """One defect against one show, nothing more being done to it."""

    defect: DefectState
    kind: DefectKind
    may: May
    word: VerdictWord
    seen_by_judge: bool
    reasons: tuple[Reason, ...]
    healing: tuple[HealingLine, ...] = ()


def ruling(
    defect: DefectState, kind: DefectKind, scaleless: bool, figures: FiguresInForce
) -> Ruling:
    """What may be done: the kind decides, then where the speck sits, its size, and the scales.

    Red spots that stay are no flush of the skin any more, but for a vet.
    """
    if defect.mark_left:
        return Ruling("leave", reason("trace-stays"))
    if kind.may == "vet" and defect.vet is not None:
        return Ruling("heals", reason("vet-dealt-with-it", on=defect.vet))
    if kind.id == RED_SPOTS and defect.vet is None and _red_spots_stay(defect, figures):
        assert defect.not_clean_on is not None
        return Ruling("vet", reason("red-spots-stay", since=defect.seen, on=defect.not_clean_on))
    if kind.may != "touch-up":
        return Ruling(kind.may, reason("kind-note", kind=kind.id))
    if defect.touched is not None:
        return Ruling("heals", reason("touched-up", on=defect.touched))
    place = may_touch_up(defect.where)
    if place.may != "touch-up":
        return Ruling(place.may, place.reason)
    if scaleless:
        return Ruling("leave", reason("scaleless-fish"))
    if defect.size_mm is not None and defect.size_mm > TOUCH_UP_MAX_MM:
        size, most = Millimetres(defect.size_mm), Millimetres(TOUCH_UP_MAX_MM)
        return Ruling("vet", reason("speck-too-large", size=size, most=most))
    return Ruling("touch-up", place.reason)


def _red_spots_stay(defect: DefectState, figures: FiguresInForce) -> bool:
    looked = defect.not_clean_on
    return looked is not None and goes_to_vet(defect.seen, max(looked, defect.seen), figures)


def outlook(yard: Yard, fish: FishState, defect: DefectState, events: Events) -> Outlook:
    """What one defect means for one show when nothing more is done to it."""
    kind = yard.facts.kinds[defect.kind]
    rule = ruling(defect, kind, is_scaleless(yard, fish), yard.figures)
    it = blemish(defect)
    if rule.may == "vet" and kind.may == "touch-up":
        # A speck does the fish no harm: it may be shown with it, wherever it sits.
        why = reason("speck-for-a-vet", it=it, why=rule.why)
        return Outlook(defect, kind, rule.may, "as-it-is", True, (why,))
    if rule.may == "vet":
        why = reason("vet-first", it=it, why=rule.why)
        return Outlook(defect, kind, rule.may, "vet-first", True, (why,))
    if rule.may == "never":
        why = reason("never-altered", it=it, why=rule.why)
        return Outlook(defect, kind, rule.may, "as-it-is", True, (why,))
    if rule.may == "leave":
        why = reason("left-alone", it=it, why=rule.why)
        return Outlook(defect, kind, rule.may, "as-it-is", True, (why,))
    if rule.may == "touch-up":
        return Outlook(defect, kind, rule.may, "as-it-is", True, (reason("speck-shows", it=it),))
    return _healing_outlook(yard, fish, defect, kind, events)


def is_scaleless(yard: Yard, fish: FishState) -> bool:
    """Doitsu bodies carry scales along the lines only, or none."""
    variety = yard.facts.varieties.get(fish.record.variety)
    return (variety is not None and variety.scaleless) or "doitsu" in fish.record.variety


def blemish(defect: DefectState) -> Blemish:
    """The defect as it is spoken of: its kind, and where it is."""
    return Blemish(defect.kind, defect.where)


def healing_of(
    yard: Yard,
    fish: FishState,
    defect: DefectState,
    kind: DefectKind,
    events: Events,
    *,
    start: date | None = None,
    mean_on: MeanOn | None = None,
) -> tuple[HealingLine, ...]:
    """Each milestone of a defect with its dates against this show's deadlines.

    `start` is the touch-up day when one is being weighed; otherwise the day it heals from.
    """
    begin = start or defect.heals_from
    around = mean_on or yard.mean_on(fish)
    healings = []
    for name, milestone in milestones(defect, kind):
        deadline = events.departure_day if name == "closed" else events.benching_day
        healing = _one_healing(begin, deadline, name, milestone, around, kind)
        healing = replace(
            healing,
            where=defect.where,
            after_touch_up=start is not None or defect.touched is not None,
            water=yard.course(fish).water_before(max(begin, yard.on)),
        )
        healings.append(_as_seen(healing, defect))
    return tuple(healings)


def _one_healing(
    begin: date,
    deadline: date,
    name: Literal["closed", "clean"],
    milestone: Milestone,
    mean_on: MeanOn,
    kind: DefectKind,
) -> HealingLine:
    days = healing_days(milestone, begin, mean_on, milestone_name=name)
    return HealingLine(
        defect=kind.id,
        where="",
        milestone=name,
        start=begin,
        after_touch_up=False,
        deadline=deadline,
        low_on=days.low_on,
        usual_on=days.usual_on,
        high_on=days.high_on,
        short_days=_short(days.usual_on, deadline),
        low=milestone.low,
        usual=milestone.usual,
        high=milestone.high,
        least_days=milestone.least_days,
        unit=milestone.unit,
        grade=kind.grade,
        water="",
        gathered_by_deadline=round(milestone.gathered(begin, deadline, mean_on), 1),
        curve=_curve(begin, max(deadline, days.high_on or deadline), milestone, mean_on),
    )


def _as_seen(healing: HealingLine, defect: DefectState) -> HealingLine:
    """What was seen replaces what was expected.

    Seen closed: closed from that day. Still seen after the usual day: this is the slow case, and
    past the slow case no date is known.
    """
    if healing.milestone == "closed":
        seen = defect.closed_on
        if seen is None:
            return healing
        return replace(healing, low_on=seen, usual_on=seen, high_on=seen, short_days=None)
    looked = defect.not_clean_on
    if looked is None or (healing.usual_on is not None and looked < healing.usual_on):
        return healing
    slow = healing.high_on if healing.high_on is not None and healing.high_on > looked else None
    return replace(
        healing, low_on=slow, usual_on=slow, high_on=slow, short_days=_short(slow, healing.deadline)
    )


def _healing_outlook(
    yard: Yard, fish: FishState, defect: DefectState, kind: DefectKind, events: Events
) -> Outlook:
    healing = healing_of(yard, fish, defect, kind, events)
    if not any(one.milestone == "clean" for one in healing):
        why = reason("no-figure-for-clean", it=blemish(defect))
        return Outlook(defect, kind, "heals", "as-it-is", True, (why,), healing)
    word = max((one.verdict for one in healing), key=VERDICT_ORDER.index)
    # `clean` before `closed`: what a judge sees is what the keeper asks first
    reasons = tuple(_why(defect, one) for one in reversed(healing) if one.verdict == word)
    if word == "too-late":
        reasons = (reason("cannot-heal-in-time", why=reasons[0]), *reasons[1:])
    return Outlook(defect, kind, "heals", word, word in ("as-it-is", "too-late"), reasons, healing)


def _why(defect: DefectState, healing: HealingLine) -> Reason:
    it, milestone, by = blemish(defect), healing.milestone, healing.deadline
    usual, slow, looked = healing.usual_on, healing.high_on, defect.not_clean_on
    if usual is None and milestone == "clean" and looked is not None:
        return reason("still-seen", it=it, on=looked)
    if usual is None:
        return reason("heals-out-of-sight", it=it, milestone=milestone)
    if healing.short_days is not None:
        days = healing.short_days
        return reason("heals-late", it=it, milestone=milestone, usual=usual, days=days, by=by)
    if healing.verdict == "tight":
        return reason("heals-tight", it=it, milestone=milestone, usual=usual, slow=slow, by=by)
    return reason("heals-in-time", it=it, milestone=milestone, usual=usual, slow=slow, by=by)


def _short(usual_on: date | None, deadline: date) -> int | None:
    if usual_on is None or usual_on <= deadline:
        return None
    return (usual_on - deadline).days


def _curve(
    begin: date, until: date, milestone: Milestone, mean_on: MeanOn
) -> tuple[tuple[date, float], ...]:
    points = [(begin, 0.0)]
    total = 0.0
    first = begin.toordinal() + 1
    for number in range(first, min(first + CURVE_DAYS, until.toordinal() + 1)):
        day = date.fromordinal(number)
        total += milestone.gain(mean_on(day))
        points.append((day, round(total, 1)))
    return tuple(points)
