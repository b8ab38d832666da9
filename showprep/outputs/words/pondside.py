"""What stands on the page beside the pond: its labels, and what is said of a tap."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date

from showprep.outputs.words.plain import counted, listed, spoken
from showprep.outputs.words.speaker import Speaker
from showprep.planning.plan import ShowLine, Task
from showprep.planning.worksheets.bath_records import BathAsk
from showprep.season.records import JournalEntry
from showprep.season.values.quantities import Units, show_length, show_temperature

UNITS: Mapping[str, str] = {"c": "°C", "f": "°F", "cm": "cm", "in": "in"}
GROUPS: Mapping[str, str] = {
    "late": "Late",
    "today": "Today",
    "going_on": "Going on",
    "look_at": "Look at",
}
WORSE_NOTE = "worse than before"
LOOKS: tuple[tuple[str, Mapping[str, str]], ...] = (
    ("Clean", {"saw": "clean"}),
    ("Not yet", {"saw": "not clean"}),
    ("Closed, still seen", {"saw": "closed"}),
    ("Worse", {"saw": "not clean", "note": WORSE_NOTE}),
)
SCRAPES: tuple[tuple[str, Mapping[str, str]], ...] = (
    ("No parasites", {"saw": "no parasites"}),
    ("Parasites found", {"saw": "parasites"}),
)
AT_SHOW: tuple[tuple[str, Mapping[str, str]], ...] = (
    ("Went", {"did": "travelled"}),
    ("Stayed at home", {"did": "stayed"}),
    ("Benched", {"note": "benched"}),
)
DONE, SENT, HOME = "Done", "Sent", "Home in {water}"
INTO, STAYED_IN = "Into the {water}", "Stayed in the {water}"
WORSE = (
    "Worse: a place that is red, swollen, hollow or has white threads is for a vet, today. Do not "
    "touch it up, and do not travel with it."
)
LABELS: Mapping[str, str] = {
    "again": "The computer could not write it. It stays on this phone and is sent again.",
    "air": "Out of the water",
    "bath": "In the bath",
    "check": "Check",
    "closed": "This address is not served any more. Start pondside again, and open its address.",
    "connected": "Connected",
    "dismiss": "I have read it",
    "kept": "kept on this phone",
    "length": "How long",
    "none": "Nothing is to be done today.",
    "not_kept": "This phone keeps nothing for this page: leave it open.",
    "noted": "noted",
    "nothing": "Write something first.",
    "offline": "No connection",
    "put_away": "Put these clocks away",
    "put_away_sure": "Tap again to put them away",
    "planning": "The plan is being worked out anew.",
    "cloth": "Out, on the cloth",
    "clean": "Into clean water",
    "photo": "Take a photo",
    "photo_again": "Take another photo",
    "photo_gone": "The photo is gone from this phone; the look was noted without it.",
    "photo_new": "New photo. Tap what you see, and both are noted.",
    "photo_not_kept": "This phone cannot keep the photo. Leave it out, or make room on the phone.",
    "photo_out": "Leave the photo out",
    "photo_unread": "This phone cannot read that picture.",
    "with_photo": "with a photo",
    "recovery": "Not upright yet",
    "refused": "Not noted",
    "result": "What it won",
    "in": "In the bath now",
    "rolled": "Rolled over",
    "running": "Clocks: {title}",
    "wetted": "Gills wetted",
    "upright": "Upright",
    "session": "Note the touch-up",
    "second": "A second person, not who mixed it, reads jug and label afresh. The amount to "
    "measure is shown when both say the same. Check word: {word}. Target: {target} mg/L.",
    "same": "The same bath: {word}. Only this phone shows the amount, until the page is left.",
    "target": "Target (mg/L)",
    "set_back": "This phone's clock was set back: a time here may be too short. Go by a watch.",
    "stopped": "STOP",
    "save": "Note it",
    "undo": "Take it back",
    "undone": "taken back",
    "waiting": "kept on this phone: {number}",
}
PHOTOS_MISSING = (
    "The photo was not kept: the computer lacks the part that reads photos. On it, run: "
    "pip install 'showprep[photos]'"
)
NO_PHOTOS = (
    "Photos cannot be taken here: the computer lacks the part that reads them. On it, run: "
    "pip install 'showprep[photos]'"
)
PHOTO_UNREADABLE = "The photo was not kept: it cannot be read, or is too large."
PHOTOS_FULL = (
    "The photo was not kept: the folder {folder} of this season holds {most:,} from the pond "
    "already. Begin a new season, or move old ones out."
)
PHOTOS_NO_FOLDER = "The photo was not kept: {folder} in the season is no folder of its own."
PHOTO_NOT_WRITTEN = "The photo could not be written ({why}). It stays on this phone."
# The options of the command as the page calls them.
_OPTIONS: Mapping[str, str] = {
    "--read-c": "Temperature",
    "--read-f": "Temperature",
    "--measured-cm": "Length",
    "--measured-in": "Length",
    "--to": "Water",
    "--target-mg-per-l": "Target",
    "--strength-percent": "Strength",
    "--strength-mg-per-ml": "Strength",
}
AHEAD = "{day} has not come yet by the computer's clock. Is the phone's day right?"
DONE_ALREADY = "It was written down before; nothing was written twice."


def for_phone(text: str) -> str:
    """A refusal of the note command as somebody reads it who typed no options."""
    said = re.sub(r"--[a-z]+(?:-[a-z]+)*", _called, text)
    return said.replace("\n", " ").strip()


def _called(found: re.Match[str]) -> str:
    return _OPTIONS.get(found[0], found[0][2:].replace("-", " ").capitalize())


def noted_text(speaker: Speaker, entries: Sequence[JournalEntry], units: Units) -> str:
    """One line of what was written down: `Noted: clean, Aoi`."""
    first = entries[0]
    values = [first.to, first.result, first.note if first.word == "note" else None]
    if first.measured_cm is not None:
        values.append(show_length(first.measured_cm, units))
    if first.read_c is not None:
        values.append(show_temperature(first.read_c, units))
    about = [first.water, speaker.shows.get(first.show or "", first.show)]
    names = [speaker.fish.get(one.fish, one.fish) for one in entries if one.fish is not None]
    words = [one for one in (*values, *about) if one]
    fish = [listed(dict.fromkeys(names))] if names else []
    head = "Taken back" if first.undone is not None else "Noted"
    photo = [LABELS["with_photo"]] if first.photo else []
    return f"{head}: {', '.join([first.word, *words, *fish, *photo])}"


NO_SESSION = "There is no such session today any more. Look at the page anew."


def strength_label(ask: BathAsk) -> str:
    """What the label is read for; nothing where the vet's figure alone counts."""
    if ask.strength is None:
        return ""
    return "Strength (%)" if ask.strength.percent_v_v is not None else "Strength (mg/mL)"


def litres_label(units: Units) -> str:
    """What the jug is read for."""
    return "Water in the bath (litres)" if units == "metric" else "Water in the bath (gallons)"


def due_text(task: Task) -> str:
    """Of a late job, when it was due."""
    return f"Due {spoken(task.last_day)}."


def until_text(task: Task) -> str:
    """Of a job that goes on, until when."""
    return f"Until {spoken(task.last_day)}."


def last_reading(readings: Sequence[tuple[date, float]], units: Units) -> str:
    """The last reading of a water, beside which the new one is written."""
    if not readings:
        return "not read yet"
    on, celsius = readings[-1]
    return f"last {show_temperature(celsius, units)}, {spoken(on)}"


def last_length(length_cm: float | None, units: Units) -> str:
    """The length of a fish as it is known, beside which the new one is written."""
    return "not measured yet" if length_cm is None else f"last {show_length(length_cm, units)}"


def photo_texts(name: str, on: date) -> tuple[str, str]:
    """What the last photo of a fish is, for who sees it and for who does not."""
    return f"Last photo, {spoken(on)}", f"Last photo of {name}, {spoken(on)}"


def show_text(show: ShowLine, on: date) -> str:
    """How near a show is."""
    days = (show.judging.date() - on).days
    if days < 0:
        return f"{show.name}, judged {spoken(show.judging.date())}"
    when = {0: "today", 1: "tomorrow"}.get(days, f"in {counted(days, 'day')}")
    return f"{show.name}, judged {when}"


def introduction(minutes: float) -> tuple[str, ...]:
    """What the terminal says under the address."""
    return (
        "Open this address on a phone in the same network, and leave the page open: what is tapped "
        "while there is no connection stays on the phone until there is one.",
        "Anybody in this network who has the address can read the jobs and write into the journal: "
        "it is not encrypted. Of this computer nothing else is shown or written but the season's "
        "photos.",
        f"It stops by itself in {minutes:g} minutes; Ctrl-C stops it now.",
    )


STOPPED = "The page is not served any more."
