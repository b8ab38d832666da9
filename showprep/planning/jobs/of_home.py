"""Jobs after a show: apart from the others, fed again by steps, and cleared."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import timedelta

from showprep.husbandry.feeding import refeeding_steps
from showprep.planning.apart import Apart, apart_after
from showprep.planning.events import Events
from showprep.planning.jobs.draft import Draft, away_text, place
from showprep.planning.plan import Task, Warning_
from showprep.planning.words import counted
from showprep.planning.yard import Yard


def home_jobs(yard: Yard, events: Events, fish: Sequence[str]) -> Iterator[Task]:
    """Every job after the way home, for the fish that went."""
    apart = apart_after(yard, events)
    if apart.last < yard.on:
        return
    drafts = [*_feeding(yard, events, fish)]
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
        yield Warning_(
            "stop",
            f"The {isolation.water} is too cold to clear fish home from {name}: below 16 °C KHV "
            "hides. Warm it to 18 °C or more; 22 °C is quickest.",
            show=show,
        )
    if len(fish) > isolation.holds:
        yield Warning_(
            "stop",
            f"{counted(len(fish), 'fish', 'fish')} come home from {name}; the {isolation.water} "
            f"holds {isolation.holds}.",
            show=show,
        )


def _feeding(yard: Yard, events: Events, fish: Sequence[str]) -> list[Draft]:
    drafts = []
    for number, step in enumerate(refeeding_steps(yard.keeper.figures)):
        day = events.home_day + timedelta(days=step.from_day)
        if step.share == 0 or day < yard.on - timedelta(days=3):
            continue
        share = "the full ration" if step.share == 1 else f"{round(100 * step.share)} % of ration"
        drafts.append(
            Draft(
                id=f"{events.show}/feed-at-home-{number}",
                kind="feed-again",
                title=f"Fish back from {events.record.name}: {share}",
                earliest=day,
                ideal=day,
                latest=day + timedelta(days=2),
                fish=tuple(fish),
                show=events.show,
                water=yard.keeper.isolation.water if yard.keeper.isolation is not None else None,
                note="By steps, and only what is eaten in a few minutes.",
                late_cost="The fish go on losing weight.",
                counts_from=away_text(step.from_day, "coming home"),
                mark="common practice",
            )
        )
    return drafts


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
        note=f"{counted(days, 'day')} after a show with {style}. All in, all out: one more fish "
        "starts the count again. Serve this vat last, with its own net.",
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
        mark="derived",
    )
    return [apart_draft, clear_draft]
