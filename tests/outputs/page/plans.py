"""Plans written out by hand, all invented, for looking at the page and testing it.

They are shaped like real plans, and their days hang together, but they check nothing: what the
figures ought to be is tested where they are reckoned.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from showprep.planning.plan import (
    Aim,
    Binding,
    Change,
    Choice,
    FishLine,
    Healing,
    LeftOut,
    Length,
    Plan,
    ShowLine,
    SizeClass,
    Span,
    Task,
    TouchUp,
    Verdict,
    Warning_,
    WaterLine,
    WayOut,
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
    readings = tuple((start + n * DAY, round(means[n] + off, 1)) for n, off in
                     ((1, 0.6), (9, -0.5), (15, 0.3)))
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
) -> tuple[Healing, ...]:
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
            Healing(
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
                mark="derived",
                water=water.name,
                gathered_by_deadline=next((g for d, g in curve if d == deadline), gathered),
                curve=tuple(point for point in curve if point[0] <= last + 4 * DAY),
            )
        )
    return tuple(made)


def _reached(curve: list[tuple[date, float]], need: float, not_before: date) -> date | None:
    return next((day for day, got in curve if got >= need and day >= not_before), None)


def spans_of(fish: str, show: str, healed: Sequence[Healing]) -> tuple[Span, ...]:
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
                f"{one.defect}, {one.where}: {one.milestone}",
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
    limits: tuple[str, ...] = ("4 fish", "250 cm in all"),
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
        mark="common practice",
    )
    return replace(task, **more)  # type: ignore[arg-type]


def show_jobs(one: ShowLine, water: str = "main pond") -> tuple[Task, ...]:
    """The jobs that hang on one show."""
    left, fish = one.departure, one.entered
    day = left.date()

    def of_show(kind: str, title: str, days: int, note: str, **more: object) -> Task:
        return job(f"{one.id}/{kind}", kind, title, day - days * DAY, show=one.id, fish=fish,
                   note=note, counts_from=f"{days} days before departure", **more)

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
        job(f"{one.id}/bag", "bag", f"Net, bag and load for {one.name}", left - timedelta(hours=1.5),
            left, show=one.id, fish=fish, hands=True, alarm=timedelta(hours=1),
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
            Span(fish, "fast", left - 6 * DAY, left, None, "no food", one.id),
            Span(fish, "at-show", left, home, None, one.name, one.id),
            Span(fish, "isolation", home, home + 28 * DAY, None, "apart", one.id),
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
            Span(one, "look-back", day + 7 * DAY, day + 7 * DAY, None, "look back"),
            Span(one, "look-back", day + 14 * DAY, day + 14 * DAY, None, "look back"),
        ]
    return tuple(made)


def fish_line(fish_id: str, name: str, variety: str, merit: float, cm: float,
              defects: tuple[str, ...] = (), **more: object) -> FishLine:  # fmt: skip
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
    return replace(line, **more)  # type: ignore[arg-type]


def sized(cm: float) -> tuple[Length, SizeClass]:
    upper = min(bound for bound in (25, 35, 45, 55, 65, 75, 95) if bound >= cm + 1)
    near = upper - cm - 1 < 1.5
    names = (f"to {upper} cm", f"to {upper + 10} cm") if near else (f"to {upper} cm",)
    return (
        Length(cm + 1, cm - 0.4, cm + 2.4, "from two measurements"),
        SizeClass(names[0], names, f"She may pass {upper} cm before the day." if near else None),
    )


def first_show() -> Plan:
    """One show, two fish: one to touch up, one that goes as she is."""
    on = date(2027, 3, 24)
    main = pond("main pond", on, 130)
    one = show("larkfield", "Larkfield Spring Show", date(2027, 6, 11), ("aoi", "brann"))
    day = date(2027, 4, 24)
    healed = healing(main, day, (one.departure.date(), one.benching.date()), SPECK)
    length, size = sized(52)
    verdicts = (
        Verdict("aoi", "larkfield", "ready-after-touch-up", True, 82,
                ("Shimi on the left shoulder: can be taken off from Fri 16 April to Sun 25 April "
                 "and be clean in time, in a slow case too.",),
                TouchUp(date(2027, 4, 16), date(2027, 4, 25), date(2027, 5, 9), day,
                        water="main pond"),
                healed, length, size,
                ("This show does not say how it sees touched-up fish: ask before you enter.",)),
        Verdict("brann", "larkfield", "ready", True, 74, ("Nothing to do.",), None, (), *sized(41)),
    )  # fmt: skip
    return Plan(
        season="first show",
        planned_on=on,
        time_zone=ZONE,
        units="metric",
        shows=(one,),
        fish=(
            fish_line("aoi", "Aoi", "kohaku", 82, 52, ("shimi 2 mm, left shoulder",)),
            fish_line("brann", "Brann", "chagoi", 74, 41),
        ),
        waters=(main, vat("isolation vat", on, 130)),
        verdicts=verdicts,
        tasks=_in_order(
            *session_jobs(day, ("aoi",), "Aoi", "larkfield"),
            *show_jobs(one),
            job("read/main", "read-water", "Read the main pond's temperature", on + 3 * DAY,
                hands=True, water="main pond", note="Mid-morning, half a metre down. A reading "
                "now moves the touch-up day by up to a week."),
            job("walk/quarantine", "isolation-running", "Start the isolation vat's filter",
                on + 4 * DAY, hands=True, water="isolation vat",
                note="So that it is ripe before the fish come home."),
        ),
        warnings=(Warning_("note", "The isolation vat has no reading this year."),),
        choice=Choice(156, True, aims=(Aim("merit", 156, 156, True),)),
        spans=(
            *session_spans(day, ("aoi",)),
            *spans_of("aoi", "larkfield", healed),
            *show_spans(one),
        ),
        cautions=CAUTIONS,
    )  # fmt: skip


CAUTIONS = (
    "Check the law where you live before any touch-up; when in doubt ask a vet.",
    "Healing times are derived from published wounds of carp and goldfish: no one has published "
    "them for show koi. Look at the fish, not only at the plan.",
)


def _in_order(*tasks: Task) -> tuple[Task, ...]:
    return tuple(sorted(tasks, key=lambda task: (task.first_day, task.id)))


def spring_circuit() -> Plan:
    """Eight fish, three shows, more wishes than boxes and weekends."""
    on = date(2027, 4, 7)
    main, warm = pond("main pond", on, 200), vat("isolation vat", on, 200)
    shows = (
        show("ardmoor", "Ardmoor Open", date(2027, 5, 21), ("cerise", "dunmore", "hollin")),
        show("larkfield", "Larkfield Spring Show", date(2027, 6, 11), ("aoi", "brann", "fenn")),
        show("quayside", "Quayside Young Koi Day", date(2027, 7, 16), ("aoi", "cerise")),
    )
    herd = (
        fish_line("aoi", "Aoi", "kohaku", 88, 58, ("shimi 2 mm, left shoulder",)),
        fish_line("brann", "Brann", "chagoi", 74, 61),
        fish_line("cerise", "Cerise", "sanke", 81, 46),
        fish_line("dunmore", "Dunmore", "showa", 79, 55, ("net mark, right flank",)),
        fish_line("elke", "Elke", "asagi", 77, 49, ("ulcer 12 mm, belly",)),
        fish_line("fenn", "Fenn", "shusui", 70, 38, ("shimi 1.5 mm, back",)),
        fish_line("gorse", "Gorse", "yamabuki ogon", 72, 52),
        fish_line("hollin", "Hollin", "utsuri", 76, 44, ("shimi 3 mm, near the eye",)),
    )
    session, early = date(2027, 4, 24), date(2027, 4, 10)
    verdicts: list[Verdict] = []
    spans: list[Span] = [*session_spans(session, ("aoi", "fenn")),
                         Span("dunmore", "look-back", early, early, None, "look back")]  # fmt: skip
    leaves = {one.id: one.departure.date() for one in shows}
    for one in shows:
        by = (leaves[one.id], one.benching.date())
        goes = set(one.entered)
        speck = healing(main, session, by, SPECK)
        back = healing(main, session, by, SPECK, where="back")
        ulcer = healing(main, date(2027, 4, 2) + 5 * DAY, by, ULCER, defect="ulcer", where="belly",
                        touched=False)
        mark = healing(main, on, by, {"closed": (5.0, 20.0, 60.0, 1),
                                      "clean": (40.0, 90.0, 180.0, 3)},
                       defect="net-mark", where="right flank", touched=False)
        first = one.id == "ardmoor"
        verdicts += [
            Verdict("aoi", one.id, "tight" if first else "ready-after-touch-up", "aoi" in goes, 88,
                    ("Shimi on the left shoulder: taken off by Sat 24 April it is clean in time at "
                     "the usual pace, not in a slow case.",) if first else
                    ("Shimi on the left shoulder: can be taken off and be clean in time, in a slow "
                     "case too.",),
                    TouchUp(by[1] - 56 * DAY, by[1] - 32 * DAY, by[1] - 20 * DAY, session,
                            water="main pond"),
                    speck, *sized(58),
                    ways_out=(WayOut("Healing in the isolation vat would make it sure", session),)
                    if first else ()),
            Verdict("brann", one.id, "ready", "brann" in goes, 74, ("Nothing to do.",), None, (),
                    *sized(61)),
            Verdict("cerise", one.id, "ready", "cerise" in goes, 81, ("Nothing to do.",), None, (),
                    *sized(46)),
            Verdict("dunmore", one.id, "ready", "dunmore" in goes, 79,
                    ("Net mark on the right flank heals by itself, in time in a slow case too.",),
                    None, mark, *sized(55)),
            Verdict("elke", one.id, "too-late" if one.id != "quayside" else "as-it-is", False,
                    None if one.id != "quayside" else 62,
                    ("Ulcer on the belly: it will not be closed by departure at the usual pace. "
                     "Only a vet may treat it.",) if one.id != "quayside" else
                    ("Ulcer on the belly: closed by then, but the scar will be seen.",),
                    None, ulcer, *sized(49), first_day=ulcer[0].usual_on,
                    ways_out=(WayOut("Healing in the isolation vat at 22 °C from this week would "
                                     "close it earlier", ulcer[0].low_on),)),
            Verdict("fenn", one.id, "as-it-is" if first else "ready-after-touch-up",
                    "fenn" in goes, 70 if not first else 64,
                    ("Shimi on the back stays: a touch-up would be tight, and you do not accept "
                     "tight ones.",) if first else
                    ("Shimi on the back: can be taken off and be clean in time, in a slow case "
                     "too.",),
                    TouchUp(by[1] - 56 * DAY, by[1] - 32 * DAY, by[1] - 20 * DAY,
                            None if first else session, water="main pond",
                            nothing_because="tight ones are not accepted" if first else None),
                    () if first else back, *sized(38),
                    ("A shusui has no scales along the flank: a nick there heals slower.",)),
            Verdict("gorse", one.id, "not-eligible" if one.id == "quayside" else "ready", False,
                    72, ("Longer than the show's 50 cm.",) if one.id == "quayside" else
                    ("Nothing to do.",), None, (), *sized(52)),
            Verdict("hollin", one.id, "as-it-is", "hollin" in goes, 68,
                    ("Shimi near the eye is left alone: too near the eye for anyone but a vet.",),
                    None, (), *sized(44)),
        ]  # fmt: skip
        if not first:
            spans += [*spans_of("aoi", one.id, speck)]
        if one.id == "larkfield":
            spans += [*spans_of("fenn", one.id, back)]
        if one.id != "quayside":
            spans += [*spans_of("elke", one.id, ulcer[:1])]
        if "dunmore" in goes:
            spans += [*spans_of("dunmore", one.id, mark)]
        spans += show_spans(one)
    left_out = (
        LeftOut("gorse", "ardmoor", 4, "four boxes in the van and three fish with more merit; "
                "taking Gorse would leave Hollin at home", (("hollin", "ardmoor"),)),
        LeftOut("gorse", "larkfield", 2, "the show's 250 cm are used up; taking Gorse would leave "
                "Brann at home", (("brann", "larkfield"),)),
        LeftOut("aoi", "ardmoor", 11, "Aoi would be tight for Ardmoor and then have no rest before "
                "Larkfield", (("aoi", "larkfield"),)),
        LeftOut("elke", "larkfield", None, "the ulcer cannot close by departure"),
    )  # fmt: skip
    return Plan(
        season="spring circuit",
        planned_on=on,
        time_zone=ZONE,
        units="metric",
        shows=shows,
        fish=herd,
        waters=(main, warm),
        verdicts=tuple(verdicts),
        tasks=_in_order(
            *session_jobs(session, ("aoi", "fenn"), "Aoi and Fenn", "larkfield"),
            *(task for one in shows for task in show_jobs(one)),
            job("ardmoor/declaration", "declaration", "Sign the health declaration for Ardmoor Open",
                date(2027, 4, 2), show="ardmoor", late=True,
                late_cost="Without it the show may refuse your fish at the gate: send it today."),
            job("vet/elke", "ring-vet", "Ring the vet about Elke's ulcer", on, fish=("elke",),
                late=False, note="12 mm on the belly, seen Sat 3 April, not closing.",
                cautions=("An ulcer is a vet's work, never the keeper's.",)),
            job("look/dunmore", "look-back", "Look at Dunmore's net mark", early, hands=True,
                fish=("dunmore",), note="Pink is healing; white or fluffy is not: ring the vet."),
            job("read/main", "read-water", "Read the main pond's temperature", early,
                hands=True, water="main pond", note="The reading that would help most."),
            job("scrape", "parasite-check", "Skin scrape, two fish of the main pond",
                early + DAY, hands=True, water="main pond", note="Before any treatment is thought "
                "of; last chance well before Ardmoor.",
                cautions=("Wet hands, wet bowl, seconds not minutes.",)),
        ),
        warnings=(
            Warning_("stop", "Elke has an open ulcer: a vet first, and no show before it is "
                     "closed.", "elke"),
            Warning_("warn", "Ardmoor and Larkfield are three weeks apart: no fish can do both "
                     "with its rest.", None, "larkfield"),
            Warning_("note", "Brann is a chagoi: a wound may leave a dark mark for years.",
                     "brann"),
        ),
        choice=Choice(
            604, True, left_out,
            (Aim("merit", 604, 604, True), Aim("touch-up days", 1, 1, True)),
            (Binding("boxes", 6, "A fifth box in the van would let Gorse go to Ardmoor: 6 more "
                     "merit."),
             Binding("total_cm", 2, "Nothing is gained by another 10 cm at Larkfield.")),
        ),
        spans=tuple(spans),
        changes=(
            Change("moved", "Touch-up of Aoi and Fenn moves from Sat 1 May to Sat 24 April",
                   "the reading of Mon 5 April was 1.1 °C colder than expected"),
            Change("new", "Ring the vet about Elke's ulcer", "seen on Sat 3 April"),
        ),
        cautions=CAUTIONS,
    )  # fmt: skip


def cold_pond() -> Plan:
    """A wound that cannot heal in time, and a speck better left."""
    on = date(2027, 2, 27)
    main = pond("north pond", on, 190, colder=4.0)
    one = show("moorgate", "Moorgate April Show", date(2027, 4, 23), ("orla", "pike"),
               limits=("5 fish",))  # fmt: skip
    by = (one.departure.date(), one.benching.date())
    scale = healing(main, on, by, SCALE, defect="lost-scale", where="left flank", touched=False)
    speck = healing(main, date(2027, 3, 6), by, SPECK, where="back")
    herd = (
        fish_line("nessa", "Nessa", "kohaku", 84, 55, ("lost scale, left flank",)),
        fish_line("orla", "Orla", "sanke", 80, 51, ("shimi 2 mm, back",)),
        fish_line("pike", "Pike", "hi utsuri", 71, 47),
    )
    return Plan(
        season="cold pond",
        planned_on=on,
        time_zone=ZONE,
        units="imperial",
        shows=(one,),
        fish=herd,
        waters=(main,),
        verdicts=(
            Verdict("nessa", one.id, "too-late", False, None,
                    ("Lost scale on the left flank: it will not be closed by departure at the "
                     "usual pace; the pond is too cold.",), None, scale, *sized(55),
                    first_day=scale[0].usual_on,
                    ways_out=(WayOut("A vat at 20 °C, warmed by 1 °C a day, would close it in "
                                     "time", date(2027, 4, 9)),)),
            Verdict("orla", one.id, "as-it-is", True, 74,
                    ("Shimi on the back stays: in this water the last day in time was Fri 5 "
                     "February, before the speck would stay away: it would be back for the show.",),
                    TouchUp(date(2027, 2, 26), date(2027, 2, 5), date(2027, 3, 1), None,
                            water="north pond",
                            nothing_because="in this water the last day in time has gone by"),
                    speck, *sized(51)),
            Verdict("pike", one.id, "ready", True, 71, ("Nothing to do.",), None, (), *sized(47)),
        ),
        tasks=_in_order(*show_jobs(one, "north pond")),
        warnings=(Warning_("warn", "The north pond stays below 12 °C until the show: nothing heals "
                           "quickly.", None, one.id),),
        choice=Choice(145, True, (LeftOut("nessa", one.id, None,
                                          "the wound cannot close by departure"),),
                      (Aim("merit", 145, 145, True),)),
        spans=(*spans_of("nessa", one.id, scale), *show_spans(one)),
        cautions=CAUTIONS,
    )  # fmt: skip
