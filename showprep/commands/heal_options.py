"""The options of `heal` and `kinds`, with nothing heavy imported before the command runs."""

from __future__ import annotations

from typing import Annotated

import typer

from showprep.commands.completion import of_kinds
from showprep.commands.options import Json, On, UnitsWords, Words, option, today

Kind = Annotated[
    Words,
    typer.Argument(
        metavar="KIND", help="The kind of blemish, as you call it.", autocompletion=of_kinds
    ),
]


def heal(
    kind: Kind = None,
    seen: Annotated[Words, option("--seen", "The day it was first seen.", "DATE")] = None,
    water_c: Annotated[Words, option("--water-c", "The fish's water: 16, or '61 F'.")] = None,
    by: Annotated[Words, option("--by", "The day of the show.", "DATE")] = None,
    show_in: Annotated[Words, option("--show-in", "The same from today: '5 weeks'.")] = None,
    warm_to: Annotated[Words, option("--warm-to", "Its water brought to: 22, or '72 F'.")] = None,
    where: Annotated[Words, option("--where", "Where it sits: 'left flank', eye, ...")] = None,
    size_mm: Annotated[Words, option("--size-mm", "Its size: 2, or '1/16 in'.")] = None,
    lost_share: Annotated[
        Words, option("--lost-share", "How much of a frayed fin is gone: 0.3; else 0.25.")
    ] = None,
    units: UnitsWords = None,
    on: On = None,
    json: Json = False,
) -> None:
    """Say how sure one blemish is clean by a day. No files are needed."""
    given = {
        name: words for name, words in locals().items() if isinstance(words, str) and name != "kind"
    }
    from showprep.commands.heal import run

    run(kind, given, on or today(), as_json=json)


def kinds(kind: Kind = None, units: UnitsWords = None, on: On = None, json: Json = False) -> None:
    """List the kinds of blemish: names, what is done, days to heal."""
    from showprep.commands.heal import run_kinds

    given = {} if units is None else {"units": units}
    run_kinds(kind, given, on or today(), as_json=json)
