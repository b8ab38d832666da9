"""New shows and fish in a season, without touching a line that is there.

A show goes to the end of `shows.yaml`, a fish into a file of its own. The season is read as it
would be then, in a copy, before anything is written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from showprep.season.editors import first_line
from showprep.season.entry_text import entry_text
from showprep.season.journal_text import key_and_text
from showprep.season.reading import FISH_FOLDER, SHOWS, Reading, files_of, read_season
from showprep.season.values.measures import fish_kilograms, length_cm
from showprep.season.values.quantities import Units
from showprep.season.values.wording import folded, slug

LONGEST_ID = 40  # of those made here; a name may be longer


def id_for(name: str, taken: Mapping[str, object], noun: str) -> str:
    """An id made of a name, in plain letters, that none has yet: `aoi`, `aoi-2`, `fish-3`."""
    plain = slug("".join(mark for mark in folded(name) if mark.isascii()))[:LONGEST_ID].strip("-")
    if not any(mark.isalpha() for mark in plain):
        plain = f"{noun}-{plain}".strip("-")
    found, number = plain, 2
    while found in taken:
        found, number = f"{plain}-{number}", number + 1
    return found


def fish_values(
    said: Mapping[str, str], units: Units, on: date
) -> tuple[dict[str, Any], list[tuple[str, str]]]:
    """A fish's values for its file from texts by name, and what cannot be read: name, fault.

    `length` and `weight` are those of the day `length_on` or `weight_on`, else `on`; a key such as
    `length 2027-03-20` names its own. Bare amounts only in metric `units`.
    """
    found: dict[str, Any] = {}
    wrong_ones: list[tuple[str, str]] = []
    for name in ("name", "variety", "sex", "born", "lives_in", "came", "merit", "note"):
        if said.get(name):
            found[name] = said[name]
    for name, key, read in (
        ("length", "lengths_cm", length_cm),
        ("weight", "weights_kg", fish_kilograms),
    ):
        amounts: dict[str, str] = {}
        own_key = key
        for word, text in said.items():
            first, _, day = word.partition(" ")
            if first != name:
                continue
            try:
                own_key, amount = key_and_text(key, read(text, units), units)
            except ValueError as error:
                wrong_ones.append((name, str(error)))
                continue
            amounts[day or said.get(f"{name}_on") or on.isoformat()] = amount
        if amounts:
            found[own_key] = amounts
    return found, wrong_ones


def with_shows(folder: Path, shows: Mapping[str, Mapping[str, Any]]) -> dict[str, str]:
    """The new text of `shows.yaml`, with these at its end."""
    path = folder / SHOWS
    text = path.read_bytes().decode("utf-8") if path.is_file() else first_line(SHOWS)
    end = "\r\n" if "\r\n" in text else "\n"
    if text and not text.endswith("\n"):
        text += end
    new = "".join(entry_text({name: values}) for name, values in shows.items())
    return {SHOWS: text + new.replace("\n", end)}


def with_fish(fish: Mapping[str, Mapping[str, Any]]) -> dict[str, str]:
    """The files of new fish."""
    return {
        (file := f"{FISH_FOLDER}/{name}.yaml"): first_line(file) + entry_text(values)
        for name, values in fish.items()
    }


def read_with(folder: Path, texts: Mapping[str, str], on: date) -> Reading:
    """The season as it would be read with these files. Raises SeasonError."""
    with copied(folder) as (copy, _):
        for name, text in texts.items():
            (copy / name).parent.mkdir(exist_ok=True)
            (copy / name).write_text(text, encoding="utf-8", newline="")
        return read_season(copy, on)


@contextmanager
def copied(folder: Path) -> Iterator[tuple[Path, dict[str, str]]]:
    """A copy of a season to try things in, and its texts; other files are linked to."""
    with TemporaryDirectory() as room:
        copy = Path(room) / "season"
        files = files_of(folder)
        every = [files.keeper, files.shows, files.fish_list, *files.fish, files.journal]
        texts = {name: path.read_text("utf-8-sig") for path, name in filter(None, every)}
        copy.mkdir()
        for name, text in texts.items():
            (copy / name).parent.mkdir(exist_ok=True)
            (copy / name).write_text(text, encoding="utf-8")
        for other in folder.iterdir():
            if other.name not in {*texts, FISH_FOLDER}:
                (copy / other.name).symlink_to(other.resolve())
        yield copy, texts
