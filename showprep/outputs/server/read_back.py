"""What was done on a phone with the jobs that were published: read, never changed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from showprep.outputs.calendar.ledger import Ledger, LedgerRow
from showprep.outputs.failure import Failure
from showprep.outputs.server.look import Look
from showprep.outputs.server.shown import PhoneEvent, own_words

Touch = Literal["ticked", "moved", "renamed", "noted", "deleted", "unreadable"]


class FromPhone(Struct, frozen=True):
    """One thing done on a phone with one job. `day` is the day it has on the phone (None where it
    was deleted), `words` what was written into it."""

    touch: Touch
    row: LedgerRow
    day: date | None = None
    words: str = ""
    day_after: date | None = None  # the one after its last day there; of a timed one None
    changed: datetime | None = None  # when it was touched, where the phone says so

    @property
    def published_day(self) -> date:
        return date.fromisoformat(self.row.start[:10])


def read_back(ledger: Ledger, look: Look) -> tuple[FromPhone, ...]:
    """Everything touched since it was published, in the order of the days it was published for.

    Raises Failure when the calendar holds none of the jobs: then it was emptied or made anew, and
    nothing can be told from it.
    """
    published = {uid: row for uid, row in ledger.records.items() if row.state == "CONFIRMED"}
    if published and not any(look.etag(uid) for uid in published):
        raise Failure(
            "None of the jobs that were published is in this calendar any more: it was emptied or"
            " made anew. Nothing was taken from it."
        )
    found: list[FromPhone] = []
    for uid, row in published.items():
        etag = look.etag(uid)
        if etag is None:
            found.append(FromPhone("deleted", row))
        elif etag != row.etag:
            event = look.event(uid)
            found.extend(_when(one, event) for one in _touches(row, event))
    return tuple(sorted(found, key=lambda one: (one.row.start, one.row.task or "", one.touch)))


def _when(one: FromPhone, event: PhoneEvent | None) -> FromPhone:
    """With the end and the moment that the phone tells: not those of what was published."""
    if event is None:
        return one
    changed = event.changed
    if changed is not None and changed <= one.row.stamp:
        changed = None
    day_after = None if isinstance(event.end, datetime) else event.end
    return replace(one, day_after=day_after, changed=changed)


def _touches(row: LedgerRow, event: PhoneEvent | None) -> Iterator[FromPhone]:
    if event is None:
        yield FromPhone("unreadable", row)
        return
    ticked = event.ticked(row.summary)
    if ticked:
        yield FromPhone("ticked", row, event.day)
    elif not event.same_moments(row.start, row.end):
        yield FromPhone("moved", row, event.day)
    elif event.summary != row.summary:
        yield FromPhone("renamed", row, event.day, event.summary)
    if words := own_words(event.description, row.description or ""):
        yield FromPhone("noted", row, event.day, words)
