"""Jobs of one show: papers and preparation by table, and the hours of the journey itself."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from importlib.resources import files
from math import ceil
from typing import Literal

from msgspec.structs import replace
from pydantic import ConfigDict, StrictBool, StrictInt, TypeAdapter, ValidationError

from showprep.husbandry.driving import drives_by_night
from showprep.husbandry.figure_record import Grade
from showprep.husbandry.figures import FIGURES, FiguresInForce
from showprep.husbandry.reason import FishId, Kelvin, Litres, Reason, ShowId, reason
from showprep.planning.jobs.done_by import OF_WATERS
from showprep.planning.jobs.draft import Draft, timed
from showprep.planning.plan import Task, Warning_
from showprep.planning.worksheets.bags_season import way_there
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

AN_HOUR = timedelta(hours=1)
AFTER_HOME = frozenset({"home"})
ON_FORM, RESERVES = "send-entry", ("send-entry", "final-check")  # they tell of the reserve


Event = Literal[
    "judging", "benching", "departure", "home", "entries_close", "photos_due", "vat_booked_by"
]
Condition = Literal["isolation", "certificate", "declaration"]


@dataclass(frozen=True, slots=True)
class JobRow:
    """One row of `tables/jobs.toml`, which says what each field means; the window in days [d]."""

    __pydantic_config__ = ConfigDict(extra="forbid")

    kind: str
    event: Event
    earliest: StrictInt
    ideal: StrictInt
    latest: StrictInt
    hands: StrictBool
    grade: Grade
    source: str
    before: str | None = None
    only_if: Condition | None = None
    alarm: StrictBool = False
    until_sent: StrictBool = False
    until_measured: StrictBool = False
    until_event: StrictBool = False
    passes: StrictBool = False

    def __post_init__(self) -> None:
        if not self.earliest <= self.ideal <= self.latest:
            raise ValueError("earliest, ideal and latest do not rise")
        if self.before is not None and (self.before not in FIGURES or not self._in_days):
            raise ValueError(f"before: there is no figure in days called {self.before}")

    @property
    def _in_days(self) -> bool:
        return self.before is not None and FIGURES[self.before].unit == "d"

    def days(self, figures: FiguresInForce) -> tuple[int, int, int]:
        """Earliest, ideal and latest day from the event [d], by the figures in force."""
        sooner = ceil(figures[self.before] - 1e-9) if self.before is not None else 0
        return self.earliest - sooner, self.ideal - sooner, self.latest - sooner


@cache
def job_table() -> tuple[JobRow, ...]:
    """The rows of `tables/jobs.toml`, in order."""
    text = files("showprep.planning").joinpath("tables/jobs.toml").read_text(encoding="utf-8")
    return job_rows(tomllib.loads(text)["job"])


def job_rows(raw: Sequence[Mapping[str, object]]) -> tuple[JobRow, ...]:
    """The rows, each checked. Raises ValueError with the row and what is wrong in it."""
    reader, rows = TypeAdapter(JobRow), []
    for number, row in enumerate(raw, start=1):
        try:
            rows.append(reader.validate_python(row))
        except ValidationError as error:
            first = error.errors()[0]
            where = ".".join(map(str, first["loc"]))
            named = f"job {number} ({row.get('kind', 'no kind')})"
            raise ValueError(f"jobs.toml, {named}: {where} {first['msg']}") from error
    return tuple(rows)


def show_jobs(
    yard: Yard, events: Events, fish: Sequence[str], reserve: str | None = None
) -> Iterator[Draft | Task]:
    """Every dated job of one show for the fish entered in it; `reserve` steps in first."""
    for row in job_table():
        day = _event_day(events, row.event)
        if day is None or not _applies(yard, events, row.only_if):
            continue
        if _gone_by(yard, events, row, day) or _measured(yard, row, day, fish):
            continue
        water = None
        if row.kind in OF_WATERS and yard.keeper.isolation is not None:
            water = yard.keeper.isolation.water if row.event in AFTER_HOME else None
        draft = _draft(yard, events, row, day, tuple(fish), water)
        if row.kind in RESERVES and fish:
            draft = replace(draft, note=_with_reserve(draft.note, events, row.kind, reserve))
        yield draft
    yield from _journey(yard, events, tuple(fish))


def _draft(
    yard: Yard, events: Events, row: JobRow, day: date, fish: tuple[str, ...], water: str | None
) -> Draft:
    earliest, ideal, latest = row.days(yard.figures)
    show = ShowId(events.show)
    return Draft(
        id=f"{events.show}/{row.kind}",
        kind=row.kind,
        title=reason("job-of-show", job=row.kind, show=show),
        earliest=day + timedelta(days=earliest),
        ideal=day + timedelta(days=ideal),
        latest=day + timedelta(days=latest),
        fish=fish,
        show=events.show,
        water=water,
        hands=row.hands,
        alarm=row.alarm,
        note=reason(
            "job-of-show-how",
            job=row.kind,
            show=show,
            months=events.record.declaration_months,
            rate=Kelvin(yard.figures["temp_ramp"]),
            untreated=round(yard.figures["treatment_warn"]),
        ),
        late_cost=reason("job-of-show-late", job=row.kind),
        counts_from=reason("days-from-event", days=ideal, event=row.event),
        grade=row.grade,
    )


def _with_reserve(note: Reason | None, events: Events, job: str, reserve: str | None) -> Reason:
    """What is to be done, and what becomes of the first reserve by the show's own rule."""
    assert note is not None
    rule = events.record.reserve_on_form
    if reserve is None or rule == "not allowed":
        if job == ON_FORM:
            return note
        # Once the form is in, a reserve on it is known to the keeper alone.
        closed = rule == "not allowed"
        said = reason("reserve-none") if closed else reason("reserve-if-named")
    elif job == ON_FORM:
        said = reason("reserve-on-form", fish=FishId(reserve), rule=rule)
    else:
        said = reason("reserve-steps-in", fish=FishId(reserve), rule=rule)
    return reason("with-reserve", how=note, reserve=said)


def _event_day(events: Events, name: Event) -> date | None:
    record = events.record
    days: dict[Event, date | None] = {
        "judging": events.judging_day,
        "benching": events.benching_day,
        "departure": events.departure_day,
        "home": events.home_day,
        "entries_close": record.entries_close,
        "photos_due": record.photos_due,
        "vat_booked_by": record.vat_booked_by,
    }
    return days[name]


def _applies(yard: Yard, events: Events, condition: Condition | None) -> bool:
    conditions: dict[Condition | None, bool] = {
        None: True,
        "isolation": yard.keeper.isolation is not None,
        "certificate": events.record.health_certificate,
        "declaration": events.record.declaration_months is not None,
    }
    return conditions[condition]


def _gone_by(yard: Yard, events: Events, row: JobRow, day: date) -> bool:
    """Is it no job any more: the fish have left, the form is in, or the day simply passed?"""
    if row.event not in AFTER_HOME and events.departure_day < yard.on:
        return True
    if row.until_sent and events.show in yard.state.sent:
        return True
    if row.until_event and day < yard.on:
        return True
    return row.passes and day + timedelta(days=row.days(yard.figures)[2]) < yard.on


def _measured(yard: Yard, row: JobRow, day: date, fish: Sequence[str]) -> bool:
    """Was every one of these fish measured since the first day of the job?"""
    first = day + timedelta(days=row.days(yard.figures)[0])
    return row.until_measured and all(
        yard.state.fish[one].lengths and yard.state.fish[one].lengths[-1][0] >= first
        for one in fish
    )


def _journey(yard: Yard, events: Events, fish: tuple[str, ...]) -> Iterator[Task]:
    show, named = events.show, ShowId(events.show)
    if events.departure_day >= yard.on:
        yield timed(
            f"{show}/bag",
            "bag",
            events.bagged_at,
            events.departure,
            events.home_zone,
            title=reason("bag", show=named),
            show=show,
            fish=fish,
            hands=True,
            note=reason("bag-how"),
            counts_from=reason("before-departure"),
            alarm=AN_HOUR,
        )
        yield _departure(yard, events, fish)
        yield from _oxygen_stop(events, fish)
        yield from _changes_of_water(yard, events, fish)
        yield timed(
            f"{show}/arrive",
            "arrive",
            events.arrive_from,
            events.arrive_to,
            events.zone,
            title=reason("arrive", show=named),
            show=show,
            fish=fish,
            note=reason("arrive-how"),
            cautions=(reason("no-air-into-bags"),),
        )
    for kind, start in (("benching", events.benching), ("judging", events.judging)):
        if start.date() >= yard.on:
            yield timed(
                f"{show}/{kind}",
                kind,
                start,
                start + AN_HOUR,
                events.zone,
                title=reason("event-at-show", event=kind, show=named),
                show=show,
                fish=fish,
                counts_from=reason("as-shows-file-says"),
            )
    if events.home_day >= yard.on:
        yield timed(
            f"{show}/check-out",
            "check-out",
            events.check_out,
            events.home,
            events.zone,
            title=reason("check-out", show=named),
            show=show,
            fish=fish,
            note=reason("check-out-how", fish=tuple(map(FishId, fish))),
            counts_from=reason("as-shows-file-says"),
        )


def _departure(yard: Yard, events: Events, fish: tuple[str, ...]) -> Task:
    drive = events.drive
    night = drives_by_night(events.departure, drive.hours, yard.figures)
    return timed(
        f"{events.show}/departure",
        "departure",
        events.departure,
        events.arrive_from,
        events.home_zone,
        title=reason("leave", show=ShowId(events.show)),
        show=events.show,
        fish=fish,
        note=reason(
            "on-the-road",
            hours=round(drive.driving_h, 2),
            stops=drive.stops,
            minutes=round(60 * drive.stop_h),
            open=events.arrive_from,
            latest=events.latest_departure,
            close=events.arrive_to,
        ),
        counts_from=reason(
            "hours-before-arrival", hours=round(drive.driving_h, 2), stops=drive.stops
        ),
        cautions=(night_drive(yard, events),) if night else (),
        alarm=timedelta(0),
    )


def night_drive(yard: Yard, events: Events) -> Reason:
    """On the road before the hour from which one drives alone: what may be done instead.

    A later departure is offered where one after that hour still makes the arrival window.
    """
    first = timedelta(hours=yard.figures["drive_from"])
    day = events.arrive_from.astimezone(events.departure.tzinfo).date()
    morning = datetime.combine(day, time(), events.departure.tzinfo) + first
    later = morning if events.departure < morning <= events.latest_departure else None
    return reason("drives-by-night", leave=events.departure, morning=morning, later=later)


def _oxygen_stop(events: Events, fish: tuple[str, ...]) -> Iterator[Task]:
    """On a long way the oxygen is renewed at the stop nearest the middle."""
    drive = events.drive
    if drive.oxygen_after_h is None:
        return
    utc = events.departure.astimezone(UTC) + timedelta(minutes=round(60 * drive.oxygen_after_h))
    start = utc.astimezone(events.departure.tzinfo)
    yield timed(
        f"{events.show}/oxygen",
        "oxygen",
        start,
        start + timedelta(minutes=round(60 * drive.stop_h)),
        events.home_zone,
        title=reason("oxygen-on-the-way", show=ShowId(events.show)),
        show=events.show,
        fish=fish,
        note=reason("oxygen-on-the-way-how"),
        counts_from=reason("middle-of-the-way", hours=round(drive.hours, 2)),
    )


def _changes_of_water(yard: Yard, events: Events, fish: tuple[str, ...]) -> Iterator[Task]:
    """The bags that are not good for the whole way, at each stop where their water is changed."""
    due: dict[datetime, list[tuple[str, float]]] = {}
    for one in fish:
        sheet = way_there(yard, events, one)
        if sheet is None or sheet.ways is None or sheet.ways.water_l is None:
            continue
        if sheet.ways.travels(sheet.ask) != "change":
            continue
        for at in sheet.ways.change_at:
            due.setdefault(at, []).append((one, sheet.ways.water_l))
    minutes = timedelta(minutes=round(60 * events.drive.stop_h))
    for number, (at, bags) in enumerate(sorted(due.items()), 1):
        named = tuple(one for one, _ in bags)
        yield timed(
            f"{events.show}/change-water/{number}",
            "change-water",
            at,
            at + minutes,
            events.home_zone,
            title=reason("change-water", show=ShowId(events.show), fish=tuple(map(FishId, named))),
            show=events.show,
            fish=named,
            note=reason("change-water-how", fresh=Litres(sum(litres for _, litres in bags))),
            counts_from=reason("hours-of-the-bag"),
        )


def journey_warnings(yard: Yard, events: Events) -> Iterator[Warning_]:
    """What is wrong with the hours of a journey that fish go on."""
    ahead = events.departure_day >= yard.on
    if ahead and drives_by_night(events.departure, events.drive.hours, yard.figures):
        why = reason("night-journey", show=ShowId(events.show), why=night_drive(yard, events))
        yield Warning_("warn", why, show=events.show)
