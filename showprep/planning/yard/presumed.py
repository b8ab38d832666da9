"""What is taken to have happened when nobody wrote it down: who is entered, and who left.

Once a form is in, those that the plan had chosen on its day are presumed to be on it, so that the
entries stay as they are unless the keeper says otherwise. The fish that were entered are presumed
to have gone. Where no entry was written down either, it is those that the last plan sent, as that
is what the keeper was told; and where no plan is remembered, those that it would have chosen on
the day of departure, with what was known by then.

A fish whose touch-up was planned to heal in the vat is presumed to be there once the touch-up is
noted: in a vat that is not warmed, or is let cool, it would be harmed; in the pond the vat's warmth
does nothing to it.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from datetime import date, timedelta

from msgspec.structs import replace

from showprep.planning.as_of.state import State, state_of
from showprep.planning.entries.answer import solution_alone
from showprep.planning.entries.records import PresumedForm
from showprep.planning.plan import SESSION_KINDS
from showprep.planning.yard.course import WaterMove
from showprep.planning.yard.events import Events, all_events
from showprep.planning.yard.last_plan import HealsIn, LastPlan, PresumedCut
from showprep.planning.yard.yard import Yard, yard_on
from showprep.season.records import Season

LOOKED_BACK = timedelta(days=400)
"""How far back a journey still counts: a declaration mostly looks back a year, and a rest less."""


EARLY = timedelta(days=3)
"""A touch-up noted this much before its day is the one that was planned."""
NEAR = timedelta(days=7)
"""A touch-up noted this near the day it was planned for heals where that one was to heal."""
CUTS_KEPT = timedelta(days=60)
"""How long a touch-up that nobody noted still counts: longer than any spacing."""


def yard_as_known(season: Season, on: date, last: LastPlan | None = None) -> Yard:
    """The yard on the day `on`, with the journeys and touch-ups that are presumed.

    `last` is the plan of an earlier day, where one is remembered: it tells which fish it sent,
    which touch-ups were due since, and what their sessions are called.
    """
    if last is not None and last.planned_on >= on:
        last = None
    gone = presumed_journeys(season, on, last)
    forms = presumed_forms(season, on, gone, last)
    return _yard_as_presumed(season, on, gone, forms, last)


def _yard_as_presumed(
    season: Season,
    on: date,
    gone: Mapping[str, frozenset[str]],
    forms: Mapping[str, PresumedForm],
    last: LastPlan | None,
) -> Yard:
    if last is None or last.planned_on >= on:
        return dataclasses.replace(yard_on(season, on, gone), presumed_forms=forms)
    yard = yard_on(season, on, gone, presumed_into_vat(state_of(season, on), last))
    yard = dataclasses.replace(yard, presumed_forms=forms, healed_in=_healed_in(yard.state, last))
    cuts = presumed_cuts(yard.state, last)
    days: dict[str, set[date]] = {}
    for cut in cuts:
        for one in cut.fish:
            days.setdefault(one, set()).add(cut.on)
    fish = {
        fish_id: replace(one, sedations=tuple(sorted({*one.sedations, *days.get(fish_id, ())})))
        for fish_id, one in yard.state.fish.items()
    }
    return dataclasses.replace(yard, state=replace(yard.state, fish=fish), last=last, cuts=cuts)


def presumed_forms(
    season: Season,
    on: date,
    gone: Mapping[str, frozenset[str]],
    last: LastPlan | None = None,
) -> Mapping[str, PresumedForm]:
    """By show to come: who is taken to be on a form that is in, where no entry was noted.

    `gone` are the journeys presumed by the day `on`. A form is in from the day it was noted as
    sent, else from the day after entries closed.
    """
    state = state_of(season, on)
    noted = {entry.show for entry in state.journal if entry.did == "entered"}
    days_in = []
    for one in all_events(state.shows, season.keeper, on).values():
        day = state.sent.get(one.show) or one.record.entries_close
        if one.standing != "planned" or one.show in noted or day is None:
            continue
        if one.show in state.sent or day < on:
            days_in.append((day, one.show))
    found: dict[str, PresumedForm] = {}
    for day, show in sorted(days_in):
        told = last.going(show) if last is not None and last.planned_on >= day else None
        if last is not None and show in last.forms:
            found[show] = last.forms[show]
        elif last is not None and told is not None:
            found[show] = PresumedForm(told, last.reserves.get(show))
        else:  # that plan was made too early, or knew nothing of the show
            chosen = solution_alone(_yard_as_presumed(season, day, gone, found, last))
            going = frozenset(fish for fish, where, _ in chosen.entries if where == show)
            if going:  # else those entered may not have been in the files by then
                found[show] = PresumedForm(going, dict(chosen.reserves).get(show))
    return found


def presumed_cuts(state: State, last: LastPlan) -> tuple[PresumedCut, ...]:
    """The touch-ups that were due by the last plan and of which the journal says nothing.

    They count for every spacing, and heal and free nothing.
    """
    due = [
        PresumedCut(job.id, job.first_day, job.fish)
        for job in last.jobs.values()
        if job.kind in SESSION_KINDS and last.planned_on <= job.first_day < state.on
    ]
    denied = {entry.job: entry.on for entry in state.journal if entry.did == "not done"}
    found: dict[tuple[str, date], PresumedCut] = {}
    for cut in (*last.cuts, *due):
        if cut.on < state.on - CUTS_KEPT or denied.get(cut.job, date.min) >= cut.on:
            continue
        open_ones = tuple(one for one in cut.fish if _unsaid(state, one, cut.on))
        if open_ones:
            found[cut.job, cut.on] = replace(cut, fish=open_ones)
    return tuple(found[key] for key in sorted(found, key=lambda key: (key[1], key[0])))


def presumed_into_vat(state: State, last: LastPlan) -> Mapping[str, WaterMove]:
    """By fish: the move into the vat planned with its touch-up, where none was noted since.

    A move noted to any water, the one it is in too, says where it is.
    """
    isolation = state.keeper.isolation
    found = {}
    for fish in state.fish.values():
        planned = last.heals_in(fish.id)
        if isolation is None or not fish.sedations or not planned or fish.gone is not None:
            continue
        touched = fish.sedations[-1]
        day = min(planned, key=lambda one: (abs(one - touched), one))
        told = any(move.done and move.on >= touched for move in fish.moves)
        if not told and abs(day - touched) <= NEAR and planned[day] == isolation.water:
            found[fish.id] = WaterMove(touched, isolation.water, done=False, to_heal=True)
    return found


def _healed_in(state: State, last: LastPlan) -> HealsIn:
    """What has to be remembered: a touch-up may still be noted, and so may its move."""
    found = {
        fish: {
            day: water
            for day, water in last.heals_in(fish).items()
            if state.on - LOOKED_BACK <= day <= state.on + EARLY
        }
        for fish in state.fish
    }
    return {fish: days for fish, days in found.items() if days}


def _unsaid(state: State, fish_id: str, day: date) -> bool:
    fish = state.fish.get(fish_id)
    if fish is None or fish.gone is not None:
        return False
    return not any(one >= day - EARLY for one in fish.sedations)


def presumed_journeys(
    season: Season, on: date, last: LastPlan | None = None
) -> Mapping[str, frozenset[str]]:
    """By show: the fish that the plan had chosen, for shows whose entries were never noted."""
    state = state_of(season, on)
    noted = {entry.show for entry in state.journal if entry.did == "entered"}
    found: dict[str, frozenset[str]] = {}
    for one in all_events(state.shows, season.keeper, on).values():
        if one.standing == "cancelled" or one.show in noted:
            continue
        if on - LOOKED_BACK <= one.departure_day < on or _is_leaving(one, on):
            sent = last.going(one.show) if last is not None else None
            if sent is not None:
                found[one.show] = sent & season.fish.keys()
                continue
            before = yard_on(season, one.departure_day, found)
            found[one.show] = frozenset(
                fish for fish, show, _ in solution_alone(before).entries if show == one.show
            )
    return found


def _is_leaving(events: Events, on: date) -> bool:
    """Is it the day of departure of a show that is over the same day?"""
    return events.departure_day == on and events.standing == "past"
