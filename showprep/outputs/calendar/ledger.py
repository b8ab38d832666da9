"""What was written before: which edition of each job the phones may already have.

A JSON file beside the calendar. It is never needed for a first calendar. When it is lost or
damaged, the next calendar starts with sequences above any that can have been written before.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct, field
from msgspec.structs import asdict

from showprep.outputs.whole_file import write_whole
from showprep.season.own_files import read_own

VERSION = 1
_EPOCH = datetime(2020, 1, 1, tzinfo=UTC)
State = Literal["CONFIRMED", "CANCELLED", "DONE", "GONE", "LEFT OUT", "SENDING"]


class LedgerRow(Struct, frozen=True):
    """The last edition of one job: enough to know a change, and to write it as cancelled.

    `start` and `end` are ISO days, or UTC instants when timed. `state` is GONE when the job has
    left the plan and the file, LEFT OUT when it is only outside the part of the season that the
    file now holds.

    For a job on a calendar server: `etag` is what the server called the edition that it last
    confirmed, `shown` is a hash of what a person sees of it. While one is being sent the state is
    SENDING, `etag` and `before` (its `shown`) still those of the edition before. `description` and
    `alarm` are those of the edition, to tell what a phone has changed; the rest says what the job
    was about, so that it can be told to have been done.
    """

    content: str
    sequence: int
    modified: str
    state: State
    summary: str
    start: str
    end: str
    zone: str | None = None
    etag: str | None = None
    shown: str | None = None
    before: str | None = None
    description: str | None = None
    alarm: int | None = None  # minutes before the start
    task: str | None = None
    kind: str | None = None
    fish: tuple[str, ...] = ()
    show: str | None = None
    water: str | None = None
    own: bool | None = None  # the keeper's own words or alarms stand in it, and are to be kept
    kept: str | None = None  # the phone's edition and the plan's that the keeper let stand
    described: str | None = None  # while one is being sent: the description of the edition before
    alarmed: int | None = None  # and its alarm
    removing: bool | None = None  # it is being taken off, and may be gone already

    @property
    def stamp(self) -> datetime:
        return parse_instant(self.modified)

    @property
    def last_end(self) -> date:
        """The (excluded) end of the event, as a day."""
        return date.fromisoformat(self.end[:10])


class Ledger(Struct, frozen=True):
    """Every job ever written to one calendar, by UID.

    New jobs start at `first_sequence`, and no stamp is earlier than `not_before`: both are raised
    when an earlier ledger was lost. `season` and `file` say whose it is; `holds` is a hash of the
    calendar it was written with and `held_before` of the one before, for a run that was cut off
    between the two. Older ledgers have none of these.
    """

    scope: str = ""
    season: str | None = None
    file: str | None = None
    holds: str = ""
    held_before: str = ""
    first_sequence: int = 0
    not_before: str = ""
    records: Mapping[str, LedgerRow] = field(default_factory=dict)

    def strange_to(self, season: str, file: str, calendar: bytes) -> str:
        """Why this ledger is not that of this calendar; "" where it is.

        A ledger that was copied, mixed up with another or set back to an older one would give
        editions that phones have seen already. Where no calendar lies, none contradicts.
        """
        if self.season is not None and self.season != season:
            return "it is that of another season"
        if self.file is not None and self.file != file:
            return f"it was copied: it belongs to {self.file}"
        if self.holds and calendar and held(calendar) not in (self.holds, self.held_before):
            return "the calendar beside it is another edition than the one it was written with"
        return ""


def held(calendar: bytes) -> str:
    """The hash by which a ledger knows its calendar."""
    return hashlib.sha256(calendar).hexdigest()[:16]


class LedgerDamaged(Exception):
    """The ledger cannot be read, or not be trusted; `str()` says why."""


def ledger_path(calendar: Path) -> Path:
    return calendar.with_name(calendar.name + ".ledger.json")


def instant_text(instant: datetime) -> str:
    return instant.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def parse_instant(text: str) -> datetime:
    return datetime.strptime(text, "%Y-%m-%dT%H:%M:%SZ").replace(tzinfo=UTC)


def minutes_since_2020(instant: datetime) -> int:
    """Fits 32 bits until the year 6100."""
    return int((instant - _EPOCH).total_seconds() // 60)


def save(path: Path, ledger: Ledger) -> None:
    write_whole(path, written_ledger(ledger))


def written_ledger(ledger: Ledger) -> bytes:
    """The bytes of the ledger's file."""
    body = {
        "scope": ledger.scope,
        **_whose(ledger),
        "first_sequence": ledger.first_sequence,
        "not_before": ledger.not_before,
        "records": {uid: _written(ledger.records[uid]) for uid in sorted(ledger.records)},
    }
    whole = {"ledger": VERSION, "check": _check(body), **body}
    text = json.dumps(whole, ensure_ascii=True, indent=1) + "\n"
    return text.encode("ascii")


def _whose(ledger: Ledger) -> dict[str, str]:
    """What is known of whose it is; nothing in the ledger of a calendar on a server."""
    whose = {
        "season": ledger.season,
        "file": ledger.file,
        "holds": ledger.holds or None,
        "held_before": ledger.held_before or None,
    }
    return {name: value for name, value in whose.items() if value is not None}


def _written(record: LedgerRow) -> dict[str, Any]:
    return {name: value for name, value in asdict(record).items() if value not in (None, ())}


def load(path: Path) -> Ledger | None:
    """The ledger at `path`; None when there is none. Raises LedgerDamaged."""
    try:
        data = read_own(path)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise LedgerDamaged(f"it cannot be read ({error.strerror})") from error
    try:
        whole = json.loads(data.decode("utf-8"))
        return _ledger(whole)
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise LedgerDamaged("it is damaged") from error


def _ledger(whole: dict[str, Any]) -> Ledger:
    if whole.pop("ledger") != VERSION:
        raise LedgerDamaged("it was written by another version")
    if whole.pop("check") != _check(whole):
        raise ValueError("the check sum does not fit")
    records = {
        uid: LedgerRow(**{**record, "fish": tuple(record.get("fish", ()))})
        for uid, record in whole.pop("records").items()
    }
    return Ledger(records=records, **whole)


def _check(body: Mapping[str, Any]) -> str:
    """A check sum of the rest: a ledger that was cut, merged or edited is not trusted."""
    text = json.dumps(body, ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:16]
