"""What the keeper must know about a plan before acting on it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from showprep.husbandry.healing import reached
from showprep.husbandry.isolation import khv_signs
from showprep.husbandry.reason import Celsius, FishId, Reason, ShowId, reason
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.entries.answer import Selection
from showprep.planning.jobs.of_finds import find_warnings
from showprep.planning.jobs.of_fish import red_spot_warnings
from showprep.planning.jobs.of_heat import heat_warnings
from showprep.planning.jobs.of_home import home_warnings
from showprep.planning.jobs.of_shows import journey_warnings
from showprep.planning.jobs.of_steps import step_warnings
from showprep.planning.jobs.of_touch_ups import keeper_may
from showprep.planning.jobs.of_waters import water_warnings
from showprep.planning.jobs.season_jobs import sendings_of
from showprep.planning.plan import Task, Verdict, Warning_
from showprep.planning.verdicts.class_points import points_warnings
from showprep.planning.verdicts.company import company_warnings
from showprep.planning.verdicts.wounds import blemish
from showprep.planning.yard.yard import Yard


def warnings_of(
    yard: Yard,
    verdicts: Sequence[Verdict],
    selection: Selection,
    tasks: Sequence[Task],
) -> Iterator[Warning_]:
    """Every warning of the plan, the gravest kinds first."""
    for day, water in yard.state.khv_signs:
        signs = khv_signs(yard.figures)
        yield Warning_("stop", reason("khv-stop", on=day, water=water, signs=signs))
    yield from selection.warnings
    yield from company_warnings(yard)
    yield from find_warnings(yard)
    yield from red_spot_warnings(yard)
    yield from heat_warnings(yard)
    yield from _board_cautions(verdicts)
    yield from _stitched_warnings(yard)
    for sending in sendings_of(yard):
        yield from water_warnings(yard, sending)
    yield from step_warnings(yard)
    for events in yard.planned():
        fish = [one.fish for one in verdicts if one.show == events.show and one.entered]
        if fish:
            yield from journey_warnings(yard, events)
            yield from home_warnings(yard, events, fish)
    yield from points_warnings(yard, verdicts)
    yield from _settled_by_the_keeper(verdicts)
    yield from _touch_up_warnings(yard, verdicts)
    yield from _days_set_unused(yard, verdicts, selection)
    yield from _entry_warnings(verdicts, tasks)


TO_SETTLE = frozenset(
    {
        *("vat-too-cold", "vat-too-warm", "vat-by-turns", "vat-never-enough"),
        "step-to-show-too-great",
    }
)
"""What stands against fish that could go if the keeper changed something about a water."""


def _settled_by_the_keeper(verdicts: Sequence[Verdict]) -> Iterator[Warning_]:
    """What alone keeps fish from a show, and that the keeper can settle: a STOP for each."""
    told: set[Reason] = set()
    for one in verdicts:
        if one.verdict != "not-eligible" or not TO_SETTLE.issuperset(_against(one)):
            continue
        for why in one.reasons:
            if why.code in TO_SETTLE and why not in told:
                told.add(why)
                yield Warning_("stop", why, show=one.show)


def _against(verdict: Verdict) -> set[str]:
    """The codes of the reasons up to the last that can be settled: what stands against it first."""
    codes = [why.code for why in verdict.reasons]
    last = max((at for at, code in enumerate(codes) if code in TO_SETTLE), default=-1)
    return set(codes[: last + 1]) or {"nothing"}


ON_THE_BOARD = (
    "treated-before-show",
    "water-changed-on-way",
    "goes-in-a-tank",
    "may-be-too-warm-to-bag",
    "leaves-in-heat",
    "may-spawn",
    "spawned-before-show",
    "age-not-known",
)
"""Cautions of a fish for a show that are told with the plan when it goes."""


def _board_cautions(verdicts: Sequence[Verdict]) -> Iterator[Warning_]:
    """What may make the journey of a fish that goes unwise, fish of one show together."""
    found: dict[tuple[str, Reason], list[str]] = {}
    for one in verdicts:
        for caution in one.cautions:
            if one.entered and caution.code in ON_THE_BOARD:
                found.setdefault((one.show, caution), []).append(one.fish)
    order = {code: number for number, code in enumerate(ON_THE_BOARD)}
    for (show, caution), fish in sorted(found.items(), key=lambda pair: order[pair[0][1].code]):
        named = tuple(map(FishId, fish))
        why = reason("caution-for", fish=named, show=ShowId(show), why=caution)
        yield Warning_("warn", why, fish=fish[0] if len(fish) == 1 else None, show=show)


def _stitched_warnings(yard: Yard) -> Iterator[Warning_]:
    """Warm water is no gain for a cut with thread or a tag in it."""
    limit = Celsius(yard.figures["stitched_warm"])
    for fish in yard.fish_here():
        for defect in fish.open_defects:
            day = _too_warm_on(yard, fish, defect)
            if day is None:
                continue
            since = None if day == yard.on else day
            why = reason(
                "stitched-too-warm",
                fish=FishId(fish.id),
                it=blemish(defect),
                limit=limit,
                since=since,
            )
            yield Warning_("warn", why, fish=fish.id)


def _too_warm_on(yard: Yard, fish: FishState, defect: DefectState) -> date | None:
    """The first day, from today until the cut is closed in a slow case, that is too warm."""
    kind = yard.facts.kinds[defect.kind]
    if not kind.stitched or kind.closed is None or defect.closed_on is not None:
        return None
    mean_on = yard.mean_on(fish)
    slow = reached(kind.closed, "high", defect.heals_from, mean_on) or yard.on
    # Stitches that should be out by now and are not: today still counts.
    last = max(slow, yard.on)
    days = map(date.fromordinal, range(yard.on.toordinal(), last.toordinal() + 1))
    limit = yard.figures["stitched_warm"]
    return next((day for day in days if mean_on(day) > limit), None)


def _touch_up_warnings(yard: Yard, verdicts: Iterable[Verdict]) -> Iterator[Warning_]:
    planned = [one for one in verdicts if one.touch_up is not None and one.touch_up.day is not None]
    if planned and not keeper_may(yard) and not yard.keeper.touch_up.law_stated:
        yield Warning_("warn", reason("law-not-checked"))
    for one in planned:
        for caution in one.cautions:
            if caution.code == "may-darken" and one.entered:
                yield Warning_("warn", caution, fish=one.fish, show=one.show)


def _days_set_unused(
    yard: Yard, verdicts: Sequence[Verdict], selection: Selection
) -> Iterator[Warning_]:
    """The days set for touch-ups on which none is planned, and why: none is taken instead."""
    taken = {(fish, day) for fish, day, _ in selection.solution.touch_ups}
    for fish in yard.fish_here():
        mine = [one.touch_up for one in verdicts if one.fish == fish.id]
        barred = [one.nothing_because for one in mine if one is not None and one.nothing_because]
        for day in sorted({day for _, day in fish.days_set if day >= yard.on}):
            if (fish.id, day) in taken:
                continue
            why = [dict(one.values).get("why") for one in barred if ("day", day) in one.values]
            told = next((one for one in why if isinstance(one, Reason)), None)
            if told is None:
                told = reason("not-needed-then") if any(mine) else reason("no-speck-to-take")
            unused = reason("set-day-unused", fish=FishId(fish.id), day=day, why=told)
            yield Warning_("warn", unused, fish=fish.id)


def _entry_warnings(verdicts: Sequence[Verdict], tasks: Sequence[Task]) -> Iterator[Warning_]:
    for one in verdicts:
        if one.verdict == "too-late":
            fish, show = FishId(one.fish), ShowId(one.show)
            why = reason("too-late-for", fish=fish, show=show, why=one.reasons[0])
            yield Warning_("warn", why, fish=one.fish, show=one.show)
    late = [task for task in tasks if task.late]
    if late:
        shown = tuple(task.title for task in late[:3])
        yield Warning_("warn", reason("jobs-are-late", jobs=len(late), shown=shown))
