"""What is taken to have happened when nobody wrote it down: who left for the shows now past.

The fish that were entered are presumed to have gone. Where no entry was written down either, it
is those that the plan would have chosen on the day of departure, with what was known by then: the
same files give the same answer, whether or not a plan was made that day.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from showprep.planning.events import Events, all_events
from showprep.planning.selection import entries_alone
from showprep.planning.state import state_of
from showprep.planning.yard import Yard, yard_on
from showprep.season.records import Season

LOOKED_BACK = timedelta(days=400)
"""How far back a journey still counts: a declaration mostly looks back a year, and a rest less."""


def yard_as_known(season: Season, on: date) -> Yard:
    """The yard on the day `on`, with the journeys that are presumed."""
    return yard_on(season, on, presumed_journeys(season, on))


def presumed_journeys(season: Season, on: date) -> Mapping[str, frozenset[str]]:
    """By show: the fish that the plan had chosen, for shows whose entries were never noted."""
    state = state_of(season, on)
    noted = {entry.show for entry in state.journal if entry.did == "entered"}
    found: dict[str, frozenset[str]] = {}
    for one in all_events(state.shows, season.keeper, on).values():
        if one.standing == "cancelled" or one.show in noted:
            continue
        if on - LOOKED_BACK <= one.departure_day < on or _is_leaving(one, on):
            before = yard_on(season, one.departure_day, found)
            found[one.show] = frozenset(
                fish for fish, show in entries_alone(before) if show == one.show
            )
    return found


def _is_leaving(events: Events, on: date) -> bool:
    """Is it the day of departure of a show that is over the same day?"""
    return events.departure_day == on and events.standing == "past"
