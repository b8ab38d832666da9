"""How one journal entry changes the marks of a fish.

An entry is about the marks it names, by kind and place. Where it names none: a touch-up is about
the specks not yet taken off; a look is about those touched up, or else about every open mark; a
vet's visit is about everything but plain specks, unless there is nothing else.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from msgspec.structs import replace

from showprep.planning.as_of.records import DefectState
from showprep.season.records import Defect, Fish, JournalEntry

SPECK = "shimi"
RED_SPOTS = "red-spots"
Defects = list[DefectState]


def found_by(fish: Fish, on: date) -> Defects:
    """The marks the fish's own file tells of, as known on a day."""
    return [_of_record(defect, on) for defect in fish.defects if defect.seen <= on]


def after(defects: Defects, entry: JournalEntry) -> Defects:
    """The marks once `entry` has been read; entries of other kinds change nothing."""
    tell = _TELLS.get(entry.word)
    return tell(defects, entry) if tell else defects


def meant(defects: Defects, entry: JournalEntry) -> Defects:
    """The open marks that `entry` is about, none when there is no such mark."""
    known = [
        defect
        for defect in defects
        if defect.open and defect.seen <= entry.on and _named(defect, entry)
    ]
    if entry.did == "touch-up":
        kind = entry.defect or SPECK
        specks = [defect for defect in known if defect.kind == kind]
        return [defect for defect in specks if defect.touched is None] or specks
    if entry.defect or entry.where:
        return known
    if entry.did == "vet":
        return [defect for defect in known if defect.kind != SPECK] or known
    return [defect for defect in known if defect.touched] or known


def _of_record(defect: Defect, on: date) -> DefectState:
    def by_then(day: date | None) -> date | None:
        return day if day is not None and day <= on else None

    clean = by_then(defect.clean)
    return DefectState(
        kind=defect.kind,
        where=defect.where,
        size_mm=defect.size_mm,
        seen=defect.seen,
        merit_lost=defect.merit_lost,
        lost_share=defect.lost_share,
        vet=by_then(defect.vet),
        clean_on=clean,
        still_clean_on=clean,
        closed_on=clean,
    )


def _named(defect: DefectState, entry: JournalEntry) -> bool:
    kind_fits = entry.defect is None or entry.defect == defect.kind
    where = (entry.where or "").casefold()
    return kind_fits and where in ("", defect.where.casefold())


def _change(
    defects: Defects, entry: JournalEntry, change: Callable[[DefectState], DefectState]
) -> Defects:
    about = meant(defects, entry)
    return [change(defect) if defect in about else defect for defect in defects]


def _touch_up(defects: Defects, entry: JournalEntry) -> Defects:
    about = meant(defects, entry)
    after: Defects = []
    for defect in defects:
        if defect not in about:
            after.append(defect)
            continue
        if defect.touched is not None:
            after.append(replace(defect, ended_on=entry.on))
        after.append(
            replace(
                defect,
                touched=entry.on,
                closed_on=None,
                not_closed_on=None,
                not_clean_on=None,
                mark_left=False,
            )
        )
    return after


def _vet(defects: Defects, entry: JournalEntry) -> Defects:
    return _change(defects, entry, lambda defect: replace(defect, vet=entry.on))


def _closed(defects: Defects, entry: JournalEntry) -> Defects:
    def close(defect: DefectState) -> DefectState:
        return replace(defect, closed_on=defect.closed_on or entry.on)

    return _change(defects, entry, close)


def _not_closed(defects: Defects, entry: JournalEntry) -> Defects:
    def open_again(defect: DefectState) -> DefectState:
        return replace(defect, closed_on=None, not_closed_on=entry.on, not_clean_on=entry.on)

    return _change(defects, entry, open_again)


def _clean(defects: Defects, entry: JournalEntry) -> Defects:
    def clean(defect: DefectState) -> DefectState:
        closed = defect.closed_on or entry.on
        return replace(
            defect,
            clean_on=entry.on,
            still_clean_on=entry.on,
            closed_on=closed,
            mark_left=False,
        )

    if meant(defects, entry):
        return _change(defects, entry, clean)
    healed = _last(defects, entry, lambda defect: defect.ended_on is None)
    return [replace(old, still_clean_on=entry.on) if old is healed else old for old in defects]


def _not_clean(defects: Defects, entry: JournalEntry) -> Defects:
    def mark(defect: DefectState) -> DefectState:
        return replace(defect, not_clean_on=entry.on, clean_on=None, still_clean_on=None)

    if meant(defects, entry):
        return _change(defects, entry, mark)
    mistaken = _last(defects, entry, lambda defect: defect.ended_on is None)
    return [mark(old) if old is mistaken else old for old in defects]


def _mark_left(defects: Defects, entry: JournalEntry) -> Defects:
    def keep(defect: DefectState) -> DefectState:
        lost = defect.merit_lost if entry.merit_lost is None else entry.merit_lost
        return replace(
            defect,
            mark_left=True,
            clean_on=None,
            still_clean_on=None,
            closed_on=defect.closed_on or entry.on,
            not_clean_on=entry.on,
            merit_lost=lost,
        )

    if meant(defects, entry):
        return _change(defects, entry, keep)
    healed = _last(defects, entry, lambda defect: defect.ended_on is None)
    return [keep(old) if old is healed else old for old in defects]


def _speck_back(defects: Defects, entry: JournalEntry) -> Defects:
    kind = entry.defect or SPECK
    old = _last(defects, entry, lambda defect: defect.kind == kind and defect.ended_on is None)
    if old is None:
        return [*defects, _new(entry, kind, came_back=True)]
    back = replace(
        _new(entry, kind, came_back=True),
        where=old.where,
        size_mm=old.size_mm if entry.size_mm is None else entry.size_mm,
        merit_lost=old.merit_lost if entry.merit_lost is None else entry.merit_lost,
    )
    ended = replace(old, ended_on=entry.on)
    return [*(ended if defect is old else defect for defect in defects), back]


def _new_defect(defects: Defects, entry: JournalEntry) -> Defects:
    if entry.defect is None:
        return defects
    same = [
        defect
        for defect in meant(defects, entry)
        if defect.where.casefold() == (entry.where or "").casefold()
    ]
    if not same:
        return [*defects, _new(entry, entry.defect)]
    known = replace(
        same[0],
        size_mm=same[0].size_mm if entry.size_mm is None else entry.size_mm,
        merit_lost=same[0].merit_lost if entry.merit_lost is None else entry.merit_lost,
    )
    if entry.defect == RED_SPOTS:  # written down again, they are still there
        known = replace(known, not_clean_on=entry.on)
    return [known if defect is same[0] else defect for defect in defects]


def _new(entry: JournalEntry, kind: str, *, came_back: bool = False) -> DefectState:
    lost = Defect.model_fields["merit_lost"].default
    return DefectState(
        kind=kind,
        where=entry.where or "",
        size_mm=entry.size_mm,
        seen=entry.on,
        merit_lost=lost if entry.merit_lost is None else entry.merit_lost,
        came_back=came_back,
    )


def _last(
    defects: Defects, entry: JournalEntry, fits: Callable[[DefectState], bool]
) -> DefectState | None:
    """The mark dealt with last of those that the entry names and that fit."""
    known = [
        defect
        for defect in defects
        if defect.seen <= entry.on and _named(defect, entry) and fits(defect)
    ]
    return max(known, key=lambda defect: defect.heals_from) if known else None


_TELLS: dict[str, Callable[[Defects, JournalEntry], Defects]] = {
    "touch-up": _touch_up,
    "vet": _vet,
    "closed": _closed,
    "not closed": _not_closed,
    "clean": _clean,
    "not clean": _not_clean,
    "mark left": _mark_left,
    "speck back": _speck_back,
    "new defect": _new_defect,
}
