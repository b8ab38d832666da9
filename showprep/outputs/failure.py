"""What ends a command early, said in words that a keeper can act on."""

from __future__ import annotations

from collections.abc import Iterable


class Failure(Exception):
    """The command cannot go on: `str(failure)` says why and what would help.

    `status` is the exit status: 2 wrong usage, 3 faults in the season's files, 1 anything else.
    `codes` are those of the reasons it is made of, where it is made of reasons.
    """

    def __init__(self, message: str, status: int = 1, codes: Iterable[str] = ()) -> None:
        super().__init__(message)
        self.status, self.codes = status, frozenset(codes)
