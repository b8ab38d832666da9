"""What is wrong in a season's files: where, what was found, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, NamedTuple

Severity = Literal["fault", "warning", "question"]
BEGINS = {"fault": "", "warning": "Note: ", "question": "Question: "}


class Place(NamedTuple):
    """A place in a season's files: line and column count from 1; line 0 is the file as such."""

    file: str
    line: int = 0
    column: int = 0


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault (nothing can be planned), warning or question (a slip?), for the keeper to read.

    `file` is relative to the season folder, with forward slashes.
    """

    file: str
    line: int
    column: int
    what: str
    right: str
    severity: Severity = "fault"

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        return f"{where}: {_sentence(self.what)} {_sentence(self.right, begin=True)}"

    @property
    def told(self) -> str:
        """The problem as a line of its own, which says what sort it is."""
        return f"{BEGINS[self.severity]}{self}"


def problem_at(place: Place, what: str, right: str, severity: Severity = "fault") -> Problem:
    """A problem at a place."""
    return Problem(place.file, place.line, place.column, what, right, severity)


def _sentence(words: str, *, begin: bool = False) -> str:
    if begin:
        words = words[:1].upper() + words[1:]
    return words if words.endswith((".", "?", "!")) else f"{words}."


class SeasonError(Exception):
    """The season's files have faults; `problems` holds all of them, the warnings too."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__(self.problems)

    def __str__(self) -> str:
        return "\n".join(problem.told for problem in self.problems)
