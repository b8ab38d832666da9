"""The options of `note`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

Words = str | None


def _option(flag: str, words: str, metavar: str | None = None) -> typer.models.OptionInfo:
    option: typer.models.OptionInfo = typer.Option(flag, metavar=metavar, help=words)
    return option


def note(
    season: Annotated[Path, typer.Argument(metavar="SEASON", help="The season's folder.")],
    on: Annotated[
        Words, _option("--on", "The day it was done or seen; today if left out.", "DATE")
    ] = None,
    did: Annotated[Words, _option("--did", "What was done: touch-up, measure, move, ...")] = None,
    saw: Annotated[
        Words, _option("--saw", "What was seen: clean, 'not clean', parasites, ...")
    ] = None,
    fish: Annotated[
        list[str] | None, _option("--fish", "The fish's id; several for one note each.", "ID")
    ] = None,
    show: Annotated[Words, _option("--show", "The show's id.", "ID")] = None,
    water: Annotated[Words, _option("--water", "The water's name.", "NAME")] = None,
    defect: Annotated[
        Words, _option("--defect", "The kind of mark it is about, such as shimi.", "KIND")
    ] = None,
    where: Annotated[Words, _option("--where", "Where the mark sits.")] = None,
    size_mm: Annotated[Words, _option("--size-mm", "The size of a mark.")] = None,
    merit_lost: Annotated[
        Words, _option("--merit-lost", "The merit a mark costs, 0 to 100.")
    ] = None,
    measured_cm: Annotated[
        Words, _option("--measured-cm", "A length: 49.2, or '19.4 in'. Means: measured.")
    ] = None,
    weighed_kg: Annotated[
        Words, _option("--weighed-kg", "A weight: 2.1, or '4.6 lb'. Means: weighed.")
    ] = None,
    read_c: Annotated[
        Words, _option("--read-c", "A water's temperature: 18.2, or '65 F'. Means: seen.")
    ] = None,
    bath_mg_per_l: Annotated[Words, _option("--bath-mg-per-l", "Strength of the bath.")] = None,
    bath_litres: Annotated[Words, _option("--bath-litres", "Water in the bath.")] = None,
    minutes_to_balance_lost: Annotated[
        Words, _option("--minutes-to-balance-lost", "Minutes until the fish lost its balance.")
    ] = None,
    minutes_to_recovery: Annotated[
        Words, _option("--minutes-to-recovery", "Minutes until it swam as before.")
    ] = None,
    treatment: Annotated[
        Words, _option("--treatment", "What fish or water was treated with.")
    ] = None,
    to: Annotated[Words, _option("--to", "The water a fish was moved to.", "NAME")] = None,
    ramp_c_per_day: Annotated[
        Words, _option("--ramp-c-per-day", "Degrees a day it is brought to the new warmth.")
    ] = None,
    to_day: Annotated[
        Words, _option("--to-day", "The new judging day of a show, with a time if known.", "DATE")
    ] = None,
    job: Annotated[Words, _option("--job", "The id of a planned job that is done.", "ID")] = None,
    result: Annotated[Words, _option("--result", "What the fish won.")] = None,
    remarks: Annotated[Words, _option("--remarks", "What the judge said.")] = None,
    photo: Annotated[
        Words, _option("--photo", "A photo inside the season's folder.", "PATH")
    ] = None,
    text: Annotated[Words, _option("--note", "Anything else, in your own words.")] = None,
    json: Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")] = False,
) -> None:
    """Write down what was done or seen; asks for what is missing when at a terminal."""
    from showprep.commands.note import run

    given = {
        name: value
        for name, value in locals().items()
        if isinstance(value, str) and name not in ("season", "fish", "text")
    }
    if text is not None:
        given["note"] = text
    run(season, given, fish or [], date.today(), as_json=json)
