"""The options of `bath`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

Words = str | None


def option(flag: str, words: str, metavar: str | None = None) -> typer.models.OptionInfo:
    """An option that is taken as text, so that it may carry its unit."""
    found: typer.models.OptionInfo = typer.Option(flag, metavar=metavar, help=words)
    return found


def day_on(text: str) -> date:
    """The day of the plan."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise typer.BadParameter(
            f"{text!r} is not a day; write year-month-day, such as 2027-03-20"
        ) from None


Season = Annotated[
    Path | None, typer.Argument(metavar="SEASON", help="The season's folder, if any.")
]
On = Annotated[
    date | None,
    typer.Option("--on", parser=day_on, metavar="DATE", help="The day to plan on; else today."),
]
Json = Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")]
UnitsWords = Annotated[Words, option("--units", "How to print: metric, us or imperial.")]


def bath(
    season: Season = None,
    day: Annotated[
        Words, option("--day", "The day of the session; with a season the next one.", "DATE")
    ] = None,
    litres: Annotated[Words, option("--litres", "Water in the bath: 30, or '8 US gal'.")] = None,
    strength_percent: Annotated[
        Words, option("--strength-percent", "Clove oil in the product, % by volume, as labelled.")
    ] = None,
    strength_mg_per_ml: Annotated[
        Words, option("--strength-mg-per-ml", "The same in mg/mL. One of the two, no default.")
    ] = None,
    target_mg_per_l: Annotated[
        Words, option("--target-mg-per-l", "Oil in the bath; 35 if left out.")
    ] = None,
    water_c: Annotated[Words, option("--water-c", "The water: 18, or '64 F'.")] = None,
    agent: Annotated[Words, option("--agent", "clove-oil, or ms-222 with a vet.")] = None,
    vet_agreed: Annotated[
        bool, typer.Option("--vet-agreed", help="A vet has agreed to this very bath.")
    ] = False,
    fish_kg: Annotated[Words, option("--fish-kg", "The fish's weight: 2.1, or '4.6 lb'.")] = None,
    fish_cm: Annotated[Words, option("--fish-cm", "The fish's length: 52, or '20 in'.")] = None,
    tub_length_cm: Annotated[Words, option("--tub-length-cm", "Inside length of the tub.")] = None,
    tub_width_cm: Annotated[Words, option("--tub-width-cm", "Inside width of the tub.")] = None,
    units: UnitsWords = None,
    on: On = None,
    json: Json = False,
) -> None:
    """Print the sheet of a touch-up bath: planned, or from options alone."""
    given = {
        name: words
        for name, words in locals().items()
        if isinstance(words, str) and name not in ("season",)
    }
    from showprep.commands.bath import run

    run(season, given, on or date.today(), vet_agreed=vet_agreed, as_json=json)
