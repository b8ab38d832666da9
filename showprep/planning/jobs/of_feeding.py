"""Feeding jobs: one order a water and day, from the shows, the sessions and the ways home."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from showprep.husbandry.feeding import ration
from showprep.husbandry.reason import Celsius, Reason, ShowId, reason
from showprep.planning.jobs.draft import Draft
from showprep.planning.jobs.of_touch_ups import Session, session_waters
from showprep.planning.jobs.sending import Sending, fast_from
from showprep.planning.verdicts.touch_ups import sedation_fast_days
from showprep.planning.yard.feeding_orders import (
    Because,
    Order,
    Wish,
    after_show,
    before_sedation,
    before_show,
    orders,
    stayed_behind,
)
from showprep.planning.yard.waters import mean_over
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import slug

HALF = 0.4  # a cut to this share of the ration or more is told as a half, below it as a quarter


def feeding_jobs(
    yard: Yard, sendings: Sequence[Sending], sessions: Sequence[Session]
) -> Iterator[Draft]:
    """Every order that is still to be kept; those of shows past tell where one began."""
    seen: dict[str, int] = {}
    for order in feeding_orders(yard, sendings, sessions):
        draft = _draft(yard, order, sendings, sessions, seen)
        if order.last >= yard.on:
            yield draft


def feeding_orders(
    yard: Yard, sendings: Sequence[Sending], sessions: Sequence[Session]
) -> tuple[Order, ...]:
    """The orders of all waters, by water and day."""
    least = yard.figures["feed_stop_c"]

    def too_cold(water: str, day: date) -> bool:
        return yard.waters.of(water)(day) < least

    wishes = [*_of_shows(yard, sendings), *_of_sessions(yard, sessions)]
    return orders(wishes, too_cold)


def _of_shows(yard: Yard, sendings: Sequence[Sending]) -> Iterator[Wish]:
    own = yard.figures
    for sending in sendings:
        events, fast = sending.events, fast_from(yard, sending)
        for fish in sending.fish:
            water_on = yard.course(fish).water_on
            yield from before_show(
                water_on,
                events.show,
                events.judging_day,
                events.departure_day,
                fast,
                date.min,
                own,
            )
            yield from after_show(water_on, events.show, events.home_day, date.max, own)
        if sending.fasts_in == sending.water and stay_behind(yard, sending):
            yield from stayed_behind(sending.water, events.show, events.departure_day, own)


def stay_behind(yard: Yard, sending: Sending) -> tuple[str, ...]:
    """The fish that are left in a water when others leave it for a show."""
    day = sending.events.departure_day
    return tuple(
        fish.id for fish in yard.fish_here() if yard.course(fish).water_on(day) == sending.fasts_in
    )


def _of_sessions(yard: Yard, sessions: Sequence[Session]) -> Iterator[Wish]:
    for session in sessions:
        for water in session_waters(yard, session):
            days = sedation_fast_days(yard, yard.waters.of(water), session.day)
            yield before_sedation(water, session.day, days, session.anchor)


def _draft(
    yard: Yard,
    order: Order,
    sendings: Sequence[Sending],
    sessions: Sequence[Session],
    seen: dict[str, int],
) -> Draft:
    kind = _kind(order)
    first = next(one for one in order.asked if one.cause != "cold") if _asked(order) else None
    about = first.about if first is not None else "cold"
    key = f"{about}/{kind}/{slug(order.water)}"
    if kind == "unfed-before-touch-up":
        key = f"unfed/{about}/{slug(order.water)}"
    seen[key] = seen.get(key, 0) + 1
    shows = [s for s in dict.fromkeys(one.about for one in order.asked) if s in yard.events]
    return Draft(
        id=key if seen[key] == 1 else f"{key}/{seen[key]}",
        kind=kind,
        title=_title(order, kind, shows),
        earliest=order.first,
        ideal=order.first,
        latest=order.first,
        days=order.days,
        standing=True,
        fish=_fish(yard, order, sendings, sessions),
        show=shows[0] if shows else _show_of(order, sessions),
        water=order.water,
        alarm=kind in ("stop-feeding", "unfed-before-touch-up"),
        note=_note(yard, order, kind),
        cautions=_cautions(yard, order, kind),
        grade="derived" if order.share == 0 else "common practice",
    )


def _asked(order: Order) -> bool:
    return any(one.cause != "cold" for one in order.asked)


def _kind(order: Order) -> str:
    causes = {one.cause for one in order.asked}
    if order.share == 0:
        if causes == {"sedation"}:
            return "unfed-before-touch-up"
        return "stop-feeding" if "fast" in causes else "no-food"
    if causes & {"home", "stayed"} and "cut" not in causes:
        return "feed-again"
    if order.share < 1:
        return "feed-half" if order.share >= HALF else "feed-quarter"
    return "colour-food-stop" if not order.colour_food else "feed-again"


def _title(order: Order, kind: str, shows: Sequence[str]) -> Reason:
    water, names = order.water, tuple(map(ShowId, shows))
    if kind == "unfed-before-touch-up":
        return reason("unfed-before-touch-up", water=water)
    if kind == "stop-feeding":
        return reason("unfed-until-shows", water=water, shows=names)
    if kind == "no-food":
        if names:
            return reason("unfed-home-from", water=water, shows=names)
        return reason("unfed", water=water)
    share, colour = order.share, int(order.colour_food)
    if kind == "feed-again":
        return reason(
            "feed-again-by-steps", share=share, colour_food=colour, water=water, shows=names
        )
    return reason("fed", share=share, colour_food=colour, water=water, shows=names)


def _fish(
    yard: Yard, order: Order, sendings: Sequence[Sending], sessions: Sequence[Session]
) -> tuple[str, ...]:
    """The fish the order is for: of the shows and sessions that ask, those in the water."""
    about = {one.about for one in order.asked}
    some = [fish for one in sendings if one.events.show in about for fish in one.fish]
    some += [fish for one in sessions if one.anchor in about for fish in one.fish]
    found = {fish.id for fish in some if yard.course(fish).water_on(order.first) == order.water}
    for sending in sendings:
        if Because("stayed", sending.events.show) in order.asked:
            found |= set(stay_behind(yard, sending))
    return tuple(sorted(found))


def _show_of(order: Order, sessions: Sequence[Session]) -> str | None:
    about = {one.about for one in order.asked}
    return next((one.show for one in sessions if one.anchor in about), None)


def _note(yard: Yard, order: Order, kind: str) -> Reason:
    if _too_cold(order):
        return reason("too-cold-to-feed", least=Celsius(yard.figures["feed_stop_c"]))
    if kind == "unfed-before-touch-up":
        return reason("unfed-for-sedation", days=order.days)
    if kind == "stop-feeding":
        return reason("unfed-for-journey")
    if kind == "no-food":
        return reason("unfed-at-home")
    if kind == "feed-again":
        return reason("fed-by-steps")
    if kind == "colour-food-stop":
        return reason("colour-food-stains")
    return _ration(yard, order)


def _cautions(yard: Yard, order: Order, kind: str) -> tuple[Reason, ...]:
    """Who fasts with those that leave."""
    if kind != "stop-feeding" or _too_cold(order):
        return ()
    shows = {one.about for one in order.asked if one.cause == "fast"}
    leave = {one.fish for show in shows for one in yard.courses.going_to(show)}
    water_on = {fish.id: yard.course(fish).water_on(order.first) for fish in yard.fish_here()}
    others = [fish for fish, water in water_on.items() if water == order.water]
    staying = len([fish for fish in others if fish not in leave])
    return (reason("fasts-as-one", water=order.water, others=staying),) if staying else ()


def _too_cold(order: Order) -> bool:
    return any(one.cause == "cold" for one in order.asked)


def _ration(yard: Yard, order: Order) -> Reason:
    """What the share of the ration is in this water, in percent of body weight a day."""
    warmth = mean_over(yard.waters.of(order.water), order.first, order.last)
    fed = ration(yard.facts.rations, warmth, order.share)
    return reason(
        "ration-in-this-water",
        water=Celsius(warmth),
        typical=fed.typical,
        low=fed.low,
        high=fed.high,
        grade=yard.facts.rations_grade,
        diet=fed.diet,
    )
