"""The season line: weeks across, a row a fish, the shows as columns of light.

A healing wound is drawn as what it is: a wedge that starts wide on the day it begins and closes
to a point on the day it is healed. The slow case is the longer, hatched wedge behind it. Where a
show stands, a mark and a word say whether the wound is in time for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from showprep.outputs.page.scale import Scale, Tick, scale_for
from showprep.outputs.page.temperature import Band, band_of
from showprep.outputs.page.words import IN_TIME, NOT_IN_TIME, TIGHT, Outcome
from showprep.planning.plan import FishLine, Plan, ShowLine, Span
from showprep.planning.words import spoken

ROW = 52  # units, of which the upper part is for words
WORDS = 18
LANE = 24
LETTER = 7.2  # a letter's usual width in a row's words
LEVEL = 21  # a line of show names
WORST = (NOT_IN_TIME, TIGHT, IN_TIME)


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


@dataclass(frozen=True, slots=True)
class Column:
    """A show: from the journey there to the journey home, with its name above."""

    show: ShowLine
    x: float
    width: float
    name_x: float
    name_y: float


@dataclass(frozen=True, slots=True)
class Line:
    """The whole drawing."""

    scale: Scale
    ticks: tuple[Tick, ...]
    columns: tuple[Column, ...]
    levels: int
    band: Band
    today_x: float
    rows: tuple[Row, ...]
    blank: tuple[FishLine, ...]  # fish with nothing to draw

    @property
    def height(self) -> int:
        return len(self.rows) * ROW


def season_line(plan: Plan) -> Line:
    """Draw the plan: fish that are entered first, then those with something dated."""
    shows = [show for show in plan.shows if show.standing == "planned"]
    days = [span.end for span in plan.spans] + [span.start for span in plan.spans]
    days += [show.home.date() for show in shows]
    scale = scale_for(plan.planned_on, days)
    by_fish: dict[str, list[Span]] = {}
    for span in plan.spans:
        by_fish.setdefault(span.fish, []).append(span)
    entered = {fish for show in shows for fish in show.entered}
    here = [(at, fish) for at, fish in enumerate(plan.fish) if fish.gone is None]
    drawn = [(at, fish) for at, fish in here if fish.id in by_fish]
    drawn.sort(key=lambda pair: (pair[1].id not in entered, pair[0]))
    columns = tuple(_columns(shows, scale))
    by_id = {show.id: show for show in shows}
    return Line(
        scale=scale,
        ticks=scale.ticks(),
        columns=columns,
        levels=max((round(c.name_y / LEVEL) for c in columns), default=1),
        band=band_of(plan, scale),
        today_x=scale.x(plan.planned_on),
        rows=tuple(
            _row(fish, at, number * ROW, by_fish[fish.id], by_id, scale)
            for number, (at, fish) in enumerate(drawn)
        ),
        blank=tuple(fish for _, fish in here if fish.id not in by_fish),
    )


def _columns(shows: Iterable[ShowLine], scale: Scale) -> Iterable[Column]:
    taken: list[float] = []  # by level, where the last name ends
    for show in sorted(shows, key=lambda one: one.departure):
        x = scale.x(show.departure.date())
        width = max(_after(scale, show.home.date()) - x, 5.0)
        room = min(len(show.name), 26) * 8.2 + 14
        name_x = max(0.0, min(x, scale.width - room))
        level = next((n for n, end in enumerate(taken) if end <= name_x), len(taken))
        if level == len(taken):
            taken.append(0.0)
        taken[level] = name_x + room
        yield Column(show, x, round(width, 1), round(name_x, 1), (level + 1) * LEVEL)


def _after(scale: Scale, day: date) -> float:
    """Where a day ends."""
    return min(scale.x(day) + scale.a_day, scale.width)


def _row(
    fish: FishLine,
    at: int,
    y: int,
    spans: Sequence[Span],
    shows: dict[str, ShowLine],
    scale: Scale,
) -> Row:
    healing = [span for span in spans if span.kind in ("closed", "clean")]
    others = [span for span in spans if span.kind not in ("closed", "clean")]
    told = [*_outcomes(healing, shows, scale)]
    words = [word for _, word in told] + [*_captions(others, scale)]
    return Row(
        fish=fish,
        y=y,
        at=at,
        wedges=tuple(_wedges(healing, shows, scale)),
        bars=tuple(_bars(others, scale)),
        marks=(*_points(others, scale), *(mark for mark, _ in told)),
        words=tuple(_without_overlap(words)),
    )


def _wedges(spans: Sequence[Span], shows: dict[str, ShowLine], scale: Scale) -> Iterable[Wedge]:
    """One wedge for each healing, however many shows it is reckoned for; longest first."""
    found: dict[tuple[str, date, date, date | None], list[Outcome]] = {}
    for span in spans:
        key = (span.kind, span.start, span.end, span.to_slow)
        found.setdefault(key, []).append(_outcome(span, shows))
    order = sorted(found, key=lambda key: (key[0] != "clean", key[1], key[2]))
    for kind, start, end, slow in order:
        outcomes = found[kind, start, end, slow]
        worst = next((one for one in WORST if one in outcomes), IN_TIME)
        lone = kind == "clean" or not any(key[0] == "clean" and key[1] == start for key in found)
        height = LANE if lone else LANE * 0.5
        yield Wedge(
            kind=kind,
            lone=lone,
            usual=_closing(scale, start, end, height),
            slow=_closing(scale, start, slow, height) if slow is not None else None,
            tone=worst.tone,
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


def _outcome(span: Span, shows: dict[str, ShowLine]) -> Outcome:
    if span.in_time is False:
        return NOT_IN_TIME
    deadline = _deadline(span, shows)
    if deadline is not None and (span.to_slow is None or span.to_slow > deadline):
        return TIGHT
    return IN_TIME


def _deadline(span: Span, shows: dict[str, ShowLine]) -> date | None:
    show = shows.get(span.show) if span.show is not None else None
    if show is None:
        return None
    return (show.departure if span.kind == "closed" else show.benching).date()


def _outcomes(
    spans: Sequence[Span], shows: dict[str, ShowLine], scale: Scale
) -> Iterable[tuple[Mark, Words]]:
    """One mark for each show: the worst of what heals for it."""
    by_show: dict[str, list[Span]] = {}
    for span in spans:
        if span.show in shows and span.in_time is not None:
            by_show.setdefault(span.show or "", []).append(span)
    for show_id, some in by_show.items():
        outcomes = [_outcome(span, shows) for span in some]
        worst = next(one for one in WORST if one in outcomes)
        x = scale.x(shows[show_id].departure.date())
        yield (
            Mark(worst.shape, worst.tone, round(x - 11, 1)),
            Words(x - 1, worst.word, worst.tone, True),
        )


def _points(spans: Sequence[Span], scale: Scale) -> Iterable[Mark]:
    for span in spans:
        if span.kind in ("touch-up", "look-back") and scale.shows(span.start):
            yield Mark(span.kind, "ink", round(scale.x(span.start) + scale.a_day / 2, 1))


def _bars(spans: Sequence[Span], scale: Scale) -> Iterable[Bar]:
    for span in spans:
        if span.kind in ("fast", "isolation", "at-show"):
            x = scale.x(span.start)
            yield Bar(span.kind, x, round(max(_after(scale, span.end) - x, 3.0), 1))


def _captions(spans: Sequence[Span], scale: Scale) -> Iterable[Words]:
    for span in spans:
        if span.kind == "touch-up" and scale.shows(span.start):
            yield Words(scale.x(span.start), f"touch-up {spoken(span.start)}", "ink")
    for span in spans:
        if span.kind == "isolation" and scale.shows(span.start):
            yield Words(_after(scale, span.start), "kept apart", "faint")


def _without_overlap(words: Sequence[Words]) -> Iterable[Words]:
    """The words that find room, the most needed first; all are in the list of words below."""
    taken: list[tuple[float, float]] = []
    for word in words:
        wide = len(word.text) * LETTER
        left = word.x - wide if word.end else word.x
        if all(left + wide + 4 <= a or left >= b + 4 for a, b in taken):
            taken.append((left, left + wide))
            yield word
