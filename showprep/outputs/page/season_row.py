"""One fish's row of the season line: wedges that close, bars, marks, and words above them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from showprep.outputs.page.scale import Scale
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.plan import (
    VERDICT_ORDER,
    FishLine,
    HealingLine,
    ShowLine,
    Span,
    Verdict,
    VerdictWord,
)
from showprep.planning.words import spoken

WORDS = 18  # units at the top of a row for words
LANE = 24  # units below them for shapes
LETTER = 8.2  # a letter's usual width
BARS = ("isolation", "fast", "at-show")  # what is drawn later lies on top


@dataclass(frozen=True, slots=True)
class Wedge:
    """A healing: points for the usual and the slow case, and how it turns out."""

    kind: str
    usual: str
    slow: str | None
    tone: str
    lone: bool  # nothing wider is drawn behind it


@dataclass(frozen=True, slots=True)
class Bar:
    """A stretch between two days: no food, at the show, kept apart."""

    kind: str
    x: float
    width: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A shape on one day: a touch-up, a look-back, or how a healing turns out for a show."""

    shape: str
    tone: str
    x: float


@dataclass(frozen=True, slots=True)
class Words:
    """A few words above a shape."""

    x: float
    text: str
    tone: str
    end: bool = False  # they end at x


@dataclass(frozen=True, slots=True)
class Row:
    """One fish; `at` is its place among the plan's fish."""

    fish: FishLine
    y: int
    at: int
    wedges: tuple[Wedge, ...]
    bars: tuple[Bar, ...]
    marks: tuple[Mark, ...]
    words: tuple[Words, ...]
    outcome: VerdictWord | None  # the worst for the shows it goes to, or else for all of them


@dataclass(frozen=True, slots=True)
class Drawing:
    """What every row is drawn with."""

    scale: Scale
    shows: Mapping[str, ShowLine]

    def after(self, day: date) -> float:
        """Where a day ends."""
        return min(self.scale.x(day) + self.scale.a_day, self.scale.width)


def row_of(
    drawing: Drawing,
    fish: FishLine,
    at: int,
    y: int,
    spans: Sequence[Span],
    verdicts: Sequence[Verdict],
) -> Row:
    """Draw the spans of one fish, and how its wounds turn out for the shows that matter to it."""
    healing = [span for span in spans if span.kind in ("closed", "clean")]
    goes = any(one.entered for one in verdicts)
    drawn = {(span.kind, span.start) for span in healing}
    told = [
        (one.show, worst_of(some))
        for one in verdicts
        if one.show in drawing.shows and (one.entered or one.verdict == "too-late" or not goes)
        if (some := [h for h in one.healing if (h.milestone, h.start) in drawn])
    ]
    going = {one.show for one in verdicts if one.entered}
    outcomes = [one for show, one in told if show in going] or [one for _, one in told]
    words = [*_told_words(drawing, told), *_captions(drawing, spans)]
    return Row(
        fish=fish,
        y=y,
        at=at,
        wedges=tuple(_wedges(drawing.scale, healing, outcomes)),
        bars=tuple(_bars(drawing, spans)),
        marks=(*_points(drawing.scale, spans), *_told_marks(drawing, told)),
        words=tuple(_without_overlap(words)),
        outcome=worst(outcomes),
    )


def worst_of(healings: Iterable[HealingLine]) -> VerdictWord:
    """How everything that heals for one show turns out: the worst of it."""
    return worst(one.verdict for one in healings) or "ready"


def worst(verdicts: Iterable[VerdictWord]) -> VerdictWord | None:
    """The worst of several verdicts."""
    return max(verdicts, key=VERDICT_ORDER.index, default=None)


def _wedges(
    scale: Scale, spans: Sequence[Span], outcomes: Sequence[VerdictWord]
) -> Iterable[Wedge]:
    """One wedge for each healing, however many shows it is calculated for; longest first."""
    found = dict.fromkeys((s.kind, s.start, s.end, s.to_slow, s.in_time) for s in spans)
    of_all = worst(outcomes)
    for kind, start, end, slow, in_time in sorted(
        found, key=lambda key: (key[0] != "clean", key[1], key[2])
    ):
        wider = any(key[0] == "clean" and key[1] == start for key in found)
        lone = kind == "clean" or not wider
        height = LANE if lone else LANE * 0.5
        verdict = of_all or ("ready" if in_time is not False else "too-late")
        yield Wedge(
            kind=kind,
            lone=lone,
            usual=_closing(scale, start, end, height),
            slow=_closing(scale, start, slow, height) if slow is not None else None,
            tone=VERDICTS[verdict].tone,
        )


def _closing(scale: Scale, start: date, end: date, height: float) -> str:
    """A wedge from its full height on `start` to a point on `end`, cut where the drawing ends."""
    left = scale.x(start)
    tip = max((end.toordinal() - scale.origin) * scale.a_day, left + 4)
    right = min(tip, scale.width)
    began = (start.toordinal() - scale.origin) * scale.a_day

    def half(x: float) -> float:
        return height / 2 * max(0.0, (tip - x) / (tip - began))

    middle = WORDS + LANE / 2
    top, bottom = half(left), half(right)
    return (
        f"{left:g},{middle - top:.1f} {right:g},{middle - bottom:.1f} "
        f"{right:g},{middle + bottom:.1f} {left:g},{middle + top:.1f}"
    )


def _leaves(drawing: Drawing, show: str) -> float:
    return drawing.scale.x(drawing.shows[show].departure.date())


def _told_marks(drawing: Drawing, told: Iterable[tuple[str, VerdictWord]]) -> Iterable[Mark]:
    for show, verdict in told:
        yield Mark(verdict, VERDICTS[verdict].tone, round(_leaves(drawing, show) - 11, 1))


def _told_words(drawing: Drawing, told: Iterable[tuple[str, VerdictWord]]) -> Iterable[Words]:
    for show, verdict in told:
        words = VERDICTS[verdict]
        yield Words(_leaves(drawing, show) - 1, words.text, words.tone, True)


def _points(scale: Scale, spans: Sequence[Span]) -> Iterable[Mark]:
    for span in spans:
        if span.kind in ("touch-up", "look-back") and scale.shows(span.start):
            yield Mark(span.kind, "ink", round(scale.x(span.start) + scale.a_day / 2, 1))


def _bars(drawing: Drawing, spans: Sequence[Span]) -> Iterable[Bar]:
    flat = [span for span in spans if span.kind in BARS]
    for span in sorted(flat, key=lambda one: BARS.index(one.kind)):
        x = drawing.scale.x(span.start)
        yield Bar(span.kind, x, round(max(drawing.after(span.end) - x, 3.0), 1))


def _captions(drawing: Drawing, spans: Sequence[Span]) -> Iterable[Words]:
    shown = [span for span in spans if drawing.scale.shows(span.start)]
    for day in dict.fromkeys(span.start for span in shown if span.kind == "touch-up"):
        yield Words(drawing.scale.x(day) + 13, f"touch-up {spoken(day)}", "ink")
    for span in shown:
        if span.kind == "isolation":
            yield Words(drawing.after(span.start), "kept apart", "faint")


def _without_overlap(words: Sequence[Words]) -> Iterable[Words]:
    """The words that find room, the most needed first; all are in the list of words below."""
    taken: list[tuple[float, float]] = []
    for word in words:
        wide = len(word.text) * LETTER
        left = word.x - wide if word.end else word.x
        if all(left + wide + 4 <= a or left >= b + 4 for a, b in taken):
            taken.append((left, left + wide))
            yield word
