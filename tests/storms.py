"""How hard the long tests try: a little on every run, in full with SHOWPREP_STORMS=full.

SHOWPREP_STORMS_UNTIL, in seconds since 1970, ends them on a machine too slow for all: the rounds
that have not begun by then are skipped, but for the first of each.
"""

from __future__ import annotations

import os

FULL = os.environ.get("SHOWPREP_STORMS") == "full"
UNTIL = float(os.environ.get("SHOWPREP_STORMS_UNTIL", "inf"))


def storm(small: int, full: int) -> int:
    """The size of a storm: how many writers, kills, tries or examples."""
    return full if FULL else small
