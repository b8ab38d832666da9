"""Which files of a season folder are read, and which look as if they were meant to be."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from showprep.season.problems import Problem
from showprep.season.wording import nearest, shown

KEEPER, SHOWS, FISH, JOURNAL = "keeper.yaml", "shows.yaml", "fish.yaml", "journal.yaml"
FISH_FOLDER = "fish"
_READ = (KEEPER, SHOWS, FISH, JOURNAL)
_YAML_ENDINGS = (".yaml", ".yml")


@dataclass
class Files:
    """The files to read, each as (path, name inside the folder), and problems with names."""

    keeper: tuple[Path, str] | None = None
    shows: tuple[Path, str] | None = None
    fish_list: tuple[Path, str] | None = None
    journal: tuple[Path, str] | None = None
    fish: list[tuple[Path, str]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def fault(self, name: str, what: str, right: str) -> None:
        self.problems.append(Problem(name, 0, 0, what, right))

    def warning(self, name: str, what: str, right: str) -> None:
        self.problems.append(Problem(name, 0, 0, what, right, "warning"))


def files_of(folder: Path) -> Files:
    """The files of a season folder. The folder is only looked at, never written to."""
    files = Files()
    names = _names(folder, files, str(folder))
    if names is None:
        return files
    present = {name: (folder / name, name) for name in _READ if name in names}
    files.keeper = present.get(KEEPER)
    files.shows = present.get(SHOWS)
    files.fish_list = present.get(FISH)
    files.journal = present.get(JOURNAL)
    if KEEPER not in names:
        right = "'showprep start' writes a folder with a worked example to begin from"
        files.fault(KEEPER, f"there is no {KEEPER} in {folder}", right)
    if SHOWS not in names:
        files.warning(SHOWS, f"there is no {SHOWS}", "without one there is nothing to plan for")
    _near_misses(names, files)
    if FISH_FOLDER in names:
        _fish_folder(folder, files)
    return files


def _names(folder: Path, files: Files, name: str) -> list[str] | None:
    try:
        return sorted(path.name for path in folder.iterdir())
    except NotADirectoryError:
        files.fault(name, "this is no folder", "give the folder that holds keeper.yaml")
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "it has no such name").lower()
        files.fault(name, f"the folder cannot be opened ({reason})", "give the season's folder")
    return None


def _near_misses(names: list[str], files: Files) -> None:
    for name in names:
        stem, dot, ending = name.rpartition(".")
        if name in _READ or name.startswith(".") or not dot:
            continue
        if f".{ending.casefold()}" not in _YAML_ENDINGS:
            continue
        near = nearest(stem, [wanted.removesuffix(".yaml") for wanted in _READ])
        if near is not None:
            files.warning(name, "this file is not read", f"did you mean {near}.yaml?")


def _fish_folder(folder: Path, files: Files) -> None:
    if (folder / FISH_FOLDER).is_file():
        right = f"a folder called fish holds one file for each fish; a list is {FISH}"
        files.fault(FISH_FOLDER, "this is a file", right)
        return
    for name in _names(folder / FISH_FOLDER, files, FISH_FOLDER) or ():
        inside = f"{FISH_FOLDER}/{name}"
        if name.startswith("."):
            continue
        if name.endswith(".yaml"):
            files.fish.append((folder / FISH_FOLDER / name, inside))
        elif name.casefold().endswith(_YAML_ENDINGS):
            right = f"call it {shown(name.rpartition('.')[0] + '.yaml')[1:-1]}"
            files.warning(inside, "this file is not read", right)
