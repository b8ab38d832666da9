"""What can be said of one fish for one show before anything is chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import Chance, Reason, Value, reason
from showprep.husbandry.sedation_fit import before_departure
from showprep.planning.as_of.state import FishState
from showprep.planning.chances.chances import Chances, expected_loss
from showprep.planning.chances.limits import ChanceLimits, limits_of, planned_day, stands
from showprep.planning.plan import (
    VERDICT_ORDER,
    ExpectedClass,
    ExpectedLength,
    HealingLine,
    TouchUpChance,
    VerdictWord,
)
from showprep.planning.verdicts.eligibility import against_entry
from showprep.planning.verdicts.lengths import length_on, size_class, weight_kg
from showprep.planning.verdicts.pair_cautions import cautions_of, heat_in_doubt
from showprep.planning.verdicts.touch_ups import TouchUps, TouchUpWindow
from showprep.planning.verdicts.wounds import (
    Outlook,
    blemish,
    gone_outlook,
    gone_specks,
    healing_of,
    outlook,
)
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

OF_THE_WAY = frozenset({"water-changed-on-way", "goes-in-a-tank", "may-be-too-warm-to-bag"})


class Prospect(Struct, frozen=True):
    """One fish for one show: the best that can be had, and what stands in the way.

    `days` are the fit touch-up days for this show with their chances, by day; `likely` the chance
    that nothing is seen if the touch-up is planned for each of them, and is done later, or not at
    all, where its water turns out unfit; `merits` the merit that may be expected with such a plan,
    `merit` without any touch-up: the merit of the fish less what each blemish costs times the
    chance that it is seen. `merit` is None where the fish
    cannot be entered. `chance` is that it shows no blemish without a touch-up, `closed` that its
    wounds are closed by departure.
    """

    fish: FishState
    events: Events
    limits: ChanceLimits
    word: VerdictWord
    reasons: tuple[Reason, ...]
    cautions: tuple[Reason, ...]
    outlooks: tuple[Outlook, ...]
    window: TouchUpWindow | None
    days: Mapping[date, TouchUpChance]
    likely: Mapping[date, float]
    merits: Mapping[date, float]
    no_day_because: Reason | None
    length: ExpectedLength | None
    size_class: ExpectedClass | None
    kg: float | None
    merit: float | None
    chance: float
    closed: float

    @property
    def has_speck(self) -> bool:
        return self.window is not None

    @property
    def best(self) -> TouchUpChance | None:
        """The fit day of the best chance, of equal ones the earliest."""
        return _best(self.days, self.likely)


def touch_ups_of(yard: Yard, chances: Chances | None = None) -> dict[str, TouchUps]:
    """What can be said of taking specks off, for every fish, each in its own water.

    `chances` are those of this yard, where they are known already.
    """
    known = Chances(yard) if chances is None else chances
    return {
        fish.id: TouchUps(yard, fish, yard.mean_on(fish), known.of_fish(fish))
        for fish in yard.fish_here()
    }


def prospects_of(yard: Yard, touch_ups: Mapping[str, TouchUps]) -> dict[tuple[str, str], Prospect]:
    """Every fish weighed for every show still to come."""
    return {
        (fish_id, events.show): prospect(yard, one, events)
        for fish_id, one in touch_ups.items()
        for events in yard.planned()
    }


def prospect(yard: Yard, touch_ups: TouchUps, events: Events) -> Prospect:
    """Weigh one fish for one show."""
    fish, limits = touch_ups.fish, limits_of(yard, touch_ups.fish.id, events.show)
    length = length_on(yard, fish, events.benching_day)
    classes = size_class(yard, events, length)
    doubt = heat_in_doubt(yard, touch_ups, events)
    barred = tuple(
        one
        for one in against_entry(yard, fish, events, length)
        if doubt is None or one.code != "too-warm-to-bag"
    )
    outlooks = (
        *(
            outlook(yard, fish, defect, events, touch_ups.chances, limits)
            for defect in fish.open_defects
        ),
        *(
            gone_outlook(yard, defect, events, touch_ups.chances, limits)
            for defect in gone_specks(fish)
        ),
    )
    others = tuple(one for one in outlooks if one.defect not in touch_ups.specks)
    ill = _ill(fish, others)
    window = touch_ups.window(events, limits.least) if touch_ups.specks else None
    days, because = _touch_up_days(yard, touch_ups, events, window, ill)
    done_on = touch_ups.done_on(days)
    likely = {
        day: round(sum(share * days[on].both for on, share in done), 4)
        for day, done in done_on.items()
    }
    best = _best(days, likely)
    chance = likely[best.day] if best is not None else 0.0
    word, reasons = _speck_word(touch_ups, events, window, best, chance, limits, because)
    word, reasons = _worst(word, reasons, others, fish, barred)
    if word in ("ready", "ready-after-touch-up", "tight"):
        word, reasons = _together(word, reasons, touch_ups, others, events, best, limits)
    if doubt is not None and word in ("ready", "ready-after-touch-up"):
        word = "tight"
    cautions = tuple(cautions_of(yard, touch_ups, events, length, classes, best))
    # How it travels is part of the answer: a fish that needs more than a bag is not plainly ready.
    way = tuple(one for one in cautions if one.code in OF_THE_WAY)
    if way:
        reasons = (*(one for one in reasons if one.code != "nothing-to-do"), *way)
    can = word not in ("not-eligible", "vet-first", "too-late")
    losses = [(one.defect.merit_lost, one.unseen) for one in others]
    left = [(speck.merit_lost, 0.0) for speck in touch_ups.specks]
    return Prospect(
        fish=fish,
        events=events,
        limits=limits,
        word=word,
        reasons=reasons,
        cautions=cautions,
        outlooks=outlooks,
        window=window,
        days=days if can else {},
        likely=likely if can else {},
        merits=_merits(touch_ups, events, done_on, losses) if can else {},
        no_day_because=because,
        length=length,
        size_class=classes,
        kg=weight_kg(yard, fish, length)[0],
        merit=fish.record.merit - expected_loss([*losses, *left], fish.record.merit)
        if can
        else None,
        chance=unseen(touch_ups, outlooks, events),
        closed=min((one.closed for one in outlooks), default=1.0),
    )


def unseen(
    touch_ups: TouchUps,
    outlooks: Sequence[Outlook],
    events: Events,
    touched_on: date | None = None,
) -> float:
    """The chance, 0 to 1, that a fish shows no blemish, its specks taken off on a day or left."""
    specks = touch_ups.specks
    others = [one for one in outlooks if one.defect not in specks]
    if any(one.unseen == 0 for one in others) or (specks and touched_on is None):
        return 0.0
    defects = [one.defect for one in others]
    if touched_on is None:
        return touch_ups.chances.none_shows(defects, events)
    return touch_ups.chances.none_shows(defects, events, specks, touched_on)


def _best(days: Mapping[date, TouchUpChance], likely: Mapping[date, float]) -> TouchUpChance | None:
    return max(days.values(), key=lambda one: likely[one.day], default=None)


def _merits(
    touch_ups: TouchUps,
    events: Events,
    done_on: Mapping[date, Sequence[tuple[date, float]]],
    losses: Sequence[tuple[float, float]],
) -> dict[date, float]:
    merit = touch_ups.fish.record.merit
    left = [(speck.merit_lost, 0.0) for speck in touch_ups.specks]
    marked = merit - expected_loss([*losses, *left], merit)
    clean = {
        day: merit - expected_loss([*losses, *touch_ups.unseen(day, events)], merit)
        for day in done_on
    }
    return {
        day: marked + sum(share * (clean[on] - marked) for on, share in done)
        for day, done in done_on.items()
    }


def _together(
    word: VerdictWord,
    reasons: tuple[Reason, ...],
    touch_ups: TouchUps,
    others: Sequence[Outlook],
    events: Events,
    best: TouchUpChance | None,
    limits: ChanceLimits,
) -> tuple[VerdictWord, tuple[Reason, ...]]:
    """Several blemishes that are each likely not to be seen may together be less so."""
    if len(others) + bool(touch_ups.specks) < 2:
        return word, reasons
    day = best.day if best is not None else None
    chance = unseen(touch_ups, others, events, day)
    if chance >= limits.sure:
        return word, reasons
    worse: VerdictWord = "tight" if chance >= limits.least else "as-it-is"
    if worse == word:
        return word, reasons
    return worse, (reason("together", chance=Chance(chance)), *reasons)


def touched_healing(
    yard: Yard, touch_ups: TouchUps, events: Events, day: date
) -> tuple[HealingLine, ...]:
    """How the wounds of a touch-up on `day` would heal, against this show's deadlines."""
    return tuple(
        healing
        for speck in touch_ups.specks
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
) -> tuple[dict[date, TouchUpChance], Reason | None]:
    """The fit days with their chances, and why there is none."""
    if window is None:
        return {}, None
    because = _nothing_at_all(yard, events, ill)
    if because is not None:
        return {}, because
    own = touch_ups.fish.touch_up_days(events.show, yard.on)
    if own:
        return _own_days(touch_ups, events, window, own)
    days = {*touch_ups.fit_days(window), *_standing(yard, touch_ups, events)}
    fit = {
        day: replace(touch_ups.on(day, events), fit=True)
        for day in sorted(days)
        if _too_near(touch_ups, events, day) is None
    }
    return fit, None if fit else _no_day(yard, touch_ups, events, window)


def _too_near(touch_ups: TouchUps, events: Events, day: date) -> Reason | None:
    """What the journey has against a touch-up on a day that is fit by itself."""
    found = before_departure(day, events.departure_day, touch_ups.yard.figures)
    if found.level == "block":
        return found.reason
    return None if touch_ups.closed_by(day, events) else reason("open-at-departure-then", day=day)


def _own_days(
    touch_ups: TouchUps, events: Events, window: TouchUpWindow, own: Sequence[date]
) -> tuple[dict[date, TouchUpChance], Reason | None]:
    """Of the days that the keeper has set those on which it can be done, and why not on the others.

    How likely they are is the keeper's own affair; what is safe and lawful is not.
    """
    fit: dict[date, TouchUpChance] = {}
    because: Reason | None = None
    for day in own:
        if day >= events.departure_day:
            because = because or reason("set-day-after-show", day=day)
            continue
        against = touch_ups.against_set(day) or _too_near(touch_ups, events, day)
        if against is None:
            fit[day] = replace(touch_ups.on(day, events), fit=True)
        else:
            because = reason("set-day-barred", day=day, why=against)
    if fit or because is None or because.code != "set-day-barred":
        return fit, None if fit else because
    best = _best_free(touch_ups, events, window)
    if best is None:
        return fit, because
    named: dict[str, Value] = {"best": best.day, "best_chance": Chance(best.both)}
    return fit, reason("set-day-barred", day=because["day"], why=because["why"], **named)


def _best_free(touch_ups: TouchUps, events: Events, window: TouchUpWindow) -> TouchUpChance | None:
    """The likeliest day that the plan would be free to take, had the keeper set none."""
    days = (touch_ups.on(day, events) for day in touch_ups.fit_days(window))
    free = [one for one in days if _too_near(touch_ups, events, one.day) is None]
    return max(free, key=lambda one: one.both, default=None)


def _standing(yard: Yard, touch_ups: TouchUps, events: Events) -> Iterator[date]:
    """The near day of the last plan, if it is fit still and no less likely by a fifth."""
    day = planned_day(yard, touch_ups.fish.id, events.show)
    if day is None or touch_ups.against(day) is not None:
        return
    if stands(yard, touch_ups.fish.id, events.show, day, touch_ups.on(day, events).both):
        yield day


def _nothing_at_all(yard: Yard, events: Events, ill: Reason | None) -> Reason | None:
    """Why no touch-up is planned at all for this show, whatever the day."""
    if yard.keeper.touch_up.by == "nobody":
        return reason("nobody-does-touch-ups")
    if events.record.altered_fish == "excluded":
        return reason("speck-left-for-the-rule")
    return ill


def _no_day(yard: Yard, touch_ups: TouchUps, events: Events, window: TouchUpWindow) -> Reason:
    latest, likeliest = window.latest, window.likeliest
    if latest is None or window.earliest is None:
        if likeliest is None or likeliest.both < 0.05:
            return reason("too-cold-to-heal")
        chance = Chance(likeliest.both)
        return reason("no-day-likely-enough", best=likeliest.day, chance=chance)
    if latest < yard.on:
        return reason("last-day-has-passed", latest=latest)
    first = max(window.earliest, yard.on)
    days = [first + timedelta(days=number) for number in range((latest - first).days + 1)]
    objections = [touch_ups.against(day) for day in days if yard.is_session_day(day)]
    known = [objection for objection in objections if objection is not None]
    if not objections:
        return reason("no-work-day-between", first=first, last=latest)
    if known:
        return reason("no-day-is-fit", first=first, last=latest, why=known[-1])
    return reason("every-day-near-the-journey")


def _speck_word(
    touch_ups: TouchUps,
    events: Events,
    window: TouchUpWindow | None,
    best: TouchUpChance | None,
    chance: float,
    limits: ChanceLimits,
    because: Reason | None,
) -> tuple[VerdictWord, tuple[Reason, ...]]:
    """The word by the `chance` of the best day, 0 to 1, with the doubt of its water counted in."""
    if window is None:
        return "ready", ()
    speck = _specks(touch_ups)
    if best is None:
        return "as-it-is", (reason("speck-stays", speck=speck, why=because),)
    if touch_ups.fish.touch_up_days(events.show, touch_ups.yard.on):
        told = _on_set_day(touch_ups, events, window, best, speck)
        likely = chance >= limits.least  # a day is also set where it is not
        return after_touch_up(chance, limits) if likely else "as-it-is", (told,)
    first, last = window.earliest or best.day, window.latest or best.day
    told = reason(
        "speck-can-come-off",
        speck=speck,
        first=min(first, best.day),
        last=max(last, best.day),
        best=best.day,
        chance=Chance(best.both),
    )
    return after_touch_up(chance, limits), (told,)


def after_touch_up(chance: float, limits: ChanceLimits) -> VerdictWord:
    """The word for a fish whose specks come off, by the chance that nothing is seen of them."""
    return "ready-after-touch-up" if chance >= limits.sure else "tight"


def _on_set_day(
    touch_ups: TouchUps, events: Events, window: TouchUpWindow, own: TouchUpChance, speck: Reason
) -> Reason:
    """What the day that the keeper has set gives, and what the best fit one would."""
    best = _best_free(touch_ups, events, window)
    if best is None or best.both <= own.both:
        best = own
    return reason(
        "speck-comes-off-on-set-day",
        speck=speck,
        day=own.day,
        chance=Chance(own.both),
        best=best.day,
        best_chance=Chance(best.both),
    )


def _specks(touch_ups: TouchUps) -> Reason:
    """The first speck by name, and how many there are besides."""
    first, *others = touch_ups.specks
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
