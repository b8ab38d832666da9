"""What can be said of one fish for one show before anything is chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from showprep.planning.eligibility import against_entry
from showprep.planning.events import Events
from showprep.planning.lengths import length_on, size_class, weight_kg
from showprep.planning.pair_cautions import cautions_of
from showprep.planning.plan import (
    VERDICT_ORDER,
    Healing,
    Length,
    SizeClass,
    VerdictWord,
)
from showprep.planning.state import DefectState, FishState
from showprep.planning.touch_ups import TouchUps, Window
from showprep.planning.words import spoken, spoken_from
from showprep.planning.wounds import Outlook, described, healing_of, outlook
from showprep.planning.yard import Yard


@dataclass(frozen=True, slots=True)
class Prospect:
    """One fish for one show: the best that can be had, and what stands in the way.

    `days` are the fit touch-up days for this show, `tight_days` those in time only at the usual
    requirement. `merit_clean` is the merit without any speck, `merit_marked` with the specks seen
    (both less what other marks cost); None where it cannot be entered so.
    """

    fish: FishState
    events: Events
    word: VerdictWord
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]
    outlooks: tuple[Outlook, ...]
    window: Window | None
    days: tuple[date, ...]
    tight_days: tuple[date, ...]
    no_day_because: str | None
    length: Length | None
    size_class: SizeClass | None
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
        cautions=tuple(cautions_of(yard, fish, events, length, classes, days or tight_days)),
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
) -> tuple[Healing, ...]:
    """How the nicks of a touch-up on `day` would heal, against this show's deadlines."""
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


def _ill(fish: FishState, others: tuple[Outlook, ...]) -> str | None:
    if fish.off_food_since is not None:
        return "it is off its food"
    for one in others:
        if one.word in ("vet-first", "too-late") and (one.kind.is_wound or one.may == "vet"):
            return f"{described(one.defect, one.kind).lower()} comes first"
    return None


def _touch_up_days(
    yard: Yard, touch_ups: TouchUps, events: Events, window: Window | None, ill: str | None
) -> tuple[tuple[date, ...], tuple[date, ...], str | None]:
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


def _no_window(yard: Yard, events: Events, window: Window, ill: str | None) -> str | None:
    """Why no touch-up is planned at all for this show, whatever the day."""
    if yard.keeper.touch_up.by == "nobody":
        return "nobody does touch-ups here (touch_up: by)"
    if events.record.altered_fish == "excluded":
        return "the show excludes altered fish, so the speck is left"
    if ill is not None:
        return ill
    if window.latest_if_usual is None:
        return "the water is too cold for the nick to heal in a year"
    return None


def _fit_for_show(
    yard: Yard, touch_ups: TouchUps, events: Events, days: tuple[date, ...]
) -> tuple[date, ...]:
    """The days far enough from the journey whose nick is closed by departure."""
    gap = yard.days("sedate_to_show_gap")
    return tuple(
        day
        for day in days
        if day + gap <= events.departure_day and touch_ups.closed_by(day, events.departure_day)
    )


def _no_day(yard: Yard, touch_ups: TouchUps, window: Window) -> str:
    latest = window.latest
    if latest is None:
        return "at the slow pace the nick would not heal in a year of this water"
    back = max((one.seen for one in touch_ups.back), default=None)
    if back is not None and latest < back:
        return (
            f"it is likely back only from {spoken_from(back, yard.on)}, and the last day in time "
            f"is {spoken_from(latest, yard.on)}"
        )
    if latest < window.earliest:
        return (
            f"in water this cold it must come off by {spoken_from(latest, yard.on)} to heal in "
            f"time, but taken off before {spoken(window.earliest)} it would be back by the show"
        )
    if latest < yard.on:
        return f"the last day in time was {spoken_from(latest, yard.on)}"
    first = max(window.earliest, yard.on)
    days = [first + timedelta(days=number) for number in range((latest - first).days + 1)]
    objections = [touch_ups.against(day) for day in days if yard.is_work_day(day)]
    known = [objection for objection in objections if objection is not None]
    if not objections:
        return f"no work day falls between {spoken(first)} and {spoken(latest)}"
    if known:
        return f"no day from {spoken(first)} to {spoken(latest)} is fit: {known[-1]}"
    return "every fit day is too near the journey"


def _speck_word(
    yard: Yard,
    touch_ups: TouchUps,
    events: Events,
    window: Window | None,
    days: tuple[date, ...],
    tight_days: tuple[date, ...],
    because: str | None,
) -> tuple[VerdictWord, tuple[str, ...]]:
    if window is None:
        return "ready", ()
    names = [_speck_name(yard, touch_ups, speck) for speck in touch_ups.specks]
    name = names[0] if len(names) == 1 else f"{names[0]} and {len(names) - 1} more"
    if days:
        first, last = spoken(max(window.earliest, days[0])), spoken(days[-1])
        when = f"on {last}" if first == last else f"from {first} to {last}"
        return "ready-after-touch-up", (
            f"{name}: can be taken off {when} and be clean in time, in a slow case too.",
        )
    if tight_days and yard.keeper.preferences.accept_tight:
        return "tight", (
            f"{name}: taken off by {spoken(tight_days[-1])} it is clean in time at the usual "
            "pace, not in a slow case.",
        )
    if tight_days:
        return "as-it-is", (
            f"{name} stays: {because}. A touch-up by {spoken(tight_days[-1])} would be tight, and "
            "you do not accept tight ones.",
        )
    return "as-it-is", (f"{name} stays: {because}.",)


def _speck_name(yard: Yard, touch_ups: TouchUps, speck: DefectState) -> str:
    name = described(speck, yard.facts.kinds[speck.kind])
    if speck not in touch_ups.back:
        return name
    back = spoken_from(speck.seen, yard.on)
    return f"{name}, taken off before and likely back from {back} (assumption)"


def _worst(
    word: VerdictWord,
    reasons: tuple[str, ...],
    others: tuple[Outlook, ...],
    fish: FishState,
    barred: tuple[str, ...],
) -> tuple[VerdictWord, tuple[str, ...]]:
    """The worst defect decides; its reasons come first, the others follow."""
    found: list[tuple[VerdictWord, tuple[str, ...]]] = [(word, reasons)]
    found.extend((one.word, one.reasons) for one in others)
    if fish.off_food_since is not None:
        since = spoken(fish.off_food_since)
        found.append(("vet-first", (f"Off its food since {since}: a vet first.",)))
    if barred:
        found.append(("not-eligible", barred))
    found.sort(key=lambda pair: -VERDICT_ORDER.index(pair[0]))
    every = tuple(reason for _, some in found for reason in some)
    return found[0][0], every or ("Nothing to do.",)


def _lost(outlooks: Iterator[Outlook]) -> float:
    return sum(one.defect.merit_lost for one in outlooks)
