"""What lets an editor complete and check the keeper's files: a JSON Schema for each.

A season holds its own copy in `.showprep`, so that it works without a network and wherever the
folder is taken. Each file names its schema in a comment that editors understand (the modeline of
yaml-language-server); for showprep it is a comment like any other.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files

from showprep.season.own_files import FOLDER

SCHEMAS: Mapping[str, str] = {
    "keeper": "keeper.yaml",
    "shows": "shows.yaml",
    "fish": "fish/ID.yaml",
    "fish-list": "fish.yaml",
    "journal": "journal.yaml",
    "show-card": "a show's card",
}
"""The schemas by name, and the file that each is of."""


def schema_text(name: str) -> str:
    """The schema of that name, as shipped. Raises KeyError for any other."""
    SCHEMAS[name]
    return files("showprep.season").joinpath("schemas", file_of(name)).read_text("utf-8")


def file_of(name: str) -> str:
    """What the file of a schema is called."""
    return f"{name}.schema.json"


def first_line(file: str) -> str:
    """The comment that names the schema of a season's file, such as `fish/aoi.yaml`."""
    single = file.startswith("fish/")
    of_file = {one: name for name, one in SCHEMAS.items()}
    name = "fish" if single else of_file[file]
    up = "../" if single else ""
    return f"# yaml-language-server: $schema={up}{FOLDER}/{file_of(name)}\n"
