"""Jobs and warnings of every change of water: the move itself, and the ramp that softens it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from showprep.planning.course import Step
from showprep.planning.jobs.draft import Draft, place
from showprep.planning.plan import Task, Warning_
from showprep.planning.state import FishState
from showprep.planning.words import listed, slug, spoken
from showprep.planning.yard import Yard
from showprep.season.quantities import show_temperature, show_warming

EARLY = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Change:
    """One change of water that several fish make together. `step` is the greatest of them."""

    step: Step
    fish: tuple[FishState, ...]
    number: int  # which change of this kind it is for these fish, show and water, from 1

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(fish.id for fish in self.fish)

    @property
    def names(self) -> str:
        return listed(fish.record.name for fish in self.fish)


def changes_of(yard: Yard) -> tuple[Change, ...]:
    """Every change of water, by day; fish that make it together are one."""
    found: dict[tuple[object, ...], list[tuple[Step, FishState]]] = {}
    count: dict[tuple[object, ...], int] = {}
    for fish in yard.fish_here():
        for step in yard.course(fish).steps:
            alone = fish.id if step.why == "move" else ""
            kind = (step.why, step.show, step.from_water, step.to_water, alone)
            nth = count[(fish.id, *kind)] = count.get((fish.id, *kind), 0) + 1
            found.setdefault((*kind, nth), []).append((step, fish))
    every = [
        Change(
            max((step for step, _ in some), key=lambda step: abs(step.change_c)),
            tuple(fish for _, fish in some),
            int(str(key[-1])),
        )
        for key, some in found.items()
    ]
    return tuple(sorted(every, key=lambda one: (one.step.day, one.step.why, one.ids)))


def step_jobs(yard: Yard) -> Iterator[Task]:
    """The moves still to be made and the ramps still to be run."""
    for change in changes_of(yard):
        for draft in (*_moves(yard, change), *_ramps(yard, change)):
            task = place(yard, draft)
            if task is not None:
                yield task


def _moves(yard: Yard, change: Change) -> Iterator[Draft]:
    step = change.step
    if step.grade == "written" or step.day < yard.on - timedelta(days=1):
        return
    if step.why == "holding":
        assert step.to_water is not None and step.show is not None
        yield Draft(
            id=f"{step.show}/to-holding/{slug(step.from_water or '')}",
            kind="to-holding",
            title=f"Move the entries for {_show(yard, step)} to the {step.to_water}",
            earliest=step.day - EARLY,
            ideal=step.day,
            latest=step.day,
            fish=change.ids,
            show=step.show,
            water=step.to_water,
            hands=True,
            note="Into water of the same warmth; the vat is brought nearer afterwards.",
            late_cost="The pond has to fast with them, or they travel fed.",
            counts_from="the first day of the fast",
            mark="common practice",
        )
    if step.why == "move":
        assert step.to_water is not None
        again = f"/{change.number}" if change.number > 1 else ""
        yield Draft(
            id=f"move/{change.ids[0]}/{slug(step.to_water)}{again}",
            kind="move",
            title=f"Move {change.names} to the {step.to_water}",
            earliest=step.day,
            ideal=step.day,
            latest=step.day + timedelta(days=1),
            fish=change.ids,
            water=step.to_water,
            hands=True,
            note="As your file says. Write it down: showprep note.",
            late_cost="Everything after it is worked out as if it were there.",
            counts_from="the day you planned it for",
            mark="keeper's own",
        )


RAMP_KINDS = {
    "holding": "match-water",
    "kept apart": "warm-after-show",
    "home": "way-home",
    "warm healing": "vat-warm",
    "move": "move-ramp",
}


def _ramps(yard: Yard, change: Change) -> Iterator[Draft]:
    step = change.step
    if step.ramp_days == 0 or (step.grade == "written" and step.why != "move"):
        return
    last = step.day + timedelta(days=step.ramp_days)
    if last < yard.on:
        return
    vat = step.from_water if step.why == "home" else step.to_water
    kind = RAMP_KINDS[step.why]
    about = step.show or change.ids[0]
    again = f"/{change.number}" if change.number > 1 else ""
    units = yard.keeper.units
    here = show_temperature(step.from_c, units)
    there = show_temperature(_end_c(yard, change), units)
    yield Draft(
        id=f"{about}/{kind}/{slug(vat or '')}{again}",
        kind=kind,
        title=f"Bring the {vat} from {here} to {there} with {change.names} in it",
        earliest=step.day + timedelta(days=1),
        ideal=step.day + timedelta(days=1),
        latest=step.day + timedelta(days=1),
        days=step.ramp_days,
        standing=True,
        fish=change.ids,
        show=step.show,
        water=vat,
        note=_targets(yard, change),
        counts_from=f"the {spoken(step.day)}",
        mark="common practice",
    )


def _end_c(yard: Yard, change: Change) -> float:
    """How warm the fish is when the ramp is over [°C]."""
    step = change.step
    return yard.mean_on(change.fish[0])(step.day + timedelta(days=step.ramp_days))


def _targets(yard: Yard, change: Change) -> str:
    """The warmth wanted on each day of a ramp."""
    step, units = change.step, yard.keeper.units
    mean_on = yard.mean_on(change.fish[0])
    days = [step.day + timedelta(days=number) for number in range(1, step.ramp_days + 1)]
    told = ", ".join(f"{spoken(day)} {show_temperature(mean_on(day), units)}" for day in days)
    rate = show_warming(yard.figure("temp_ramp"), units)
    return f"At most {rate} a day: {told}. Oxygen watched."


def step_warnings(yard: Yard) -> Iterator[Warning_]:
    """Changes of water that are too great, or great enough to be told."""
    for change in changes_of(yard):
        step = change.step
        if step.grade == "written" or step.day < yard.on or step.why == "show":
            continue  # the step to the show is told with the journey
        if abs(step.change_c) < yard.figure("step_warn") or step.ramp_days > 0:
            continue
        units = yard.keeper.units
        text = (
            f"{change.names} on {spoken(step.day)}: from {_name(yard, step.from_water, step)} at "
            f"{show_temperature(step.from_c, units)} to {_name(yard, step.to_water, step)} at "
            f"{show_temperature(step.to_c, units)}."
        )
        if abs(step.change_c) >= yard.figure("step_block"):
            text += " That is too far: bring the vat nearer day by day first, or wait."
            yield Warning_("stop", text, fish=_only(change), show=step.show)
        else:
            text += " Temper them slowly."
            yield Warning_("warn", text, fish=_only(change), show=step.show)


def _only(change: Change) -> str | None:
    return change.ids[0] if len(change.ids) == 1 else None


def _name(yard: Yard, water: str | None, step: Step) -> str:
    return f"the {water}" if water is not None else _show(yard, step)


def _show(yard: Yard, step: Step) -> str:
    return yard.events[step.show].record.name if step.show else ""
