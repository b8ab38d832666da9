"""The season line: weeks across, a row a fish, the shows as columns of light.

A healing wound is drawn as what it is: a wedge that starts wide on the day it begins and closes
to a point on the day it is healed. The slow case is the longer, hatched wedge behind it. Where a
show stands, a mark and a word say whether the wound is in time for it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from showprep.outputs.page.scale import Scale, Tick, scale_for
from showprep.outputs.page.season_row import Drawing, Row, row_of
from showprep.outputs.page.temperature import Band, band_of
from showprep.planning.plan import FishLine, Plan, ShowLine, Span, Verdict

ROW = 52  # units a row
LEVEL = 21  # units a line of show names
LONGEST_NAME = 26  # letters
LETTER = 8.2  # a letter's usual width in a show's name


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
        levels=max((round(c.name_y / LEVEL) for c in columns), default=1),
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


def _columns(shows: Iterable[ShowLine], scale: Scale) -> Iterable[Column]:
    taken: list[float] = []  # by level, where the last name ends
    for show in sorted(shows, key=lambda one: one.departure):
        x = scale.x(show.departure.date())
        home = scale.x(show.home.date()) + scale.a_day
        room = min(len(show.name), LONGEST_NAME) * LETTER + 14
        name_x = max(0.0, min(x, scale.width - room))
        level = next((n for n, end in enumerate(taken) if end <= name_x), len(taken))
        if level == len(taken):
            taken.append(0.0)
        taken[level] = name_x + room
        width = round(max(min(home, scale.width) - x, 5.0), 1)
        yield Column(show, x, width, round(name_x, 1), (level + 1) * LEVEL)
