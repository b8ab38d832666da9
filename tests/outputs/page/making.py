"""Parts of invented plans: waters, wounds, shows and the jobs around them.

They are shaped like the planner's own, and their days hang together, but they check nothing: what
the figures ought to be is tested where they are calculated.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from msgspec.structs import replace

from showprep.husbandry.reason import Blemish, Centimetres, Reason, reason
from showprep.planning.plan import (
    ExpectedClass,
    ExpectedLength,
    FishLine,
    HealingLine,
    ShowLine,
    Span,
    Task,
    WaterLine,
)

ZONE = "Europe/Dublin"
TZ = ZoneInfo(ZONE)
DAY = timedelta(days=1)
SPECK = {"closed": (5.0, 15.0, 40.0, 1), "clean": (100.0, 180.0, 320.0, 7)}
ULCER = {"closed": (200.0, 500.0, 1000.0, 21), "clean": (700.0, 1500.0, 2500.0, 60)}
SCALE = {"closed": (10.0, 30.0, 80.0, 2), "clean": (250.0, 400.0, 900.0, 21)}


def pond(name: str, start: date, days: int, *, colder: float = 0.0) -> WaterLine:
    """A water that follows a made-up year, with three readings."""
    means = tuple(
        round(
            14.0
            - colder
            - 7.5 * math.cos((start + n * DAY - date(start.year, 1, 28)).days * 2 * math.pi / 365),
            2,
        )
        for n in range(days)
    )
    readings = tuple(
        (start + n * DAY, round(means[n] + off, 1)) for n, off in ((1, 0.6), (9, -0.5), (15, 0.3))
    )
    return WaterLine(name, start, means, readings)


def vat(name: str, start: date, days: int, at: float = 22.0) -> WaterLine:
    return WaterLine(name, start, (at,) * days, ())


def healing(
    water: WaterLine,
    start: date,
    deadlines: tuple[date, date],
    figures: dict[str, tuple[float, float, float, int]],
    *,
    defect: str = "shimi",
    where: str = "left shoulder",
    touched: bool = True,
) -> tuple[HealingLine, ...]:
    """Both milestones of one wound, gathered day by day in `water`."""
    curve, gathered = [(start, 0.0)], 0.0
    first = (start - water.start).days
    for number, mean in enumerate(water.means_c[first + 1 :], start=1):
        gathered = round(gathered + max(0.0, min(mean, 26.0) - 8.0), 2)
        curve.append((start + number * DAY, gathered))
    made = []
    for name, deadline in (("closed", deadlines[0]), ("clean", deadlines[1])):
        low, usual, high, least = figures[name]
        on = [_reached(curve, need, start + least * DAY) for need in (low, usual, high)]
        late = on[1] is None or on[1] > deadline
        last = max([day for day in (*on, deadline) if day is not None])
        made.append(
            HealingLine(
                defect=defect,
                where=where,
                milestone="closed" if name == "closed" else "clean",
                start=start,
                after_touch_up=touched,
                deadline=deadline,
                low_on=on[0],
                usual_on=on[1],
                high_on=on[2],
                short_days=(on[1] - deadline).days if late and on[1] else None,
                low=low,
                usual=usual,
                high=high,
                least_days=least,
                unit="degree-days",
                grade="derived",
                water=water.name,
                gathered_by_deadline=next((g for d, g in curve if d == deadline), gathered),
                curve=tuple(point for point in curve if point[0] <= last + 4 * DAY),
            )
        )
    return tuple(made)


def _reached(curve: list[tuple[date, float]], need: float, not_before: date) -> date | None:
    return next((day for day, got in curve if got >= need and day >= not_before), None)


def spans_of(fish: str, show: str, healed: Sequence[HealingLine]) -> tuple[Span, ...]:
    """The stretches of one healing, to draw."""
    made = []
    for one in healed:
        end = one.usual_on or one.curve[-1][0]
        made.append(
            Span(
                fish,
                one.milestone,
                one.start,
                end,
                one.high_on,
                one.defect,
                show,
                one.usual_on is not None and one.usual_on <= one.deadline,
            )
        )
    return tuple(made)


def show(
    show_id: str,
    name: str,
    benched: date,
    entered: tuple[str, ...],
    *,
    limits: tuple[Reason, ...] = (
        reason("limit-fish", most=4),
        reason("limit-total", most=Centimetres(250)),
    ),
    close: int = 21,
) -> ShowLine:
    """A two-day show, benched the afternoon before judging."""
    at = datetime(benched.year, benched.month, benched.day, tzinfo=TZ)
    return ShowLine(
        id=show_id,
        name=name,
        standing="planned",
        time_zone=ZONE,
        judging=at.replace(hour=10) + DAY,
        departure=at.replace(hour=10, minute=30),
        latest_departure=at.replace(hour=17, minute=30),
        arrive_from=at.replace(hour=13),
        arrive_to=at.replace(hour=20),
        benching=at.replace(hour=13),
        check_out=at.replace(hour=14) + 2 * DAY,
        home=at.replace(hour=16, minute=30) + 2 * DAY,
        entries_close=benched - close * DAY,
        water_c=18.0,
        altered_fish="not stated",
        entered=entered,
        limits=limits,
    )


def job(
    task_id: str,
    kind: str,
    title: str,
    start: date | datetime,
    end: date | datetime | None = None,
    **more: object,
) -> Task:
    """A job; all-day when `start` is a day."""
    timed = isinstance(start, datetime)
    task = Task(
        id=task_id,
        kind=kind,
        title=title,
        fish=(),
        show=None,
        water=None,
        start=start,
        end=end or start,
        all_day=not timed,
        time_zone=ZONE if timed else None,
        grade="common practice",
    )
    return replace(task, **more)


def show_jobs(one: ShowLine, water: str = "main pond") -> tuple[Task, ...]:
    """The jobs that hang on one show."""
    left, fish = one.departure, one.entered
    day = left.date()

    def of_show(kind: str, title: str, days: int, note: str, **more: object) -> Task:
        return job(
            f"{one.id}/{kind}",
            kind,
            title,
            day - days * DAY,
            show=one.id,
            fish=fish,
            note=note,
            counts_from=f"{days} days before departure",
            **more,
        )

    return (
        of_show("colour-food", f"Stop colour food for {one.name}", 56,
                "White turns pink on colour food; plain food from here."),
        of_show("entry-form", f"Send the entries for {one.name}", 26,
                "Variety, length and a photo of each fish."),
        of_show("measure", f"Measure and look over the entries for {one.name}", 13,
                "One netting: length, bowl, skin scrape, go or stay.", hands=True),
        of_show("oxygen", f"Fill the oxygen for {one.name}", 6,
                "Cylinder, regulator, hose, bags, bands.", hands=True),
        replace(
            of_show("stop-feeding", f"No food for the {water} until {one.name}", 6,
                    "The whole pond fasts together.", water=water,
                    cautions=("The other fish in this water fast too.",)),
            end=day,
        ),
        job(f"{one.id}/bag", "bag", f"Net, bag and load for {one.name}",
            left - timedelta(hours=1.5), left,
            show=one.id, fish=fish, hands=True, alarm=timedelta(hours=1),
            note="Net without haste. Fish just covered, two bags each, boxes across the journey.",
            cautions=("Do not sedate a fish for the journey.",)),
        job(f"{one.id}/departure", "departure", f"Leave for {one.name}", left,
            left + timedelta(hours=2.5), show=one.id, fish=fish),
        job(f"{one.id}/benching", "benching", f"Benching at {one.name}", one.benching,
            one.benching + timedelta(hours=1), show=one.id, fish=fish,
            note="Be there; fish are looked over and measured."),
        job(f"{one.id}/home", "home", f"Home from {one.name}: into isolation", one.home, one.home,
            show=one.id, fish=fish, water="isolation vat",
            note="Float the closed bags; the fish go into the isolation vat, not the pond.",
            cautions=("Own net and bowl for the vat until it is cleared.",)),
        replace(
            job(f"{one.id}/isolation", "isolation", f"Isolation after {one.name}",
                one.home.date(), one.home.date() + 28 * DAY, show=one.id, fish=fish,
                water="isolation vat", note="All in, all out.", counts_from="28 days from home"),
            cautions=("Ring a vet when a fish hangs, flashes or goes off its food.",),
        ),
    )  # fmt: skip


def show_spans(one: ShowLine) -> tuple[Span, ...]:
    """Fast, show and isolation of every fish entered."""
    made = []
    for fish in one.entered:
        left, home = one.departure.date(), one.home.date()
        made += [
            Span(fish, "fast", left - 6 * DAY, left, None, "stop-feeding", one.id),
            Span(fish, "at-show", left, home, None, "", one.id),
            Span(fish, "isolation", home, home + 28 * DAY, None, "isolation", one.id),
        ]
    return tuple(made)


def session_jobs(day: date, fish: tuple[str, ...], names: str, show_id: str) -> tuple[Task, ...]:
    """A touch-up session with its fast, kit and look-backs."""
    return (
        job(f"kit/{fish[0]}", "touch-up-kit", f"Lay out the kit for the touch-up of {names}",
            day - 3 * DAY, fish=fish, show=show_id,
            note="Two tubs of pond water, airstones, thermometer, timer, the bottle with its "
                 "strength, syringe, wet cloth, gloves, goggles, a second person."),
        job(f"unfed/{fish[0]}", "unfed-before-touch-up", "No food for the main pond before the "
            "touch-up", day - 2 * DAY, day - DAY, fish=fish, show=show_id, water="main pond",
            note="2 days unfed, so that nothing comes up under sedation.",
            counts_from="2 days before the touch-up"),
        job(f"touch-up/{fish[0]}", "touch-up", f"Touch-up: {names}", day, fish=fish, show=show_id,
            hands=True, water="main pond", alarm=timedelta(hours=4),
            counts_from="the window between healing in time and the speck's return",
            note=f"{names}, smallest dose first, one at a time.",
            cautions=(
                "Sedating and cutting fish is a vet's work by law in some countries: check yours.",
                "Gills stopped: clean aerated water now.",
                "Never a dose without the strength on the bottle.",
            )),
        job(f"look-back-1/{fish[0]}", "look-back", f"Look back at {names}, 1 week after the "
            "touch-up", day + 7 * DAY, fish=fish, show=show_id, hands=True,
            note="Closed? Clean? Red, fluffy or dark? Write it down.",
            counts_from="7 days after the touch-up"),
        job(f"look-back-2/{fish[0]}", "look-back", f"Look back at {names}, 2 weeks after the "
            "touch-up", day + 14 * DAY, fish=fish, show=show_id, hands=True,
            note="Closed? Clean? Red, fluffy or dark? Write it down.",
            counts_from="14 days after the touch-up"),
    )  # fmt: skip


def session_spans(day: date, fish: tuple[str, ...]) -> tuple[Span, ...]:
    made = []
    for one in fish:
        made += [
            Span(one, "touch-up", day, day, None, "touch-up"),
            Span(one, "look-back", day + 7 * DAY, day + 7 * DAY, None, "look-back"),
            Span(one, "look-back", day + 14 * DAY, day + 14 * DAY, None, "look-back"),
        ]
    return tuple(made)


def fish_line(fish_id: str, name: str, variety: str, merit: float, cm: float,
              defects: tuple[Blemish, ...] = (), **more: object) -> FishLine:  # fmt: skip
    line = FishLine(
        id=fish_id,
        name=name,
        variety=variety,
        lives_in="main pond",
        merit=merit,
        defects=defects,
        length_cm=cm,
        weight_kg=round(0.0000165 * cm**3, 2),
    )
    return replace(line, **more)


def sized(cm: float) -> tuple[ExpectedLength, ExpectedClass]:
    upper = min(bound for bound in (25, 35, 45, 55, 65, 75, 95) if bound >= cm + 1)
    near = upper - cm - 1 < 1.5
    names = (f"to {upper} cm", f"to {upper + 10} cm") if near else (f"to {upper} cm",)
    limit = reason("near-class-limit", length=Centimetres(cm + 1), limit=Centimetres(upper))
    return (
        ExpectedLength(cm + 1, cm - 0.4, cm + 2.4, reason("own-growth")),
        ExpectedClass(names[0], names, limit if near else None),
    )


def in_order(*tasks: Task) -> tuple[Task, ...]:
    return tuple(sorted(tasks, key=lambda task: (task.first_day, task.id)))


def speck(where: str = "left shoulder") -> Reason:
    """One speck, as it is spoken of."""
    return reason("speck", it=Blemish("shimi", where), more=0)


CAUTIONS = (reason("law"), reason("healing-unproven"))
