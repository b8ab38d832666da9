"""What is measured out by each sheet: the doses of the sessions, the water of the bags."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec.structs import replace

from showprep.planning.follow_up.sheet_facts import DOSE, SheetFact, facts_of
from showprep.planning.plan import Plan
from showprep.planning.worksheets.bags_season import way_there
from showprep.planning.worksheets.bath_records import BathSheet
from showprep.planning.worksheets.bath_season import baths, sessions_in
from showprep.planning.worksheets.dose import measured_ml
from showprep.planning.yard.yard import Yard


def facts_with_amounts(yard: Yard, plan: Plan) -> dict[str, SheetFact]:
    """What the sheets of this plan rest on, amounts and all; `yard` is the one as planned."""
    doses: dict[str, Mapping[str, float]] = {
        task.id: (
            {DOSE: measured_ml(bath)}
            if isinstance(bath, BathSheet) and bath.dose is not None
            else {}
        )
        for task, bath in zip(sessions_in(plan), baths(yard, plan), strict=True)
    }
    facts = facts_of(plan)
    return {
        of: replace(fact, amounts=doses[of] if fact.show is None else _water(yard, fact))
        for of, fact in facts.items()
    }


def _water(yard: Yard, fact: SheetFact) -> dict[str, float]:
    bags = {fish: way_there(yard, yard.events[fact.of], fish) for fish in fact.fish}
    return {
        fish: round(bag.water_l, 1)
        for fish, bag in bags.items()
        if bag is not None and bag.water_l is not None
    }
