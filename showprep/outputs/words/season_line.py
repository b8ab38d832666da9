"""What a stretch of a fish's season is called, and the words of the key beside it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.plan import Span, VerdictWord

SPANS: Mapping[str, str] = {
    "touch-up": "touch-up",
    "closed": "wound closing",
    "clean": "wound until clean",
    "fast": "no food",
    "isolation": "kept apart",
    "look-back": "look back",
    "at-show": "at the show",
}
OF_JOBS: Mapping[str, str] = {"unfed-before-touch-up": "unfed before the touch-up", "look": "look"}
KEY: Mapping[str, tuple[str, str]] = {
    "touch-open": ("touch-up", "; dark: wound still open"),
    "touch": ("touch-up", ""),
    "open": ("dark: open", " wound"),
    "clean-usual": ("usual pace", ": clean"),
    "clean-slow": ("slow case", ": clean"),
    "closed-usual": ("usual pace", ": closed"),
    "closed-slow": ("slow case", ": closed"),
    "look": ("look back", ""),
    "fast": ("no food", ""),
    "at-show": ("at the show", ""),
    "isolation": ("kept apart", ""),
    "out": ("verdict", ""),
}
"""The words of the key, by what they lead to; the second part is for wide pages."""


def span_text(speaker: Speaker, day: Callable[[date], str], spans: Sequence[Span]) -> str:
    """`no food, Sun 6 June to Thu 10 June`; of a healing when it is clean, and when closed."""
    first = spans[0]
    if first.kind in ("closed", "clean"):
        told = [f"{one.kind} {_healed(day, one)}" for one in spans]
        return f"{of_kind(first.of)} from {day(first.start)}: {'; '.join(told)}"
    name = OF_JOBS.get(first.of, SPANS[first.kind])
    if first.kind == "at-show" and first.show is not None:
        name = f"at {speaker.shows.get(first.show, first.show)}"
    until = f" to {day(first.end)}" if first.end != first.start else ""
    return f"{name}, {day(first.start)}{until}"


def _healed(day: Callable[[date], str], span: Span) -> str:
    slow = f", in a slow case {day(span.to_slow)}" if span.to_slow is not None else ""
    return f"{day(span.end)}{slow}"


def outcome_text(speaker: Speaker, show: str, verdict: VerdictWord) -> str:
    """What is said of a fish for a show: `Too late for Larkfield: a wound may well not …`."""
    said = VERDICTS[verdict]
    return f"{said.title} for {speaker.shows.get(show, show)}: {said.meaning}"
