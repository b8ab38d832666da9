"""The components and properties of a calendar file, read for the lint alone."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import NamedTuple

_PARAMETER = r';[A-Z0-9-]+=(?:"[^"]*"|[^";:,]*)(?:,(?:"[^"]*"|[^";:,]*))*'
_LINE = re.compile(rf"([A-Z0-9-]+)((?:{_PARAMETER})*):(.*)")


class Property(NamedTuple):
    """One content line: its name, its parameters as written (`;A=B`), its value, its place."""

    name: str
    parameters: str
    value: str
    line: int


@dataclass(slots=True)
class Part:
    """One component with its own properties, its parts, and whether properties follow a part."""

    kind: str
    line: int
    properties: list[Property] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    late_property: bool = False

    def all(self, name: str) -> list[Property]:
        return [found for found in self.properties if found.name == name]

    def one(self, name: str) -> Property | None:
        """The only property of this name; None when there is none or more than one."""
        found = self.all(name)
        return found[0] if len(found) == 1 else None


def parts_of(text: str) -> tuple[Part | None, list[str]]:
    """The calendar in `text`, and every fault of grammar; no calendar when it cannot be read."""
    faults: list[str] = []
    root: Part | None = None
    open_parts: list[Part] = []
    for number, line in _unfolded(text):
        match = _LINE.fullmatch(line)
        if match is None:
            faults.append(f"line {number}: not a content line (RFC 5545 §3.1)")
            continue
        name, parameters, value = match.groups()
        if name == "BEGIN":
            part = Part(value, number)
            if open_parts:
                open_parts[-1].parts.append(part)
            elif root is None:
                root = part
            else:
                faults.append(f"line {number}: a second calendar in one file")
            open_parts.append(part)
        elif not open_parts:
            faults.append(f"line {number}: {name} stands outside the calendar")
        elif name == "END":
            if open_parts.pop().kind != value:
                return None, [*faults, f"line {number}: END:{value} closes nothing"]
        else:
            _take(open_parts[-1], Property(name, parameters, value, number))
    if open_parts or root is None:
        return None, [*faults, "the calendar is not closed, or there is none"]
    return root, faults


def _take(part: Part, found: Property) -> None:
    part.late_property = part.late_property or bool(part.parts)
    part.properties.append(found)


def _unfolded(text: str) -> list[tuple[int, str]]:
    """Content lines with the number of their first line."""
    lines: list[tuple[int, str]] = []
    for number, line in enumerate(text.removesuffix("\r\n").split("\r\n"), 1):
        if line[:1] in (" ", "\t") and lines:
            first, before = lines[-1]
            lines[-1] = (first, before + line[1:])
        else:
            lines.append((number, line))
    return lines
