"""A new season folder with a worked example to edit."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import date, timedelta
from importlib.resources import files
from pathlib import Path
from shutil import rmtree
from string import Template
from tempfile import mkdtemp

from showprep.husbandry.water import YearCurve
from showprep.season.editors import SCHEMAS, file_of, first_line, schema_text
from showprep.season.own_files import own_folder, take_away_left_over, temporary_name

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
    """Write the worked example into `folder`, as `write_season` does."""
    return write_season(folder, starter_files(on))


def write_season(folder: Path, texts: Mapping[str, str]) -> list[Path]:
    """Write a new season into `folder`, which must be new or empty; return the files to edit.

    The schemas that their first lines name go into the hidden folder beside them.

    Raises FileExistsError when something is there already: nothing the keeper wrote is changed.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise FileExistsError(folder)
    place = folder.resolve()  # a link to an empty folder stays one
    place.parent.mkdir(parents=True, exist_ok=True)
    made = Path(mkdtemp(dir=place.parent, prefix=temporary_name(place)))
    take_away_left_over(place, made)
    try:
        written = _write(made, texts)
        _take_place(made, place)
    finally:
        rmtree(made, ignore_errors=True)
    return [folder / name for name in written]


def _write(made: Path, texts: Mapping[str, str]) -> list[str]:
    """Write everything into a folder of our own; the names of the files to edit."""
    for name, text in texts.items():
        path = made / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    for schema in SCHEMAS:
        path = own_folder(made) / file_of(schema)
        path.write_text(schema_text(schema), encoding="utf-8", newline="\n")
    return list(texts)


def _take_place(made: Path, place: Path) -> None:
    """Whole, or not at all: a folder that is there may be the one the keeper stands in."""
    mask = os.umask(0)
    os.umask(mask)
    made.chmod(0o777 & ~mask)  # a temporary one is private
    if not place.exists():
        made.rename(place)
        return
    moved: list[Path] = []
    try:
        for one in sorted(made.iterdir(), key=lambda one: one.name == "keeper.yaml"):
            one.rename(place / one.name)
            moved.append(place / one.name)
    except BaseException:
        for one in moved:
            one.rename(made / one.name)
        raise
