"""Which sheets were written out to be printed, and what they rested on: kept in the folder."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import asdict

from showprep.outputs.whole_file import alone_in, hidden_folder, write_whole
from showprep.season.own_files import FOLDER, read_own

if TYPE_CHECKING:
    from showprep.planning.follow_up.sheet_facts import PrintedSheet, SheetFact

FILE = "printed.json"


def printed_sheets(season: Path) -> dict[str, PrintedSheet]:
    """The sheets that were printed, by what they are of; none where the file cannot be read."""
    try:
        data = json.loads(read_own(season / FOLDER / FILE).decode("utf-8"))
        return {str(of): _read(of, one) for of, one in data["sheets"].items()}
    except (OSError, ValueError, RecursionError, KeyError, TypeError, AttributeError):
        return {}


def remember_printed(
    season: Path,
    facts: Mapping[str, SheetFact],
    on: date,
    groups: Collection[str],
    *,
    perhaps: bool = False,
) -> None:
    """Keep what was printed by the plan of the day `on`, whose sheets rest on `facts`.

    Of a show's group these are its sheets, of "sessions" and "worksheets" those of the sessions.
    What is only `perhaps` printed takes the place of nothing that was: the paper at hand may still
    be the older one. Raises Failure where the season's folder cannot be written to.
    """
    from showprep.planning.follow_up.sheet_facts import PrintedSheet

    sessions = {"sessions", "worksheets"} & set(groups)
    facts = {
        of: fact
        for of, fact in facts.items()
        if (fact.show in groups if fact.show is not None else sessions)
    }
    if not facts:
        return
    folder = hidden_folder(season)
    with alone_in(folder):
        sheets = printed_sheets(season)
        made = {of: PrintedSheet(on, fact) for of, fact in facts.items()}
        sheets = made | sheets if perhaps else sheets | made
        body = {of: _written(sheets[of]) for of in sorted(sheets)}
        text = json.dumps({"sheets": body}, ensure_ascii=True, indent=1) + "\n"
        write_whole(folder / FILE, text.encode("ascii"))


def _written(sheet: PrintedSheet) -> dict[str, object]:
    fact = asdict(sheet.fact) | {"start": sheet.fact.start.isoformat()}
    return {"on": sheet.on.isoformat(), **fact}


def _read(of: str, one: dict[str, object]) -> PrintedSheet:
    from showprep.planning.follow_up.sheet_facts import PrintedSheet, SheetFact

    start, show, fish = str(one["start"]), one["show"], one["fish"]
    if not isinstance(fish, list):
        raise TypeError("no list of fish")
    moment = datetime.fromisoformat(start) if "T" in start else date.fromisoformat(start)
    told = one.get("amounts")
    amounts = (
        {str(of): float(much) for of, much in told.items()} if isinstance(told, dict) else None
    )
    fact = SheetFact(
        of, None if show is None else str(show), moment, tuple(map(str, fish)), amounts
    )
    return PrintedSheet(date.fromisoformat(str(one["on"])), fact)
