"""The season line: weeks across, a row a fish, the shows as columns of light.

A healing wound is drawn as what it is: a wedge that starts wide on the day it begins and closes
to a point on the day it is healed. The slow case is the longer, hatched wedge behind it. Where a
show stands, a sign and a word say whether the wound is in time for it. Above the rows runs the
temperature of the waters. Nothing here is a date of the plan, only where one is drawn.

Every place is told in days, so that the drawing fits any width: a style sheet of its own, made
with the drawing, gives each day that is used its place. What needs room for words is measured at
three widths of the page, and a word is shown from the first at which it meets no other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import pairwise

from msgspec import Struct, field
from msgspec.structs import replace

from showprep.outputs.words.plain import spoken
from showprep.outputs.words.season_line import KEY
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.plan import (
    FishLine,
    Plan,
    ShowLine,
    Span,
    Verdict,
    VerdictWord,
    WaterLine,
    worst,
)
from showprep.season.values.days import MONTHS

LOOK_BACK_DAYS = 35  # how much of the past is drawn
LONGEST = 500  # days drawn at most
LEAST_A_DAY = 2.16  # px: months squeeze down to this, then the line scrolls; `.135rem` in the style
TIERS = (("", 200.0), ("m", 570.0), ("l", 850.0), ("x", 1000.0))
"""Classes of words and, in px, the least room beside the names where each is shown.

The widths of the page at which they begin stand in `drawings.css`.
"""
MOST = 4  # waters drawn
DEGREES = 30.0  # °C, from the bottom, which is freezing, to the top
BAND = 112.0  # px, the height of the temperatures
LETTER = 8.2  # px, a letter's usual width
BOLD_LETTER = 8.7  # of a word above a thing
NAME_LETTER = 10.4  # of a show's name, which is bold and larger
DISC = 27.0  # px, the number of a show
GAP = 4.0  # px between words
LONGEST_NAME = 26  # letters of a show's name on the line
LONGEST_WATER = 24
BLUNT = 0.1  # °C by which a temperature may be drawn off its place
NAMED_FROM = 12  # days of a month that have room for its short name


class Places:
    """The classes that put things in their places, and the style rules for those used."""

    def __init__(self) -> None:
        self._rules: dict[str, str] = {}

    def _named(self, letter: str, number: int, rule: str) -> str:
        name = f"{letter}{number}"
        self._rules[name] = f".{name}{{{rule.format(number)}}}"
        return name

    def at(self, day: int, days: int | None = None) -> str:
        """From the start of a day, as many days wide."""
        place = self._named("d", day, "--x:{}")
        return place if days is None else f"{place} {self._named('w', days, '--w:{}')}"

    def part(self, length: int, offset: int = 0) -> str:
        """A part of a thing, in per cent of its width."""
        shifted = self._named("q", offset, "left:-{}%") + " " if offset else ""
        return shifted + self._named("p", length, "width:{}%")

    def down(self, percent: int) -> str:
        return self._named("y", percent, "top:{}%")

    def level(self, number: int) -> str:
        return self._named("v", number, "--v:{}")

    def rules(self) -> str:
        return "".join(self._rules[name] for name in sorted(self._rules))


class DayScale(Struct, frozen=True):
    """Days across; `origin` is the ordinal of the first day drawn, always a Monday."""

    origin: int
    days: int

    def x(self, day: date) -> int:
        """Days from the left to the start of `day`, kept inside the drawing."""
        return min(max(day.toordinal() - self.origin, 0), self.days)

    def shows(self, day: date) -> bool:
        return 0 <= day.toordinal() - self.origin <= self.days

    def room(self, tier: float) -> float:
        """How wide the drawing is at least [px] at a width of the page that gives it `tier`."""
        return max(self.days * LEAST_A_DAY, tier)


def scale_for(today: date, days: Iterable[date]) -> DayScale:
    """A scale that shows every day given, from at most five weeks ago."""
    numbers = sorted(day.toordinal() for day in days)
    now = today.toordinal()
    first = max(min([*numbers, now]), now - LOOK_BACK_DAYS)
    first -= date.fromordinal(first).weekday()
    last = max([*numbers, now + 60]) + 10
    return DayScale(first, min(last - first, LONGEST))


class Words(Struct, frozen=True):
    """Words that want a place: from a day, between two distances from it [px], or others."""

    day: float
    places: tuple[tuple[float, float], ...]


class Room(Struct, frozen=True):
    """The class from which words are shown, and which of their places they have."""

    tier: str
    place: int


def with_room(
    scale: DayScale,
    wanted: Sequence[Words],
    fixed: Sequence[Words] = (),
    tiers: Sequence[tuple[str, float]] = TIERS,
) -> list[Room | None]:
    """Where each finds room on one line without meeting another, the most needed first.

    What has room at a narrow page has it at a wider one too, since days only move apart.
    """
    found: list[Room | None] = [None] * len(wanted)
    for tier, least in tiers:
        room = scale.room(least)

        def drawn(words: Words, place: int, room: float = room) -> tuple[float, float]:
            left = words.day * room / scale.days
            return left + words.places[place][0], left + words.places[place][1]

        taken = [drawn(one, 0) for one in fixed]
        taken += [drawn(w, r.place) for w, r in zip(wanted, found, strict=True) if r]
        for number, words in enumerate(wanted):
            for place in range(len(words.places)) if found[number] is None else ():
                left, right = drawn(words, place)
                clear = all(right + GAP <= a or left >= b + GAP for a, b in taken)
                if left >= 0 and right <= room and clear:
                    found[number] = Room(tier, place)
                    taken.append((left, right))
                    break
    return found


class Month(Struct, frozen=True):
    """A month's name where it begins: the start of it, and the rest for wide pages."""

    place: str
    name: str
    rest: str
    tier: str | None


def months_of(scale: DayScale, places: Places) -> tuple[Month, ...]:
    """The months drawn; one with no room for a name has none."""
    first = date.fromordinal(scale.origin)
    starts = [0] + [n for n in range(1, scale.days) if date.fromordinal(scale.origin + n).day == 1]
    made = []
    for start, end in pairwise([*starts, scale.days]):
        month = date.fromordinal(scale.origin + start) if start else first
        name = MONTHS[month.month - 1] + (f" {month.year}" if month.month == 1 else "")
        length = len(name) * LETTER + 2 * GAP
        tier = next(
            (t for t, least in TIERS if (end - start) * scale.room(least) / scale.days >= length),
            None,
        )
        known = end - start >= NAMED_FROM
        made.append(
            Month(
                places.at(start, end - start),
                name[:3] if known else "",
                name[3:] if known else "",
                tier,
            )
        )
    return tuple(made)


class DrawnReading(Struct, frozen=True):
    """A reading of a water, and where it is drawn."""

    place: str
    day: date
    celsius: float


class WaterTrace(Struct, frozen=True):
    """One water: its line, its readings, and where its name stands."""

    name: str
    number: int
    path: str  # days to the right, °C below the top
    low: float  # °C, the least and the most that is drawn
    high: float
    readings: tuple[DrawnReading, ...]
    place: str


class GridLine(Struct, frozen=True):
    """A line across at a round temperature [°C], so many per cent from the top."""

    y: float
    celsius: float


class Band(Struct, frozen=True):
    """All the courses drawn, and how many were left out."""

    courses: tuple[WaterTrace, ...]
    levels: tuple[GridLine, ...]
    left_out: int


def band_of(plan: Plan, scale: DayScale, places: Places) -> Band:
    """The waters most fish live in, and the others as far as there is room."""
    living = [fish.lives_in for fish in plan.fish]
    ordered = sorted(plan.waters, key=lambda water: -living.count(water.name))
    drawn = ordered[:MOST]
    lines = [_points(water, scale) for water in drawn]
    labels = _labels(scale, drawn, lines)
    return Band(
        courses=tuple(
            WaterTrace(
                name=water.name,
                number=number,
                path=" ".join(f"{x} {DEGREES - y:.3g}" for x, y in _thinned(points)),
                low=min((y for _, y in points), default=0.0),
                high=max((y for _, y in points), default=0.0),
                readings=tuple(
                    DrawnReading(
                        f"{places.at(scale.x(day))} {places.down(round(_share(celsius)))}",
                        day,
                        celsius,
                    )
                    for day, celsius in water.readings
                    if scale.shows(day)
                ),
                place=f"{places.at(day)} {places.down(y)} {_side(scale, day, day)}",
            )
            for number, (water, points, (day, y)) in enumerate(
                zip(drawn, lines, labels, strict=True)
            )
        ),
        levels=tuple(GridLine(round(_share(c), 1), c) for c in (10.0, 20.0)),
        left_out=len(ordered) - len(drawn),
    )


Points = list[tuple[int, float]]


def _points(water: WaterLine, scale: DayScale) -> Points:
    first = water.start.toordinal() - scale.origin
    return [
        (first + n, min(max(celsius, 0.0), DEGREES))
        for n, celsius in enumerate(water.means_c)
        if 0 <= first + n <= scale.days
    ]


def _thinned(points: Points) -> Points:
    """The points without which the line would leave its place by more than is seen."""
    if len(points) < 3:
        return points
    (a, low), (b, high) = points[0], points[-1]
    off, worst_at = max(
        (abs(y - low - (high - low) * (x - a) / (b - a)), n)
        for n, (x, y) in enumerate(points[1:-1], 1)
    )
    if off <= BLUNT:
        return [points[0], points[-1]]
    return _thinned(points[: worst_at + 1])[:-1] + _thinned(points[worst_at:])


def _share(celsius: float) -> float:
    """Per cent from the top."""
    return 100 * (1 - min(max(celsius / DEGREES, 0.0), 1.0))


LABEL = 16  # per cent of the band's height that a name needs


def _labels(
    scale: DayScale, waters: Sequence[WaterLine], lines: Sequence[Points]
) -> list[tuple[int, int]]:
    """Day and per cent from the top for each water's name: by its line, on no other name."""
    room = scale.room(TIERS[0][1]) / scale.days
    taken: list[tuple[float, float, float, float]] = []
    made = []
    for number, water in enumerate(waters):
        length = (min(len(water.name), LONGEST_WATER) * LETTER + 36) / room
        last = max(int(scale.days - length), 0)

        def cost(day: int, top: int, length: float = length, number: int = number) -> float:
            right, bottom = day + length, top + LABEL
            if any(day < r and right > a and top < b and bottom > t for a, r, t, b in taken):
                return 1000.0
            near = [_share(y) for x, y in lines[number] if day <= x <= right]
            off = min((abs(top + LABEL / 2 - y) for y in near), default=500.0)
            crossed = sum(
                any(day <= x <= right and top < _share(y) < bottom for x, y in line)
                for line in lines
            )
            return crossed * 30 + off + day / scale.days

        spots = [(last * n // 8, top) for n in range(9) for top in range(0, 101 - LABEL, 4)]
        day, top = min(spots, key=lambda spot: cost(*spot))
        taken.append((day, day + length, top, top + LABEL))
        made.append((day, top))
    return made


class Part(Struct, frozen=True):
    """One wedge of a healing: `slow` is the hatched one, `open` the wound still open."""

    kind: str
    place: str


class Caption(Struct, frozen=True):
    """A word or two above a thing, from the width of page at which it finds room."""

    text: str
    tier: str


class Thing(Struct, frozen=True):
    """A thing drawn in a row, with what it is drawn of: its details are told from that.

    `at` and `days` are where it is; `place` holds its classes.
    """

    kind: str
    at: int
    days: int
    place: str
    spans: tuple[Span, ...] = ()
    show: str | None = None
    verdict: VerdictWord | None = None
    parts: tuple[Part, ...] = ()
    cut: bool = False
    caption: Caption | None = None


class FishRow(Struct, frozen=True):
    """One fish; `at` is its place among the plan's fish."""

    fish: FishLine
    at: int
    things: tuple[Thing, ...]
    goes: tuple[int, ...]  # numbers of shows
    outcome: VerdictWord | None  # the worst for the shows it goes to, or else for all of them


class Drawing(Struct, frozen=True):
    """What every row is drawn with."""

    scale: DayScale
    shows: Mapping[str, ShowLine]
    numbers: Mapping[str, int]
    places: Places = field(default_factory=Places)

    def stretch(self, kind: str, first: int, last: int, **more: object) -> Thing:
        """A thing from the start of one day to the start of another, both as counted."""
        at, end = max(first, 0), min(last, self.scale.days)
        place = f"{self.places.at(at, max(end - at, 1))} {_side(self.scale, at, end)}"
        return Thing(kind, at, max(end - at, 1), place.strip(), **more)  # type: ignore[arg-type]

    def point(self, kind: str, day: date, **more: object) -> Thing:
        at = self.scale.x(day)
        place = f"{self.places.at(at)} {_side(self.scale, at, at)}"
        return Thing(kind, at, 0, place.strip(), **more)  # type: ignore[arg-type]


def _side(scale: DayScale, at: int, end: int) -> str:
    """To which side the details of a thing open, so that they stay inside the drawing."""
    if at < scale.days / 3:
        return ""
    return "r" if end > scale.days * 2 / 3 else "c"


FLAT = {"fast": "fast", "at-show": "at-show", "isolation": "isolation"}
POINTS = {"touch-up": "touch", "look-back": "look"}


def row_of(
    drawing: Drawing, fish: FishLine, at: int, spans: Sequence[Span], verdicts: Sequence[Verdict]
) -> FishRow:
    """Draw the spans of one fish, and the verdicts for the shows that its wounds matter to."""
    healing = [span for span in spans if span.kind in ("closed", "clean")]
    goes = any(one.entered for one in verdicts)
    drawn = {(span.kind, span.start) for span in healing}
    told = [
        (one.show, one.verdict)
        for one in verdicts
        if one.show in drawing.shows and (one.entered or one.verdict == "too-late" or not goes)
        if any((h.milestone, h.start) in drawn for h in one.healing)
    ]
    going = {one.show for one in verdicts if one.entered}
    outcomes = [one for show, one in told if show in going] or [one for _, one in told]
    things = [
        *_wedges(drawing, healing, outcomes),
        *_flat(drawing, spans),
        *_marks(drawing, spans),
        *_told(drawing, told),
    ]
    return FishRow(
        fish=fish,
        at=at,
        things=_with_captions(drawing.scale, sorted(things, key=lambda one: one.at)),
        goes=tuple(sorted(drawing.numbers[show] for show in going if show in drawing.numbers)),
        outcome=worst(outcomes),
    )


def _wedges(
    drawing: Drawing, spans: Sequence[Span], outcomes: Sequence[VerdictWord]
) -> Iterable[Thing]:
    """One thing for each healing, however many shows it is calculated for.

    The wound while it is open lies as a dark core in the wedge until it is clean.
    """
    found = {(s.kind, s.of, s.start, s.end, s.to_slow): s for s in reversed(spans)}
    alone = [s for s in reversed(found.values()) if s.kind == "clean"]
    inside: dict[tuple[str, date], Span] = {}
    for span in reversed(found.values()):
        if span.kind == "closed":
            if any(one.of == span.of and one.start == span.start for one in alone):
                inside.setdefault((span.of, span.start), span)
            else:
                alone.append(span)
    for span in alone:
        core = inside.get((span.of, span.start)) if span.kind == "clean" else None
        verdict = worst(outcomes) or ("ready" if span.in_time is not False else "too-late")
        yield _wedge(drawing, span, core, VERDICTS[verdict].tone)


def _wedge(drawing: Drawing, span: Span, core: Span | None, tone: str) -> Thing:
    first = span.start.toordinal() - drawing.scale.origin
    ends = [("slow", span.to_slow), ("usual", span.end), ("open", core.end if core else None)]
    long = {kind: max((end - span.start).days, 1) for kind, end in ends if end is not None}
    last = first + max(long.values())
    seen = max(min(last, drawing.scale.days) - max(first, 0), 1)
    before = round(100 * max(-first, 0) / seen)
    return drawing.stretch(
        f"heal {tone}",
        first,
        last,
        spans=(span,) if core is None else (span, core),
        cut=first < 0 or last > drawing.scale.days,
        parts=tuple(
            Part(kind, drawing.places.part(max(round(100 * days / seen), 1), before))
            for kind, days in long.items()
        ),
    )


def _flat(drawing: Drawing, spans: Sequence[Span]) -> Iterable[Thing]:
    for span in spans:
        if span.kind in FLAT:
            first = drawing.scale.x(span.start)
            last = span.end.toordinal() - drawing.scale.origin + 1
            yield drawing.stretch(FLAT[span.kind], first, max(last, first), spans=(span,))


def _marks(drawing: Drawing, spans: Sequence[Span]) -> Iterable[Thing]:
    seen = {(s.kind, s.start): s for s in reversed(spans) if s.kind in POINTS}
    for span in reversed(seen.values()):
        if drawing.scale.shows(span.start):
            yield drawing.point(POINTS[span.kind], span.start, spans=(span,))


def _told(drawing: Drawing, told: Iterable[tuple[str, VerdictWord]]) -> Iterable[Thing]:
    for show, verdict in told:
        yield drawing.point(
            f"out {VERDICTS[verdict].tone}",
            drawing.shows[show].departure.date(),
            show=show,
            verdict=verdict,
        )


def _with_captions(scale: DayScale, things: Sequence[Thing]) -> tuple[Thing, ...]:
    """The things with the words above them that find room; the details hold them all."""
    texts: dict[int, str] = {}
    wanted: dict[int, Words] = {}
    for number, one in enumerate(things):
        if one.verdict is not None:
            texts[number] = VERDICTS[one.verdict].text
            wanted[number] = Words(one.at, ((-len(texts[number]) * BOLD_LETTER, 0.0),))
    for number, one in enumerate(things):
        if one.kind == "touch":
            texts[number] = spoken(one.spans[0].start)
            wanted[number] = Words(one.at, ((12.0, 12 + len(texts[number]) * BOLD_LETTER),))
    marks = [Words(one.at, ((-8.0, 8.0),)) for one in things if one.kind == "touch"]
    rooms = dict(zip(wanted, with_room(scale, list(wanted.values()), marks), strict=True))
    return tuple(
        replace(one, caption=Caption(texts[number], room.tier))
        if (room := rooms.get(number))
        else one
        for number, one in enumerate(things)
    )


class Column(Struct, frozen=True):
    """A show: from the journey there to the journey home, its number and its name above."""

    show: ShowLine
    number: int
    lit: str  # where its column stands
    flag: str  # where its number stands
    tier: str | None  # from which width of page its name stands beside the number
    before: bool  # the name stands before the number


def _columns(
    shows: Sequence[ShowLine], scale: DayScale, places: Places
) -> tuple[tuple[Column, ...], int]:
    """The columns, and how many lines their numbers need so that none meets another.

    One line more is taken where that gives more of the names room.
    """
    days = [min(scale.x(show.departure.date()), scale.days - NAMED_FROM) for show in shows]
    needed = max(_levels(days, scale), default=0) + 1
    tried = []
    for lines in (needed, needed + 1):
        levels = _levels(days, scale, lines)
        for first in (0, 1):
            rooms = _names(shows, scale, days, levels, first)
            tried.append((sum(one is not None for one in rooms), levels, rooms, first))
    _, levels, rooms, first_place = max(tried, key=lambda one: one[0])
    made = []
    for n, show in enumerate(shows):
        first = scale.x(show.departure.date())
        last = min(scale.x(show.home.date()) + 1, scale.days)
        room = rooms[n]
        side = _side(scale, days[n], days[n])
        made.append(
            Column(
                show=show,
                number=n + 1,
                lit=places.at(first, max(last - first, 1)),
                flag=f"{places.at(days[n])} {places.level(levels[n])} {side}".strip(),
                tier=room.tier if room else None,
                before=room is not None and room.place != first_place,
            )
        )
    return tuple(made), max(levels, default=0) + 1


def _levels(days: Sequence[int], scale: DayScale, least: int = 1) -> list[int]:
    """On which line the number of each show stands, in turns on so many lines at least."""
    narrow = scale.room(TIERS[0][1]) / scale.days
    ends = [0.0] * least
    levels: list[int] = []
    for day in days:
        turn = (levels[-1] + 1) % len(ends) if levels else 0
        order = [*range(turn, len(ends)), *range(turn)] if least > 1 else range(len(ends))
        level = next((n for n in order if ends[n] <= day * narrow), len(ends))
        ends[level : level + 1] = [day * narrow + DISC]
        levels.append(level)
    return levels


def _names(
    shows: Sequence[ShowLine],
    scale: DayScale,
    days: Sequence[int],
    levels: Sequence[int],
    first: int,
) -> list[Room | None]:
    """Room for the names beside their numbers: after them, or `first` 1, rather before them."""
    rooms: list[Room | None] = [None] * len(shows)
    for level in set(levels):
        here = [n for n, one in enumerate(levels) if one == level]
        wanted = []
        for n in here:
            long = min(len(shows[n].name), LONGEST_NAME) * NAME_LETTER
            sides = ((DISC, DISC + long), (-GAP - long, -GAP))
            wanted.append(Words(days[n], (sides[first], sides[1 - first])))
        discs = [Words(days[n], ((0.0, DISC - GAP),)) for n in here]
        for n, room in zip(here, with_room(scale, wanted, discs, TIERS[1:]), strict=True):
            rooms[n] = room
    return rooms


class KeyLabel(Struct, frozen=True):
    """A word of the key below the example, led to what it is the word for."""

    text: str
    rest: str
    rest_tier: str | None  # from which width of page the rest has room
    place: str


class Example(Struct, frozen=True):
    """The row that is labelled in place, so many lines of words, before or after their leads."""

    row: int
    labels: tuple[KeyLabel, ...]
    height: str
    before: bool


def example_of(rows: Sequence[FishRow], scale: DayScale, places: Places) -> Example | None:
    """The first row that shows the most, with a word for each thing.

    The words step down from right to left, or the other way round, so that none meets a lead.
    """
    found = [_named_things(row, scale) for row in rows]
    if not any(found):
        return None
    row = max(range(len(rows)), key=lambda n: (len(found[n]), _heals(rows[n]), -n))
    named = found[row]
    sides = [
        [_first_room(scale, day, len(KEY[what][0]), before) for what, day in named.items()]
        for before in (False, True)
    ]
    shown = [
        sum(
            3 if what in NEEDED else 1 for what, tier in zip(named, side, strict=True) if tier == ""
        )
        - 10 * side.count(None)
        for side in sides
    ]
    before = shown[1] > shown[0]
    tiers = dict(zip(named, sides[before], strict=True))
    stepping = sorted(named, key=lambda what: named[what], reverse=not before)
    labels: list[KeyLabel] = []
    for what in stepping:
        tier, (text, rest) = tiers[what], KEY[what]
        if tier is not None:
            place = f"{places.at(round(named[what]))} {places.level(len(labels) + 1)} {tier}"
            whole = _first_room(scale, named[what], len(text + rest), before)
            labels.append(KeyLabel(text, rest, whole, place.strip()))
    return Example(row, tuple(labels), places.level(len(labels)), before)


NEEDED = ("touch-open", "touch")  # what the words step to the other side for at last


def _heals(row: FishRow) -> bool:
    return any(one.kind.startswith("heal") for one in row.things)


def _first_room(scale: DayScale, day: float, letters: int, before: bool) -> str | None:
    """From which width of page a word of the key has room beside its lead."""
    long = letters * LETTER + 3 * GAP

    def fits(room: float) -> bool:
        at = day * room / scale.days
        return at >= long if before else at + long <= room

    return next((tier for tier, least in TIERS if fits(scale.room(least))), None)


def _named_things(row: FishRow, scale: DayScale) -> dict[str, float]:
    """What the things of a row need in the key, and the day each word leads to."""
    named: dict[str, float] = {}
    touched = any(one.kind == "touch" for one in row.things)
    for one in sorted(row.things, key=lambda thing: thing.kind == "fast" and -thing.days):
        kind = one.kind.partition(" ")[0]
        if kind == "heal":
            whole = one.spans[0]
            if not touched and len(one.spans) > 1:
                named.setdefault("open", one.at)
            done = "closed" if whole.kind == "closed" else "clean"
            if scale.shows(whole.end):
                named.setdefault(f"{done}-usual", scale.x(whole.end))
            if whole.to_slow is not None and scale.shows(whole.to_slow):
                named.setdefault(f"{done}-slow", scale.x(whole.to_slow))
        elif kind == "touch":
            cored = any(len(other.spans) > 1 and other.at == one.at for other in row.things)
            named.setdefault("touch-open" if cored else "touch", one.at)
        elif kind == "out":
            named.setdefault("out", one.at - 1)
        else:
            named.setdefault(kind, one.at + one.days / 2)
    return named


class Line(Struct, frozen=True):
    """The whole drawing; `style` gives its places."""

    scale: DayScale
    months: tuple[Month, ...]
    columns: tuple[Column, ...]
    band: Band
    today: str
    rows: tuple[FishRow, ...]
    blank: tuple[FishLine, ...]  # fish with nothing to draw
    example: Example | None
    style: str


def season_line(plan: Plan) -> Line:
    """Draw the plan: fish that are entered first, then those with something dated."""
    shows = sorted(
        (show for show in plan.shows if show.standing == "planned"), key=lambda one: one.departure
    )
    days = [span.end for span in plan.spans] + [span.start for span in plan.spans]
    days += [show.home.date() for show in shows]
    scale = scale_for(plan.planned_on, days)
    spans: dict[str, list[Span]] = {}
    for span in plan.spans:
        spans.setdefault(span.fish, []).append(span)
    said: dict[str, list[Verdict]] = {}
    for verdict in plan.verdicts:
        said.setdefault(verdict.fish, []).append(verdict)
    here = [(at, fish) for at, fish in enumerate(plan.fish) if fish.gone is None]
    drawing = Drawing(
        scale, {show.id: show for show in shows}, {show.id: n for n, show in enumerate(shows, 1)}
    )
    places = drawing.places
    columns, levels = _columns(shows, scale, places)
    rows = tuple(
        row_of(drawing, fish, at, spans[fish.id], said.get(fish.id, []))
        for at, fish in _in_order(here, shows, spans)
    )
    months, band = months_of(scale, places), band_of(plan, scale, places)
    today, example = places.at(scale.x(plan.planned_on)), example_of(rows, scale, places)
    return Line(
        scale=scale,
        months=months,
        columns=columns,
        band=band,
        today=today,
        rows=rows,
        blank=tuple(fish for _, fish in here if fish.id not in spans),
        example=example,
        style=f".season{{--n:{scale.days};--levels:{levels}}}{places.rules()}",
    )


def _in_order(
    here: Iterable[tuple[int, FishLine]], shows: Iterable[ShowLine], spans: dict[str, list[Span]]
) -> list[tuple[int, FishLine]]:
    entered = {fish for show in shows for fish in show.entered}
    drawn = [(at, fish) for at, fish in here if fish.id in spans]
    return sorted(drawn, key=lambda pair: (pair[1].id not in entered, pair[0]))
