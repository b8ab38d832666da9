"""The options of `start`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from showprep.commands.options import On, UnitsWords, Words, option, today


def start(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A folder that is new.")],
    example: Annotated[
        bool, typer.Option("--example", help="Ask nothing: write a worked example to edit.")
    ] = False,
    units: UnitsWords = None,
    time_zone: Annotated[Words, option("--time-zone", "Such as Europe/Dublin.")] = None,
    pond: Annotated[Words, option("--pond", "The pond's water: 28000, or '7400 US gal'.")] = None,
    monthly: Annotated[
        Words, option("--monthly", "Its mean in each month: '4 5 7 10 14 17 20 19 16 12 8 5'.")
    ] = None,
    steady: Annotated[Words, option("--steady", "The warmth it is held at, if it is.")] = None,
    work_days: Annotated[
        Words, option("--work-days", "Days with hands free: 'saturday sunday'.")
    ] = None,
    touch_up_by: Annotated[
        Words, option("--touch-up-by", "Who takes specks off: nobody, vet or keeper.")
    ] = None,
    law_country: Annotated[
        Words, option("--law-country", "You asked whether you may, for this country.")
    ] = None,
    vat: Annotated[Words, option("--vat", "The water of your isolation vat, if any.")] = None,
    vat_c: Annotated[Words, option("--vat-c", "The warmth it is held at.")] = None,
    vat_holds: Annotated[Words, option("--vat-holds", "How many fish it holds at once.")] = None,
    boxes: Annotated[Words, option("--boxes", "Boxes, one fish in each, in the car.")] = None,
    on: On = None,
) -> None:
    """Write a new season folder: by questions or options."""
    given = {name: words for name, words in locals().items() if type(words) is str}
    from showprep.commands.start import run

    run(folder, on or today(), given, example=example)
