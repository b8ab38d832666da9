"""The options of `bath`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from typing import Annotated

import typer

from showprep.commands.options import (
    Json,
    On,
    SeasonIfAny,
    UnitsWords,
    Words,
    option,
    today,
)


def bath(
    season: SeasonIfAny = None,
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
        Words, option("--target-mg-per-l", "Oil in the bath; 35 if left out, over 50 with a vet.")
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
    tub_depth_cm: Annotated[
        Words, option("--tub-depth-cm", "Inside depth; with the other two a tub over 300 L.")
    ] = None,
    litres_again: Annotated[
        Words, option("--litres-again", "The litres a second time, when they are asked about.")
    ] = None,
    confirm: Annotated[
        Words, option("--confirm", "The second person's check: the word on the sheet.", "WORD")
    ] = None,
    units: UnitsWords = None,
    on: On = None,
    json: Json = False,
) -> None:
    """Print the sheet of a touch-up bath. It is a planned one, or from options alone."""
    given = {
        name: words
        for name, words in locals().items()
        if isinstance(words, str) and name != "season"
    }
    from showprep.commands.bath import confirm_word, run

    if confirm is not None:
        confirm_word(season, given, confirm, vet_agreed=vet_agreed, as_json=json)
        return
    run(season, given, on or today(), vet_agreed=vet_agreed, as_json=json)
