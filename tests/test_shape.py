"""The shape of the house: how many modules are a piece of one other module; names used once."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import showprep

PACKAGE = Path(showprep.__file__).parent
# A module imported by one module of its own folder and by nothing else was most likely cut off
# for its length.
CEILING = 0.15


def module_name(path: Path) -> str:
    parts = ("showprep", *path.relative_to(PACKAGE).with_suffix("").parts)
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {
    module_name(path): ast.parse(path.read_text("utf-8")) for path in sorted(PACKAGE.rglob("*.py"))
}


def imported(name: str) -> Iterable[str]:
    """The modules of ours that a module imports, wherever in it."""
    for node in ast.walk(MODULES[name]):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for one in node.names:
                inner = f"{node.module}.{one.name}"
                yield inner if inner in MODULES else node.module


def of_one_sibling() -> dict[str, str]:
    """Modules that one module of the same folder imports, and nothing else does.

    What is run from the outside does not count: the program, and a command that is imported where
    its options are read.
    """
    importers: dict[str, set[str]] = {}
    for name in MODULES:
        for other in imported(name):
            if other in MODULES and other != name:
                importers.setdefault(other, set()).add(name)
    found = {}
    for name, by in importers.items():
        (one, *more) = by
        if one.endswith(("__main__", ".cli", "_options")):
            continue
        if not more and one.rpartition(".")[0] == name.rpartition(".")[0]:
            found[name] = one
    return found


def test_few_modules_are_a_piece_of_one_other() -> None:
    pieces, every = of_one_sibling(), len(MODULES)
    told = "\n".join(f"{name} <- {one}" for name, one in sorted(pieces.items()))
    assert len(pieces) <= CEILING * every, f"{len(pieces)} of {every}:\n{told}"


def test_a_class_has_a_name_of_its_own() -> None:
    """One word, one meaning, over all of the house."""
    names = Counter(
        node.name
        for module in MODULES.values()
        for node in ast.walk(module)
        if isinstance(node, ast.ClassDef)
    )
    assert [name for name, times in sorted(names.items()) if times > 1] == []
