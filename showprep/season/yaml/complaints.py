"""YAML's own complaints in a keeper's words, and the parts of YAML that a season does without."""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

BaseLoader: type[yaml.CBaseLoader] | type[yaml.BaseLoader] = getattr(
    yaml, "CBaseLoader", yaml.BaseLoader
)

_LINE_BREAKS = str.maketrans(dict.fromkeys("\x85\u2028\u2029", " "))


def as_lines(text: str) -> str:
    """The text with lines as editors count them, and every letter at its old place.

    YAML 1.1 ends a line at U+0085, U+2028 and U+2029 too, YAML 1.2 and editors do not: a fault
    would be shown some lines too far down, and a comment would end in the middle.
    """
    return text.translate(_LINE_BREAKS)


Complaint = tuple[int, int, str, str]
"""Line and column (from 1), what was found, what would be right."""

_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ufffe\uffff\ud800-\udfff]")

_PLAIN: tuple[tuple[str, str, str], ...] = (
    (
        "mapping values are not allowed",
        "there is a colon where none can stand",
        "put the whole value in double quotes, or line the key up with the keys above it",
    ),
    (
        "could not find expected ':'",
        "the line above is neither a key with a value nor part of one",
        "write 'key: value', with a space after the colon",
    ),
    (
        "sequence entries are not allowed",
        "there is a dash where no list can begin",
        "begin the list on a line of its own, below its key",
    ),
    (
        "',' or ']'",
        "a list in brackets is not closed",
        "put a comma between items and ] at the end",
    ),
    (
        "',' or '}'",
        "a mapping in braces is not closed",
        "put a comma between keys and } at the end",
    ),
    ("unexpected end of stream", "a quotation mark is not closed", "put the second mark"),
    ("unexpected document indicator", "a quotation mark is not closed", "put the second mark"),
    (
        "unexpected ':'",
        "there is a colon with nothing after it",
        "write 'key: value', with a space after the colon",
    ),
    ("escape", "a backslash in double quotes means something else", "write \\\\ or single quotes"),
    ("hexdecimal", "a backslash in double quotes means something else", "use single quotes"),
    ("hexadecimal", "a backslash in double quotes means something else", "use single quotes"),
    ("maximum nesting depth", "there are too many levels inside each other", "20 are enough"),
    ("another document", "a second document begins here", "take the line of dashes out"),
    ("tab character", "the line begins with a tab", "begin it with spaces"),
    (
        "expected <document start>",
        "this does not belong to what stands above",
        "begin every key at the same column, and write no line such as '...'",
    ),
    (
        "expected '<document start>'",
        "this does not belong to what stands above",
        "begin every key at the same column, and write no line such as '...'",
    ),
    (
        "comment or line break",
        "the value begins with | or >",
        "put the whole value in double quotes",
    ),
    ("chomping", "the value begins with | or >", "put the whole value in double quotes"),
    ("undefined tag handle", "the value begins with !", "put the whole value in double quotes"),
    ("directive", "the line begins with %", "take the line out"),
    ("incompatible YAML", "the line begins with %", "take the line out"),
    (
        "alphabetic or numeric",
        "the value begins with * or &",
        "put the whole value in double quotes",
    ),
    (
        "did not find expected key",
        "this line does not go on from the line above",
        "begin it at the same column as its neighbours, and quote a value whole",
    ),
    (
        "'-' indicator",
        "this line is not part of the list above",
        "begin every item with a dash at the same column",
    ),
    (
        "expected <block end>",
        "this line does not go on from the line above",
        "begin it at the same column as its neighbours, and quote a value whole",
    ),
)


def complaint(error: yaml.YAMLError, text: str) -> Complaint:
    """Where YAML could not go on, and why, in plain words."""
    if not isinstance(error, yaml.MarkedYAMLError):
        return _control_character(text)
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    problem = error.problem or ""
    if "cannot start any token" in problem:
        return (line, column, *_strange_start(text, line, column))
    if "not closed" in (words := _in_plain_words(problem))[0] and error.context_mark is not None:
        line, column = error.context_mark.line + 1, error.context_mark.column + 1
    return (line, column, *words)


def _in_plain_words(problem: str) -> tuple[str, str]:
    for sign, what, right in _PLAIN:
        if sign in problem:
            return what, right
    return "this cannot be read", "write 'key: value' lines, indented with spaces"


def _strange_start(text: str, line: int, column: int) -> tuple[str, str]:
    lines = text.splitlines()
    found = lines[line - 1][column - 1 : column] if line <= len(lines) else ""
    if found == "\t":
        return "there is a tab where a line is indented", "indent with spaces"
    return f"a value cannot begin with {found or 'this'}", "put the whole value in double quotes"


def _control_character(text: str) -> Complaint:
    found = _CONTROL.search(text)
    if found is None:
        return 1, 1, "this cannot be read", "save the file as plain text in UTF-8"
    before = text[: found.start()]
    line = before.count("\n") + 1
    column = found.start() - (before.rfind("\n") + 1) + 1
    what = f"there is a control character here (U+{ord(found[0]):04X})"
    return line, column, what, "take it out"


def left_out_parts(text: str) -> Iterator[Complaint]:
    """Anchors, aliases and tags, none of which a season's file may hold.

    They are looked for before anything is put together: a few aliases of aliases stand for
    billions of values.
    """
    if not any(sign in text for sign in "&*!"):
        return
    try:
        for event in yaml.parse(text, Loader=BaseLoader):
            mark = event.start_mark
            if isinstance(event, yaml.NodeEvent) and mark is not None:
                for what, right in _left_out(event):
                    yield mark.line + 1, mark.column + 1, what, right
    except (yaml.YAMLError, RecursionError):
        return  # put in words when the text is put together


def _left_out(event: yaml.NodeEvent) -> Iterator[tuple[str, str]]:
    in_quotes = "a value that begins so belongs in double quotes"
    if isinstance(event, yaml.AliasEvent):
        yield f"*{event.anchor} stands for another value", f"write that value out; {in_quotes}"
    elif event.anchor is not None:
        yield f"&{event.anchor} gives a value a name", f"take it out; {in_quotes}"
    tag = getattr(event, "tag", None)
    if tag is not None:
        yield f"{tag} says how to read the value", f"take it out; {in_quotes}"
