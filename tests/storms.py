"""How hard the long tests try: a little on every run, in full with SHOWPREP_STORMS=full.

SHOWPREP_STORMS_UNTIL, in seconds since 1970, ends them on a machine too slow for all: the rounds
of a long test that have not begun by then are skipped, but for those of every run.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import Any

import pytest

FULL = os.environ.get("SHOWPREP_STORMS") == "full"
UNTIL = float(os.environ.get("SHOWPREP_STORMS_UNTIL", "inf"))


def storm(small: int, full: int) -> int:
    """The size of a storm: how many writers, kills, tries or examples."""
    return full if FULL else small


def rounds(small: int, full: int) -> list[Any]:
    """The numbers of a storm's rounds, to parametrise a test by."""
    return [*range(small), *only_in_full(range(small, storm(small, full)))]


def only_in_full(cases: Iterable[Any]) -> list[Any]:
    """Cases that are rounds of a storm: they come last, and end with its time."""
    return [
        pytest.param(*(case if isinstance(case, tuple) else (case,)), marks=pytest.mark.storm)
        for case in cases
    ]
