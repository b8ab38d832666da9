"""What changed since the plan before, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING

from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.plain import counted, listed
from showprep.outputs.words.verdicts import verdict_text

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def why_text(speaker: Speaker, why: Sequence[Reason]) -> str:
    """Several reasons as one sentence."""
    text = listed(speaker.clause(one) for one in why)
    return f"{text[:1].upper()}{text[1:]}." if text else ""


# What was noted in the journal, by its word.
NOTED: Mapping[str, str] = {
    "parasites": "parasites were found in the {water}",
    "no parasites": "the {water} was seen to be clear of parasites",
    "khv signs": "signs of KHV were noted in the {water}",
    "khv clear": "the {water} was tested clear of KHV",
    "stop feeding": "feeding of the {water} was stopped",
    "feed again": "feeding of the {water} began again",
    "temperature": "the {water} was read",
    "cancelled": "{show} was cancelled; heard",
    "postponed": "{show} was moved to {to}; heard",
    "sent": "the form for {show} was sent",
    "entered": "{fish} was entered for {show}",
    "travelled": "{fish} travelled to {show}",
    "stayed": "{fish} stayed at home from {show}; noted",
    "not done": "{what} was noted as not done",
    "job": "{what} was noted as done",
    "sold": "{fish} was sold",
    "lost": "{fish} was lost",
    "touch-up": "{fish} was touched up",
    "touch-up day": "{to} was set for the touch-up of {fish}; noted",
    "treatment": "{fish} was treated ({what})",
    "move": "{fish} was moved to the {to}",
    "measure": "{fish} was measured",
    "vet": "a vet saw {fish}",
    "closed": "{fish} was seen to be closed",
    "not closed": "{fish} was seen not to be closed",
    "clean": "{fish} was seen clean",
    "not clean": "{fish} was seen not to be clean yet",
    "mark left": "a blemish was seen to stay on {fish}",
    "speck back": "a speck was seen back on {fish}",
    "new defect": "a new {kind} was seen on {fish}",
    "spawned": "{fish} spawned",
    "off food": "{fish} was off its food",
    "feeding well": "{fish} was feeding well",
}


def _said(speaker: Speaker, reason: Reason) -> str:
    """What was noted, without its day."""
    word, kind, to = str(reason["word"]), reason["kind"], reason["to"]
    values = {name: speaker.say(reason[name]) for name in ("fish", "show", "water", "what", "to")}
    values["fish"] = values["fish"] or values["water"]
    values["what"] = values["what"] or "treated"
    values["kind"] = of_kind(kind) if isinstance(kind, str) else "blemish"
    text = NOTED.get(word, "{fish}: " + word)
    if word == "postponed" and not isinstance(to, date):
        text = "{show} was put off; heard"
    return text.format(**values)


def _noted(speaker: Speaker, reason: Reason) -> str:
    return f"{_said(speaker, reason)} on {speaker.say(reason['on'])}."


def _taken_back(speaker: Speaker, reason: Reason) -> str:
    said = _said(speaker, reason).partition(";")[0]
    return f"The note that {said} was taken back on {speaker.say(reason['on'])}."


def _verdict_changed(speaker: Speaker, reason: Reason) -> str:
    parts = reason["parts"]
    assert isinstance(parts, tuple)
    told = ", ".join(speaker.formatted(one, "clause") for one in parts)
    return f"{speaker.say(reason['fish'])} for {speaker.say(reason['show'])}: {told}."


def _verdict_becomes(speaker: Speaker, reason: Reason) -> str:
    return f"{verdict_text(str(reason['old']))} becomes {verdict_text(str(reason['new']))}."


def _jobs(speaker: Speaker, reason: Reason) -> str:
    jobs = reason["jobs"]
    assert isinstance(jobs, int)
    of = f" of {speaker.say(reason['show'])}" if reason["show"] is not None else ""
    return f"{counted(jobs, 'job')}{of}"


def _fish_changed(speaker: Speaker, reason: Reason) -> str:
    come, gone = reason["come"], reason["gone"]
    assert isinstance(come, tuple) and isinstance(gone, tuple)
    parts = [f"with {', '.join(map(speaker.say, come))}"] if come else []
    parts += [f"without {', '.join(map(speaker.say, gone))}"] if gone else []
    return f"{_jobs(speaker, reason)}: now {' and '.join(parts)}."


def _days_passed(speaker: Speaker, reason: Reason) -> str:
    return f"{_jobs(speaker, reason)}: their days have passed."


SENTENCES: Sentences = {
    "no-longer-goes": "{fish} no longer goes to {show}.",
    "verdict-changed": _verdict_changed,
    "verdict-becomes": _verdict_becomes,
    "now-goes": "Now goes.",
    "now-stays-at-home": "Now stays at home.",
    "touch-up-dropped": "No touch-up is planned any more.",
    "touch-up-set": "Touch-up planned for {day}.",
    "touch-up-moved": "Touch-up moved from {old} to {new}.",
    "job-new": "New: {title}, {at}.",
    "job-late": "{title}: late, it was due on {at}.",
    "job-moved": "{title}: moved from {old} to {new}.",
    "job-done": "Done: {title}.",
    "job-dropped": "Dropped: {title}. It was late, and its time is over.",
    "job-not-planned": "No longer planned: {title}, {at}.",
    "job-day-passed": "{title}: its day, {at}, has passed.",
    "jobs-fish-changed": _fish_changed,
    "jobs-days-passed": _days_passed,
    "not-noted-as-done": "Nothing in the journal says that it was done.",
    "noted": _noted,
    "taken-back": _taken_back,
    "water-read": "The {water} read {read} on {on}.",
}
