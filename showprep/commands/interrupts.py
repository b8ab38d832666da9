"""Ctrl-C: before there is a plan it ends the program; then the plan so far is told first.

While a plan is chosen the handler only takes note: an exception raised inside the solver's call
would end the program without a word. Between the solver's steps the note is asked for.
"""

from __future__ import annotations

import signal
from collections.abc import Callable
from types import FrameType

_choosing, _heard, _ended = [False], [False], [False]


def listen() -> None:
    """From here on an interruption is handled here."""
    signal.signal(signal.SIGINT, _hear)


def _hear(number: int, frame: FrameType | None) -> None:
    if _heard[0] or not _choosing[0]:
        _ended[0] = True
        raise KeyboardInterrupt
    _heard[0] = True


def was_ended() -> bool:
    """Did an interruption end the program, whatever error a library made of it on its way up?"""
    return _ended[0]


def broken_off() -> bool:
    """Was the choice, or what follows it, to be broken off?"""
    return _heard[0]


def choice_begins() -> Callable[[], bool]:
    """From here on the first interruption is noted, so that what has been found is told; a second
    ends the program. Returns what to ask whether one was heard.
    """
    _choosing[0] = True
    return broken_off


def choice_is_over() -> None:
    """For a command that goes on by itself: from here on an interruption ends the program.

    One that was heard meanwhile is raised now, and answered by whoever takes it.
    """
    _choosing[0] = False
    if _heard[0]:
        _heard[0] = False
        raise KeyboardInterrupt


def all_is_done() -> None:
    """Nothing is left to break off: what is heard while Python itself ends means nothing."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
