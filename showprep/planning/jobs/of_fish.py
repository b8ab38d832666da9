"""Jobs of one fish: a wound looked at when it should be clean, a vet rung."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from showprep.husbandry.reason import Chance, FishId, reason
from showprep.husbandry.red_spots import look_again_on
from showprep.planning.as_of.defects import RED_SPOTS
from showprep.planning.as_of.state import DefectState, FishState
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import HealingLine, Warning_
from showprep.planning.verdicts.prospects import Prospect
from showprep.planning.verdicts.wounds import LIKELY_BACK, blemish, ruling
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import slug

GO_OR_STAY = timedelta(days=14)
"""So long before judging every fish that goes is looked at anyway (the first day of that job)."""


def fish_jobs(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], going: Sequence[tuple[str, str]]
) -> Iterator[Draft]:
    """Looks at the wounds of the fish that go, vets for those that need one."""
    drafts: dict[str, Draft] = {}
    for pair in going:
        for draft in _looks(prospects[pair]):
            drafts.setdefault(draft.id, draft)
    for fish in yard.fish_here():
        for draft in (*_vets(yard, fish), *_off_food(fish)):
            drafts.setdefault(draft.id, draft)
    for group in red_spots_together(yard):
        for draft in (*_red_spots(yard, group), *_red_spots_vet(yard, group)):
            drafts.setdefault(draft.id, draft)
    yield from drafts.values()


def _looks(one: Prospect) -> Iterator[Draft]:
    for view in one.outlooks:
        if view.likely_back_on is not None:
            yield from _look_if_back(one, view.defect, view.likely_back_on)
        clean = [healing for healing in view.healing if healing.milestone == "clean"]
        if view.defect.touched is not None or not clean:
            continue  # a touched speck has its own look-backs
        yield from _look(one, clean[0])


def _look(one: Prospect, healing: HealingLine) -> Iterator[Draft]:
    due = healing.usual_on
    if due is None or due > one.events.benching_day:
        return
    yield Draft(
        id=f"look/{one.fish.id}/{healing.defect}/{slug(healing.where) or 'somewhere'}",
        kind="look",
        title=reason("look-if-clean", fish=FishId(one.fish.id), kind=healing.defect),
        earliest=due,
        ideal=due,
        latest=max(due, one.events.benching_day - timedelta(days=7)),
        fish=(one.fish.id,),
        show=one.events.show,
        hands=True,
        note=reason("write-what-you-see"),
        late_cost=reason("plan-goes-on-guessing"),
        counts_from=reason("usual-healing-time"),
        grade=healing.grade,
    )


def _look_if_back(one: Prospect, defect: DefectState, due: date) -> Iterator[Draft]:
    """A look at a speck that is likely back, unless go-or-stay comes first."""
    latest = one.events.judging_day - GO_OR_STAY
    if due >= latest:
        return
    yield Draft(
        id=f"look/{one.fish.id}/{defect.kind}/{slug(defect.where) or 'somewhere'}/back",
        kind="look",
        title=reason("look-if-back", fish=FishId(one.fish.id), kind=defect.kind),
        earliest=due,
        ideal=due,
        latest=min(due + timedelta(days=7), latest),
        fish=(one.fish.id,),
        show=one.events.show,
        hands=True,
        note=reason("look-if-back-how"),
        late_cost=reason("plan-goes-on-guessing"),
        counts_from=reason("speck-likely-back", chance=Chance(LIKELY_BACK)),
        grade="assumption",
    )


def _vets(yard: Yard, fish: FishState) -> Iterator[Draft]:
    """A vet for every illness that is open, whether or not there is a show to go to."""
    for defect in fish.open_defects:
        kind = yard.facts.kinds[defect.kind]
        rule = ruling(defect, kind, False, yard.figures)
        if kind.may == "touch-up" or rule.may != "vet" or kind.id == RED_SPOTS:
            continue
        seen = defect.seen if kind.may == "vet" else (defect.not_clean_on or defect.seen)
        day = seen + timedelta(days=1)
        yield Draft(
            id=f"vet/{fish.id}/{defect.kind}/{slug(defect.where) or 'somewhere'}",
            kind="vet",
            title=reason("ring-a-vet", fish=FishId(fish.id), it=blemish(defect)),
            earliest=day,
            ideal=day,
            latest=day,
            fish=(fish.id,),
            note=rule.why,
            late_cost=reason("ill-now"),
            counts_from=reason("day-after-seen"),
            grade=kind.grade,
        )


Spotted = tuple[FishState, DefectState]


def red_spots_together(yard: Yard) -> tuple[tuple[str, tuple[Spotted, ...]], ...]:
    """The fish with red spots that no vet has seen, those of one water together, first seen first.

    Several fish of one water at once are a sign of its illness more than of a fish's (common
    practice, no source).
    """
    found: dict[str, list[Spotted]] = {}
    for fish in yard.fish_here():
        for defect in fish.open_defects:
            if defect.kind == RED_SPOTS and defect.vet is None:
                water = yard.course(fish).water_before(yard.on)
                found.setdefault(water, []).append((fish, defect))
    return tuple(
        (water, tuple(sorted(some, key=lambda one: (one[1].seen, one[0].id))))
        for water, some in sorted(found.items())
    )


def red_spot_warnings(yard: Yard) -> Iterator[Warning_]:
    """Red spots on several fish of one water: said together."""
    for water, group in red_spots_together(yard):
        fish = _named(group)
        if len(fish) > 1:
            since = group[0][1].seen
            yield Warning_("warn", reason("red-spots-on-several", fish=fish, water=water, on=since))


def _named(group: Sequence[Spotted]) -> tuple[FishId, ...]:
    return tuple(map(FishId, dict.fromkeys(fish.id for fish, _ in group)))


def _stay(yard: Yard, one: Spotted) -> bool:
    """Were the spots still seen after the days that a flush may take?"""
    return ruling(one[1], yard.facts.kinds[RED_SPOTS], False, yard.figures).may == "vet"


def _red_spots(yard: Yard, told: tuple[str, Sequence[Spotted]]) -> Iterator[Draft]:
    """Red spots are looked at again in three days: gone by then, or a sign of illness."""
    water, every = told
    group = [one for one in every if not _stay(yard, one)]
    if not group:
        return
    first, fish = group[0], _named(group)
    due = look_again_on(first[1].seen, yard.figures)
    yield Draft(
        id=f"red-spots/{first[0].id}/{slug(first[1].where) or 'somewhere'}",
        kind="red-spots",
        title=reason("red-spots-again", fish=fish, water=water, several=int(len(fish) > 1)),
        earliest=due,
        ideal=due,
        latest=due,
        fish=tuple(one.id for one in fish),
        note=reason("red-spots-how"),
        late_cost=reason("red-spots-late"),
        counts_from=reason("days-after-seen", days=(due - first[1].seen).days),
        grade="common practice",
    )


def _red_spots_vet(yard: Yard, told: tuple[str, Sequence[Spotted]]) -> Iterator[Draft]:
    """Spots that stay go to a vet, those of one water in one call."""
    water, every = told
    staying = [one for one in every if _stay(yard, one)]
    if not staying:
        return
    first, kind = staying[0], yard.facts.kinds[RED_SPOTS]
    day = (first[1].not_clean_on or first[1].seen) + timedelta(days=1)
    fish = _named(every)  # the vet hears of all that have them
    yield Draft(
        id=f"vet/{first[0].id}/{RED_SPOTS}/{slug(first[1].where) or 'somewhere'}",
        kind="vet",
        title=reason("ring-a-vet-red-spots", fish=fish, water=water)
        if len(fish) > 1
        else reason("ring-a-vet", fish=fish[0], it=blemish(first[1])),
        earliest=day,
        ideal=day,
        latest=day,
        fish=tuple(one.id for one in fish),
        note=ruling(first[1], kind, False, yard.figures).why,
        late_cost=reason("ill-now"),
        counts_from=reason("day-after-seen"),
        grade=kind.grade,
    )


def _off_food(fish: FishState) -> Iterator[Draft]:
    if fish.off_food_since is None:
        return
    day = fish.off_food_since + timedelta(days=1)
    yield Draft(
        id=f"vet/{fish.id}/off-food",
        kind="vet",
        title=reason("ring-a-vet-off-food", fish=FishId(fish.id)),
        earliest=day,
        ideal=day,
        latest=day,
        fish=(fish.id,),
        note=reason("off-food-how"),
        late_cost=reason("ill-now"),
        counts_from=reason("day-after-seen"),
        grade="common practice",
    )
