"""Jobs after a show: apart from the others, fed again by steps, and cleared."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, timedelta

from showprep.husbandry.feeding import colour_food_days_before, refeeding_steps, share_on
from showprep.husbandry.isolation import clearing_window_c, hides_in, litres_needed, vat_holds
from showprep.planning.apart import Apart, apart_after
from showprep.planning.cautions import JOINING
from showprep.planning.events import Events
from showprep.planning.jobs.draft import Draft, away_text, place
from showprep.planning.lengths import length_on
from showprep.planning.plan import Task, Warning_
from showprep.planning.words import counted, listed, spoken
from showprep.planning.yard import Yard
from showprep.season.quantities import show_volume


def home_jobs(
    yard: Yard, events: Events, fish: Sequence[str], going: Mapping[str, Collection[str]]
) -> Iterator[Task]:
    """Every job after the way home, for the fish that went; `going`: the shows of each fish."""
    apart = apart_after(yard, events)
    if apart.last < yard.on:
        return
    drafts = [*_feeding(yard, events, fish, _next_show(yard, events, fish, going))]
    if yard.keeper.isolation is not None:
        drafts += _isolation(yard, events, fish, apart)
    for draft in drafts:
        task = place(yard, draft)
        if task is not None:
            yield task


def home_warnings(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Warning_]:
    """What is wrong with the plan for the time apart."""
    name, show = events.record.name, events.show
    isolation = yard.keeper.isolation
    if isolation is None:
        text = f"No isolation vat: fish home from {name} would go straight back to the others."
        yield Warning_("stop", text, show=show)
        return
    if apart_after(yard, events).clear is None:
        yield Warning_("stop", _never_clear(yard, events), show=show)
    if len(fish) > isolation.holds:
        yield Warning_(
            "stop",
            f"{counted(len(fish), 'fish', 'fish')} come home from {name}; the {isolation.water} "
            f"holds {isolation.holds}.",
            show=show,
        )
        return
    yield from _crowded(yard, events, fish)


def _never_clear(yard: Yard, events: Events) -> str:
    """Why no time in the isolation vat clears these fish, and what would."""
    assert yard.keeper.isolation is not None
    water, own = yard.keeper.isolation.water, yard.keeper.figures
    low, high = clearing_window_c(own)
    cold, warm = hides_in(events.home_day, yard.waters.of(water), own)
    hot = f"above {high:g} °C heat only hides KHV. Let it cool to 22 to 25 °C"
    chill = f"below {low:g} °C KHV hides. Warm it to 18 °C or more; 22 °C is quickest"
    what = f"to clear fish home from {events.record.name}"
    if cold and warm:
        return f"The {water} is by turns too cold and too warm {what}: {chill}; and {hot}."
    if cold or warm:
        return f"The {water} is too {'cold' if cold else 'warm'} {what}: {chill if cold else hot}."
    return f"By your own figures no time in the {water} is enough {what}."


def _crowded(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Warning_]:
    """Litres for the lengths that come home (assumption: 250, 500 or 1,000 L a fish by length)."""
    assert yard.keeper.isolation is not None
    water = yard.keeper.isolation.water
    litres = yard.keeper.waters[water].litres
    found = [length_on(yard, yard.state.fish[one], events.home_day) for one in fish]
    lengths = [length.expected for length in found if length is not None]
    if litres is None or vat_holds(litres, lengths, yard.keeper.figures):
        return
    units = yard.keeper.units
    needed = show_volume(litres_needed(lengths, yard.keeper.figures), units)
    yield Warning_(
        "warn",
        f"{counted(len(fish), 'fish', 'fish')} home from {events.record.name} want about {needed} "
        f"(assumption); the {water} has {show_volume(litres, units)}. More water changes, or fewer "
        "fish.",
        show=events.show,
    )


def _next_show(
    yard: Yard, events: Events, fish: Sequence[str], going: Mapping[str, Collection[str]]
) -> Events | None:
    """The next show that any of these fish goes on to."""
    later = (
        other
        for other in yard.planned()
        if other.departure > events.departure
        and any(other.show in going.get(one, ()) for one in fish)
    )
    return next(later, None)


def _feeding(yard: Yard, events: Events, fish: Sequence[str], onward: Events | None) -> list[Draft]:
    own = yard.keeper.figures
    drafts = []
    for number, step in enumerate(refeeding_steps(own)):
        day = events.home_day + timedelta(days=step.from_day)
        if step.share == 0 or day < yard.on - timedelta(days=3):
            continue
        cut = share_on((onward.judging_day - day).days, own) if onward is not None else 1.0
        share = min(step.share, cut)
        words = "the full ration" if share == 1 else f"{round(100 * share)} % of ration"
        if onward is not None and cut < step.share:
            words += f", as {onward.record.name} asks"
        drafts.append(
            Draft(
                id=f"{events.show}/feed-at-home-{number}",
                kind="feed-again",
                title=f"Fish back from {events.record.name}: {words}",
                earliest=day,
                ideal=day,
                latest=day + timedelta(days=2),
                fish=tuple(fish),
                show=events.show,
                water=yard.keeper.isolation.water if yard.keeper.isolation is not None else None,
                note=_feeding_note(yard, day, onward),
                late_cost="The fish go on losing weight.",
                counts_from=away_text(step.from_day, "coming home"),
                mark="common practice",
            )
        )
    return drafts


def _feeding_note(yard: Yard, day: date, onward: Events | None) -> str:
    note = "By steps, and only what is eaten in a few minutes."
    if onward is None:
        return note
    colour = onward.judging_day - timedelta(days=colour_food_days_before(yard.keeper.figures))
    when = "no colour food" if colour <= day else f"no colour food from {spoken(colour)}"
    return f"{note} They go on to {onward.record.name}: {when}, and its cuts hold here too."


def _how_long(yard: Yard, apart: Apart, style: str) -> str:
    """The days apart, and why they are more than the table says where water hid the disease."""
    assert yard.keeper.isolation is not None
    water, own = yard.keeper.isolation.water, yard.keeper.figures
    if apart.clear is None:
        return "No time in this water clears them: see the warning in the plan."
    days = (apart.clear - apart.home).days
    said = f"{counted(days, 'day')} after a show with {style}."
    low, high = clearing_window_c(own)
    cold, warm = hides_in(apart.home, yard.waters.of(water), own, days)
    where = [f"below {low:g}"] * cold + [f"above {high:g}"] * warm
    if not where:
        return said
    return f"{said} A day {listed(where, 'or')} °C starts the count again: KHV hides there."


def _isolation(yard: Yard, events: Events, fish: Sequence[str], apart: Apart) -> list[Draft]:
    assert yard.keeper.isolation is not None
    water, home = yard.keeper.isolation.water, events.home_day
    days = (apart.last - home).days + 1
    style = {"own": "own vats", "shared": "shared vats", "bag": "bags"}[events.record.vats]
    apart_draft = Draft(
        id=f"{events.show}/isolation",
        kind="isolation",
        title=f"Fish back from {events.record.name} stay apart in the {water}",
        earliest=home,
        ideal=home,
        latest=home,
        days=days,
        fish=tuple(fish),
        show=events.show,
        water=water,
        note=f"{_how_long(yard, apart, style)} All in, all out: one more fish starts the count "
        "again. Serve this vat last, with its own net.",
        counts_from="the way home",
        cautions=(
            "White or brown dead gill patches, sunken eyes, many deaths: tell the "
            "authority at once.",
        ),
        mark="derived",
    )
    if apart.clear is None:
        return [apart_draft]
    clear_draft = Draft(
        id=f"{events.show}/isolation-clear",
        kind="isolation-clear",
        title=f"Fish back from {events.record.name} may join the others",
        earliest=apart.clear,
        ideal=apart.clear,
        latest=apart.clear + timedelta(days=14),
        fish=tuple(fish),
        show=events.show,
        water=water,
        hands=True,
        note="Only if nothing has died, nobody flashes, and the last scrape was clean. Within "
        "2 °C, or by a ramp.",
        late_cost="They are crowded for longer than need be.",
        counts_from=f"{counted(days, 'day')} after coming home",
        cautions=JOINING,
        mark="derived",
    )
    return [apart_draft, clear_draft]
