"""One look at a calendar on a server: what lies there, each job read at most once."""

from __future__ import annotations

from collections.abc import Collection as Collection_
from collections.abc import Iterable, Mapping
from contextlib import suppress
from datetime import date

from msgspec import Struct, field
from msgspec.structs import replace

from showprep.outputs.calendar.editions import DONE
from showprep.outputs.calendar.ledger import LedgerRow
from showprep.outputs.failure import Failure
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.marks import OF_THE_FIRST, OURS, Mark, row_of
from showprep.outputs.server.refusals import refusal
from showprep.outputs.server.shown import (
    PhoneEvent,
    ServerEvent,
    any_event,
    found_in,
    phone_event,
    without_tick,
)

COPIES_LOOKED_FOR = 500  # other events in the calendar; a calendar of its own has none


class PhoneCopy(Struct, frozen=True):
    """An event that a person made of one of ours: no change of the plan reaches it."""

    title: str
    day: date


def resource_name(uid: str) -> str:
    return f"{uid}.ics"


class Look(Struct, frozen=True):
    """`there` has the etag of each resource by its name, as they were at the beginning."""

    collection: Collection
    there: Mapping[str, str]
    _read: dict[str, bytes] = field(default_factory=dict)

    @classmethod
    def at(cls, collection: Collection) -> Look:
        return cls(collection, collection.etags())

    def etag(self, uid: str) -> str | None:
        return self.there.get(resource_name(uid))

    def resource(self, uid: str) -> bytes:
        """The whole resource of one job. Raises Failure where the server does not give it."""
        if uid not in self._read:
            answer = self.collection.get(resource_name(uid))
            if answer.status != 200:
                raise Failure(refusal(answer.status, answer.headers))
            self._read[uid] = answer.body
        return self._read[uid]

    def found(self, uid: str) -> ServerEvent:
        return found_in(self.resource(uid), uid)

    def event(self, uid: str) -> PhoneEvent | None:
        return phone_event(self.resource(uid), uid)

    def published_since(
        self, rows: Mapping[str, LedgerRow], planned: Iterable[str], season: str
    ) -> set[str]:
        """The jobs of the season with this identity of which a later edition lies there than these
        rows know: then they are those of an older ledger, or of another computer."""
        later = set()
        for uid in self._of_season(season, {*rows, *planned}):
            row, etag = rows.get(uid), self.etag(uid)
            if etag is None or (row is not None and row.etag == etag):
                continue
            mark = self._mark(uid, season)
            if mark is not None and (row is None or mark.sequence > row.sequence):
                later.add(uid)
        return later

    def rows(
        self, before: Mapping[str, LedgerRow], planned: Collection_[str], season: str
    ) -> dict[str, LedgerRow]:
        """What a ledger would say, told by the events themselves; `before` are the rows of an
        older one, which know what a job was about."""
        told = {}
        for uid in self._of_season(season, {*before, *planned}):
            etag = self.etag(uid)
            mark = self._mark(uid, season) if etag is not None else None
            event = self.event(uid) if mark is not None else None
            if mark is None or event is None or etag is None:
                continue
            titles = filter(mark.has_title, (event.summary, without_tick(event.summary)))
            # Of one that was renamed it is only known that it had another title.
            title = next(titles, "" if uid in planned else event.summary)
            at = etag if self.found(uid).untouched else None
            row = row_of(mark, title, event.description, at)
            old = before.get(uid)
            told[uid] = row if old is None else _about_as(row, old)
        return told

    def copies(self, ours: Iterable[str], titles: Iterable[str]) -> tuple[PhoneCopy, ...]:
        """Other events in the calendar that carry a title of ours, and so promise a day."""
        known = {resource_name(uid) for uid in ours}
        strangers = sorted(self.there.keys() - known)
        if not strangers or len(strangers) > COPIES_LOOKED_FOR:
            return ()
        wanted = {title for title in titles if not title.startswith(DONE)}
        found = []
        with suppress(Failure):  # what else lies there may be more than is read here
            for body in self.collection.many(strangers):
                event = any_event(body)
                if event is not None and without_tick(event.summary) in wanted:
                    found.append(PhoneCopy(event.summary, event.day))
        return tuple(sorted(found, key=lambda one: (one.day, one.title)))

    def _of_season(self, season: str, known: set[str]) -> list[str]:
        """What may be a job of the season. Of one without an identity it is what is known: another
        such season may share the calendar."""
        matches = (OURS.match(name) for name in self.there) if season else ()
        return sorted({match[1] for match in matches if match} | known)

    def _mark(self, uid: str, season: str) -> Mark | None:
        mark = self.found(uid).mark
        return mark if mark is not None and mark.season == (season or OF_THE_FIRST) else None


def _about_as(row: LedgerRow, old: LedgerRow) -> LedgerRow:
    """The row with what the older one says the job is about."""
    about = {name: getattr(old, name) for name in ("task", "kind", "fish", "show", "water", "zone")}
    return replace(row, **about)
