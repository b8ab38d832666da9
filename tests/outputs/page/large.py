"""A large invented season: as many fish and shows as one wants, the same every time."""

from __future__ import annotations

import random
from datetime import date

from showprep.husbandry.reason import Blemish, Chance, reason
from showprep.planning.plan import (
    Choice,
    LeftOut,
    Plan,
    PlannedTouchUp,
    Span,
    Verdict,
    Warning_,
)
from tests.outputs.page.making import (
    CAUTIONS,
    DAY,
    SCALE,
    SPECK,
    ZONE,
    fish_line,
    healing,
    in_order,
    pond,
    session_jobs,
    session_spans,
    show,
    show_jobs,
    show_spans,
    sized,
    spans_of,
    speck,
    vat,
)

SYLLABLES = ("ha", "ru", "mi", "ko", "sa", "ki", "to", "na", "yo", "shi", "re", "mo")
VARIETIES = ("kohaku", "sanke", "showa", "asagi", "shusui", "utsuri", "chagoi", "goshiki")


def large_plan(fish: int = 200, shows: int = 12, entries: int = 30) -> Plan:
    """Every third fish has a speck, every seventh a lost scale; each show takes the best."""
    dice = random.Random(7)
    on = date(2027, 3, 6)
    main = pond("main pond", on, 330)
    names = ["".join(dice.choice(SYLLABLES) for _ in range(3)).title() for _ in range(fish)]
    herd = tuple(
        fish_line(
            f"fish{n:03}",
            f"{name} {n}",
            dice.choice(VARIETIES),
            60 + dice.randrange(35),
            30 + dice.randrange(40),
            (Blemish("shimi", "left shoulder"),)
            if n % 3 == 0
            else (Blemish("lost-scale", "right flank"),)
            if n % 7 == 0
            else (),
        )
        for n, name in enumerate(names)
    )
    halls = tuple(
        show(
            f"show{n:02}",
            f"Invented Show Number {n + 1}",
            date(2027, 4, 23) + n * 14 * DAY,
            tuple(sorted(one.id for one in dice.sample(herd, entries))),
        )
        for n in range(shows)
    )
    verdicts: list[Verdict] = []
    spans: list[Span] = [span for one in halls for span in show_spans(one)]
    left: list[LeftOut] = []
    tasks = [task for one in halls for task in show_jobs(one)]
    sessions: dict[date, list[str]] = {}
    for n, one in enumerate(herd):
        day = date(2027, 4, 10) + 7 * (n % 12) * DAY
        if n % 3 == 0:
            sessions.setdefault(day, []).append(one.id)
        for hall in halls:
            by = (hall.departure.date(), hall.benching.date())
            healed = ()
            if n % 3 == 0:
                healed = healing(main, day, by, SPECK)
            elif n % 7 == 0:
                healed = healing(main, on, by, SCALE, defect="lost-scale", where="right flank",
                                 touched=False)  # fmt: skip
            goes = one.id in hall.entered
            word = "ready" if not healed else "ready-after-touch-up" if n % 3 == 0 else "tight"
            verdicts.append(
                Verdict(one.id, hall.id, word, goes, one.merit,  # type: ignore[arg-type]
                        (reason("speck-can-come-off", speck=speck(), first=by[1] - 56 * DAY,
                                last=by[1] - 32 * DAY, best=by[1] - 32 * DAY,
                                chance=Chance(0.86)),)
                        if healed else (reason("nothing-to-do"),),
                        PlannedTouchUp(by[1] - 56 * DAY, by[1] - 32 * DAY, by[1] - 20 * DAY, day,
                                water="main pond") if n % 3 == 0 else None,
                        healed, *sized(one.length_cm or 40))
            )  # fmt: skip
            if healed and hall is halls[n % shows]:
                spans += spans_of(one.id, hall.id, healed)
            if not goes and n % 5 == 0:
                left.append(LeftOut(one.id, hall.id, 1.5, "better fish fill the show's places"))
    for day, ids in sessions.items():
        chosen = tuple(ids[:3])
        spans += session_spans(day, tuple(ids))
        tasks += session_jobs(day, chosen, f"{len(chosen)} fish", halls[0].id)
    return Plan(
        season="a very large yard",
        planned_on=on,
        time_zone=ZONE,
        units="metric",
        shows=halls,
        fish=herd,
        waters=(main, vat("isolation vat", on, 330)),
        verdicts=tuple(verdicts),
        tasks=in_order(*tasks),
        warnings=(Warning_("note", "Two hundred fish are many for one pair of hands."),),
        choice=Choice(20000, False, tuple(left), worth=20000, bound=20030),
        spans=tuple(spans),
        cautions=CAUTIONS,
    )
