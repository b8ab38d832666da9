"""What the keeper is told, and with which exit status, when a command cannot go on."""

from __future__ import annotations

import os

from showprep.outputs.failure import Failure
from showprep.season.problems import SeasonError

FILES_HAVE_FAULTS = 3


def text_and_status(error: Exception) -> tuple[str, int]:
    """Plain words and the exit status for anything a command raised."""
    if isinstance(error, SeasonError):
        return str(error), FILES_HAVE_FAULTS
    if isinstance(error, Failure):
        return str(error), error.status
    if isinstance(error, OSError):
        where = f"{error.filename}: " if error.filename else ""
        return f"{where}{error.strerror or error}.", 1
    if os.environ.get("SHOWPREP_DEBUG"):
        raise error
    return (
        f"Something went wrong inside showprep ({type(error).__name__}: {error}). Nothing was "
        "written. Run again with SHOWPREP_DEBUG=1 and report what it prints.",
        1,
    )
