"""The season line: weeks across, a row a fish, the shows as columns of light.

A healing wound is drawn as what it is: a wedge that starts wide on the day it begins and closes
to a point on the day it is healed. The slow case is the longer, hatched wedge behind it. Where a
show stands, a sign and a word say whether the wound is in time for it. Above the rows runs the
temperature of the waters. Nothing here is a date of the plan, only where one is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from showprep.outputs.words.plain import spoken
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.plan import (
    FishLine,
    HealingLine,
    Plan,
    ShowLine,
    Span,
    Verdict,
    VerdictWord,
    WaterLine,
    worst,
)
from showprep.season.values.days import MONTHS

NAME_ROOM = 84.0
LOOK_BACK_DAYS = 35  # how much of the past is drawn
LONGEST = 500  # days drawn at most
WIDTH = 1010.0  # beside the names it fits a screen of 1440 without scrolling
LEAST_A_DAY, MOST_A_DAY = 3.0, 12.0
HEIGHT = 96
MOST = 4  # waters drawn
DEGREES = (0.0, 30.0)  # °C, from the bottom to the top
WORDS = 18  # units at the top of a row for words
LANE = 24  # units below them for shapes
LETTER = 8.2  # a letter's usual width
BOLD_LETTER = 9.2
BARS = ("isolation", "fast", "at-show")  # what is drawn later lies on top
ROW = 52  # units a row
NAME_LINE = 21  # units a line of show names
LONGEST_NAME = 26  # letters


@dataclass(frozen=True, slots=True)
class Tick:
    """A tick on the axis; `name` is empty for that of a week."""

    x: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class TimeAxis:
    """Weeks across: `origin` is the ordinal of the first day drawn, `a_day` units wide."""

    origin: int
    days: int
    a_day: float

    @property
    def width(self) -> float:
        return round(self.days * self.a_day, 1)

    def x(self, day: date) -> float:
        """Where the start of `day` is drawn, kept inside the drawing."""
        number = min(max(day.toordinal() - self.origin, 0), self.days)
        return round(number * self.a_day, 1)

    def shows(self, day: date) -> bool:
        return 0 <= day.toordinal() - self.origin <= self.days

    def ticks(self) -> tuple[Tick, ...]:
        """The first of each month by name, the other Mondays bare."""
        made = []
        first = date.fromordinal(self.origin)
        if first.day < 20 and first.day != 1:
            made.append(Tick(0.0, MONTHS[first.month - 1]))
        for number in range(self.days):
            day = date.fromordinal(self.origin + number)
            x = round(number * self.a_day, 1)
            if day.day == 1 and x < self.width - NAME_ROOM:
                year = f" {day.year}" if day.month == 1 else ""
                made.append(Tick(x, MONTHS[day.month - 1] + year))
            elif day.weekday() == 0:
                made.append(Tick(x))
        return tuple(made)


def scale_for(today: date, days: Iterable[date]) -> TimeAxis:
    """A scale that shows every day given, from at most five weeks ago."""
    numbers = sorted(day.toordinal() for day in days)
    now = today.toordinal()
    first = max(min([*numbers, now]), now - LOOK_BACK_DAYS)
    first -= date.fromordinal(first).weekday()
    last = max([*numbers, now + 60]) + 10
    count = min(last - first, LONGEST)
    return TimeAxis(first, count, min(max(WIDTH / count, LEAST_A_DAY), MOST_A_DAY))


@dataclass(frozen=True, slots=True)
class WaterTrace:
    """One water: its line, its readings, and where its name stands."""

    name: str
    number: int
    points: str
    readings: tuple[tuple[float, float], ...]
    y: float


@dataclass(frozen=True, slots=True)
class GridLine:
    """A line across at a round temperature [°C]."""

    y: float
    celsius: float


@dataclass(frozen=True, slots=True)
class Band:
    """All the courses drawn, and how many were left out."""

    courses: tuple[WaterTrace, ...]
    levels: tuple[GridLine, ...]
    left_out: int
    height: int = HEIGHT


def band_of(plan: Plan, scale: TimeAxis) -> Band:
    """The waters most fish live in, and the others as far as there is room."""
    living = [fish.lives_in for fish in plan.fish]
    ordered = sorted(plan.waters, key=lambda water: -living.count(water.name))
    drawn = ordered[:MOST]
    return Band(
        courses=tuple(_course(water, number, scale) for number, water in enumerate(drawn)),
        levels=tuple(GridLine(_y(celsius), celsius) for celsius in (10.0, 20.0)),
        left_out=len(ordered) - len(drawn),
    )


def _course(water: WaterLine, number: int, scale: TimeAxis) -> WaterTrace:
    first = water.start.toordinal() - scale.origin
    points = [
        (first + n, celsius)
        for n, celsius in enumerate(water.means_c)
        if 0 <= first + n <= scale.days
    ]
    return WaterTrace(
        name=water.name,
        number=number,
        points=" ".join(
            f"{n * scale.a_day:.0f},{_y(celsius):.1f}" for n, celsius in _thinned(points)
        ),
        readings=tuple(_readings(water.readings, scale)),
        y=_y(points[0][1]) if points else HEIGHT,
    )


def _thinned(points: list[tuple[int, float]]) -> Iterable[tuple[int, float]]:
    """Every third day: a daily mean moves slowly, and the drawing stays small."""
    return [point for n, point in enumerate(points) if n % 3 == 0 or n == len(points) - 1]


def _readings(
    readings: Iterable[tuple[date, float]], scale: TimeAxis
) -> Iterable[tuple[float, float]]:
    for day, celsius in readings:
        if scale.shows(day):
            yield scale.x(day), _y(celsius)


def _y(celsius: float) -> float:
    low, high = DEGREES
    share = min(max((celsius - low) / (high - low), 0.0), 1.0)
    return round(HEIGHT * (1 - share), 1)


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
class Sign:
    """A shape on one day: a touch-up, a look-back, or how a healing turns out for a show."""

    shape: str
    tone: str
    x: float


@dataclass(frozen=True, slots=True)
class Caption:
    """A few words above a shape."""

    x: float
    text: str
    tone: str
    end: bool = False  # they end at x


@dataclass(frozen=True, slots=True)
class FishRow:
    """One fish; `at` is its place among the plan's fish."""

    fish: FishLine
    y: int
    at: int
    wedges: tuple[Wedge, ...]
    bars: tuple[Bar, ...]
    signs: tuple[Sign, ...]
    words: tuple[Caption, ...]
    outcome: VerdictWord | None  # the worst for the shows it goes to, or else for all of them


@dataclass(frozen=True, slots=True)
class Drawing:
    """What every row is drawn with."""

    scale: TimeAxis
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
) -> FishRow:
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
    return FishRow(
        fish=fish,
        y=y,
        at=at,
        wedges=tuple(_wedges(drawing.scale, healing, outcomes)),
        bars=tuple(_bars(drawing, spans)),
        signs=(*_points(drawing.scale, spans), *_told_signs(drawing, told)),
        words=tuple(_without_overlap(words)),
        outcome=worst(outcomes),
    )


def worst_of(healings: Iterable[HealingLine]) -> VerdictWord:
    """How everything that heals for one show turns out: the worst of it."""
    return worst(one.verdict for one in healings) or "ready"


def _wedges(
    scale: TimeAxis, spans: Sequence[Span], outcomes: Sequence[VerdictWord]
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


def _closing(scale: TimeAxis, start: date, end: date, height: float) -> str:
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


def _told_signs(drawing: Drawing, told: Iterable[tuple[str, VerdictWord]]) -> Iterable[Sign]:
    for show, verdict in told:
        yield Sign(verdict, VERDICTS[verdict].tone, round(_leaves(drawing, show) - 11, 1))


def _told_words(drawing: Drawing, told: Iterable[tuple[str, VerdictWord]]) -> Iterable[Caption]:
    for show, verdict in told:
        words = VERDICTS[verdict]
        yield Caption(_leaves(drawing, show) - 1, words.text, words.tone, True)


def _points(scale: TimeAxis, spans: Sequence[Span]) -> Iterable[Sign]:
    for span in spans:
        if span.kind in ("touch-up", "look-back") and scale.shows(span.start):
            yield Sign(span.kind, "ink", round(scale.x(span.start) + scale.a_day / 2, 1))


def _bars(drawing: Drawing, spans: Sequence[Span]) -> Iterable[Bar]:
    flat = [span for span in spans if span.kind in BARS]
    for span in sorted(flat, key=lambda one: BARS.index(one.kind)):
        x = drawing.scale.x(span.start)
        yield Bar(span.kind, x, round(max(drawing.after(span.end) - x, 3.0), 1))


def _captions(drawing: Drawing, spans: Sequence[Span]) -> Iterable[Caption]:
    shown = [span for span in spans if drawing.scale.shows(span.start)]
    for day in dict.fromkeys(span.start for span in shown if span.kind == "touch-up"):
        yield Caption(drawing.scale.x(day) + 13, f"touch-up {spoken(day)}", "ink")
    for span in shown:
        if span.kind == "isolation":
            yield Caption(drawing.after(span.start), "kept apart", "faint")


def _without_overlap(words: Sequence[Caption]) -> Iterable[Caption]:
    """The words that find room, the most needed first; all are in the list of words below."""
    taken: list[tuple[float, float]] = []
    for word in words:
        wide = len(word.text) * LETTER
        left = word.x - wide if word.end else word.x
        if all(left + wide + 4 <= a or left >= b + 4 for a, b in taken):
            taken.append((left, left + wide))
            yield word


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

    scale: TimeAxis
    ticks: tuple[Tick, ...]
    columns: tuple[Column, ...]
    levels: int
    band: Band
    today_x: float
    rows: tuple[FishRow, ...]
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
    columns = tuple(_columns(shows, scale))
    spans: dict[str, list[Span]] = {}
    for span in plan.spans:
        spans.setdefault(span.fish, []).append(span)
    said: dict[str, list[Verdict]] = {}
    for verdict in plan.verdicts:
        said.setdefault(verdict.fish, []).append(verdict)
    here = [(at, fish) for at, fish in enumerate(plan.fish) if fish.gone is None]
    drawing = Drawing(scale, {show.id: show for show in shows})
    return Line(
        scale=scale,
        ticks=scale.ticks(),
        columns=columns,
        levels=max((round(c.name_y / NAME_LINE) for c in columns), default=1),
        band=band_of(plan, scale),
        today_x=scale.x(plan.planned_on),
        rows=tuple(
            row_of(drawing, fish, at, number * ROW, spans[fish.id], said.get(fish.id, []))
            for number, (at, fish) in enumerate(_in_order(here, shows, spans))
        ),
        blank=tuple(fish for _, fish in here if fish.id not in spans),
    )


def _in_order(
    here: Iterable[tuple[int, FishLine]], shows: Iterable[ShowLine], spans: dict[str, list[Span]]
) -> list[tuple[int, FishLine]]:
    entered = {fish for show in shows for fish in show.entered}
    drawn = [(at, fish) for at, fish in here if fish.id in spans]
    return sorted(drawn, key=lambda pair: (pair[1].id not in entered, pair[0]))


def _columns(shows: Iterable[ShowLine], scale: TimeAxis) -> Iterable[Column]:
    taken: list[float] = []  # by level, where the last name ends
    for show in sorted(shows, key=lambda one: one.departure):
        x = scale.x(show.departure.date())
        home = scale.x(show.home.date()) + scale.a_day
        room = min(len(show.name), LONGEST_NAME) * BOLD_LETTER + 10
        name_x = max(0.0, min(x, scale.width - room))
        level = next((n for n, end in enumerate(taken) if end <= name_x), len(taken))
        if level == len(taken):
            taken.append(0.0)
        taken[level] = name_x + room
        width = round(max(min(home, scale.width) - x, 5.0), 1)
        yield Column(show, x, width, round(name_x, 1), (level + 1) * NAME_LINE)
