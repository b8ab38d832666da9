"""What a stretch of a fish's season is called."""

from __future__ import annotations

from collections.abc import Mapping

from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import Span

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


def span_text(speaker: Speaker, span: Span) -> str:
    """`shimi clean`, `no food`, or the name of the show."""
    if span.kind in ("closed", "clean"):
        return f"{of_kind(span.of)} {span.kind}"
    if span.kind == "at-show" and span.show is not None:
        return speaker.shows.get(span.show, span.show)
    return OF_JOBS.get(span.of, SPANS[span.kind])
