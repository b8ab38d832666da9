"""The bath of a planned session, as the season's files ask for it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from msgspec import Struct

from showprep.husbandry.reason import Blemish, Reason, Refusal, reason
from showprep.planning.plan import SESSION_KINDS, Plan, Task
from showprep.planning.verdicts.lengths import length_on, weight_kg
from showprep.planning.verdicts.touch_ups import sedation_fast_days
from showprep.planning.verdicts.wounds import is_scaleless, ruling
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk, BathFish, BathSheet, Gate
from showprep.planning.yard.yard import Yard
from showprep.season.records import TouchUp
from showprep.season.values.agents import agent_named
from showprep.season.values.product import product_strength


def sessions_in(plan: Plan) -> tuple[Task, ...]:
    """The touch-up sessions of a plan, by day, whether the keeper's or to ask a vet about."""
    found = [task for task in plan.tasks if task.kind in SESSION_KINDS]
    return tuple(sorted(found, key=lambda task: (task.first_day, task.id)))


def session_on(sessions: Sequence[Task], day: date | None) -> Task | None:
    """The session of a day, or the next one; None when there is none."""
    return next((task for task in sessions if day is None or task.first_day == day), None)


def gate_of(touch_up: TouchUp) -> Gate:
    """Whose sheet it is, by what the keeper has stated."""
    if not touch_up.law_stated:
        return "ask a vet"
    return "keeper" if touch_up.by == "keeper" else "vet"


def bath_ask(yard: Yard, plan: Plan, session: Task) -> BathAsk:
    """What one planned session asks for; the strength as in keeper.yaml.

    Raises ValueError for a strength or an agent there that cannot be used.
    """
    touch_up = yard.keeper.touch_up
    tub = touch_up.tub
    day = session.first_day
    return BathAsk(
        figures=yard.figures,
        agent=agent_named(touch_up.agent),
        litres=touch_up.bath_litres,
        tub_cm=(tub.length_cm, tub.width_cm) if tub is not None else None,
        tub_depth_cm=tub.depth_cm if tub is not None else None,
        strength=product_strength(touch_up),
        target_mg_per_l=touch_up.target_mg_per_l,
        water_c=_coldest(yard, session, day),
        day=day,
        fish=tuple(_fish(yard, plan, fish_id, day) for fish_id in session.fish),
        water=session.water,
        gate=gate_of(touch_up),
        units=yard.keeper.units,
        fast_days=_fast_days(yard, session, day),
        look_backs=_look_backs(plan, session),
    )


class NoBath(Struct, frozen=True):
    """A session for which the files do not say enough, or name an agent without a sheet."""

    day: date
    why: Reason


def baths(yard: Yard, plan: Plan) -> Iterator[BathSheet | NoBath]:
    """The bath of each session of a plan."""
    for session in sessions_in(plan):
        try:
            yield bath_sheet(bath_ask(yard, plan, session))
        except Refusal as refusal:
            yield NoBath(session.first_day, refusal.told)
        except ValueError as error:  # what the file says in words that cannot be used
            yield NoBath(session.first_day, reason("file-cannot-be-used", what=str(error)))


def _coldest(yard: Yard, session: Task, day: date) -> float:
    """The water of the session as calculated for the day; the coldest where fish differ."""
    fish = [yard.state.fish[one] for one in session.fish]
    return min(yard.waters.of(yard.taken_from(one, day))(day) for one in fish)


def _fast_days(yard: Yard, session: Task, day: date) -> int:
    """As the calendar counts them; the longest where fish are in several waters."""
    waters = {yard.taken_from(yard.state.fish[one], day) for one in session.fish}
    return max(sedation_fast_days(yard, yard.waters.of(water), day) for water in waters)


def _look_backs(plan: Plan, session: Task) -> tuple[date, ...]:
    """The days on which the calendar looks back at this session."""
    anchor = session.id.partition("/")[2]
    found = [
        task.first_day
        for task in plan.tasks
        if task.kind == "look-back" and task.id.partition("/")[2] == anchor
    ]
    return tuple(sorted(found))


def _fish(yard: Yard, plan: Plan, fish_id: str, day: date) -> BathFish:
    fish = yard.state.fish[fish_id]
    length = length_on(yard, fish, day)
    kg, estimated = weight_kg(yard, fish, length)
    scaleless = is_scaleless(yard, fish)
    kinds = yard.facts.kinds
    return BathFish(
        name=fish.record.name,
        length_cm=length.expected if length is not None else None,
        kg=kg,
        kg_estimated=estimated,
        blemishes=tuple(
            Blemish(defect.kind, defect.where)
            for defect in fish.open_defects
            if ruling(defect, kinds[defect.kind], scaleless, yard.figures).may == "touch-up"
        ),
        heals_in=_heals_in(plan, fish_id, day, yard.taken_from(fish, day)),
    )


def _heals_in(plan: Plan, fish_id: str, day: date, home: str) -> str | None:
    """The water a wound heals in, where it is not the one the fish lives in."""
    for one in plan.verdicts:
        touch_up = one.touch_up
        if one.fish == fish_id and touch_up is not None and touch_up.day == day:
            return touch_up.water if touch_up.water != home else None
    return None
