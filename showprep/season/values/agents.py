"""The sedatives that a sheet is made for, by the names keepers give them."""

from __future__ import annotations

from typing import Literal

Agent = Literal["clove oil", "ms-222"]

AGENTS: dict[str, Agent] = {
    "clove oil": "clove oil",
    "clove": "clove oil",
    "ms 222": "ms-222",
    "ms222": "ms-222",
    "tricaine": "ms-222",
}


def agent_named(text: str) -> Agent:
    """The agent a keeper names. Raises ValueError for one that no sheet is made for."""
    word = " ".join(text.casefold().replace("-", " ").split())
    if word not in AGENTS:
        raise ValueError(f"there is no sheet for {text!r}: write clove oil or MS-222")
    return AGENTS[word]
