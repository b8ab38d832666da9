"""`start`: write a new season folder with a worked example to edit."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from showprep.outputs.failure import Failure
from showprep.season.starting import start_season


def run(folder: Path, on: date) -> None:
    """Write the folder and say what to do next."""
    try:
        written = start_season(folder, on)
    except FileExistsError:
        raise Failure(
            f"{folder} is there already and not empty; nothing was changed. Name a new folder.",
            status=2,
        ) from None
    for path in written:
        print(f"wrote {path}")  # noqa: T201
    print(  # noqa: T201
        f"\nNow change the files to your own waters, shows and fish, and run\n"
        f"  showprep check {folder}\n  showprep plan {folder}\n\n"
        "Before any touch-up: ask who may sedate or cut a fish where you live. docs/law.md lists\n"
        "what is published, country by country; it is no permission."
    )
