"""What the options of several commands share, with nothing heavy imported; the one clock."""

from __future__ import annotations

from datetime import UTC, date, datetime
from functools import cache, partial
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup
from typer.main import get_command

from showprep.commands.completion import Complete
from showprep.commands.streams import hush

Words = str | None


def today() -> date:
    """The day it is here."""
    return date.today()


def now() -> datetime:
    """The moment, with its zone."""
    return datetime.now(UTC)


def day_on(text: str) -> date:
    """The day of the plan: a date, or a day told from today."""
    from showprep.commands.day_words import day_asked

    try:
        return day_asked(text, today())
    except ValueError as error:
        raise typer.BadParameter(f"{error}.") from None


def option(
    flag: str, words: str, metavar: str | None = None, offer: Complete | None = None
) -> typer.models.OptionInfo:
    """An option that is taken as text, so that it may carry its unit; `offer` for the shell."""
    found: typer.models.OptionInfo = typer.Option(
        flag, metavar=metavar, help=words, autocompletion=offer
    )
    return found


class Commands(TyperGroup):
    """The commands, each with what all of them have."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        for command in self.commands.values():
            command.params.append(_quiet())


def _hushed(ctx: typer.Context, wanted: bool) -> None:
    hush(wanted)
    ctx.call_on_close(partial(hush, False))


@cache
def _quiet() -> Any:
    """The option --quiet. It works before any other is read."""
    of_one = typer.Typer(add_completion=False)

    @of_one.command()
    def _one(
        quiet: Annotated[
            bool,
            typer.Option(
                "--quiet",
                "-q",
                help="Print the answer and what is wrong, nothing beside it.",
                callback=_hushed,
                is_eager=True,
                expose_value=False,
            ),
        ] = False,
    ) -> None: ...

    return get_command(of_one).params[0]


Season = Annotated[Path, typer.Argument(metavar="SEASON", help="The season's folder.")]
SeasonIfAny = Annotated[
    Path | None, typer.Argument(metavar="SEASON", help="The season's folder, if any.")
]
On = Annotated[
    date | None,
    typer.Option(
        "--on",
        parser=day_on,
        metavar="DATE",
        help="The day to plan on: 2027-03-20, tomorrow, +3w; else today.",
    ),
]
Json = Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")]
Replace = Annotated[
    bool, typer.Option("--replace", help="Also replace a file that showprep did not write.")
]
UnitsWords = Annotated[Words, option("--units", "Read and print in: metric, us or imperial.")]
