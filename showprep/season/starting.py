"""A new season folder with a worked example to edit."""

from __future__ import annotations

from datetime import date, timedelta
from importlib.resources import files
from pathlib import Path
from string import Template

from showprep.husbandry.water import YearCurve
from showprep.season.editors import SCHEMAS, file_of, first_line, schema_text
from showprep.season.own_files import own_folder

WEEKS_AHEAD = 11  # far enough off that every job can still be done
EXAMPLE_MONTHS = (4.5, 4.8, 7.0, 10.0, 14.0, 17.5, 19.5, 19.0, 16.0, 12.0, 8.0, 5.5)
FILES = {
    "keeper.yaml": "keeper.yaml",
    "shows.yaml": "shows.yaml",
    "fish/aoi.yaml": "aoi.yaml",
    "fish/hana.yaml": "hana.yaml",
}


def starter_files(on: date) -> dict[str, str]:
    """The files of a new season by their path, dated from the day `on`."""
    saturday = on + timedelta(days=(5 - on.weekday()) % 7)
    judging = saturday + timedelta(weeks=WEEKS_AHEAD)
    words = {
        "judging": judging,
        "eve": judging - timedelta(days=1),
        "day_after": judging + timedelta(days=1),
        "close": judging - timedelta(days=21),
        "seen": on,
        "reading": on,
        "reading_c": f"{YearCurve.from_monthly_means(EXAMPLE_MONTHS).on(on):.1f}",
    }
    room = files("showprep.season").joinpath("starter")
    return {
        path: first_line(path)
        + Template(room.joinpath(name).read_text(encoding="utf-8")).substitute(words)
        for path, name in FILES.items()
    }


def start_season(folder: Path, on: date) -> list[Path]:
    """Write a new season into `folder`, which must be new or empty; return the files to edit.

    The schemas that their first lines name go into the hidden folder beside them.

    Raises FileExistsError when something is there already: nothing the keeper wrote is changed.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise FileExistsError(folder)
    written = []
    for name, text in starter_files(on).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
        written.append(path)
    for schema in SCHEMAS:
        path = own_folder(folder) / file_of(schema)
        path.write_text(schema_text(schema), encoding="utf-8", newline="\n")
    return written
