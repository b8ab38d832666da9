"""Three plans written out by hand, all invented, for looking at the page and testing it."""

from __future__ import annotations

from datetime import date

from showprep.husbandry.reason import (
    Blemish,
    Celsius,
    Centimetres,
    Chance,
    Kelvin,
    Reason,
    ShowId,
    reason,
)
from showprep.planning.plan import (
    Binding,
    Change,
    Choice,
    LeftOut,
    Plan,
    PlannedTouchUp,
    Span,
    Verdict,
    Warning_,
    WayOut,
)
from tests.outputs.page.making import (
    CAUTIONS,
    DAY,
    SCALE,
    SPECK,
    ULCER,
    ZONE,
    fish_line,
    healing,
    in_order,
    job,
    pond,
    session_jobs,
    session_spans,
    show,
    show_jobs,
    show_spans,
    sized,
    spans_of,
    vat,
)
from tests.outputs.page.making import (
    speck as the_speck,
)

NOTHING = (reason("nothing-to-do"),)
TOO_LONG = reason("too-long", length=Centimetres(52), most=Centimetres(50))
PASSED = reason("last-day-has-passed", latest=date(2027, 2, 5))


def _can_come_off(first: date, last: date, where: str = "left shoulder") -> Reason:
    return reason("speck-can-come-off", speck=the_speck(where), first=first, last=last,
                  best=last, chance=Chance(0.86))  # fmt: skip


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
                (_can_come_off(date(2027, 4, 16), date(2027, 4, 25)),),
                PlannedTouchUp(date(2027, 4, 16), date(2027, 4, 25), date(2027, 5, 9), day,
                        water="main pond"),
                healed, length, size,
                (reason("altered-not-stated"),)),
        Verdict("brann", "larkfield", "ready", True, 74, NOTHING, None, (), *sized(41)),
    )  # fmt: skip
    return Plan(
        season="first show",
        planned_on=on,
        time_zone=ZONE,
        units="metric",
        shows=(one,),
        fish=(
            fish_line("aoi", "Aoi", "kohaku", 82, 52, (Blemish("shimi", "left shoulder"),)),
            fish_line("brann", "Brann", "chagoi", 74, 41),
        ),
        waters=(main, vat("isolation vat", on, 130)),
        verdicts=verdicts,
        tasks=in_order(
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
        choice=Choice(156, True, worth=156, bound=156),
        spans=(
            *session_spans(day, ("aoi",)),
            *spans_of("aoi", "larkfield", healed),
            *show_spans(one),
        ),
        cautions=CAUTIONS,
    )  # fmt: skip


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
        fish_line("aoi", "Aoi", "kohaku", 88, 58, (Blemish("shimi", "left shoulder"),)),
        fish_line("brann", "Brann", "chagoi", 74, 61),
        fish_line("cerise", "Cerise", "sanke", 81, 46),
        fish_line("dunmore", "Dunmore", "showa", 79, 55, (Blemish("net-mark", "right flank"),)),
        fish_line("elke", "Elke", "asagi", 77, 49, (Blemish("ulcer", "belly"),)),
        fish_line("fenn", "Fenn", "shusui", 70, 38, (Blemish("shimi", "back"),)),
        fish_line("gorse", "Gorse", "yamabuki ogon", 72, 52),
        fish_line("hollin", "Hollin", "utsuri", 76, 44, (Blemish("shimi", "near the eye"),)),
    )
    session, early = date(2027, 4, 24), date(2027, 4, 10)
    verdicts: list[Verdict] = []
    spans: list[Span] = [*session_spans(session, ("aoi", "fenn")),
                         Span("dunmore", "look-back", early, early, None, "look-back")]  # fmt: skip
    leaves = {one.id: one.departure.date() for one in shows}
    for one in shows:
        by = (leaves[one.id], one.benching.date())
        goes = set(one.entered)
        speck = healing(main, session, by, SPECK)
        back = healing(main, session, by, SPECK, where="back")
        ulcer = healing(
            main,
            date(2027, 4, 2) + 5 * DAY,
            by,
            ULCER,
            defect="ulcer",
            where="belly",
            touched=False,
        )
        mark = healing(
            main,
            on,
            by,
            {"closed": (5.0, 20.0, 60.0, 1), "clean": (40.0, 90.0, 180.0, 3)},
            defect="net-mark",
            where="right flank",
            touched=False,
        )
        first = one.id == "ardmoor"
        verdicts += [
            Verdict("aoi", one.id, "tight" if first else "ready-after-touch-up", "aoi" in goes, 88,
                    (reason("touch-up-planned", day=session, chance=Chance(0.74)),) if first else
                    (_can_come_off(session, session),),
                    PlannedTouchUp(by[1] - 56 * DAY, by[1] - 32 * DAY, by[1] - 20 * DAY, session,
                            water="main pond"),
                    speck, *sized(58),
                    ways_out=(WayOut(reason("heal-speck-in-vat", on=session, water="isolation vat",
                                             ramp=Kelvin(1), chance=Chance(0.93),
                                             here=Chance(0.74)), session),)
                    if first else ()),
            Verdict("brann", one.id, "ready", "brann" in goes, 74, NOTHING, None, (),
                    *sized(61)),
            Verdict("cerise", one.id, "ready", "cerise" in goes, 81, NOTHING, None, (),
                    *sized(46)),
            Verdict("dunmore", one.id, "ready", "dunmore" in goes, 79,
                    (reason("heals-in-time", it=Blemish("net-mark", "right flank"),
                            usual=on, slow=on + 9 * DAY, by=by[1], chance=Chance(0.99)),),
                    None, mark, *sized(55)),
            Verdict("elke", one.id, "too-late" if one.id != "quayside" else "as-it-is", False,
                    None if one.id != "quayside" else 62,
                    (reason("vet-first", it=Blemish("ulcer", "belly"),
                            why=reason("kind-note", kind="ulcer")),)
                    if one.id != "quayside" else
                    (reason("no-figure-for-clean", it=Blemish("ulcer", "belly")),),
                    None, ulcer, *sized(49), first_day=ulcer[0].usual_on,
                    ways_out=(WayOut(reason("next-show", show=ShowId("quayside"), on=by[1]),
                                     ulcer[0].low_on),)),
            Verdict("fenn", one.id, "as-it-is" if first else "ready-after-touch-up",
                    "fenn" in goes, 70 if not first else 64,
                    (reason("speck-stays", speck=the_speck("back"), why=PASSED),) if first else
                    (_can_come_off(session, session, "back"),),
                    PlannedTouchUp(by[1] - 56 * DAY, by[1] - 32 * DAY, by[1] - 20 * DAY,
                            None if first else session, water="main pond",
                            nothing_because=PASSED if first else None),
                    () if first else back, *sized(38),
                    (reason("may-darken", variety="shusui"),)),
            Verdict("gorse", one.id, "not-eligible" if one.id == "quayside" else "ready", False,
                    72, (TOO_LONG,) if one.id == "quayside" else
                    NOTHING, None, (), *sized(52)),
            Verdict("hollin", one.id, "as-it-is", "hollin" in goes, 68,
                    (reason("speck-for-a-vet", it=Blemish("shimi", "near the eye"),
                            why=reason("place-for-a-vet", named="eye")),),
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
        tasks=in_order(
            *session_jobs(session, ("aoi", "fenn"), "Aoi and Fenn", "larkfield"),
            *(task for one in shows for task in show_jobs(one)),
            job("ardmoor/declaration", "declaration",
                "Sign the health declaration for Ardmoor Open",
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
            (Binding("boxes", 6, "A fifth box in the van would let Gorse go to Ardmoor: 6 more "
                     "merit."),
             Binding("total_cm", 2, "Nothing is gained by another 10 cm at Larkfield.")),
        ),
        spans=tuple(spans),
        changes=(
            Change("moved", reason("job-moved", title="Touch-up: Aoi and Fenn",
                                   old=date(2027, 5, 1), new=session),
                   (reason("water-read", water="main pond", read=Celsius(9.2),
                           on=date(2027, 4, 5)),)),
            Change("new", reason("job-new", title="Ring the vet about Elke's ulcer", at=on)),
        ),
        cautions=CAUTIONS,
    )  # fmt: skip


def cold_pond() -> Plan:
    """A wound that cannot heal in time, and a speck better left."""
    on = date(2027, 2, 27)
    main = pond("north pond", on, 190, colder=4.0)
    one = show("moorgate", "Moorgate April Show", date(2027, 4, 23), ("orla", "pike"),
               limits=(reason("limit-fish", most=5),))  # fmt: skip
    by = (one.departure.date(), one.benching.date())
    scale = healing(main, on, by, SCALE, defect="lost-scale", where="left flank", touched=False)
    speck = healing(main, date(2027, 3, 6), by, SPECK, where="back")
    herd = (
        fish_line("nessa", "Nessa", "kohaku", 84, 55, (Blemish("lost-scale", "left flank"),)),
        fish_line("orla", "Orla", "sanke", 80, 51, (Blemish("shimi", "back"),)),
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
                    (reason("cannot-heal-in-time", why=reason(
                        "heals-out-of-sight", it=Blemish("lost-scale", "left flank"),
                        milestone="closed")),), None, scale, *sized(55),
                    first_day=scale[0].usual_on,
                    ways_out=(WayOut(reason(
                        "heal-warmer", water="vat", on=on, ramp=Kelvin(1),
                        it=Blemish("lost-scale", "left flank"), milestone="closed",
                        there=date(2027, 4, 9), show=ShowId(one.id)), date(2027, 4, 9)),)),
            Verdict("orla", one.id, "as-it-is", True, 74,
                    (reason("speck-stays", speck=the_speck("back"), why=PASSED),),
                    PlannedTouchUp(date(2027, 2, 26), date(2027, 2, 5), date(2027, 3, 1), None,
                            water="north pond",
                            nothing_because=PASSED),
                    speck, *sized(51)),
            Verdict("pike", one.id, "ready", True, 71, NOTHING, None, (), *sized(47)),
        ),
        tasks=in_order(*show_jobs(one, "north pond")),
        warnings=(Warning_("warn", "The north pond stays below 12 °C until the show: nothing heals "
                           "quickly.", None, one.id),),
        choice=Choice(145, True, (LeftOut("nessa", one.id, None,
                                          "the wound cannot close by departure"),),
                      ),
        spans=(*spans_of("nessa", one.id, scale), *show_spans(one)),
        cautions=CAUTIONS,
    )  # fmt: skip
