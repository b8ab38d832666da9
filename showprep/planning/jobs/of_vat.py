"""Jobs of a fish that heals in the isolation vat: into it, warmed by steps, and home again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from showprep.husbandry.healing import reached
from showprep.husbandry.reason import Celsius, FishId, Kelvin, Reason, reason
from showprep.planning.as_of.state import FishState
from showprep.planning.entries.question import vat_until
from showprep.planning.jobs.draft import Draft
from showprep.planning.jobs.of_touch_ups import Session
from showprep.planning.verdicts.touch_ups import specks_of
from showprep.planning.yard.course import Step
from showprep.planning.yard.planned import SETTLE
from showprep.planning.yard.yard import Yard


def vat_jobs(yard: Yard, sessions: Sequence[Session]) -> Iterator[Draft]:
    """The vat brought to the pond's warmth before, warmed after, and the way back when clean."""
    for session in sessions:
        for fish, water in zip(session.fish, session.heals_in, strict=True):
            if water == yard.taken_from(fish, session.day) or session.show is None:
                continue
            yield from _drafts(yard, session, fish, water)


def into_vat_jobs(yard: Yard) -> Iterator[Draft]:
    """The move into the vat of fish that were touched up, until it is noted or they leave."""
    for fish, step in presumed_to_heal(yard):
        assert step.from_water is not None and step.to_water is not None  # it is no journey
        shows = {one.show for one in yard.courses.goings if one.fish == fish.id}
        show = next((one.show for one in yard.planned() if one.show in shows), None)
        asked = reason("into-vat-asked", home=step.from_water)
        yield _into(yard, show, fish, step.to_water, step.day, asked)


def presumed_to_heal(yard: Yard) -> Iterator[tuple[FishState, Step]]:
    """The fish taken to be in the vat since a touch-up, with the move that nobody noted."""
    for fish in yard.fish_here():
        now = yard.course(fish).stay_on(yard.on)
        for step in yard.course(fish).steps:
            told = (step.why, step.grade, step.day)
            if told == ("warm healing", "presumed", now.first) and step.day in fish.sedations:
                yield fish, step


def _into(
    yard: Yard,
    show: str | None,
    fish: FishState,
    vat: str,
    day: date,
    note: Reason,
) -> Draft:
    number = 1 + sum(one < day for one in fish.sedations)
    again = f"/{number}" if number > 1 else ""
    return Draft(
        id=f"into-vat/{fish.id}{again}",
        kind="into-vat",
        title=reason("into-vat", fish=FishId(fish.id), vat=vat),
        earliest=day,
        ideal=day,
        latest=day,
        fish=(fish.id,),
        show=show,
        water=vat,
        hands=True,
        note=note,
        late_cost=reason("into-vat-late"),
        counts_from=reason("after-touch-up"),
        grade="assumption",
    )


def vat_back_jobs(yard: Yard) -> Iterator[Draft]:
    """The way back of fish that were touched up and moved to the vat to heal, until it is noted."""
    isolation = yard.keeper.isolation
    if isolation is None:
        return
    for fish in yard.fish_here():
        healed = _healing_in(yard, fish, isolation.water)
        if healed is None:
            continue
        home, clean = healed
        shows = {one.show for one in yard.courses.goings if one.fish == fish.id}
        events = next((one for one in yard.planned() if one.show in shows), None)
        if events is None or clean + SETTLE > events.departure_day:
            continue
        yield _back(yard, events.show, fish, isolation.water, home, clean)


def _healing_in(yard: Yard, fish: FishState, vat: str) -> tuple[str, date] | None:
    """Where a fish was that now heals in the vat, and the day it is clean in a slow case."""
    touched = [one for one in fish.defects if one.touched is not None]
    if not touched or yard.taken_from(fish, yard.on + timedelta(days=1)) != vat:
        return None
    day = max(one.touched for one in touched if one.touched is not None)
    home = yard.taken_from(fish, day)
    if home == vat or any(one.departure_day >= day for one in yard.been_to(fish)):
        return None
    shows = {one.show for one in yard.courses.goings if one.fish == fish.id}
    if any(day <= yard.events[show].departure_day <= yard.on for show in shows):
        return None  # on the day of a show it comes home to the vat: it does not heal there
    clean = [day]
    for defect in touched:
        milestone = yard.facts.kinds[defect.kind].clean
        if defect.touched == day and defect.clean_on is None and milestone is not None:
            on = reached(milestone, "high", day, yard.mean_on(fish))
            if on is None:
                return None
            clean.append(on)
    return home, max(clean)


def _drafts(yard: Yard, session: Session, fish: FishState, vat: str) -> Iterator[Draft]:
    home, day = yard.taken_from(fish, session.day), session.day
    here = yard.waters.of(home)(day)
    key = f"{fish.id}/{session.show}"
    yield Draft(
        id=f"vat-match/{key}",
        kind="vat-match",
        title=reason("vat-match", vat=vat, home=home, here=Celsius(here), fish=FishId(fish.id)),
        earliest=day - timedelta(days=7),
        ideal=day - timedelta(days=2),
        latest=day - timedelta(days=1),
        fish=(fish.id,),
        show=session.show,
        water=vat,
        hands=True,
        note=reason("vat-match-how"),
        late_cost=reason("vat-match-late"),
        counts_from=reason("before-touch-up"),
        grade="assumption",
    )
    if not any(move.done and move.on >= day for move in fish.moves):
        how = reason("into-vat-how", home=home)
        yield _into(yard, session.show, fish, vat, day, how)
    departure = yard.events[session.show or ""].departure_day
    clean = _clean_on(yard, session, fish)
    stays = clean is None or clean + SETTLE > departure
    if clean is not None and not stays:
        assert session.show is not None
        yield _back(yard, session.show, fish, vat, home, clean)


def _clean_on(yard: Yard, session: Session, fish: FishState) -> date | None:
    events = yard.events[session.show or ""]
    clean = vat_until(yard, specks_of(yard, fish), yard.mean_on(fish), events, session.day)
    return clean if clean < events.departure_day else None


def _back(yard: Yard, show: str, fish: FishState, vat: str, home: str, clean: date) -> Draft:
    departure = yard.events[show].departure_day
    rate, near = (
        Kelvin(yard.figures[name])
        for name in ("temp_ramp", "step_direct_falling")  # into colder water
    )
    return Draft(
        id=f"vat-back/{fish.id}/{show}",
        kind="vat-back",
        title=reason("vat-back", fish=FishId(fish.id), vat=vat, home=home),
        earliest=clean,
        ideal=clean,
        latest=departure - SETTLE,
        fish=(fish.id,),
        show=show,
        water=home,
        hands=True,
        note=reason("vat-back-how", clean=clean, home=home, rate=rate, near=near),
        late_cost=reason("vat-back-late"),
        counts_from=reason("clean-in-slow-case"),
        grade="assumption",
    )
