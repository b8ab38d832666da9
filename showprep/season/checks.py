"""Checks of the records against each other: small functions in a list."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from showprep.season.check_fish import FISH_CHECKS
from showprep.season.check_journal import JOURNAL_CHECKS
from showprep.season.check_keeper import KEEPER_CHECKS
from showprep.season.check_shows import SHOW_CHECKS
from showprep.season.checked import Checked, Finding

Check = Callable[[Checked], Iterator[Finding | None]]

OTHER_CHECKS: tuple[Check, ...] = (*SHOW_CHECKS, *FISH_CHECKS, *JOURNAL_CHECKS)


def findings(checked: Checked) -> Iterator[Finding]:
    """Everything that the records say amiss."""
    for check in (*(KEEPER_CHECKS if checked.keeper_sound else ()), *OTHER_CHECKS):
        for finding in check(checked):
            if finding is not None:
                yield finding
