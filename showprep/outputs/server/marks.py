"""What an event on a server says of itself: whose job it is, which edition, and how it was written.

The ledger of a season can be lost, set back to an older one, or be that of another computer. The
mark in each event tells then what was published, so that our own later edition is never taken for a
change made on a phone, and a job that has left the plan is found and taken off. RFC 5545 §3.8.8.2
allows such properties, and servers keep what they do not know (RFC 4791 §5.3.3).
"""

from __future__ import annotations

import hashlib
import re
from datetime import UTC, date, datetime
from typing import Any

from msgspec import Struct
from msgspec.structs import asdict

from showprep.outputs.calendar.editions import DONE, moment_text
from showprep.outputs.calendar.events import MARK
from showprep.outputs.calendar.jobs import Job
from showprep.outputs.calendar.ledger import LedgerRow, instant_text

NOT_KNOWN = datetime(2020, 1, 1, tzinfo=UTC)  # when an edition was written
OF_THE_FIRST = "first"  # the season that has no identity
# The names given here are version 5 of RFC 9562; programs that draw theirs use other versions.
OURS = re.compile(r"([0-9A-F]{8}-[0-9A-F]{4}-5[0-9A-F]{3}-[89AB][0-9A-F]{3}-[0-9A-F]{12})\.ics\Z")


class Mark(Struct, frozen=True):
    """One edition: `shown` hashes what a person sees of it, `title` and `text` its published title
    and description, of `length` characters; `alarm` is in minutes before, "-" for none."""

    season: str
    sequence: int
    content: str
    shown: str
    start: str
    end: str
    title: str
    text: str
    length: int
    alarm: str

    def __str__(self) -> str:
        return " ".join(str(value) for value in asdict(self).values())

    def has_title(self, title: str) -> bool:
        return short_hash(title) == self.title

    @property
    def minutes(self) -> int | None:
        return None if self.alarm == "-" else int(self.alarm)


def mark_of(job: Job, season: str, sequence: int, shown: str) -> Mark:
    """The mark of this edition of a job of the season with that identity."""
    return Mark(
        season or OF_THE_FIRST,
        sequence,
        job.content(),
        shown,
        moment_text(job.start),
        moment_text(job.end),
        short_hash(job.summary),
        short_hash(job.description),
        len(job.description),
        "-" if job.minutes_before is None else str(job.minutes_before),
    )


def mark_in(event: Any) -> Mark | None:
    """The mark of an event as it was read; None where it has none that can be read."""
    parts = str(event.get(MARK, "")).split(" ")
    try:
        season, sequence, content, shown, start, end, title, text, length, alarm = parts
        mark = Mark(
            season, int(sequence), content, shown, start, end, title, text, int(length), alarm
        )
        _ = mark.minutes, date.fromisoformat(mark.start[:10]), date.fromisoformat(mark.end[:10])
    except ValueError:
        return None
    return mark


def short_hash(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]


def row_of(mark: Mark, summary: str, description: str, etag: str | None) -> LedgerRow:
    """What the ledger would say of this edition, `summary` being its title.

    `description` is what stands there now, `etag` the server's name for it, None where a phone has
    touched it.
    """
    published = description[: mark.length]
    return LedgerRow(
        content=mark.content,
        sequence=mark.sequence,
        modified=instant_text(NOT_KNOWN),
        state="DONE" if summary.startswith(DONE) else "CONFIRMED",
        summary=summary,
        start=mark.start,
        end=mark.end,
        etag=etag,
        shown=mark.shown,
        description=published if short_hash(published) == mark.text else None,
        alarm=mark.minutes,
        own=True,  # whatever stands in it besides is kept
    )
