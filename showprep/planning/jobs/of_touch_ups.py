"""Jobs of touch-up sessions: the vet asked, the fast, the kit, the session, the look-backs."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import Celsius, FishId, Kelvin, Reason, reason
from showprep.husbandry.sedation_fit import water_fit
from showprep.planning.as_of.state import FishState
from showprep.planning.jobs.draft import Draft
from showprep.planning.plan import SESSION_KINDS
from showprep.planning.verdicts.cautions import LAW, NOT_FOOD, NOT_STATED, SEDATION
from showprep.planning.verdicts.touch_ups import LOOK_BACK_DAYS, LOOK_WITHIN, unfed_from
from showprep.planning.verdicts.wounds import blemish
from showprep.planning.yard.yard import Yard

Going = Mapping[str, Collection[str]]  # by fish: the shows it is entered in
NEAR_DAYS = 3  # a touch-up done this near its day is the session that was planned


class Session(Struct, frozen=True):
    """Fish touched up on one day, in id order, the first show it is for, and where they heal.

    `anchor` names the session for good: its first fish, that show, and which time before that
    show it is (`number`); never the day.
    """

    day: date
    fish: tuple[FishState, ...]
    show: str | None
    heals_in: tuple[str, ...]  # by fish
    number: int = 1
    kept: str = ""  # the name it had in an earlier plan
    done: bool = False

    @property
    def anchor(self) -> str:
        if self.kept:
            return self.kept
        again = f"/{self.number}" if self.number > 1 else ""
        return f"{self.fish[0].id}/{self.show or 'no-show'}{again}"

    @property
    def ids(self) -> tuple[str, ...]:
        return tuple(fish.id for fish in self.fish)

    @property
    def named(self) -> tuple[FishId, ...]:
        return tuple(map(FishId, self.ids))


def touch_up_jobs(yard: Yard, sessions: Sequence[Session], going: Going) -> Iterator[Draft]:
    """Every job of the sessions planned, and the look-backs at those already done."""
    before: set[str] = set()
    for session in sorted(sessions, key=lambda one: one.day):
        again = tuple(fish for fish in session.named if fish.id in before)
        before.update(session.ids)
        for draft in _session_jobs(yard, session):
            if again and draft.kind in SESSION_KINDS:
                only = reason("only-if-back", fish=again)
                draft = replace(draft, cautions=(only, *draft.cautions))
            yield draft
        yield from _look_backs(session)
    planned = [
        (fish.id, one.day, water)
        for one in sessions
        for fish, water in zip(one.fish, one.heals_in, strict=True)
    ]
    for done in _all_sessions(yard, planned, going):
        if done.done:
            yield from _look_backs(done)


def sessions_of(
    yard: Yard, touch_ups: Sequence[tuple[str, date, str]], going: Going
) -> tuple[Session, ...]:
    """Touch-ups (fish, day, water) as sessions: those of one day are one."""
    return tuple(one for one in _all_sessions(yard, touch_ups, going) if not one.done)


def _all_sessions(
    yard: Yard, touch_ups: Sequence[tuple[str, date, str]], going: Going
) -> Iterator[Session]:
    """Those done of late and those planned, named together so that no name is given twice."""
    done = _by_day(yard, _done_of_late(yard), going)
    sessions = [*(replace(one, done=True) for one in done), *_by_day(yard, touch_ups, going)]
    yield from _named_as_before(yard, sessions)


def _by_day(yard: Yard, touch_ups: Sequence[tuple[str, date, str]], going: Going) -> list[Session]:
    by_day: dict[date, list[tuple[FishState, str]]] = {}
    for fish_id, day, water in sorted(touch_ups):
        by_day.setdefault(day, []).append((yard.state.fish[fish_id], water))
    return [_as_session(yard, day, some, going) for day, some in sorted(by_day.items())]


def _named_as_before(yard: Yard, sessions: Sequence[Session]) -> Iterator[Session]:
    """Each session under the name by which an earlier plan knew most of its fish for that show.

    A name goes to one session only, and one that is new gets none that is taken.
    """
    free = _names_of_before(yard)
    kept: dict[int, str] = {}
    fit = [
        (not one.done, -len(fish & set(one.ids)), abs((day - one.day).days), number, name)
        for number, one in enumerate(sessions)
        for name, (day, show, fish) in free.items()
        if fish & set(one.ids)
        and show == one.show
        and (not one.done or abs((day - one.day).days) <= NEAR_DAYS)
    ]
    for _, _, _, number, name in sorted(fit):
        if number not in kept and name not in kept.values():
            kept[number] = name
    taken = set(kept.values())
    for number, one in enumerate(sessions):
        session = replace(one, kept=kept.get(number, ""))
        while not session.kept and session.anchor in taken:
            session = replace(session, number=session.number + 1)
        taken.add(session.anchor)
        yield session


def _names_of_before(yard: Yard) -> dict[str, tuple[date, str | None, set[str]]]:
    """By name: the day, show and fish of every session the last plan knew."""
    found: dict[str, tuple[date, str | None, set[str]]] = {}
    for job in yard.last.jobs.values() if yard.last is not None else ():
        kind, _, name = job.id.partition("/")
        if kind == "touch-up" or (kind.startswith("look-back-") and name not in found):
            late = int(kind.rpartition("-")[2]) if kind != "touch-up" else 0
            ago = timedelta(LOOK_BACK_DAYS[late - 1]) if late else timedelta(0)
            found[name] = (job.first_day - ago, job.show, set(job.fish))
    return found


def _as_session(
    yard: Yard, day: date, members: Sequence[tuple[FishState, str]], going: Going
) -> Session:
    first = members[0][0]
    show = _show_after(yard, first, day, going)
    done = {defect.touched for defect in first.defects if defect.touched is not None}
    before = [one for one in done if one < day and _show_after(yard, first, one, going) == show]
    return Session(
        day=day,
        fish=tuple(fish for fish, _ in members),
        show=show,
        heals_in=tuple(water for _, water in members),
        number=len(before) + 1,
    )


def _show_after(yard: Yard, fish: FishState, day: date, going: Going) -> str | None:
    """The first show after `day` that the fish is entered in."""
    shows = going.get(fish.id, ())
    after = (
        one.show for one in yard.events.values() if one.benching_day > day and one.show in shows
    )
    return next(after, None)


def keeper_may(yard: Yard) -> bool:
    """May the keeper do it: the keeper said so, and that the law was checked."""
    return yard.keeper.touch_up.by == "keeper" and yard.keeper.touch_up.law_stated


def _session_jobs(yard: Yard, session: Session) -> Iterator[Draft]:
    if not keeper_may(yard):
        yield _ring_vet(session)
    yield _kit(session)
    draft = _session(yard, session)
    if _is_set(session):
        draft = replace(draft, counts_from=reason("touch-up-day-set"))
    yield draft


def session_waters(yard: Yard, session: Session) -> list[str]:
    """The waters its fish are taken from."""
    return sorted({yard.taken_from(fish, session.day) for fish in session.fish})


def _session(yard: Yard, session: Session) -> Draft:
    stated = yard.keeper.touch_up.law_stated
    return Draft(
        id=f"touch-up/{session.anchor}",
        kind="touch-up" if stated else "ask-a-vet",
        title=_title(yard, session),
        earliest=session.day,
        ideal=session.day,
        latest=session.day,
        fish=session.ids,
        show=session.show,
        water=session_waters(yard, session)[0],
        hands=True,
        alarm=True,
        note=_session_note(yard, session),
        late_cost=reason("touch-up-late"),
        counts_from=reason("touch-up-window"),
        cautions=(
            *_water_unsure(yard, session),
            *_unfed(yard, session),
            *(() if stated else (NOT_STATED,)),
            *_vets_day(yard, session),
            LAW,
            *SEDATION,
            NOT_FOOD,
        ),
        grade="derived",
    )


def _is_set(session: Session) -> bool:
    """Has the keeper set the day, for one of its fish?"""
    return any(day == session.day for fish in session.fish for _, day in fish.days_set)


def _title(yard: Yard, session: Session) -> Reason:
    if keeper_may(yard):
        return reason("touch-up", fish=session.named)
    if yard.keeper.touch_up.law_stated:
        return reason("touch-up-by-vet", fish=session.named)
    return reason("touch-up-if-vet-agrees", fish=session.named)


def _vets_day(yard: Yard, session: Session) -> Iterator[Reason]:
    """The vet's day is none of the keeper's: somebody has to be there all the same."""
    if yard.by_vet and not yard.is_work_day(session.day):
        yield reason("be-there-for-the-vet", day=session.day)


def _water_unsure(yard: Yard, session: Session) -> Iterator[Reason]:
    """The water expected is not fit: the session waits for what is read on the day."""
    coldest, warmest = (Celsius(yard.figures[f"sed_{end}_block"]) for end in ("cold", "hot"))
    for water in session_waters(yard, session):
        expected = yard.waters.of(water)(session.day)
        if water_fit(expected, yard.figures).level == "block":
            yield reason(
                "only-if-water-fits",
                water=water,
                coldest=coldest,
                warmest=warmest,
                expected=Celsius(round(expected, 1)),
            )


def _unfed(yard: Yard, session: Session) -> Iterator[Reason]:
    """When the fast should have begun already and the journal does not say that it did."""
    for water in session_waters(yard, session):
        first = unfed_from(yard, yard.waters.of(water), session.day)
        if first < yard.on and water not in yard.state.fasting:
            yield reason("only-if-unfed", water=water, since=first)


def _session_note(yard: Yard, session: Session) -> Reason:
    rate = Kelvin(yard.figures["temp_ramp"])
    each = tuple(
        reason(
            "fish-in-session",
            fish=FishId(fish.id),
            specks=tuple(blemish(one) for one in fish.open_defects if one.touched is None),
            heals_in=None if water == yard.taken_from(fish, session.day) else water,
            rate=rate,
        )
        for fish, water in zip(session.fish, session.heals_in, strict=True)
    )
    return reason("session-how", each=each)


def _ring_vet(session: Session) -> Draft:
    day = session.day
    return Draft(
        id=f"ring-vet/{session.anchor}",
        kind="ring-vet",
        title=reason("ring-the-vet", fish=session.named, day=day),
        earliest=day - timedelta(days=42),
        ideal=day - timedelta(days=14),
        latest=day - timedelta(days=2),
        fish=session.ids,
        show=session.show,
        alarm=True,
        note=reason("ring-the-vet-how"),
        late_cost=reason("no-vet-no-touch-up"),
        counts_from=reason("two-weeks-before"),
        cautions=(LAW,),
        grade="assumption",
    )


def _kit(session: Session) -> Draft:
    return Draft(
        id=f"kit/{session.anchor}",
        kind="touch-up-kit",
        title=reason("touch-up-kit", fish=session.named),
        earliest=session.day - timedelta(days=7),
        ideal=session.day - timedelta(days=3),
        latest=session.day,
        fish=session.ids,
        show=session.show,
        note=reason("touch-up-kit-how"),
        late_cost=reason("touch-up-kit-late"),
        counts_from=reason("three-days-before-touch-up"),
        grade="common practice",
    )


def _look_backs(session: Session) -> Iterator[Draft]:
    for number, days in enumerate(LOOK_BACK_DAYS, start=1):
        due = session.day + timedelta(days=days)
        fish = tuple(one.id for one in session.fish if not _looked(one, due))
        if not fish:
            continue
        yield Draft(
            id=f"look-back-{number}/{session.anchor}",
            kind="look-back",
            title=reason("look-back", fish=tuple(map(FishId, fish)), weeks=days // 7),
            earliest=due - timedelta(days=LOOK_WITHIN),
            ideal=due,
            latest=due + timedelta(days=LOOK_WITHIN),
            fish=fish,
            show=session.show,
            hands=True,
            alarm=True,
            note=reason("look-back-how"),
            late_cost=reason("look-back-late"),
            counts_from=reason("days-after-touch-up", days=days),
            grade="common practice",
        )


def _looked(fish: FishState, due: date) -> bool:
    """Was a look written down around the day it was due, or later?"""
    since = due - timedelta(days=3)
    return any(
        look is not None and look >= since
        for defect in fish.defects
        if defect.touched is not None
        for look in (
            defect.closed_on,
            defect.clean_on,
            defect.still_clean_on,
            defect.not_clean_on,
        )
    )


def _done_of_late(yard: Yard) -> list[tuple[str, date, str]]:
    """Touch-ups written in the journal whose look-backs may still be due."""
    return [
        (fish.id, day, yard.course(fish).water_before(day))
        for fish in yard.fish_here()
        for day in {defect.touched for defect in fish.defects if defect.touched is not None}
        if day >= yard.on - timedelta(days=21)
    ]
