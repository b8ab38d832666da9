"""A file of the season as plain mappings, lists and text, with the place of each value.

YAML is read strictly: every scalar stays text as it was written (`10:00`, `no`, `010`), and
duplicate keys, anchors, aliases, merge keys, tags and second documents are refused.
"""

from __future__ import annotations

import re
import stat
import unicodedata
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import yaml
from msgspec import Struct, field

from showprep.season.problems import Place, Problem, problem_at
from showprep.season.values.unit_keys import key_found
from showprep.season.values.wording import shown
from showprep.season.yaml.complaints import BaseLoader, as_lines, complaint, left_out_parts

MOST_LEVELS = 20
MOST_BYTES = 16 * 1024 * 1024
_SURE = re.compile(r"(?:^|\s)#\s*sure\s*$", re.IGNORECASE)
_NOTHING = frozenset(("", "~", "null", "Null", "NULL"))

Path_ = Sequence[object]
"""Where a value stands in a file: keys, dates as keys, and places in lists from 0."""


class Document(Struct):
    """One file read: `data` of dict, list and text (None: nothing in it), and what was wrong."""

    file: str
    data: Any = None
    text: str = ""
    problems: list[Problem] = field(default_factory=list)
    root: yaml.Node | None = None
    _keys: dict[int, dict[str, tuple[yaml.Node, yaml.Node]]] = field(default_factory=dict)

    def fault(self, line: int, column: int, what: str, right: str) -> None:
        self.problems.append(Problem(self.file, line, column, what, right))

    def is_sure(self, line: int) -> bool:
        """Does a line, counted from 1, end with the comment that says its value is meant?"""
        lines = self.text.splitlines()
        return 0 < line <= len(lines) and _SURE.search(lines[line - 1]) is not None

    def place(self, path: Path_, *, of_key: bool = False) -> Place:
        """Where the value at `path` stands, or its key; as far along the path as there is one."""
        key_node, node = self._nodes(path)
        found = key_node if of_key else node
        if found is None or found.start_mark is None:
            return Place(self.file)
        return Place(self.file, found.start_mark.line + 1, found.start_mark.column + 1)

    def written(self, path: Path_) -> str | None:
        """The text of the one value at `path`, as it stands in the file."""
        node = self._nodes(path)[1]
        return node.value if isinstance(node, yaml.ScalarNode) else None

    def _nodes(self, path: Path_) -> tuple[yaml.Node | None, yaml.Node | None]:
        """Key and value as far along the path as there is one."""
        node = key_node = self.root
        for element in path:
            step = self._step(node, element)
            if step is None:
                break
            key_node, node = step
        return key_node, node

    def _step(self, node: yaml.Node | None, element: object) -> tuple[yaml.Node, yaml.Node] | None:
        if isinstance(node, yaml.SequenceNode):
            if isinstance(element, int) and 0 <= element < len(node.value):
                item = node.value[element]
                return item, item
            return None
        if isinstance(node, yaml.MappingNode):
            key = element.isoformat() if isinstance(element, date) else element
            keys = self._keys_of(node)
            found = key_found(keys, key)
            return keys[found] if isinstance(found, str) else None
        return None

    def _keys_of(self, node: yaml.MappingNode) -> dict[str, tuple[yaml.Node, yaml.Node]]:
        known = self._keys.get(id(node))
        if known is None:
            known = {}
            for key, value in node.value:
                if isinstance(key, yaml.ScalarNode):
                    known.setdefault(_key(key), (key, value))
            self._keys[id(node)] = known
        return known


def read_document(path: Path, file: str) -> Document:
    """Read one file; whatever is wrong with it is in the document's problems."""
    document = Document(file)
    content = _content(path, document)
    text = None if content is None else _text(content, document)
    if text is not None:
        parse(text, document)
    return document


def _content(path: Path, document: Document) -> bytes | None:
    try:
        about = path.stat()
        if stat.S_ISDIR(about.st_mode):
            document.fault(0, 0, "this is a folder", "a text file belongs here")
        elif not stat.S_ISREG(about.st_mode):
            document.fault(0, 0, "this is no ordinary file", "a text file belongs here")
        elif about.st_size > MOST_BYTES:
            megabytes = f"{about.st_size / 2**20:.0f} MB"
            document.fault(0, 0, f"the file is too large ({megabytes})", "16 MB is the most")
        else:
            return path.read_bytes()
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "no such file").lower()
        document.fault(0, 0, f"the file cannot be opened ({reason})", "see that it can be read")
    return None


def _text(content: bytes, document: Document) -> str | None:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        document.fault(1, 1, "the file is saved as UTF-16", "save it as UTF-8")
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start]
        column = len(before[before.rfind(b"\n") + 1 :].decode("utf-8", "replace")) + 1
        what = "there is a character here that is not UTF-8"
        document.fault(before.count(b"\n") + 1, column, what, "save the file as UTF-8")
        return None


def parse(text: str, document: Document) -> None:
    """Read the text into the document: its data, the place of each value, its problems."""
    document.text = text
    text = as_lines(text)
    for line, column, what, right in left_out_parts(text):
        document.fault(line, column, what, right)
    if document.problems:
        return
    try:
        document.root = yaml.compose(text, Loader=BaseLoader)
    except yaml.YAMLError as error:
        document.fault(*complaint(error, text))
    except RecursionError:
        document.fault(1, 1, "there are too many levels inside each other", "20 are enough")
    if document.root is not None:
        document.data = _plain(document.root, document, 1)


def _plain(node: yaml.Node, document: Document, level: int) -> Any:
    """The node as dict, list or text; an empty value, `~` and `null` are empty text."""
    if isinstance(node, yaml.ScalarNode):
        return "" if node.value in _NOTHING and not node.style else node.value
    if level > MOST_LEVELS:
        where = problem_at(_place(node, document), "there are too many levels", "20 are enough")
        document.problems.append(where)
        return ""
    if isinstance(node, yaml.MappingNode):
        return _mapping(node, document, level)
    return [_plain(item, document, level + 1) for item in node.value]


def _mapping(node: yaml.MappingNode, document: Document, level: int) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key_node, value in node.value:
        if not isinstance(key_node, yaml.ScalarNode):
            _refuse(key_node, document, "a list or mapping stands where a key belongs", "quote it")
            continue
        key = key_node.value
        if key_node.style or " " in key or "\t" in key or not key.isascii():
            key = _key(key_node)
        if key in found:
            _refuse(
                key_node,
                document,
                f"{shown(key)} is here twice{_first(node, key, document)}",
                "keep one",
            )
        elif not key or key == "<<":
            _refuse(key_node, document, f"{shown(key)} cannot be a key", "write the keys out")
        elif type(value) is yaml.ScalarNode and (value.style or value.value not in _NOTHING):
            found[key] = value.value
        else:
            found[key] = _plain(value, document, level + 1)
    return found


def _key(node: yaml.ScalarNode) -> str:
    return unicodedata.normalize("NFC", " ".join(str(node.value).split()))


def _first(node: yaml.MappingNode, key: str, document: Document) -> str:
    if len(document.problems) > 100:
        return ""  # a search for each of a great many would take too long
    for key_node, _ in node.value:
        if isinstance(key_node, yaml.ScalarNode) and _key(key_node) == key:
            return f" (first in line {_place(key_node, document).line})"
    return ""


def _refuse(node: yaml.Node, document: Document, what: str, right: str) -> None:
    document.problems.append(problem_at(_place(node, document), what, right))


def _place(node: yaml.Node, document: Document) -> Place:
    mark = node.start_mark
    return Place(document.file, mark.line + 1, mark.column + 1) if mark else Place(document.file)
