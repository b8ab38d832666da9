"""Sentences for a keeper are made in `outputs/words` alone: what stands elsewhere is counted.

Counted are texts of three words and more, an f-string or texts
set side by side as one. Not counted: docstrings, errors for programmers (what is raised or
asserted), and the sources of figures.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import showprep

PACKAGE = Path(showprep.__file__).parent
WORDS = 3
WORD = re.compile(r"[^\W\d_]{2,}")
SOURCES = ("Figure",)  # records of `husbandry` whose texts say where a figure is from

# What a room may hold that is no sentence for a keeper: sources, patterns, names of things. The
# Python of `season` is not counted: it words the faults in the keeper's files, beside their checks.
MOST = {
    "husbandry": 45,
    "season/tables": 15,
    "planning": 10,
    "selection": 0,
    "planning/jobs": 0,
    "planning/tables": 0,
    "planning/worksheets": 7,
}


def area_of(path: Path) -> str | None:
    """The longest name in `MOST` that the file lies under."""
    name = path.relative_to(PACKAGE).as_posix()
    found = [area for area in MOST if name.startswith(f"{area}/")]
    return max(found, key=len, default=None)


def is_prose(text: str) -> bool:
    return len(WORD.findall(text)) >= WORDS and " " in text.strip()


def text_of(node: ast.AST) -> str | None:
    """A literal as it will read; what is put into an f-string counts as no word."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(text_of(one) or "…" for one in node.values)
    return None


def is_source(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and ast.unparse(node.func) in SOURCES


def prose_in(module: ast.Module) -> Iterator[str]:
    """Every text of three words and more that is none of what is let off."""
    let_off: set[ast.AST] = set()
    for node in ast.walk(module):
        if isinstance(node, ast.Expr) and text_of(node.value) is not None:
            let_off.add(node.value)  # a docstring
        elif isinstance(node, ast.JoinedStr):
            let_off.update(node.values)
        elif isinstance(node, ast.Raise | ast.Assert) or is_source(node):
            let_off.update(ast.walk(node))
    for node in ast.walk(module):
        text = text_of(node)
        if node not in let_off and text is not None and is_prose(text):
            yield text


def prose_in_table(value: Any, key: str = "") -> Iterator[str]:
    """The same in a data file; `source` and the names of things are let off."""
    if isinstance(value, dict):
        for inner, one in value.items():
            yield from prose_in_table(one, inner)
    elif isinstance(value, list):
        for one in value:
            yield from prose_in_table(one, key)
    elif isinstance(value, str) and key not in ("source", "name", "aliases") and is_prose(value):
        yield value


def found_in(area: str) -> list[str]:
    found: list[str] = []
    for path in sorted((PACKAGE / area).rglob("*")):
        if area_of(path) != area:
            continue
        if path.suffix == ".py":
            found.extend(prose_in(ast.parse(path.read_text("utf-8"))))
        elif path.suffix == ".toml":
            found.extend(prose_in_table(tomllib.loads(path.read_text("utf-8"))))
    return found


@pytest.mark.parametrize("area", MOST)
def test_no_more_sentences_are_made_below_the_words(area: str) -> None:
    found = found_in(area)
    assert len(found) <= MOST[area], "\n".join(found)


def test_a_sentence_in_pieces_is_found() -> None:
    module = ast.parse('"""A docstring of many words."""\nx = f"{a} is in " f"the {b} already"\n')
    assert list(prose_in(module)) == ["… is in the … already"]
    assert list(prose_in(ast.parse('raise ValueError("this is for programmers")'))) == []
