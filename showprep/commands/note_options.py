"""The options of `note`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from typing import Annotated

import typer

from showprep.commands.completion import of_fish, of_kinds, of_shows, of_waters, of_words
from showprep.commands.options import Json, Season, Words, option, today


def note(
    season: Season,
    on: Annotated[
        Words, option("--on", "The day: 2027-03-20, yesterday, -3d; today if left out.", "DATE")
    ] = None,
    did: Annotated[
        Words, option("--did", "What was done: touch-up, measure, move, ...", offer=of_words("did"))
    ] = None,
    saw: Annotated[
        Words,
        option("--saw", "What was seen: clean, 'not clean', parasites, ...", offer=of_words("saw")),
    ] = None,
    fish: Annotated[
        list[str] | None,
        option(
            "--fish", "The fish, by name or id; several for one note each.", "FISH", offer=of_fish
        ),
    ] = None,
    show: Annotated[
        Words, option("--show", "The show, by name or id.", "SHOW", offer=of_shows)
    ] = None,
    water: Annotated[Words, option("--water", "The water's name.", "NAME", offer=of_waters)] = None,
    defect: Annotated[
        Words,
        option(
            "--defect", "The kind of blemish it is about, such as shimi.", "KIND", offer=of_kinds
        ),
    ] = None,
    where: Annotated[Words, option("--where", "Where the blemish sits.")] = None,
    size_mm: Annotated[Words, option("--size-mm", "The size of a blemish.")] = None,
    merit_lost: Annotated[
        Words, option("--merit-lost", "The points a blemish costs, 0 to 100.")
    ] = None,
    measured_cm: Annotated[
        Words, option("--measured-cm", "A length: 49.2, or '19.4 in'. Means: measured.")
    ] = None,
    measured_in: Annotated[Words, option("--measured-in", "The same in inches.")] = None,
    weighed_kg: Annotated[
        Words, option("--weighed-kg", "A weight: 2.1, or '4.6 lb'. Means: weighed.")
    ] = None,
    weighed_lb: Annotated[Words, option("--weighed-lb", "The same in pounds.")] = None,
    read_c: Annotated[
        Words, option("--read-c", "A water's temperature: 18.2, or '65 F'. Means: seen.")
    ] = None,
    read_f: Annotated[Words, option("--read-f", "The same in °F.")] = None,
    bath_mg_per_l: Annotated[Words, option("--bath-mg-per-l", "Strength of the bath.")] = None,
    bath_litres: Annotated[Words, option("--bath-litres", "Water in the bath.")] = None,
    minutes_to_balance_lost: Annotated[
        Words, option("--minutes-to-balance-lost", "Minutes until the fish lost its balance.")
    ] = None,
    minutes_to_recovery: Annotated[
        Words, option("--minutes-to-recovery", "Minutes until it swam as before.")
    ] = None,
    treatment: Annotated[
        Words, option("--treatment", "What fish or water was treated with.")
    ] = None,
    by_vet: Annotated[
        Words, option("--by-vet", "yes: a vet ordered the treatment.", "yes|no")
    ] = None,
    parasite: Annotated[
        Words,
        option(
            "--parasite",
            "What was found, or treated against: flukes, 'white spot', ...",
            offer=of_words("parasite"),
        ),
    ] = None,
    to: Annotated[
        Words, option("--to", "The water a fish was moved to.", "NAME", offer=of_waters)
    ] = None,
    ramp_c_per_day: Annotated[
        Words, option("--ramp-c-per-day", "Degrees a day it is brought to the new warmth.")
    ] = None,
    to_day: Annotated[
        Words, option("--to-day", "The new judging day of a show, with a time if known.", "DATE")
    ] = None,
    touch_up_on: Annotated[
        Words,
        option("--touch-up-on", "The day you set for a touch-up of this fish.", "DATE"),
    ] = None,
    job: Annotated[Words, option("--job", "The id of a planned job that is done.", "ID")] = None,
    result: Annotated[Words, option("--result", "What the fish won.")] = None,
    remarks: Annotated[Words, option("--remarks", "What the judge said.")] = None,
    photo: Annotated[
        Words, option("--photo", "A photo inside the season's folder.", "PATH")
    ] = None,
    text: Annotated[Words, option("--note", "Anything else, in your own words.")] = None,
    undo: Annotated[
        bool,
        typer.Option("--undo", help="Take back the last note, or the last with these values."),
    ] = False,
    json: Json = False,
) -> None:
    """Write down what was done or seen, or take it back.

    Several things of one handling go in one note. At a terminal it asks for what is missing.
    """
    from showprep.commands.note import run

    given = {
        name: value
        for name, value in locals().items()
        if isinstance(value, str) and name not in ("season", "fish", "text")
    }
    if text is not None:
        given["note"] = text
    run(season, given, fish or [], today(), as_json=json, undo=undo)
