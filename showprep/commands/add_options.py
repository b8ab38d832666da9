"""The options of `add`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from showprep.commands.completion import of_waters
from showprep.commands.options import On, Season, Words, option, today


class What(StrEnum):
    """What is added to a season."""

    fish = "fish"
    show = "show"


def add(
    what: Annotated[What, typer.Argument(metavar="fish|show", help="What is added.")],
    season: Season,
    file: Annotated[
        Path | None,
        typer.Argument(metavar="[FILE]", help="A CSV file of fish, or the card of a show (YAML)."),
    ] = None,
    name: Annotated[Words, option("--name", "Its name.")] = None,
    identifier: Annotated[
        Words, option("--id", "Its id in the files; made of the name if left out.", "ID")
    ] = None,
    variety: Annotated[Words, option("--variety", "A fish's variety; of all rows without.")] = None,
    sex: Annotated[Words, option("--sex", "female, male or unknown.")] = None,
    born: Annotated[Words, option("--born", "The year or day it was born.")] = None,
    lives_in: Annotated[
        Words, option("--lives-in", "Its water; of all rows without.", offer=of_waters)
    ] = None,
    merit: Annotated[Words, option("--merit", "Your mark, 0 to 100; of all rows without.")] = None,
    length: Annotated[Words, option("--length", "Its length today: 51, or '20 in'.")] = None,
    weight: Annotated[Words, option("--weight", "Its weight today: 2.1, or '4.6 lb'.")] = None,
    dates: Annotated[
        Words, option("--dates", "Days in the CSV: day-first, month-first; else year-first.")
    ] = None,
    judging: Annotated[
        Words, option("--judging", "When judging begins: '2027-06-12 10:00'.")
    ] = None,
    travel_hours: Annotated[
        Words, option("--travel-hours", "Hours at the wheel to the show, one way.")
    ] = None,
    entries_close: Annotated[
        Words, option("--entries-close", "The last day for entries.", "DATE")
    ] = None,
    vats: Annotated[Words, option("--vats", "own, shared or bag.")] = None,
    place: Annotated[Words, option("--place", "Where the show is.")] = None,
    time_zone: Annotated[Words, option("--time-zone", "The show's zone, if another.")] = None,
    on: On = None,
) -> None:
    """Add fish or a show: from a file, options, or by questions."""
    given = {
        {"identifier": "id"}.get(name_, name_): words
        for name_, words in locals().items()
        if type(words) is str
    }
    from showprep.commands.add import run

    run(what.value, season, file, given, on or today())
