"""Jobs after a show: apart from the others, fed again by steps, and cleared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from showprep.husbandry.isolation import (
    clearing_window_c,
    hides_in,
    litres_needed,
    vat_holds,
)
from showprep.husbandry.reason import Celsius, Kelvin, Litres, Reason, ShowId, reason
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import Warning_
from showprep.planning.verdicts.cautions import JOINING
from showprep.planning.verdicts.lengths import length_on
from showprep.planning.yard.apart import Apart, apart_after, never_clear
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard


def home_jobs(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Draft]:
    """Every job after the way home, for the fish that went."""
    if yard.keeper.isolation is not None:
        yield from _isolation(yard, events, fish, apart_after(yard, events))


def home_warnings(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Warning_]:
    """What is wrong with the plan for the time apart."""
    named, show = ShowId(events.show), events.show
    isolation = yard.keeper.isolation
    if isolation is None:
        # Not a STOP: where they would be kept apart is not said, and may be settled until then.
        yield Warning_("warn", reason("nowhere-apart", show=named), show=show)
        return
    against = never_clear(yard, events)
    if against is not None:
        yield Warning_("stop", against, show=show)
    if len(fish) > isolation.holds:
        why = reason(
            "more-than-vat-holds",
            fish=len(fish),
            show=named,
            water=isolation.water,
            holds=isolation.holds,
        )
        yield Warning_("stop", why, show=show)
        return
    yield from _crowded(yard, events, fish)


def _crowded(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Warning_]:
    """Litres for the lengths that come home (assumption: 250, 500 or 1,000 L a fish by length)."""
    assert yard.keeper.isolation is not None
    water = yard.keeper.isolation.water
    litres = yard.keeper.waters[water].litres
    found = [length_on(yard, yard.state.fish[one], events.home_day) for one in fish]
    lengths = [length.expected for length in found if length is not None]
    if litres is None or vat_holds(litres, lengths, yard.figures):
        return
    why = reason(
        "vat-too-small",
        fish=len(fish),
        show=ShowId(events.show),
        needed=Litres(litres_needed(lengths, yard.figures)),
        water=water,
        litres=Litres(litres),
    )
    yield Warning_("warn", why, show=events.show)


def _how_long(yard: Yard, apart: Apart, vats: str) -> Reason:
    """The days apart, and why they are more than the table says where water hid the disease."""
    assert yard.keeper.isolation is not None
    water, own = yard.keeper.isolation.water, yard.figures
    if apart.clear is None:
        return reason("no-time-clears")
    days = (apart.clear - apart.home).days
    low, high = map(Celsius, clearing_window_c(own))
    cold, warm = hides_in(apart.home, yard.waters.of(water), own, days)
    return reason(
        "days-apart",
        days=days,
        vats=vats,
        below=low if cold else None,
        above=high if warm else None,
    )


def _isolation(yard: Yard, events: Events, fish: Sequence[str], apart: Apart) -> list[Draft]:
    assert yard.keeper.isolation is not None
    water, home = yard.keeper.isolation.water, events.home_day
    days = (apart.last - home).days + 1
    show = ShowId(events.show)
    apart_draft = Draft(
        id=f"{events.show}/isolation",
        kind="isolation",
        title=reason("stay-apart", show=show, water=water),
        earliest=home,
        ideal=home,
        latest=home,
        days=days,
        fish=tuple(fish),
        show=events.show,
        water=water,
        note=reason("stay-apart-how", how_long=_how_long(yard, apart, events.record.vats)),
        counts_from=reason("way-home"),
        cautions=(reason("tell-the-authority"),),
        grade="derived",
    )
    kept = [apart_draft] if apart.last >= yard.on else []
    if apart.clear is None or yard.state.khv_signs:  # with signs of KHV nobody joins anybody
        return kept
    clear_draft = Draft(
        id=f"{events.show}/isolation-clear",
        kind="isolation-clear",
        title=reason("may-join", show=show),
        earliest=apart.clear,
        ideal=apart.clear,
        latest=apart.clear + timedelta(days=14),
        fish=tuple(fish),
        show=events.show,
        water=water,
        hands=True,
        note=reason("may-join-how", near=Kelvin(yard.figures["step_direct"])),
        late_cost=reason("may-join-late"),
        counts_from=reason("days-after-home", days=days, clear=apart.clear),
        cautions=JOINING,
        grade="derived",
    )
    return [*kept, clear_draft]
