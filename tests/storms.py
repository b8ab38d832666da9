"""How hard the long tests try: a little on every run, in full with SHOWPREP_STORMS=full.

`year` is full, and more where half an hour is not too long to wait.
"""

from __future__ import annotations

import os

YEAR = os.environ.get("SHOWPREP_STORMS") == "year"
FULL = YEAR or os.environ.get("SHOWPREP_STORMS") == "full"


def storm(small: int, full: int) -> int:
    """The size of a storm: how many writers, kills, tries or examples."""
    return full if FULL else small
