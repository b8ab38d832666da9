"""The wall chart: the season on one sheet of paper, fish by weeks, with boxes to tick.

Drawn in millimetres for a landscape page that fits on A4 and on Letter, every letter 10 pt or more,
every sort of mark of a shape or hatch of its own: it has to be read in grey. Where a day is drawn
is worked out here; the days are the plan's.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from msgspec import Struct

from showprep.outputs.words.plain import spoken_with_year
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.wall import (
    bar_text,
    count_text,
    hands_text,
    headings,
    more_text,
    stays_text,
    touch_up_text,
)
from showprep.planning.plan import FishLine, Plan, ShowLine, Span, Task, WaterLine
from showprep.season.values.days import MONTHS
from showprep.season.values.quantities import show_temperature

WIDTH, HEIGHT = 255.0, 186.0  # mm: Letter lying, less margins of 12 mm, and a line of foot
NAMES = 36.0  # mm at the left
TEXT = 3.6  # mm: 10.2 pt
LETTER = 0.52  # of the size of the type, on average; capitals and bold take more
BOLD = 0.62
TOP = 43.0  # mm down to the first row: title, months, weeks, shows, water
WATER_TOP, WATER_HEIGHT = 30.0, 8.0
HANDS_LINES, HANDS_LINE = 5, 4.6
FOOT = 16.0  # mm: key and foot
ROW, LEAST_ROW = 14.0, 11.0
BAR = 5.0
BOX = 3.4
LONGEST = 300  # days
MOST_PAGES = 3
DAYS_AFTER = 4
WEEK = 7
DEGREES_APART = 14.0  # mm between two figures on the water's line


def across(text: str, bold: bool = False, size: float = TEXT) -> float:
    """How wide a text is drawn [mm], on the wide side; some scripts have wide letters."""
    letters = sum(2.0 if ord(letter) > 0x2E7F else 1.0 for letter in text)
    return letters * size * (BOLD if bold else LETTER)


def fitted(text: str, room: float, bold: bool = False, size: float = TEXT) -> str:
    """The text, cut with an ellipsis where it is wider than `room` [mm]."""
    if across(text, bold, size) <= room:
        return text
    while text and across(f"{text}…", bold, size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…" if text else ""


class Label(Struct, frozen=True):
    """Words on the chart. `end`: they end at x."""

    x: float
    y: float
    text: str
    bold: bool = False
    end: bool = False
    large: bool = False


class Shape(Struct, frozen=True):
    """A mark: its kind picks how it is drawn; a wedge has points."""

    kind: str
    x: float
    y: float
    width: float = 0.0
    height: float = 0.0
    points: str = ""
    text: str = ""


class Rule(Struct, frozen=True):
    """A line across or down the chart."""

    x1: float
    y1: float
    x2: float
    y2: float
    kind: str = ""


class WallPage(Struct, frozen=True):
    """One sheet of the chart."""

    number: int
    count: int
    labels: tuple[Label, ...]
    shapes: tuple[Shape, ...]
    rules: tuple[Rule, ...]
    water: str  # points of the line of the first water
    waters: tuple[Label, ...]
    foot: str


class Weeks(Struct, frozen=True):
    """Days across the chart."""

    first: date
    days: int

    @property
    def a_day(self) -> float:
        return (WIDTH - NAMES) / self.days

    def x(self, day: date) -> float:
        """Where a day begins [mm], kept on the chart."""
        number = min(max((day - self.first).days, 0), self.days)
        return round(NAMES + number * self.a_day, 2)

    def after(self, day: date) -> float:
        """Where a day ends [mm]."""
        return round(min(self.x(day) + self.a_day, WIDTH), 2)

    def has(self, day: date) -> bool:
        return 0 <= (day - self.first).days < self.days

    def dates(self) -> Iterator[date]:
        return (date.fromordinal(self.first.toordinal() + n) for n in range(self.days))


def wall_pages(plan: Plan) -> tuple[WallPage, ...]:
    """The chart, on as many sheets as the fish need, at most three; none without a show ahead."""
    shows = [show for show in plan.shows if show.standing == "planned"]
    if not shows:
        return ()
    weeks = _weeks(plan, shows)
    rows = _in_order(plan)
    hands = HEIGHT - FOOT - HANDS_LINES * HANDS_LINE - 3
    height = min(ROW, max(LEAST_ROW, (hands - TOP) / max(1, len(rows))))
    first, others = (int((end - TOP) / height) for end in (hands, HEIGHT - FOOT))
    dealt = [rows[:first]]
    dealt += [rows[at : at + others] for at in range(first, len(rows), others)]
    left_out = sum(map(len, dealt[MOST_PAGES:]))
    dealt = dealt[:MOST_PAGES]
    return tuple(
        _page(plan, weeks, shows, some, height, number, len(dealt), left_out)
        for number, some in enumerate(dealt, start=1)
    )


def _weeks(plan: Plan, shows: Iterable[ShowLine]) -> Weeks:
    ends = [show.home.date() for show in shows]
    ends += [span.end for span in plan.spans if span.kind in ("isolation", "at-show")]
    last = max([*ends, plan.planned_on]).toordinal() + DAYS_AFTER
    first = plan.planned_on
    return Weeks(first, min(max(last - first.toordinal(), 4 * WEEK), LONGEST))


def _in_order(plan: Plan) -> list[FishLine]:
    """Those that go first, the rest by merit."""
    goes = {one.fish for one in plan.verdicts if one.entered}
    here = [fish for fish in plan.fish if fish.gone is None]
    return sorted(here, key=lambda one: (one.id not in goes, -one.merit, one.id))


def _page(
    plan: Plan,
    weeks: Weeks,
    shows: Sequence[ShowLine],
    rows: Sequence[FishLine],
    height: float,
    number: int,
    count: int,
    left_out: int,
) -> WallPage:
    speaker = Speaker.of(plan)
    bottom = TOP + height * len(rows)
    labels = [*_head(speaker, plan, weeks), *_show_labels(weeks, shows)]
    shapes = [*_away(plan, weeks, bottom), *_show_columns(weeks, shows, bottom)]
    rules = [*_grid(weeks, bottom), Rule(0, TOP, WIDTH, TOP, "heavy")]
    goes = {one.fish for one in plan.verdicts if one.entered}
    for at, fish in enumerate(rows):
        y = TOP + at * height
        row_labels, row_shapes = _row(speaker, plan, weeks, fish, y, height)
        labels += row_labels
        shapes += row_shapes
        last_goer = fish.id in goes and (at + 1 == len(rows) or rows[at + 1].id not in goes)
        rules.append(Rule(0, y + height, WIDTH, y + height, "heavy" if last_goer else ""))
    if number == 1:
        hands_labels, hands_shapes = _hands(speaker, plan, weeks, bottom)
        labels += hands_labels
        shapes += hands_shapes
    if left_out and number == count:
        labels.append(Label(0, HEIGHT - FOOT - 1, more_text(left_out)))
    water, waters = _water(plan, weeks)
    return WallPage(
        number=number,
        count=count,
        labels=tuple(labels),
        shapes=tuple(shapes),
        rules=tuple(rules),
        water=water,
        waters=tuple(waters),
        foot=f"plan of {spoken_with_year(plan.planned_on)}",
    )


def _head(speaker: Speaker, plan: Plan, weeks: Weeks) -> Iterator[Label]:
    title = fitted(plan.season, 90, size=6.0)
    yield Label(0, 7, title, large=True)
    room = WIDTH - across(title, size=6.0) - 6
    for line, text in enumerate(_dealt_words(headings(speaker, plan), room)):
        yield Label(WIDTH, 4.6 + 4.6 * line, text, bold=True, end=True)
    yield Label(0, 19, "week from")
    yield Label(0, 25.5, "Shows", bold=True)
    for day in weeks.dates():
        x = weeks.x(day)
        first = day == weeks.first
        if day.day == 1 or (first and day.day < 18):
            year = f" {day.year}" if day.month == 1 or first else ""
            text = MONTHS[day.month - 1] + year
            if x + across(text, bold=True) + 1 < WIDTH:
                yield Label(x + 1, 14, text, bold=True)
        if (day - weeks.first).days % WEEK == 0 and x < WIDTH - 6:
            yield Label(x + 0.8, 19, str(day.day))


def _dealt_words(texts: Iterable[str], room: float) -> list[str]:
    """The texts on two lines; what does not fit is cut."""
    found = [""]
    for text in texts:
        longer = f"{found[-1]} {text}".strip()
        if found[-1] and len(found) < 2 and across(longer, bold=True) > room:
            found.append(text)
        else:
            found[-1] = longer
    return [fitted(one, room, bold=True) for one in found]


def _grid(weeks: Weeks, bottom: float) -> Iterator[Rule]:
    for day in weeks.dates():
        x = weeks.x(day)
        if day.day == 1:
            yield Rule(x, 10, x, bottom, "month")
        elif (day - weeks.first).days % WEEK == 0:
            yield Rule(x, 15.5, x, bottom, "week")
    yield Rule(0, 29.5, WIDTH, 29.5)


def _show_labels(weeks: Weeks, shows: Sequence[ShowLine]) -> Iterator[Label]:
    """A show's name at its column; the second line takes those that would meet the one before."""
    free = [0.0, 0.0]
    for show in sorted(shows, key=lambda one: one.judging):
        x = weeks.after(show.check_out.date()) + 0.8
        text = f"{show.name}, {count_text(show)}"
        room = min(68.0, WIDTH - x)
        if room < 30:
            x, room = weeks.x(show.departure.date()) - 68, 67.0
        said = fitted(text, room, bold=True)
        line = 0 if x >= free[0] else 1
        free[line] = x + across(said, bold=True) + 2
        yield Label(x, (24.0, 28.4)[line], said, bold=True)


def _show_columns(weeks: Weeks, shows: Iterable[ShowLine], bottom: float) -> Iterator[Shape]:
    for show in shows:
        x, end = weeks.x(show.departure.date()), weeks.after(show.check_out.date())
        kind = "show" if show.entered else "unlit"
        yield Shape(kind, x, 20.5, round(end - x, 2), round(bottom - 20.5, 2))


def _away(plan: Plan, weeks: Weeks, bottom: float) -> Iterator[Shape]:
    for first, last in plan.away:
        if last >= weeks.first and weeks.has(max(first, weeks.first)):
            x, end = weeks.x(first), weeks.after(last)
            yield Shape("away", x, TOP, round(end - x, 2), round(bottom - TOP, 2))


def _water(plan: Plan, weeks: Weeks) -> tuple[str, list[Label]]:
    """The line of the water most fish live in, with figures on it; the others by their means."""
    living = [fish.lives_in for fish in plan.fish]
    ordered = sorted(plan.waters, key=lambda water: -living.count(water.name))
    labels = [Label(0, 34, "Water", bold=True)]
    if not ordered:
        return "", labels
    main, others = ordered[0], ordered[1:]
    labels.append(Label(0, 39, fitted(main.name, NAMES - 2)))
    means = [(day, c) for day, c in _means(main) if weeks.has(day)]
    points = [f"{weeks.x(day)},{_height(c):.2f}" for day, c in means[::3]]
    last = 0.0
    for day, c in means:
        x = weeks.x(day)
        text = show_temperature(float(round(c)), plan.units).replace(".0", "")
        if x >= last + DEGREES_APART and x + across(text) < WIDTH:
            labels.append(Label(x + 1, _height(c) - 1.0, text))
            last = x
    said = ", ".join(
        f"{one.name} {show_temperature(float(round(found[0])), plan.units).replace('.0', '')}"
        for one in others
        if (found := [c for day, c in _means(one) if day == plan.planned_on])
    )
    if said:
        labels.append(Label(WIDTH, 42, fitted(f"now: {said}", 110), end=True))
    return " ".join(points), labels


def _means(water: WaterLine) -> Iterator[tuple[date, float]]:
    first = water.start.toordinal()
    return ((date.fromordinal(first + n), c) for n, c in enumerate(water.means_c))


def _height(celsius: float) -> float:
    share = min(max(celsius / 30.0, 0.0), 1.0)
    return WATER_TOP + 4.5 + WATER_HEIGHT * (1 - share)


def _row(
    speaker: Speaker, plan: Plan, weeks: Weeks, fish: FishLine, y: float, height: float
) -> tuple[list[Label], list[Shape]]:
    """The marks of one fish: words on the upper half, shapes on the lower."""
    low = y + height - BAR - 1.2
    words = y + height - BAR - 2.6
    labels = [
        Label(0, y + 5.2, fitted(fish.name, NAMES - 1, bold=True, size=4.6), bold=True, large=True),
        Label(0, y + height - 1.6, fitted(fish.lives_in, NAMES - 2)),
    ]
    shapes: list[Shape] = []
    spans = [one for one in plan.spans if one.fish == fish.id and one.end >= weeks.first]
    said: list[Label] = []
    for span in spans:
        shapes += _marks(weeks, span, low, plan)
        said += _words(weeks, span, words, low)
    verdicts = [one for one in plan.verdicts if one.fish == fish.id]
    if not any(one.entered for one in verdicts):
        text = stays_text(speaker, verdicts)
        line = words if shapes else low + 3.8
        said.append(Label(NAMES + 4, line, fitted(text, WIDTH - NAMES - 6)))
    labels += _apart(said)
    for label in said:
        if label.text.startswith(("TOUCH-UP", "apart", "no food")) and label in labels:
            end = label.x if label.end else label.x + across(label.text, label.bold)
            shapes.append(Shape("box", round(end + 0.8, 2), round(label.y - 3.0, 2), BOX, BOX))
    return labels, shapes


def _apart(labels: Sequence[Label]) -> list[Label]:
    """Words that do not meet: the more important of two stands."""
    kept: list[Label] = []
    order = sorted(labels, key=lambda one: (not one.bold, not one.text.startswith("apart"), one.x))
    for label in order:
        if not any(_meet(label, other) for other in kept):
            kept.append(label)
    return kept


def _meet(one: Label, two: Label) -> bool:
    if abs(one.y - two.y) >= TEXT:
        return False
    (a, b), (c, d) = _reach(one), _reach(two)
    return a < d + 1 and c < b + 1


def _reach(label: Label) -> tuple[float, float]:
    wide = across(label.text, label.bold) + BOX + 1.5
    return (label.x - wide, label.x + BOX) if label.end else (label.x, label.x + wide)


def _marks(weeks: Weeks, span: Span, low: float, plan: Plan) -> Iterator[Shape]:
    x, end = weeks.x(span.start), weeks.after(span.end)
    if span.kind == "clean":
        if span.to_slow is not None:
            yield _wedge("slow", weeks, span.start, span.to_slow, low)
        yield _wedge("healing", weeks, span.start, span.end, low)
    elif span.kind in ("fast", "isolation"):
        kind = "fast" if span.kind == "fast" else "apart"
        yield Shape(kind, x, low, round(max(end - x, 1.0), 2), BAR)
    elif span.kind == "at-show":
        initial = next((one.name[:1] for one in plan.shows if one.id == span.show), "")
        yield Shape("at-show", x, low - 0.6, round(max(end - x, 4.0), 2), BAR + 1.2, text=initial)
    elif span.kind == "touch-up":
        yield Shape("touch-up", x, low)
    elif span.kind == "look-back" and weeks.has(span.start):
        yield Shape("look", round(x + weeks.a_day / 2, 2), low + BAR / 2)


def _wedge(kind: str, weeks: Weeks, start: date, end: date, low: float) -> Shape:
    """From its full height on the day it begins to a point on the day it is clean."""
    middle = low + BAR / 2
    whole = max((end - start).days, 1)
    began = max((weeks.first - start).days, 0)
    left, right = weeks.x(start), weeks.x(end)
    top = BAR / 2 * max(0.0, 1 - began / whole)
    shown = min((end - start).days, weeks.days + began)
    tip = BAR / 2 * max(0.0, 1 - shown / whole)
    points = (
        f"{left},{middle - top:.2f} {right},{middle - tip:.2f} "
        f"{right},{middle + tip:.2f} {left},{middle + top:.2f}"
    )
    return Shape(kind, left, low, round(right - left, 2), BAR, points)


def _words(weeks: Weeks, span: Span, words: float, low: float) -> Iterator[Label]:
    x = weeks.x(span.start)
    if span.kind == "touch-up":
        text = touch_up_text(span)
        at_left = x - NAMES > across(text, bold=True) + 8
        yield Label(x - 5 if at_left else x, words, text, bold=True, end=at_left)
    elif text := bar_text(span):
        if span.kind == "fast":
            at_left = x - NAMES > across(text) + 8
            yield Label(x - 4.6 if at_left else x, words, text, end=at_left)
        else:
            wide = across(text) + 6
            yield Label(min(x + 6, WIDTH - wide), words, text)


def _hands(
    speaker: Speaker, plan: Plan, weeks: Weeks, top: float
) -> tuple[list[Label], list[Shape]]:
    """The jobs that need hands, each with a box on its day; lines deal out what would meet."""
    labels = [
        Label(0, top + 5, "Hands", bold=True, large=True),
        Label(0, top + 9.6, "jobs on these days"),
    ]
    shapes: list[Shape] = []
    by_day: dict[date, list[Task]] = {}
    for task in plan.tasks:
        if task.hands and weeks.has(task.first_day):
            by_day.setdefault(task.first_day, []).append(task)
    free = [0.0] * HANDS_LINES
    for day, tasks in sorted(by_day.items()):
        texts = list(dict.fromkeys(hands_text(speaker, one) for one in tasks))
        text = ", ".join(texts)
        x = min(weeks.x(day), WIDTH - BOX - 6)
        line = min(
            range(HANDS_LINES), key=lambda at: (free[at] > x, at if free[at] <= x else free[at])
        )
        y = top + 1.2 + line * HANDS_LINE
        x = min(max(x, free[line]), WIDTH - BOX)
        bold = any(one.isupper() for one in texts)
        said = fitted(text, WIDTH - x - BOX - 1, bold)
        shapes.append(Shape("box", round(x, 2), round(y, 2), BOX, BOX))
        if said:
            labels.append(Label(round(x + BOX + 0.8, 2), round(y + 3.0, 2), said, bold=bold))
        free[line] = x + BOX + across(said, bold) + 2.5
    return labels, shapes
