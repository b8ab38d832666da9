"""One figure of the husbandry rules, with its spread, its source and its grade."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

Grade = Literal[
    "published", "derived", "common practice", "assumption", "our choice", "keeper's own"
]
Safe = Literal["lower", "higher", "either"]

PUBLISHED: Grade = "published"
DERIVED: Grade = "derived"
PRACTICE: Grade = "common practice"
ASSUMED: Grade = "assumption"
CHOICE: Grade = "our choice"  # a limit set by us, beside what the source carries
OWN: Grade = "keeper's own"


class Figure(Struct, frozen=True):
    """A named number: its low, typical and high value in `unit`, how well it is known, and why.

    `safe` is the side to which a keeper may move it: `lower` or `higher` for a limit that guards
    the fish, `either` for one that only shapes the plan.
    """

    name: str
    low: float
    typical: float
    high: float
    unit: str
    grade: Grade
    source: str
    safe: Safe = "either"
