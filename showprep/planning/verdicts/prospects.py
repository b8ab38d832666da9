"""What can be said of one fish for one show before anything is chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from showprep.husbandry.reason import Reason, reason
from showprep.husbandry.sedation_fit import before_departure
from showprep.planning.as_of.state import FishState
from showprep.planning.plan import (
    VERDICT_ORDER,
    ExpectedClass,
    ExpectedLength,
    HealingLine,
    VerdictWord,
)
from showprep.planning.verdicts.eligibility import against_entry
from showprep.planning.verdicts.lengths import length_on, size_class, weight_kg
from showprep.planning.verdicts.pair_cautions import cautions_of
from showprep.planning.verdicts.touch_ups import TouchUps, TouchUpWindow
from showprep.planning.verdicts.wounds import Outlook, blemish, healing_of, outlook
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard


@dataclass(frozen=True, slots=True)
class Prospect:
    """One fish for one show: the best that can be had, and what stands in the way.

    `days` are the fit touch-up days for this show, `tight_days` those in time only at the usual
    requirement. `merit_clean` is the merit without any speck, `merit_marked` with the specks seen
    (both less what other blemishes cost); None where it cannot be entered so.
    """

    fish: FishState
    events: Events
    word: VerdictWord
    reasons: tuple[Reason, ...]
    cautions: tuple[Reason, ...]
    outlooks: tuple[Outlook, ...]
    window: TouchUpWindow | None
    days: tuple[date, ...]
    tight_days: tuple[date, ...]
    no_day_because: Reason | None
    length: ExpectedLength | None
    size_class: ExpectedClass | None
    kg: float | None
    merit_clean: float | None
    merit_marked: float | None

    @property
    def has_speck(self) -> bool:
        return self.window is not None


def touch_ups_of(yard: Yard) -> dict[str, TouchUps]:
    """What can be said of taking specks off, for every fish, each in its own water."""
    return {fish.id: TouchUps(yard, fish, yard.mean_on(fish)) for fish in yard.fish_here()}


def prospects_of(yard: Yard, touch_ups: Mapping[str, TouchUps]) -> dict[tuple[str, str], Prospect]:
    """Every fish weighed for every show still to come."""
    return {
        (fish_id, events.show): prospect(yard, one, events)
        for fish_id, one in touch_ups.items()
        for events in yard.planned()
    }


def prospect(yard: Yard, touch_ups: TouchUps, events: Events) -> Prospect:
    """Weigh one fish for one show."""
    fish, touch_ups = touch_ups.fish, touch_ups.facing(events)
    length = length_on(yard, fish, events.benching_day)
    classes = size_class(yard, events, length)
    barred = against_entry(yard, fish, events, length)
    outlooks = tuple(outlook(yard, fish, defect, events) for defect in fish.open_defects)
    others = tuple(one for one in outlooks if one.defect not in touch_ups.specks)
    ill = _ill(fish, others)
    window = touch_ups.window(events) if touch_ups.specks else None
    days, tight_days, because = _touch_up_days(yard, touch_ups, events, window, ill)
    word, reasons = _speck_word(yard, touch_ups, events, window, days, tight_days, because)
    word, reasons = _worst(word, reasons, others, fish, barred)
    can = word not in ("not-eligible", "vet-first", "too-late")
    clean = max(0.0, fish.record.merit - _lost(one for one in others if one.seen_by_judge))
    marked = max(0.0, clean - sum(speck.merit_lost for speck in touch_ups.specks))
    return Prospect(
        fish=fish,
        events=events,
        word=word,
        reasons=reasons,
        cautions=tuple(cautions_of(yard, touch_ups, events, length, classes, days or tight_days)),
        outlooks=outlooks,
        window=window,
        days=days if can else (),
        tight_days=tight_days if can else (),
        no_day_because=because,
        length=length,
        size_class=classes,
        kg=weight_kg(yard, fish, length)[0],
        merit_clean=clean if can else None,
        merit_marked=marked if can and window is not None else None,
    )


def touched_healing(
    yard: Yard, touch_ups: TouchUps, events: Events, day: date
) -> tuple[HealingLine, ...]:
    """How the wounds of a touch-up on `day` would heal, against this show's deadlines."""
    return tuple(
        healing
        for speck in touch_ups.facing(events).specks
        for healing in healing_of(
            yard,
            touch_ups.fish,
            speck,
            yard.facts.kinds[speck.kind],
            events,
            start=day,
            mean_on=touch_ups.mean_on,
        )
    )


def _ill(fish: FishState, others: tuple[Outlook, ...]) -> Reason | None:
    if fish.off_food_since is not None:
        return reason("off-its-food")
    for one in others:
        if one.word in ("vet-first", "too-late") and (one.kind.is_wound or one.may == "vet"):
            return reason("comes-first", it=blemish(one.defect))
    return None


def _touch_up_days(
    yard: Yard,
    touch_ups: TouchUps,
    events: Events,
    window: TouchUpWindow | None,
    ill: Reason | None,
) -> tuple[tuple[date, ...], tuple[date, ...], Reason | None]:
    """Fit days, fit days that are tight, and why there is none."""
    if window is None:
        return (), (), None
    because = _no_window(yard, events, window, ill)
    if because is not None:
        return (), (), because
    days = _fit_for_show(yard, touch_ups, events, touch_ups.window_days(window, tight=False))
    tight = _fit_for_show(yard, touch_ups, events, touch_ups.window_days(window, tight=True))
    tight = tuple(day for day in tight if day not in days)
    return days, tight, None if days else _no_day(yard, touch_ups, window)


def _no_window(
    yard: Yard, events: Events, window: TouchUpWindow, ill: Reason | None
) -> Reason | None:
    """Why no touch-up is planned at all for this show, whatever the day."""
    if yard.keeper.touch_up.by == "nobody":
        return reason("nobody-does-touch-ups")
    if events.record.altered_fish == "excluded":
        return reason("speck-left-for-the-rule")
    if ill is not None:
        return ill
    if window.latest_if_usual is None:
        return reason("too-cold-to-heal")
    return None


def _fit_for_show(
    yard: Yard, touch_ups: TouchUps, events: Events, days: tuple[date, ...]
) -> tuple[date, ...]:
    """The days far enough from the journey whose wound is closed by departure."""
    departure, figures = events.departure_day, yard.figures
    return tuple(
        day
        for day in days
        if before_departure(day, departure, figures).level != "block"
        and touch_ups.closed_by(day, departure)
    )


def _no_day(yard: Yard, touch_ups: TouchUps, window: TouchUpWindow) -> Reason:
    latest = window.latest
    if latest is None:
        return reason("slow-case-never-heals")
    back = max((one.seen for one in touch_ups.back), default=None)
    if back is not None and latest < back:
        return reason("back-too-late", back=back, latest=latest)
    if latest < window.earliest:
        return reason("too-early-and-too-late", latest=latest, earliest=window.earliest)
    if latest < yard.on:
        return reason("last-day-has-passed", latest=latest)
    first = max(window.earliest, yard.on)
    days = [first + timedelta(days=number) for number in range((latest - first).days + 1)]
    objections = [touch_ups.against(day) for day in days if yard.is_work_day(day)]
    known = [objection for objection in objections if objection is not None]
    if not objections:
        return reason("no-work-day-between", first=first, last=latest)
    if known:
        return reason("no-day-is-fit", first=first, last=latest, why=known[-1])
    return reason("every-day-near-the-journey")


def _speck_word(
    yard: Yard,
    touch_ups: TouchUps,
    events: Events,
    window: TouchUpWindow | None,
    days: tuple[date, ...],
    tight_days: tuple[date, ...],
    because: Reason | None,
) -> tuple[VerdictWord, tuple[Reason, ...]]:
    if window is None:
        return "ready", ()
    speck = _specks(touch_ups)
    if days:
        first, last = max(window.earliest, days[0]), days[-1]
        return "ready-after-touch-up", (
            reason("speck-can-come-off", speck=speck, first=first, last=last),
        )
    if tight_days and yard.keeper.preferences.accept_tight:
        return "tight", (reason("speck-tight", speck=speck, by=tight_days[-1]),)
    if tight_days:
        by = tight_days[-1]
        return "as-it-is", (reason("speck-stays-not-tight", speck=speck, why=because, by=by),)
    return "as-it-is", (reason("speck-stays", speck=speck, why=because),)


def _specks(touch_ups: TouchUps) -> Reason:
    """The first speck by name, and how many there are besides."""
    first, *others = touch_ups.specks
    if first in touch_ups.back:
        return reason("speck-back", it=blemish(first), back=first.seen, more=len(others))
    return reason("speck", it=blemish(first), more=len(others))


def _worst(
    word: VerdictWord,
    reasons: tuple[Reason, ...],
    others: tuple[Outlook, ...],
    fish: FishState,
    barred: tuple[Reason, ...],
) -> tuple[VerdictWord, tuple[Reason, ...]]:
    """The worst defect decides; its reasons come first, the others follow."""
    found: list[tuple[VerdictWord, tuple[Reason, ...]]] = [(word, reasons)]
    found.extend((one.word, one.reasons) for one in others)
    if fish.off_food_since is not None:
        found.append(("vet-first", (reason("off-food-vet", since=fish.off_food_since),)))
    if barred:
        found.append(("not-eligible", barred))
    found.sort(key=lambda pair: -VERDICT_ORDER.index(pair[0]))
    every = tuple(one for _, some in found for one in some)
    return found[0][0], every or (reason("nothing-to-do"),)


def _lost(outlooks: Iterator[Outlook]) -> float:
    return sum(one.defect.merit_lost for one in outlooks)
