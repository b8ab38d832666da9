"""A job before it has its day: a window, an ideal day, and the rule that places it."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from msgspec import Struct

from showprep.husbandry.heat import care_in
from showprep.husbandry.reason import Celsius, Reason, reason
from showprep.planning.jobs.done_by import RAMPS, is_done
from showprep.planning.plan import SESSION_KINDS, Task
from showprep.planning.yard.yard import Yard

HANDLING = frozenset(
    {
        *("first-look", "parasite-check", "net-practice", "final-check", "look", "look-back"),
        *("clear-check", "home-scrape", "home-scrape-again", "health-test", "dose"),
        *("to-holding", "move", "into-vat", "vat-back", "isolation-clear"),
    }
)
"""The kinds of job for which fish are netted, or for which the water is dosed."""


FROM_AFAR = frozenset(
    {
        *("choose-show", "history-check", "last-treatment", "entries-close", "send-entry"),
        *("photos-due", "book-vat", "write-up", "ring-vet", "ring-organiser", "vet", "isolation"),
    }
)
"""The kinds of job that can be done from anywhere, or are moments and no deeds."""


class Draft(Struct, frozen=True):
    """An all-day job with its window; `days` is how many days it lasts (1: one day).

    A `standing` one is no deed but a state that is kept for so many days, such as a fast: it is
    never late, and gone once its last day has passed.
    """

    id: str
    kind: str
    title: Reason
    earliest: date
    ideal: date
    latest: date
    fish: tuple[str, ...] = ()
    show: str | None = None
    water: str | None = None
    days: int = 1
    standing: bool = False
    hands: bool = False
    alarm: bool = False
    note: Reason | None = None
    late_cost: Reason | None = None
    counts_from: Reason | None = None
    cautions: tuple[Reason, ...] = ()
    grade: str = ""


def place(yard: Yard, draft: Draft) -> Task | None:
    """Give a job its day; None when it was done. A ramp that was ticked goes on to its last day.

    A job that needs hands moves to an earlier work day inside its window, or failing that to a
    later one, never past the latest day. A job whose latest day has passed undone is late and
    stays on that day; one that lasts several days is not late while it runs.
    """
    ticked = draft.id in yard.state.jobs_done
    if (ticked and draft.kind not in RAMPS) or _told_as_done(yard, draft):
        return None
    begun = draft.latest < yard.on
    running = begun and yard.on < draft.latest + timedelta(days=draft.days)
    if draft.standing and begun and not running:
        return None
    late = begun and not draft.standing and not (running and draft.days > 1)
    day = draft.latest if begun else _day(yard, draft)
    cautions = draft.cautions
    is_of_vet = draft.kind in SESSION_KINDS and yard.by_vet
    if draft.hands and not late and not yard.is_work_day(day) and not is_of_vet:
        cautions = (*cautions, reason("no-free-hands-in-window"))
    elif draft.kind not in FROM_AFAR and not draft.hands and not yard.is_here(max(day, yard.on)):
        cautions = (*cautions, reason("nobody-there-then", day=max(day, yard.on)))
    if draft.kind in HANDLING and (hot := _too_hot(yard, draft, max(day, yard.on))) is not None:
        cautions = (*cautions, hot)
    return Task(
        id=draft.id,
        kind=draft.kind,
        title=draft.title,
        fish=draft.fish,
        show=draft.show,
        water=draft.water,
        start=day,
        end=day + timedelta(days=draft.days - 1),
        all_day=True,
        hands=draft.hands,
        late=late,
        late_cost=draft.late_cost if late else None,
        cautions=cautions,
        note=draft.note,
        counts_from=draft.counts_from,
        alarm=evening_before(yard) if draft.alarm else None,
        grade=draft.grade,
        begun=ticked or draft.id in yard.state.jobs_begun,
    )


def _too_hot(yard: Yard, draft: Draft, day: date) -> Reason | None:
    """A word against handling fish in water above 28 °C on that day; None where it is cooler."""
    waters = {draft.water}
    if draft.water is None:
        waters = {yard.course(yard.state.fish[one]).water_on(day) for one in draft.fish}
    hot = [one for one in waters if one and care_in(yard.waters.of(one)(day), yard.figures)]
    if not hot:
        return None
    limit = Celsius(yard.figures["sed_hot_block"])
    return reason("too-hot-to-handle", water=min(hot), limit=limit)


def _told_as_done(yard: Yard, draft: Draft) -> bool:
    """Does the journal say in its own words that the job was done?"""
    return is_done(yard, draft.kind, draft.fish, draft.show, draft.water, draft.earliest)


def _day(yard: Yard, draft: Draft) -> date:
    earliest = max(draft.earliest, yard.on)
    ideal = min(max(draft.ideal, earliest), draft.latest)
    if not draft.hands:
        return _day_at_home(yard, earliest, ideal, draft.latest)
    before = yard.work_days(earliest, ideal)
    if before:
        return before[-1]
    after = yard.work_days(ideal, draft.latest)
    return after[0] if after else _day_at_home(yard, earliest, ideal, draft.latest)


def _day_at_home(yard: Yard, earliest: date, ideal: date, latest: date) -> date:
    """The day nearest the ideal one on which somebody is there at all, earlier before later."""
    days = [earliest + timedelta(days=number) for number in range((latest - earliest).days + 1)]
    here = [day for day in days if yard.is_here(day)]
    return min(here, key=lambda day: (day > ideal, abs((day - ideal).days)), default=ideal)


def evening_before(yard: Yard) -> timedelta:
    """How long before midnight the phone rings: the evening before, at the keeper's hour."""
    return timedelta(hours=24 - yard.keeper.preferences.alarm_hour)


def timed(
    task_id: str,
    kind: str,
    start: datetime,
    end: datetime,
    zone: str,
    *,
    title: Reason,
    show: str,
    fish: tuple[str, ...] = (),
    note: Reason | None = None,
    counts_from: Reason | None = None,
    cautions: tuple[Reason, ...] = (),
    alarm: timedelta | None = None,
    hands: bool = False,
) -> Task:
    """A job with a time of day, in the show's zone."""
    return Task(
        id=task_id,
        kind=kind,
        title=title,
        fish=fish,
        show=show,
        water=None,
        start=start,
        end=end,
        all_day=False,
        hands=hands,
        note=note,
        counts_from=counts_from,
        cautions=cautions,
        time_zone=zone,
        alarm=alarm,
        grade="keeper's own",
    )
