"""`bags`: the worksheet of a journey, for the fish entered in a show or from options alone."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from showprep.commands.names import named
from showprep.commands.worksheet_values import Given, amount, between, units_in, value
from showprep.husbandry.figures import SHIPPED
from showprep.outputs.failure import Failure
from showprep.outputs.words.bags_sheet import (
    bag_words,
    journey_words,
    refused_text,
    tank_words,
)
from showprep.outputs.worksheets.bags_json import bag_text, journey_text
from showprep.outputs.worksheets.bags_json import refused_text as refused_json
from showprep.outputs.worksheets.paper import paper_text
from showprep.planning.plan import Plan, ShowLine
from showprep.planning.worksheets.bags import bag_sheet, longest_bag
from showprep.planning.worksheets.bags_records import (
    LEAST_FILLING_H,
    BagAsk,
    BagSheet,
    JourneySheet,
)
from showprep.planning.worksheets.bags_season import bag_asks, journey_sheet, shows_with_fish
from showprep.season.problems import SeasonError
from showprep.season.values import measures
from showprep.season.values.quantities import Units

AMOUNTS = {
    "hours": measures.hours,
    "water_c": measures.temperature_c,
    "kg": measures.fish_kilograms,
    "length_cm": measures.length_cm,
    "bag_water_l": measures.litres,
    "bag_gas_l": measures.litres,
    "bag_length_cm": measures.total_cm,
    "show_c": measures.temperature_c,
}
NUMBERS = {
    "alkalinity_meq_l": between(0.01, 20),
    "ph": between(4, 11),
    "show_ph": between(4, 11),
    "salt_g_per_l": between(0, 10),
}
NAMES = {
    "bag_water_l": "water_l",
    "bag_gas_l": "gas_l",
    "ph": "open_ph",
    "salt_g_per_l": "salt_g_l",
}
OF_ONE_FISH = ("kg", "length_cm")


def run(folder: Path | None, given: Mapping[str, str], on: date, *, as_json: bool = False) -> None:
    """Print the sheet of one journey, or of one bag from options alone.

    `given` are the options as text; `on` the day of the plan. Raises Failure with status 2 for
    options that are missing or cannot be read, 1 where a fish cannot be carried (the sheet says
    why); SeasonError for faults in the season's files. Warnings do not change the exit status.
    With `as_json` the JSON is printed in each case.
    """
    try:
        sheet = _one_bag(given) if folder is None else _journey(folder, given, on)
    except (Failure, SeasonError) as error:
        if as_json:
            sys.stdout.write(refused_json(str(error)))
        raise
    if isinstance(sheet, BagSheet):
        text = bag_text(sheet) if as_json else _paper([bag_words(sheet), *tank_words((sheet,))])
        refused = [refused_text(sheet)] if sheet.refused else []
    else:
        text = journey_text(sheet) if as_json else _paper(journey_words(sheet))
        refused = [f"{one.ask.name}: {refused_text(one)}" for one in sheet.bags if one.refused]
    sys.stdout.write(text)
    if refused:
        raise Failure(f"Refused: {' '.join(filter(None, refused))}")


def _paper(sheets: Any) -> str:
    return paper_text(sheets, form_feed=not sys.stdout.isatty())


def _values(given: Given, units: Units) -> dict[str, Any]:
    """What the options say, by the names of the record; bare amounts only in metric `units`."""
    found = {name: amount(given, name, read, units) for name, read in AMOUNTS.items()}
    found |= {name: value(given, name, read) for name, read in NUMBERS.items()}
    if found["hours"] is not None and not found["hours"] > 0:
        raise Failure("--hours must be more than 0: how long the fish is in the bag.", status=2)
    return {NAMES.get(name, name): one for name, one in found.items() if one is not None}


def _one_bag(given: Given) -> BagSheet:
    if "kg" not in given and "length_cm" not in given:
        raise Failure("--kg or --length-cm is missing: how heavy or how long the fish is.", 2)
    if "show" in given:
        raise Failure("--show is of a season: name the season's folder too.", 2)
    if "water_c" not in given:
        raise Failure("--water-c is missing: how warm the water is in the bag.", status=2)
    units = units_in(given) or "metric"
    values = {"hours": LEAST_FILLING_H, **_values(given, units)}
    ask = BagAsk(figures=SHIPPED, **values, units=units)
    return bag_sheet(ask) if "hours" in given else longest_bag(ask)


def _journey(folder: Path, given: Given, on: date) -> JourneySheet:
    from showprep.commands.loading import load
    from showprep.outputs.remembered import remembered
    from showprep.planning.season_plan import worked_out
    from showprep.planning.yard.presumed import yard_as_known
    from showprep.season.reading import season_name

    yard = yard_as_known(load(folder, on).season, on, remembered(folder, on))
    values = _values(given, units_in(given) or yard.keeper.units)
    yard, plan = worked_out(yard, season_name(folder), costs=False, tells=False)
    show = _show(plan, given.get("show"))
    asks = bag_asks(yard, show)
    for name in OF_ONE_FISH:
        if name in values and len(asks) > 1:
            option = name.replace("_", "-")
            said = f"--{option} is of one fish, and {len(asks)} are entered in {show.name}."
            raise Failure(said, status=2)
    if "kg" in values:
        values["kg_estimated"] = False
    asks = tuple(replace(ask, **values) for ask in asks)
    sheet = journey_sheet(yard, show, asks)
    units = units_in(given)
    if units is None:
        return sheet
    bags = tuple(replace(one, ask=replace(one.ask, units=units)) for one in sheet.bags)
    return replace(sheet, units=units, bags=bags)


def _show(plan: Plan, wanted: str | None) -> ShowLine:
    known = {show.id: show for show in plan.shows}
    if wanted is not None:
        wanted = named("show", wanted, {one: show.name for one, show in known.items()})
    shows = [show for show in shows_with_fish(plan) if wanted in (None, show.id)]
    if shows:
        return shows[0]
    where = f"{known[wanted].name} by this plan" if wanted is not None else "a show by this plan"
    raise Failure(
        f"No fish is entered in {where}. For one bag alone leave SEASON out and give --kg, "
        "--hours and --water-c."
    )
