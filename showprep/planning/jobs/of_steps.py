"""Jobs and warnings of every change of water: the move itself, and the ramp that softens it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.heat import care_in
from showprep.husbandry.reason import Celsius, FishId, Kelvin, Reason, ShowId, reason
from showprep.planning.as_of.state import FishState
from showprep.planning.jobs.done_by import RAMP_KINDS
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import Warning_
from showprep.planning.yard.course import Step
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import slug

EARLY = timedelta(days=7)


class WaterChange(Struct, frozen=True):
    """One change of water that several fish make together. `step` is the greatest of them."""

    step: Step
    fish: tuple[FishState, ...]
    number: int  # which change of this kind it is for these fish, show and water, from 1

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(fish.id for fish in self.fish)

    @property
    def named(self) -> tuple[FishId, ...]:
        return tuple(map(FishId, self.ids))


def changes_of(yard: Yard) -> tuple[WaterChange, ...]:
    """Every change of water, by day; fish that make it together are one."""
    found: dict[tuple[object, ...], list[tuple[Step, FishState]]] = {}
    count: dict[tuple[object, ...], int] = {}
    for fish in yard.fish_here():
        for step in yard.course(fish).steps:
            alone = fish.id if step.why in ("move", "warm healing") else ""
            # Into the holding vat they go as one, wherever the plan of the day has them until then.
            left = None if step.why == "holding" else step.from_water
            show = None if step.why == "warm healing" else step.show  # noted, it has none
            kind = (step.why, show, left, step.to_water, alone)
            nth = count[(fish.id, *kind)] = count.get((fish.id, *kind), 0) + 1
            found.setdefault((*kind, nth), []).append((step, fish))
    every = [
        WaterChange(
            max((step for step, _ in some), key=lambda step: abs(step.change_c)),
            tuple(fish for _, fish in some),
            int(str(key[-1])),
        )
        for key, some in found.items()
    ]
    return tuple(sorted(every, key=lambda one: (one.step.day, one.step.why, one.ids)))


def step_jobs(yard: Yard) -> Iterator[Draft]:
    """The moves still to be made and the ramps still to be run."""
    for change in changes_of(yard):
        yield from _moves(yard, change)
        yield from _ramps(yard, change)


def _moves(yard: Yard, change: WaterChange) -> Iterator[Draft]:
    step = change.step
    if step.grade == "written" or step.from_water == step.to_water:
        return
    if step.why == "holding":
        assert step.to_water is not None and step.show is not None
        if yard.events[step.show].departure_day < yard.on:
            return
        yield Draft(
            id=f"{step.show}/to-holding",
            kind="to-holding",
            title=reason("to-holding", show=ShowId(step.show), water=step.to_water),
            earliest=step.day - EARLY,
            ideal=step.day,
            latest=step.day,
            fish=change.ids,
            show=step.show,
            water=step.to_water,
            hands=True,
            note=reason("to-holding-how"),
            late_cost=reason("to-holding-late"),
            counts_from=reason("first-day-of-fast"),
            grade="common practice",
        )
    # When its day has passed the move is presumed, and asked about.
    if step.why == "move" and step.day >= yard.on - timedelta(days=1):
        assert step.to_water is not None
        again = f"/{change.number}" if change.number > 1 else ""
        yield Draft(
            id=f"move/{change.ids[0]}/{slug(step.to_water)}{again}",
            kind="move",
            title=reason("own-move", fish=change.named, water=step.to_water),
            earliest=step.day,
            ideal=step.day,
            latest=step.day + timedelta(days=1),
            fish=change.ids,
            water=step.to_water,
            hands=True,
            note=reason("own-move-how"),
            late_cost=reason("own-move-late"),
            counts_from=reason("day-you-planned"),
            grade="keeper's own",
        )


def _ramps(yard: Yard, change: WaterChange) -> Iterator[Draft]:
    step = change.step
    if step.ramp_days == 0:
        return
    last = step.day + timedelta(days=step.ramp_days)
    if last < yard.on:
        return
    vat = step.from_water if step.why == "home" else step.to_water
    kind = RAMP_KINDS[step.why]
    about = change.ids[0] if step.why == "warm healing" else step.show or change.ids[0]
    again = f"/{change.number}" if change.number > 1 else ""
    here, there = Celsius(step.from_c), Celsius(_end_c(yard, change))
    yield Draft(
        id=f"{about}/{kind}/{slug(vat or '')}{again}",
        kind=kind,
        title=reason("ramp", water=vat, here=here, there=there, fish=change.named),
        earliest=step.day + timedelta(days=1),
        ideal=step.day + timedelta(days=1),
        latest=step.day + timedelta(days=1),
        days=step.ramp_days,
        standing=True,
        fish=change.ids,
        show=step.show,
        water=vat,
        note=_targets(yard, change),
        counts_from=reason("since-day", day=step.day),
        grade="common practice",
    )


def _end_c(yard: Yard, change: WaterChange) -> float:
    """How warm the fish is when the ramp is over [°C]."""
    step = change.step
    return yard.mean_on(change.fish[0])(step.day + timedelta(days=step.ramp_days))


def _targets(yard: Yard, change: WaterChange) -> Reason:
    """The warmth wanted on each day of a ramp."""
    step, mean_on = change.step, yard.mean_on(change.fish[0])
    days = [step.day + timedelta(days=number) for number in range(1, step.ramp_days + 1)]
    targets = tuple(reason("warm-on-day", day=day, water=Celsius(mean_on(day))) for day in days)
    return reason("ramp-days", rate=Kelvin(yard.figures["temp_ramp"]), targets=targets)


def step_warnings(yard: Yard) -> Iterator[Warning_]:
    """Changes of water that are too great, or great enough to be told."""
    for change in changes_of(yard):
        step = change.step
        if step.grade == "written" or step.day < yard.on or step.why == "show":
            continue  # the step to the show is told with the journey
        if step.why in ("home", "kept apart", "warm healing"):
            yield from _into_heat(yard, change)
        if step.why == "kept apart" and step.from_water is None and step.ramp_days > 0:
            told = reason("vat-meets-show", step=_told(change), show=ShowId(step.show or ""))
            yield Warning_("warn", told, fish=_only(change), show=step.show)
        if step.from_water == step.to_water:
            continue  # the vat is only brought to another warmth
        if abs(step.change_c) < yard.figures["step_warn"] or step.ramp_days > 0:
            continue
        too_great = abs(step.change_c) >= yard.figures["step_block"] - 1e-9
        if too_great:
            # One for each fish: others of the same show may come from and go to other waters.
            for fish in change.fish:
                why = reason("step-too-great", step=_told(replace(change, fish=(fish,))))
                yield Warning_("stop", why, fish=fish.id, show=step.show)
        else:
            why = reason("step-tempered", step=_told(change))
            yield Warning_("warn", why, fish=_only(change), show=step.show)


def _into_heat(yard: Yard, change: WaterChange) -> Iterator[Warning_]:
    """The plan's own way into water so warm that no fish is handled there, by a ramp or without."""
    warmth, limit = _end_c(yard, change), yard.figures["sed_hot_block"]
    if care_in(warmth, yard.figures):
        why = reason(
            "way-into-heat",
            fish=change.named,
            water=change.step.to_water,
            on=change.step.day,
            there=Celsius(warmth),
            limit=Celsius(limit),
        )
        yield Warning_("warn", why, fish=_only(change), show=change.step.show)


def _only(change: WaterChange) -> str | None:
    return change.ids[0] if len(change.ids) == 1 else None


def _told(change: WaterChange) -> Reason:
    """One change of water with the warmth on both sides."""
    step = change.step
    here, there, water = Celsius(step.from_c), Celsius(step.to_c), step.to_water
    if step.from_water is None:
        show = ShowId(step.show or "")
        return reason(
            "step-from-show",
            fish=change.named,
            day=step.day,
            show=show,
            here=here,
            water=water,
            there=there,
        )
    return reason(
        "step-of-water",
        fish=change.named,
        day=step.day,
        from_water=step.from_water,
        here=here,
        water=water,
        there=there,
    )
