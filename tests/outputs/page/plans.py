"""Three plans written out by hand, all invented, for looking at the page and testing it."""

from __future__ import annotations

from datetime import date

from showprep.planning.plan import (
    Aim,
    Binding,
    Change,
    Choice,
    LeftOut,
    Plan,
    Span,
    TouchUp,
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
        choice=Choice(156, True, aims=(Aim("merit", 156, 156, True),)),
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
        tasks=in_order(*show_jobs(one, "north pond")),
        warnings=(Warning_("warn", "The north pond stays below 12 °C until the show: nothing heals "
                           "quickly.", None, one.id),),
        choice=Choice(145, True, (LeftOut("nessa", one.id, None,
                                          "the wound cannot close by departure"),),
                      (Aim("merit", 145, 145, True),)),
        spans=(*spans_of("nessa", one.id, scale), *show_spans(one)),
        cautions=CAUTIONS,
    )  # fmt: skip
