"""Jobs of one fish: a wound looked at when it should be clean, a vet rung, parasites cleared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import timedelta

from showprep.husbandry.reason import FishId, reason
from showprep.planning.jobs.draft import Draft, place
from showprep.planning.plan import HealingLine, Task
from showprep.planning.prospects import Prospect
from showprep.planning.state import FishState
from showprep.planning.words import slug
from showprep.planning.wounds import blemish, ruling
from showprep.planning.yard import Yard


def fish_jobs(
    yard: Yard, prospects: Mapping[tuple[str, str], Prospect], going: Sequence[tuple[str, str]]
) -> Iterator[Task]:
    """Looks at the wounds of the fish that go, vets for those that need one, clear checks."""
    drafts: dict[str, Draft] = {}
    for pair in going:
        for draft in _looks(prospects[pair]):
            drafts.setdefault(draft.id, draft)
    for fish in yard.fish_here():
        for draft in (*_vets(yard, fish), *_off_food(fish)):
            drafts.setdefault(draft.id, draft)
    drafts.update({draft.id: draft for draft in _clear_checks(yard)})
    for _, draft in sorted(drafts.items()):
        task = place(yard, draft)
        if task is not None:
            yield task


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
    name = one.fish.record.name
    what = healing.defect.replace("-", " ")
    yield Draft(
        id=f"look/{one.fish.id}/{healing.defect}/{slug(healing.where) or 'somewhere'}",
        kind="look",
        title=f"Look at {name}'s {what}: it should be clean",
        earliest=due,
        ideal=due,
        latest=max(due, one.events.benching_day - timedelta(days=7)),
        fish=(one.fish.id,),
        show=one.events.show,
        hands=True,
        note="Write down what you see: clean, or not clean yet. The plan follows what is seen.",
        late_cost="The plan goes on guessing.",
        counts_from="the usual healing time in this water",
        mark=healing.mark,
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
            late_cost="It does not wait for a show: the fish is ill.",
            counts_from="the day after it was seen",
            mark=kind.mark,
        )


def _off_food(fish: FishState) -> Iterator[Draft]:
    if fish.off_food_since is None:
        return
    day = fish.off_food_since + timedelta(days=1)
    yield Draft(
        id=f"vet/{fish.id}/off-food",
        kind="vet",
        title=f"Ring a vet about {fish.record.name}: off its food",
        earliest=day,
        ideal=day,
        latest=day,
        fish=(fish.id,),
        note="Test the water first, then look at skin and gills. Write down `feeding well` when "
        "it eats again.",
        late_cost="It does not wait for a show: the fish is ill.",
        counts_from="the day after it was seen",
        mark="common practice",
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
            title=f"Clear check of the {water}: scrape again",
            earliest=due,
            ideal=due,
            latest=due + timedelta(days=7),
            water=water,
            hands=True,
            note="After the treatment a vet has advised, a scrape of several fish. Write down "
            "`no parasites` when it is clear; until then no fish of this water goes to a show.",
            late_cost="Every entry of this water stays barred.",
            counts_from=f"{gap} days after the find",
            mark="derived",
        )
