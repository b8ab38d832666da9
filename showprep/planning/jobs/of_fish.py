"""Jobs of one fish: a wound looked at when it should be clean, a vet rung."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta

from showprep.husbandry.reason import FishId, reason
from showprep.husbandry.red_spots import look_again_on
from showprep.planning.as_of.defects import RED_SPOTS
from showprep.planning.as_of.state import FishState
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import HealingLine
from showprep.planning.verdicts.prospects import Prospect
from showprep.planning.verdicts.wounds import blemish, ruling
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import slug


def fish_jobs(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], going: Sequence[tuple[str, str]]
) -> Iterator[Draft]:
    """Looks at the wounds of the fish that go, vets for those that need one."""
    drafts: dict[str, Draft] = {}
    for pair in going:
        for draft in _looks(prospects[pair]):
            drafts.setdefault(draft.id, draft)
    for fish in yard.fish_here():
        for draft in (*_vets(yard, fish), *_red_spots(yard, fish), *_off_food(fish)):
            drafts.setdefault(draft.id, draft)
    yield from drafts.values()


def _looks(one: Prospect) -> Iterator[Draft]:
    for view in one.outlooks:
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


def _vets(yard: Yard, fish: FishState) -> Iterator[Draft]:
    """A vet for every illness that is open, whether or not there is a show to go to."""
    for defect in fish.open_defects:
        kind = yard.facts.kinds[defect.kind]
        rule = ruling(defect, kind, False, yard.figures)
        if kind.may == "touch-up" or rule.may != "vet":
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


def _red_spots(yard: Yard, fish: FishState) -> Iterator[Draft]:
    """Red spots are looked at again in three days: gone by then, or a sign of illness."""
    for defect in fish.open_defects:
        due = look_again_on(defect.seen, yard.figures)
        told = defect.not_clean_on is not None and defect.not_clean_on >= due
        if defect.kind != RED_SPOTS or defect.vet is not None or told:
            continue
        yield Draft(
            id=f"red-spots/{fish.id}/{slug(defect.where) or 'somewhere'}",
            kind="red-spots",
            title=reason("red-spots-again", fish=FishId(fish.id)),
            earliest=due,
            ideal=due,
            latest=due,
            fish=(fish.id,),
            note=reason("red-spots-how"),
            late_cost=reason("red-spots-late"),
            counts_from=reason("days-after-seen", days=(due - defect.seen).days),
            grade="common practice",
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
