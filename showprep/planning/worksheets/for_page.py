"""Every worksheet of a season, for a page that prints them with the plan."""

from __future__ import annotations

from collections.abc import Iterator

from showprep.planning.plan import Plan
from showprep.planning.worksheets.bags_season import journeys
from showprep.planning.worksheets.bags_words import journey_words
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_season import bath_ask, sessions_in
from showprep.planning.worksheets.bath_words import bath_words
from showprep.planning.worksheets.sheet import Sheet, sentence
from showprep.planning.yard import Yard


def sheets_for_page(plan: Plan, yard: Yard) -> tuple[Sheet, ...]:
    """A bath sheet for each session planned, then bags and packing for each show entered.

    A session whose bath cannot be worked out from the files has a sheet that says why.
    """
    return (*_baths(plan, yard), *_journeys(plan, yard))


def _baths(plan: Plan, yard: Yard) -> Iterator[Sheet]:
    for session in sessions_in(plan):
        title = f"Touch-up bath, {session.first_day.isoformat()}"
        try:
            ask = bath_ask(yard, plan, session)
            yield bath_words(bath_sheet(ask))
        except ValueError as error:
            yield Sheet(title, (("There is no sheet for this bath", (sentence(str(error)),)),))


def _journeys(plan: Plan, yard: Yard) -> Iterator[Sheet]:
    for sheet in journeys(yard, plan):
        yield from journey_words(sheet)
