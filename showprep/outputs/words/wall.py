"""The few words that stand on the wall chart."""

from __future__ import annotations

from collections.abc import Mapping

from showprep.outputs.words.plain import listed, spoken
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import verdict_text
from showprep.planning.plan import Plan, ShowLine, Span, Task, Verdict

HANDS: Mapping[str, str] = {
    "parasite-check": "scrape",
    "water-changes": "water ×2",
    "touch-up": "TOUCH UP",
    "ask-a-vet": "ASK VET",
    "look-back": "look",
    "look": "look",
    "first-look": "first look",
    "net-practice": "net practice",
    "final-check": "go or stay",
    "isolation-ready": "vat running",
    "pack": "pack",
    "bag": "net and bag",
    "departure": "leave",
    "home-scrape": "scrape",
    "home-scrape-again": "scrape again",
    "isolation-clear": "vat free",
    "vat-match": "match vat",
    "into-vat": "into the vat",
    "vat-back": "vat to pond",
    "to-holding": "to holding vat",
    "move": "move",
    "dose": "dose",
    "clear-check": "clear scrape",
    "touch-up-kit": "check kit",
    "red-spots": "look: red spots",
}
LONGEST = 18  # letters
KEY = (
    ("touch-up", "touch-up"),
    ("healing", "healing (slow case hatched)"),
    ("look", "look"),
    ("fast", "no food"),
    ("show", "at the show"),
    ("apart", "kept apart"),
    ("away", "away"),
    ("box", "tick when done"),
)
CAUTION = (
    "Local law and a vet come first. A touch-up only on a fish that is unfed and well, in fit "
    "water: look at the fish, not at the paper."
)


def hands_text(speaker: Speaker, task: Task) -> str:
    """A job that needs hands, in a word or two."""
    if task.kind in HANDS:
        return HANDS[task.kind]
    title = speaker.say(task.title)
    return title if len(title) <= LONGEST else f"{title[: LONGEST - 1].rstrip()}…"


def headings(speaker: Speaker, plan: Plan) -> list[str]:
    """Who goes where, a text a show: `Larkfield: Benkei and Fumi.`"""
    return [f"{one.name}: {_who(speaker, one)}." for one in plan.shows if _planned(one)]


def _planned(show: ShowLine) -> bool:
    return show.standing == "planned"


def _who(speaker: Speaker, show: ShowLine) -> str:
    return listed(speaker.fish.get(one, one) for one in show.entered) or "nobody"


def count_text(show: ShowLine) -> str:
    """`3 fish`, or that nobody goes."""
    return f"{len(show.entered)} fish" if show.entered else "nobody goes"


def bar_text(span: Span) -> str:
    """Beside a bar: what it is, and until when where that is asked most."""
    if span.kind == "isolation":
        return f"apart until {spoken(span.end)[4:]}"
    return "no food" if span.kind == "fast" else ""


def touch_up_text(span: Span) -> str:
    """`TOUCH-UP 15 MAY`"""
    return f"TOUCH-UP {spoken(span.start)[4:]}".upper()


def stays_text(speaker: Speaker, verdicts: list[Verdict]) -> str:
    """Why a fish stays, in one line: of the show that came nearest."""
    if not verdicts:
        return "stays"
    one = verdicts[0]
    why = speaker.clause(one.reasons[0]) if one.reasons else ""
    return f"stays: {verdict_text(one.verdict)}" + (f", {why}" if why else "")


def more_text(count: int) -> str:
    return f"{count} more fish stay at home: they stand on the page's board."
