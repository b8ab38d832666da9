"""What was done on a phone with the jobs that were published: read, never changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal

from showprep.outputs.calendar.ledger import Ledger, LedgerRow
from showprep.outputs.failure import Failure
from showprep.outputs.server.collection import Collection
from showprep.outputs.server.refusals import refusal
from showprep.outputs.server.shown import own_words, phone_event
from showprep.outputs.server.steps import resource_name

Touch = Literal["ticked", "moved", "renamed", "noted", "deleted", "unreadable"]


@dataclass(frozen=True, slots=True)
class FromPhone:
    """One thing done on a phone with one job. `day` is the day it has on the phone (None where it
    was deleted), `words` what was written into it."""

    touch: Touch
    row: LedgerRow
    day: date | None = None
    words: str = ""

    @property
    def published_day(self) -> date:
        return date.fromisoformat(self.row.start[:10])


def read_back(ledger: Ledger, collection: Collection) -> tuple[FromPhone, ...]:
    """Everything touched since it was published, in the order of the days it was published for.

    Raises Failure when the server does not answer as a calendar, or holds none of the jobs: then
    the calendar was emptied or made anew, and nothing can be told from it.
    """
    there = collection.etags()
    published = {uid: row for uid, row in ledger.records.items() if row.state == "CONFIRMED"}
    if published and not any(resource_name(uid) in there for uid in published):
        raise Failure(
            "None of the jobs that were published is in this calendar any more: it was emptied or"
            " made anew. Nothing was taken from it."
        )
    found: list[FromPhone] = []
    for uid, row in published.items():
        etag = there.get(resource_name(uid))
        if etag is None:
            found.append(FromPhone("deleted", row))
        elif etag != row.etag:
            answer = collection.get(resource_name(uid))
            if answer.status != 200:
                raise Failure(refusal(answer.status, answer.headers))
            found.extend(_touches(uid, row, answer.body))
    return tuple(sorted(found, key=lambda one: (one.row.start, one.row.task or "", one.touch)))


def _touches(uid: str, row: LedgerRow, data: bytes) -> Iterator[FromPhone]:
    event = phone_event(data, uid)
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
