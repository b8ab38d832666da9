"""How a sheet differs from the last plan, or from the one that was printed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from showprep.outputs.words.bath import millilitres_text
from showprep.outputs.words.plain import listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def not_as_planned(speaker: Speaker, told: Iterable[Reason]) -> str:
    """`Not as last planned: Ginjiro instead of Fumi; entries closed Sat 22 May: ring the ...`."""
    return f"Not as last planned: {'; '.join(speaker.clause(one) for one in told)}."


def _fish(speaker: Speaker, reason: Reason) -> str:
    come, gone = reason["come"], reason["gone"]
    assert isinstance(come, tuple) and isinstance(gone, tuple)
    with_, without = (listed(map(speaker.say, some)) for some in (come, gone))
    if come and gone:
        return f"{with_} instead of {without}."
    return f"with {with_} besides." if come else f"without {without}."


def _dose(speaker: Speaker, reason: Reason) -> str:
    old, new = reason["old"], reason["new"]
    assert isinstance(old, float) and isinstance(new, float)
    return f"the dose is {millilitres_text(new)}, not {millilitres_text(old)}."


def _out_of_date(speaker: Speaker, reason: Reason) -> str:
    how = reason["how"]
    assert isinstance(how, tuple)
    told = "; ".join(speaker.formatted(one, "clause") for one in how)
    sheet, printed = reason["sheet"], speaker.say(reason["printed"])
    return f"Printed {printed}, out of date: {speaker.formatted(sheet, 'clause')} ({told})."


SENTENCES: Sentences = {
    "sheet-day-otherwise": "{new}, not {old}.",
    "sheet-fish-otherwise": _fish,
    "sheet-entries-closed": "Entries closed {on}: ring the organiser.",
    "sheet-dose-otherwise": _dose,
    "sheet-no-dose": "No dose may be given any more: print it anew, and read why.",
    "sheet-bag-otherwise": "{new} of water in the bag of {fish}, not {old}.",
    "sheet-is-void": "It is not planned any more.",
    "sheet-out-of-date": _out_of_date,
    "sheets-of-show": "Sheets of {show}.",
    "sheet-of-session": "Sheet of the session {day}.",
}
