"""What a slip of the pen in the files would move."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from showprep.outputs.words.verdicts import verdict_text

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _verdict(speaker: Speaker, told: Reason) -> str:
    was, now = (verdict_text(str(told[one])) for one in ("was", "now"))
    return f"{speaker.say(told['fish'])} for {speaker.say(told['show'])}: {now} instead of {was}."


def _touch_up(speaker: Speaker, told: Reason) -> str:
    was, now = (
        speaker.say(told[one]) if isinstance(told[one], date) else "none" for one in ("was", "now")
    )
    fish, show = (speaker.say(told[one]) for one in ("fish", "show"))
    return f"{fish} for {show}: touch-up {now} instead of {was}."


def _entry(speaker: Speaker, told: Reason) -> str:
    does = "goes" if told["goes"] else "stays"
    return f"{speaker.say(told['fish'])} {does} for {speaker.say(told['show'])}."


SENTENCES: Sentences = {
    "slip-dose": "The bath's dose: {now:g} mL instead of {was:g} mL.",
    "slip-verdict": _verdict,
    "slip-touch-up": _touch_up,
    "slip-entry": _entry,
}
