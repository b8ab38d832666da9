"""The options of `bags`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from typing import Annotated

from showprep.commands.completion import of_shows
from showprep.commands.options import (
    Json,
    On,
    SeasonIfAny,
    UnitsWords,
    Words,
    option,
    today,
)


def bags(
    season: SeasonIfAny = None,
    show: Annotated[
        Words,
        option(
            "--show", "The show, by name or id; else the next with entries.", "SHOW", offer=of_shows
        ),
    ] = None,
    kg: Annotated[Words, option("--kg", "The fish's weight: 3, or '6.6 lb'.")] = None,
    length_cm: Annotated[Words, option("--length-cm", "Its length: 60, or '24 in'.")] = None,
    bag_water_l: Annotated[
        Words, option("--bag-water-l", "Water in the bag; sized for the fish if left out.")
    ] = None,
    bag_gas_l: Annotated[Words, option("--bag-gas-l", "Oxygen over the water.")] = None,
    bag_length_cm: Annotated[
        Words, option("--bag-length-cm", "The length of a bag you have.")
    ] = None,
    hours: Annotated[
        Words, option("--hours", "Time in the bag: 6, or '90 min'; else as long as it is good for.")
    ] = None,
    water_c: Annotated[Words, option("--water-c", "The bag's water: 18, or '64 F'.")] = None,
    alkalinity_meq_l: Annotated[
        Words, option("--alkalinity-meq-l", "Alkalinity of the water; 1 if left out.")
    ] = None,
    ph: Annotated[Words, option("--ph", "Its pH open to the air; 8 if left out.")] = None,
    salt_g_per_l: Annotated[Words, option("--salt-g-per-l", "Salt in the bag, if used.")] = None,
    show_c: Annotated[Words, option("--show-c", "The water at the show.")] = None,
    show_ph: Annotated[Words, option("--show-ph", "Its pH.")] = None,
    units: UnitsWords = None,
    on: On = None,
    json: Json = False,
) -> None:
    """Print the sheet of a journey: bags, warnings, packing. Or of one bag, from options alone."""
    given = {
        name: words
        for name, words in locals().items()
        if isinstance(words, str) and name != "season"
    }
    from showprep.commands.bags import run

    run(season, given, on or today(), as_json=json)
