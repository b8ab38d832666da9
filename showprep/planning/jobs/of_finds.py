"""Jobs after a find of parasites: the next dose, the clear check, a word to the organiser.

Nothing here says what to give or how much: a vet and the label come first. What the keeper noted
as used decides which parasite's days are counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from showprep.husbandry.parasites import (
    SCHEDULES,
    Parasite,
    clean_scrape_counts_from,
    repeat_doses,
    substance_in,
    treated_against,
)
from showprep.husbandry.reason import ShowId, reason
from showprep.planning.as_of.state import Find
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import Warning_
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard
from showprep.season.values.wording import slug

ONE_ROUND = timedelta(days=2)
"""Treatments of one water this near each other, fish by fish, are one round of doses."""
DOSE_WINDOW = timedelta(days=2)  # "5 to 7 days" in the sheets: so much later still counts
DAY = timedelta(days=1)


def find_jobs(yard: Yard) -> Iterator[Draft]:
    """Every job of the finds that stand."""
    for find, about in _standing(yard):
        due = _next_doses(yard, find)
        if due and due[0] is not None:
            yield _dose(yard, find, about, due[0])
        yield _clear_check(yard, find, about, due)
    for events in yard.planned():
        yield from _organiser(yard, events)


def find_warnings(yard: Yard) -> Iterator[Warning_]:
    """What stands while a find stands, and the doses that no figure dates."""
    for find, _ in _standing(yard):
        stop = reason("parasites-stop", water=find.water, since=find.found)
        yield Warning_("stop", stop)
        if None in _next_doses(yard, find):
            yield Warning_("warn", reason("dose-not-dated", water=find.water))


def _standing(yard: Yard) -> Iterator[tuple[Find, str]]:
    """The finds that stand, with the part of their jobs' ids: the water, and which find in it."""
    numbers: dict[str, int] = {}
    for find in yard.state.finds:
        number = numbers[find.water] = numbers.get(find.water, 0) + 1
        if find.cleared is None:
            again = f"/{number}" if number > 1 else ""
            yield find, f"{slug(find.water)}{again}"


def _rounds(find: Find) -> list[date]:
    """The days of the doses given: the last day of each round."""
    rounds: list[date] = []
    for dose in find.doses:
        if rounds and dose.on - rounds[-1] < ONE_ROUND:
            rounds[-1] = dose.on
        else:
            rounds.append(dose.on)
    return rounds


def _next_doses(yard: Yard, find: Find) -> tuple[date | None, ...]:
    """The days of the doses still to come after those noted; None where no figure dates one."""
    given = _rounds(find)
    if not given:
        return ()
    against = _against(find)
    left = SCHEDULES[against].doses - len(given)
    due = repeat_doses(against, given[-1], yard.waters.of(find.water))
    return due[: max(0, left)]


def _against(find: Find) -> Parasite:
    told = find.parasite or next((one.against for one in find.doses if one.against), None)
    return treated_against(told, substance_in(find.doses[0].what))


def _dose(yard: Yard, find: Find, about: str, due: date) -> Draft:
    number = len(_rounds(find)) + 1
    against = _against(find)
    last = find.doses[-1]
    return Draft(
        id=f"dose/{about}/{number}",
        kind="dose",
        title=reason("repeat-dose", number=number, against=against, water=find.water),
        earliest=due,
        ideal=due,
        latest=due + DOSE_WINDOW,
        water=find.water,
        hands=True,
        note=reason("repeat-dose-how", what=last.what, by_vet=int(last.by_vet)),
        late_cost=reason("repeat-dose-late"),
        counts_from=reason("days-after-dose", days=(due - last.on).days, on=last.on),
        grade=SCHEDULES[against].grade,
    )


def _clear_check(yard: Yard, find: Find, about: str, still_due: Sequence[date | None]) -> Draft:
    """After the doses still to come as well: a scrape before them would have to be done again."""
    wait = round(yard.figures["parasite_clear_check"])
    doses = [dose.on for dose in find.doses]
    earliest = clean_scrape_counts_from(find.seen[-1], doses, yard.figures)
    planned = [*doses, *(day + DOSE_WINDOW for day in still_due if day is not None)]
    ideal = clean_scrape_counts_from(find.seen[-1], planned, yard.figures)
    return Draft(
        id=f"clear-check/{about}",
        kind="clear-check",
        title=reason("clear-check", water=find.water),
        earliest=ideal,
        ideal=ideal,
        latest=ideal + timedelta(days=7),
        water=find.water,
        hands=True,
        note=reason("clear-check-how", earliest=earliest),
        late_cost=reason("entries-stay-barred"),
        counts_from=(
            reason("days-after-last-dose", days=wait)
            if find.doses
            else reason("days-after-find", days=wait)
        ),
        grade="derived",
    )


def _organiser(yard: Yard, events: Events) -> Iterator[Draft]:
    """The organiser hears of a find where fish are entered, or where time may run out."""
    ill = [
        (fish, carried)
        for fish in yard.fish_here()
        if (carried := yard.parasites_on(fish)) is not None
        and fish.record.never_show != "all"
        and events.show not in fish.record.never_show
    ]
    if not ill:
        return
    entered = any(
        yard.is_entered(fish, events.show) or events.show in fish.record.must_show
        for fish, _ in ill
    )
    scrape = max(carried.scrape_from for _, carried in ill)
    near = events.departure_day < max(scrape, yard.on) + yard.days("treatment_warn")
    if not (entered or events.show in yard.state.sent or near):
        return
    found = min(carried.find.found for _, carried in ill)
    yield Draft(
        id=f"{events.show}/ring-organiser",
        kind="ring-organiser",
        title=reason("ring-organiser", show=ShowId(events.show)),
        earliest=found,
        ideal=found + DAY,
        latest=found + DAY,
        fish=tuple(fish.id for fish, _ in ill),
        show=events.show,
        alarm=True,
        note=reason("ring-organiser-how", scrape=max(scrape, yard.on)),
        late_cost=reason("ring-organiser-late"),
        counts_from=reason("day-after-find"),
        grade="common practice",
    )
