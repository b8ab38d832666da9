"""Jobs of one fish: a wound looked at when it should be clean, a vet rung, parasites cleared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta

from showprep.husbandry.reason import FishId, reason
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
    """Looks at the wounds of the fish that go, vets for those that need one, clear checks."""
    drafts: dict[str, Draft] = {}
    for pair in going:
        for draft in _looks(prospects[pair]):
            drafts.setdefault(draft.id, draft)
    for fish in yard.fish_here():
        for draft in (*_vets(yard, fish), *_off_food(fish)):
            drafts.setdefault(draft.id, draft)
    drafts.update({draft.id: draft for draft in _clear_checks(yard)})
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
        if kind.may != "vet" or ruling(defect, kind, scaleless=False).may != "vet":
            continue
        day = defect.seen + timedelta(days=1)
        yield Draft(
            id=f"vet/{fish.id}/{defect.kind}/{slug(defect.where) or 'somewhere'}",
            kind="vet",
            title=reason("ring-a-vet", fish=FishId(fish.id), it=blemish(defect)),
            earliest=day,
            ideal=day,
            latest=day,
            fish=(fish.id,),
            note=reason("kind-note", kind=kind.id),
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


def _clear_checks(yard: Yard) -> Iterator[Draft]:
    gap = round(yard.figures["parasite_clear_check"])
    for water, (found, cleared) in sorted(yard.state.parasites.items()):
        if cleared is not None:
            continue
        due = found + timedelta(days=gap)
        yield Draft(
            id=f"clear-check/{slug(water)}",
            kind="clear-check",
            title=reason("clear-check", water=water),
            earliest=due,
            ideal=due,
            latest=due + timedelta(days=7),
            water=water,
            hands=True,
            note=reason("clear-check-how"),
            late_cost=reason("entries-stay-barred"),
            counts_from=reason("days-after-find", days=gap),
            grade="derived",
        )
