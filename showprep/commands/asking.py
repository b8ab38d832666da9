"""Questions at a terminal: asked again with what is wrong, given up after a few tries."""

from __future__ import annotations

import sys
from collections.abc import Callable

from showprep.outputs.failure import Failure

Ask = Callable[[str], str]
Check = Callable[[str], str | None]
"""What is wrong with an answer, in words; None where nothing is."""
TRIES = 3


def terminal() -> Ask | None:
    """Somebody to ask, when both ends of the talk are a terminal."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return None

    def ask(question: str) -> str:
        print(question, end=" ", file=sys.stderr, flush=True)  # noqa: T201
        return sys.stdin.readline()

    return ask


def answer(ask: Ask, question: str, check: Check, left_out: str | None = None) -> str:
    """The first answer that nothing is wrong with.

    An empty one is `left_out`, where that is allowed (not None). Raises Failure after three.
    """
    text = question
    for _ in range(TRIES):
        said = " ".join(ask(text).split())
        if not said:
            if left_out is not None:
                return left_out
            text = f"It cannot be left out. {question}"
            continue
        amiss = check(said)
        if amiss is None:
            return said
        text = f"{amiss[:1].upper()}{amiss[1:]}. {question}"
    raise Failure("Nothing was written.", status=2)
