"""Which ledger counts for a calendar on a server: the one that lies there, or one told anew."""

from __future__ import annotations

import hashlib
from collections.abc import Collection
from datetime import date, datetime
from pathlib import Path

from msgspec.structs import replace

from showprep.outputs.calendar.editions import fallback
from showprep.outputs.calendar.identity import uid_of
from showprep.outputs.calendar.ledger import Ledger, LedgerDamaged, load
from showprep.outputs.server.connection import Address
from showprep.outputs.server.look import Look
from showprep.season.own_files import FOLDER


def ledger_of(season: Path, address: Address, user: str, identity: str = "") -> Path:
    """Where it is kept what the season with this identity put into this calendar: inside the
    season's folder. A ledger of the same calendar that came along with a copied folder, and is
    that of the season it was copied from, stays as it is beside it."""
    calendar = f"{address}\n{user}"
    path = season / FOLDER / _named(calendar)
    try:
        ledger = load(path)
    except LedgerDamaged:
        return path
    if ledger is None or not _of_another(ledger, identity):
        return path
    return path.with_name(_named(f"{calendar}\n{identity}"))


def _named(whose: str) -> str:
    return f"published-{hashlib.sha256(whose.encode()).hexdigest()[:12]}.ledger.json"


def _of_another(ledger: Ledger, identity: str) -> bool:
    """Is it that of another season? Older ledgers do not say it, but their names do."""
    if ledger.season is not None:
        return ledger.season != identity
    return any(
        row.task and uid != uid_of(row.task, identity) for uid, row in ledger.records.items()
    )


def ledger_for(
    path: Path, look: Look, identity: str, planned: Collection[str], now: datetime, planned_on: date
) -> tuple[Ledger, list[str]]:
    """The ledger to go on from, and what the keeper should know of it. `planned` are the UIDs of
    the plan. Where the ledger is lost, damaged or older than the calendar, the events themselves
    tell what was published."""
    ledger, why = Ledger(), ""
    try:
        found = load(path)
    except LedgerDamaged as damage:
        why = f"The ledger {path} is not used: {damage}."
    else:
        ledger = found or ledger
        later = look.published_since(ledger.records, planned, identity)
        if found is not None and later:
            why = (
                f"The ledger {path} is older than the calendar: {len(later)} of the jobs there were"
                " published after it, from another computer or before an older copy was put back."
            )
        elif found is None and (later or any(look.etag(uid) is not None for uid in planned)):
            why = f"There is no ledger {path}, but jobs of this season are in the calendar already."
    if not why:
        return replace(ledger, season=identity), []
    told = {}
    for uid, row in look.rows(ledger.records, planned, identity).items():
        # What nobody can say anything of any more, and is over, is left as it is.
        followed = row.task or uid in planned or row.last_end > planned_on
        told[uid] = row if followed else replace(row, state="GONE")
    why += (
        " What the events say of themselves is taken instead. One that does not say what was"
        " published, and differs from the plan, is left alone, unless --overwrite."
    )
    return replace(fallback(now, planned_on, b""), season=identity, records=told), [why]
