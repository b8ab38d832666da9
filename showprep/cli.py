"""The commands: read arguments, call one function, print.

Everything heavy is imported inside the command that needs it, so that `--help` is quick. Exit
status: 0 done; 2 wrong usage; 3 the season's files have faults; 1 anything else.
"""

from __future__ import annotations

import atexit
import gc
import os
import sys
from collections.abc import Sequence
from copy import copy
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer
from typer.main import get_command_name
from typer.models import CommandInfo

from showprep import __version__
from showprep.commands.add_options import add
from showprep.commands.bags_options import bags
from showprep.commands.bath_options import bath
from showprep.commands.completion import of_fish, of_shows
from showprep.commands.heal_options import heal, kinds
from showprep.commands.interrupts import all_is_done, broken_off, listen, was_ended
from showprep.commands.note_options import note
from showprep.commands.options import Commands, Json, On, Replace, Season, now
from showprep.commands.options import today as the_day
from showprep.commands.start_options import start

app = typer.Typer(
    name="showprep",
    cls=Commands,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


INTERRUPTED = 130  # what typer makes of a KeyboardInterrupt


def _print_version(wanted: bool) -> None:
    if wanted:
        print(f"showprep {__version__}")  # noqa: T201
        raise typer.Exit


@app.callback()
def showprep(
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_print_version, is_eager=True, help="Print the version and exit."
        ),
    ] = False,
) -> None:
    """Plan a koi show season backwards from the judging bench."""


class Purpose(StrEnum):
    """What a calendar file is for."""

    subscribe = "subscribe"
    import_ = "import"


@app.command()
def plan(
    season: Season,
    on: On = None,
    json: Json = False,
    out: Annotated[
        Path | None,
        typer.Option(metavar="FOLDER", help="Also write calendar files, page and plan.json there."),
    ] = None,
    since: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="An earlier plan.json: say what changed since."),
    ] = None,
    replace: Replace = False,
    full: Annotated[
        bool, typer.Option("--full", help="The long board, with reasons, costs and every caution.")
    ] = False,
) -> None:
    """Work the season out: verdicts, entries, next jobs, warnings."""
    from showprep.commands.plan import run

    run(
        season,
        on or the_day(),
        as_json=json,
        full=full,
        out=out,
        since=since,
        replace_files=replace,
    )


@app.command()
def why(
    season: Season,
    fish: Annotated[
        str,
        typer.Argument(metavar="FISH", autocompletion=of_fish, help="The fish: its name or id."),
    ],
    show: Annotated[
        str,
        typer.Argument(metavar="SHOW", autocompletion=of_shows, help="The show: its name or id."),
    ],
    on: On = None,
    json: Json = False,
) -> None:
    """Show all that stands behind one fish and one show."""
    from showprep.commands.why import run

    run(season, fish, show, on or the_day(), as_json=json)


@app.command()
def check(
    season: Season,
    on: On = None,
    json: Json = False,
    slips: Annotated[
        bool, typer.Option("--slips", help="Say which values to read again: plans many times.")
    ] = False,
) -> None:
    """Read the season's files and report every fault."""
    from showprep.commands.check import run

    run(season, on or the_day(), as_json=json, slips=slips)


@app.command()
def today(season: Season, on: On = None, json: Json = False) -> None:
    """Say what to do today and this week, and what is late."""
    from showprep.commands.today import run

    run(season, on or the_day(), as_json=json)


app.command()(start)
app.command()(add)
app.command()(note)
app.command()(bath)
app.command()(bags)
app.command()(heal)
app.command()(kinds)


@app.command()
def page(
    season: Season,
    to: Annotated[
        Path, typer.Option(metavar="FILE", help="The HTML file to write, or - for standard output.")
    ],
    on: On = None,
    sheets: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME",
            autocompletion=of_shows,
            help="Only these sheets: season, sessions, worksheets, cards, or a show's name. May be "
            "given again.",
        ),
    ] = None,
    replace: Replace = False,
) -> None:
    """Write one self-contained HTML page: season, board, sheets."""
    from showprep.commands.page import run

    run(season, to, on or the_day(), sheets or [], replace_file=replace)


@app.command()
def calendar(
    season: Season,
    to: Annotated[
        str, typer.Option(metavar="FILE", help="The file to write, or - for standard output.")
    ],
    for_: Annotated[
        Purpose, typer.Option("--for", help="A file to subscribe to, or one to import by hand.")
    ] = Purpose.subscribe,
    show: Annotated[
        str | None,
        typer.Option(
            metavar="SHOW", autocompletion=of_shows, help="Only this show: its name or id."
        ),
    ] = None,
    fish: Annotated[
        str | None,
        typer.Option(
            metavar="FISH", autocompletion=of_fish, help="Only this fish: its name or id."
        ),
    ] = None,
    new_identity: Annotated[
        bool,
        typer.Option("--new-identity", help="Name every job anew, as of another season."),
    ] = False,
    replace: Replace = False,
    on: On = None,
) -> None:
    """Write a calendar file for the season, one show or one fish."""
    from showprep.commands.calendar import run

    run(
        season=season,
        to=to,
        purpose=for_.value,
        show=show,
        fish=fish,
        on=on or the_day(),
        now=now(),
        new_identity=new_identity,
        replace_file=replace,
    )


@app.command()
def publish(
    season: Season,
    url: Annotated[
        str, typer.Option(metavar="URL", help="The address of one calendar made for this alone.")
    ],
    user: Annotated[str, typer.Option(metavar="NAME", help="The account's name.")],
    go: Annotated[bool, typer.Option("--go", help="Change it, do not only show.")] = False,
    overwrite: Annotated[
        bool, typer.Option("--overwrite", help="Also replace jobs changed on a phone.")
    ] = False,
    keep_plan: Annotated[
        list[str] | None,
        typer.Option(metavar="ID", help="Let the plan stand for this job. May be given again."),
    ] = None,
    keep_phone: Annotated[
        list[str] | None,
        typer.Option(metavar="ID", help="Let the phone stand for this job. May be given again."),
    ] = None,
    keep_password: Annotated[
        bool, typer.Option("--keep-password", help="Keep the password in the system keyring.")
    ] = False,
    new_identity: Annotated[
        bool,
        typer.Option("--new-identity", help="Name every job anew, as of another season."),
    ] = False,
    on: On = None,
) -> None:
    """Put the jobs on a CalDAV server. Shows what would change unless told --go."""
    from showprep.commands.publish import run

    run(
        season=season,
        url=url,
        user=user,
        go=go,
        overwrite=overwrite,
        keep_plan=keep_plan or (),
        keep_phone=keep_phone or (),
        keep_password=keep_password,
        on=on or the_day(),
        now=now(),
        new_identity=new_identity,
    )


@app.command()
def collect(
    season: Season,
    url: Annotated[
        str, typer.Option(metavar="URL", help="The address of the calendar, as for publish.")
    ],
    user: Annotated[str, typer.Option(metavar="NAME", help="The account's name.")],
    go: Annotated[bool, typer.Option("--go", help="Write it without asking.")] = False,
) -> None:
    """Write what was ticked or moved on the phone into the journal."""
    from showprep.commands.collect import run

    run(season=season, url=url, user=user, go=go, today=the_day(), now=now())


@app.command()
def share(
    season: Season,
    minutes: Annotated[
        float, typer.Option(metavar="N", help="Stop by itself after so many minutes.")
    ] = 15,
    host: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="This computer's address to share at.")
    ] = None,
    port: Annotated[int, typer.Option(metavar="N", help="A port; 0 for any that is free.")] = 0,
    beyond_home: Annotated[
        bool, typer.Option("--beyond-home", help="Also listen and answer outside a home network.")
    ] = False,
    on: On = None,
) -> None:
    """Hand the calendar to a phone on the same network. It stops after some minutes."""
    from showprep.commands.share import run

    run(
        season=season,
        minutes=minutes,
        host=host,
        port=port,
        on=on or the_day(),
        now=now(),
        beyond_home=beyond_home,
    )


@app.command()
def pondside(
    season: Season,
    minutes: Annotated[
        float, typer.Option(metavar="N", help="Stop by itself after so many minutes.")
    ] = 120,
    host: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="This computer's address to serve at.")
    ] = None,
    port: Annotated[
        int, typer.Option(metavar="N", help="A port; 0 for the one it had, or any that is free.")
    ] = 0,
    new_address: Annotated[
        bool, typer.Option("--new-address", help="Draw a new address; the old one is void.")
    ] = False,
    beyond_home: Annotated[
        bool, typer.Option("--beyond-home", help="Also listen and answer outside a home network.")
    ] = False,
    on: On = None,
) -> None:
    """Serve a page to the phone beside the pond, to tick and note."""
    from showprep.commands.pondside import run

    run(
        season=season,
        minutes=minutes,
        host=host,
        port=port,
        day=(lambda: on) if on is not None else the_day,
        beyond_home=beyond_home,
        new_address=new_address,
    )


@app.command()
def summary(season: Season, on: On = None, json: Json = False) -> None:
    """Look back on the season, fish by fish."""
    from showprep.commands.summary import run

    run(season, on or the_day(), as_json=json)


@app.command()
def next_season(
    old: Annotated[Path, typer.Argument(metavar="OLD", help="The season that ends.")],
    new: Annotated[Path, typer.Argument(metavar="NEW", help="A folder that is new.")],
    on: On = None,
) -> None:
    """Carry a season over into the next year, in a new folder."""
    from showprep.commands.next_season import run

    run(old, new, on or the_day())


@app.command()
def schema(
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="[NAME]", help="Such as keeper or show-card; all are named without one."
        ),
    ] = None,
    into: Annotated[
        Path | None,
        typer.Option(metavar="SEASON", help="Put all of them into this season instead."),
    ] = None,
) -> None:
    """Print the JSON Schema of a file, for editors."""
    from showprep.commands.schema import run

    run(name, into)


def main() -> None:
    """Run the program; no traceback reaches the keeper."""
    try:
        listen()
        _run()
    except SystemExit as end:
        if end.code == INTERRUPTED:
            _stop("Stopped: no plan yet.", 1)
        if broken_off() and not end.code:
            raise SystemExit(1) from None  # what there is has been told; it was not all
        raise
    except KeyboardInterrupt:
        _stop("Stopped: no plan yet.", 1)
    except BrokenPipeError:
        # The reader of our output has gone (`| head`): nothing more can be said.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise SystemExit(1) from None
    except Exception as error:
        if was_ended():
            _stop("Stopped: no plan yet.", 1)
        _report(error)
    finally:
        all_is_done()


def _run() -> None:
    from showprep.commands.streams import make_ready

    make_ready()
    # A run makes many small records and drops few: looking for cycles would only cost time, most
    # of all at the end, when all memory goes back at once.
    gc.set_threshold(300_000, 50, 50)
    atexit.register(gc.freeze)
    # Nothing here uses pydantic's plug-ins; searching every installed package for them takes time.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # HiGHS comes with NumPy, whose linear algebra starts a thread for every core: none is needed.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    program_for(sys.argv[1:])(standalone_mode=True, prog_name="showprep")


def program_for(words: Sequence[str]) -> typer.Typer:
    """The program with the one command that is asked for, or all of them.

    To build every command with all its options takes as long as the shortest of them runs. The list
    of all commands shows no option, so that it is made without them.
    """
    commands = app.registered_commands
    asked = [one for one in commands if _name(one) in words[:1]]
    if not asked and list(words) in (["-h"], ["--help"]):
        asked = [_only_told(one) for one in commands]
    if not asked:
        return app
    program = copy(app)
    program.registered_commands = asked
    return program


def _only_told(command: CommandInfo) -> CommandInfo:
    told = copy(command)
    told.name, told.callback = _name(command), lambda: None
    told.help = command.help or (command.callback and command.callback.__doc__)
    return told


def _name(command: CommandInfo) -> str | None:
    return command.name or (command.callback and get_command_name(command.callback.__name__))


def _report(error: Exception) -> None:
    from showprep.commands.faults import text_and_status

    _stop(*text_and_status(error))


def _stop(text: str, status: int) -> None:
    print(text, file=sys.stderr)  # noqa: T201
    raise SystemExit(status) from None


if __name__ == "__main__":
    main()
