"""Every worksheet of a season, for a page that prints them with the plan."""

from __future__ import annotations

from collections.abc import Iterator

from showprep.outputs.words.bags_sheet import journey_words
from showprep.outputs.words.bath_sheet import bath_words
from showprep.outputs.words.sheet import Sheet
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Plan
from showprep.planning.worksheets.bags_season import journeys
from showprep.planning.worksheets.bath_season import NoBath, baths
from showprep.planning.yard.yard import Yard


def sheets_for_page(plan: Plan, yard: Yard) -> tuple[Sheet, ...]:
    """A bath sheet for each session planned, then bags and packing for each show entered.

    A session whose bath cannot be worked out from the files has a sheet that says why.
    """
    return (*_baths(plan, yard), *_journeys(plan, yard))


def _baths(plan: Plan, yard: Yard) -> Iterator[Sheet]:
    for made in baths(yard, plan):
        if isinstance(made, NoBath):
            why = Speaker.of(plan).text(made.why)
            title = f"Touch-up bath, {made.day.isoformat()}"
            yield Sheet(title, (("There is no sheet for this bath", (why,)),))
        else:
            yield bath_words(made)


def _journeys(plan: Plan, yard: Yard) -> Iterator[Sheet]:
    for sheet in journeys(yard, plan):
        yield from journey_words(sheet)
