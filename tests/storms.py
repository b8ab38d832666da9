"""How hard the long tests try: a little on every run, in full with SHOWPREP_STORMS=full."""

from __future__ import annotations

import os

FULL = os.environ.get("SHOWPREP_STORMS") == "full"


def storm(small: int, full: int) -> int:
    """The size of a storm: how many writers, kills, tries or examples."""
    return full if FULL else small
