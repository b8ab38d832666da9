"""`schema`: the JSON Schema of a file, printed, or all of them put into a season for editors."""

from __future__ import annotations

import sys
from pathlib import Path

from showprep.commands.streams import say
from showprep.outputs.failure import Failure
from showprep.outputs.whole_file import alone_in, hidden_folder, write_whole
from showprep.season.editors import SCHEMAS, file_of, first_line, schema_text
from showprep.season.values.wording import choose, listed, shown

SINGLE = "fish/aoi.yaml"


def run(name: str | None, season: Path | None) -> None:
    """Print the schema of that name, or write all into the season's hidden folder.

    Raises Failure: wrong usage for an unknown name or neither of the two, 1 where it cannot be
    written. The keeper's own files are not touched; the line to put first in each is printed.
    """
    if season is not None:
        _put_into(season)
        return
    if name is None:
        raise Failure(f"Name a schema ({listed(SCHEMAS)}), or a season with --into.", status=2)
    if name not in SCHEMAS:
        raise Failure(f"There is no schema {shown(name)}: {choose(name, SCHEMAS)}", status=2)
    sys.stdout.write(schema_text(name))


def _put_into(season: Path) -> None:
    if not (season / "keeper.yaml").is_file():
        raise Failure(f"{season} is no season: there is no keeper.yaml in it.", status=2)
    folder = hidden_folder(season)
    with alone_in(folder):
        for name in SCHEMAS:
            write_whole(folder / file_of(name), schema_text(name).encode())
    say(
        f"Wrote {len(SCHEMAS)} schemas to {folder}. For an editor put this line first in each file:"
    )
    for file in SCHEMAS.values():
        line = first_line(SINGLE if file.startswith("fish/") else file).rstrip()
        say(f"  {file:<13} {line}")
