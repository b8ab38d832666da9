"""Cautions of one fish and of the whole plan, and what must be known before acting on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from showprep.outputs.words.kinds import of_kind
from showprep.outputs.words.plain import counted, listed

if TYPE_CHECKING:
    from showprep.husbandry.reason import Reason
    from showprep.outputs.words.speaker import Sentences, Speaker


def _jobs_late(speaker: Speaker, reason: Reason) -> str:
    jobs, shown = reason["jobs"], reason["shown"]
    assert isinstance(jobs, int) and isinstance(shown, tuple)
    titles = [speaker.say(one) for one in shown] + (["others"] if jobs > len(shown) else [])
    return f"{counted(jobs, 'job is', 'jobs are')} late: {listed(titles)}."


def _stitched(speaker: Speaker, told: Reason) -> str:
    """Warm water is no gain for a cut with thread or a tag in it."""
    since = told["since"]
    when = "today" if since is None else f"from {speaker.say(since)}"
    return (
        f"{speaker.say(told['fish'])}, {speaker.formatted(told['it'], 'small')}: its water is "
        f"above {speaker.say(told['limit'])} {when}. Stitched cuts open and fester more often "
        "in warm water. Never warm the fish to hurry the cut; ask the vet whether it can be kept "
        "cooler."
    )


def _vat_too_cold(speaker: Speaker, reason: Reason) -> str:
    water, show, low = (speaker.say(reason[one]) for one in ("water", "show", "low"))
    return _with_heat(
        speaker,
        reason,
        f"The {water} is too cold to clear fish home from {show}: below {low} KHV hides. Warm it.",
    )


def _vat_by_turns(speaker: Speaker, reason: Reason) -> str:
    water, show, low, high = (speaker.say(reason[one]) for one in ("water", "show", "low", "high"))
    return _with_heat(
        speaker,
        reason,
        f"The {water} is by turns too cold and too warm to clear fish home from {show}: below "
        f"{low} and above {high} KHV hides. Keep it between, {speaker.say(reason['quickest'])} at "
        "best.",
    )


def _with_heat(speaker: Speaker, reason: Reason, text: str) -> str:
    """With what heating would save, where it would."""
    saved = reason["saved"]
    return text if saved is None else f"{text} {speaker.say(saved)}"


def _treated_before_show(speaker: Speaker, told: Reason) -> str:
    what = "with what you did not name" if told["what"] is None else f"with {told['what']}"
    return (
        f"Treated on {speaker.say(told['on'])} {what}, {speaker.formatted(told['days'], 'day')} "
        "before departure: skin and gills may not be whole again, even where a fish looks well."
    )


def _heat(speaker: Speaker, told: Reason) -> str:
    """One hot spell, of a day or of several."""
    first, last = told["first"], told["last"]
    days = f"on {speaker.say(first)}"
    if first != last:
        days = f"from {speaker.say(first)} to {speaker.say(last)}"
    return (
        f"The {told['water']} is above {speaker.say(told['limit'])} {days}, up to "
        f"{speaker.say(told['warmest'])}: more air day and night, less food, no handling."
    )


def _own_figure(speaker: Speaker, told: Reason) -> str:
    unit = f" {told['unit']}" if told["unit"] else ""
    own, shipped = (speaker.say(told[one]) for one in ("own", "shipped"))
    return f"Your own figure: {told['name']} {own}{unit} (as shipped {shipped}{unit})."


def _own_requirement(speaker: Speaker, told: Reason) -> str:
    return f"Your own figures: how {of_kind(str(told['kind']))} heals."


SENTENCES: Sentences = {
    "chance-means": (
        "A chance of 9 in 10: of 10 such fish about 9 show no blemish at judging. It rests on "
        "assumptions, most of all on how soon a speck comes back."
    ),
    "healing-unproven": (
        "Healing times are derived from carp and other fish, not measured on koi: look at the "
        "fish, not at the date."
    ),
    "own-figure": _own_figure,
    "own-requirement": _own_requirement,
    "class-not-sure": "Size class not sure: {classes:or}.",
    "near-class-limit": (
        "About {length} on the day, near the class limit of {limit}: either class."
    ),
    "never-measured": "Never measured: no size class, and its weight is not known.",
    "age-not-known": (
        "The show takes fish up to {oldest:year} old, and the year it was born is not written down."
    ),
    "points-may-run-out": (
        "{fish} for {show}: {used:g} of {most:g} points at the lengths expected, but up to "
        "{longest:g} if they come out longer. Measure before you send the form."
    ),
    "water-changed-on-way": (
        "One bag is good for {good:.1f} h of the {hours:g} h: its water is changed {times:time} on "
        "the way, first on {at}. `bags` tells how."
    ),
    "goes-in-a-tank": (
        "One bag is good for {good:.1f} h of the {hours:g} h: it goes in your transport tank."
    ),
    "may-be-too-warm-to-bag": (
        "The water is calculated at {water} for {on}, the day of departure; above {limit} no koi "
        "is bagged. Chance that it is cooler {chance}; if it is not, the fish stays at home."
    ),
    "red-spots-on-several": (
        "{fish} in the {water} have red spots, first seen {on}: on several fish of one water they "
        "are a sign that something is wrong with it. Test it now, look at every fish, handle none; "
        "still there after three days, or spreading, it is for a vet."
    ),
    "may-spawn": (
        "A grown female in spawning weather: she may be heavy with eggs, or spawn in the vat."
    ),
    "spawned-before-show": "It spawned on {on}; allow 4 to 6 weeks (assumption).",
    "may-darken": "A touch-up can leave a dark blemish that stays for years on a {variety}.",
    "wound-may-darken": (
        "A wound can leave a dark blemish that stays for years on a {variety}; look closely."
    ),
    "stitched-too-warm": _stitched,
    "altered-not-stated": (
        "This show does not say how it sees touched-up fish: ask before you enter."
    ),
    "dose-less-sure": "At this size the dose and the minutes in the bath are less sure.",
    "khv-signs": (
        "Koi herpesvirus shows itself between {low} and {high}: white or brown dead patches on "
        "the gills, rough patches, sloughing slime, sunken eyes, many deaths. It is notifiable in "
        "many countries: move no fish, call a vet and report it at once."
    ),
    "khv-stop": (
        "Signs of KHV on {on} ({water}): move no fish, tell the authority at once. {signs:sentence}"
    ),
    "treated-before-show": _treated_before_show,
    "leaves-in-heat": (
        "The water is {water} on {on}, the day of departure: above {limit} fish are short of "
        "oxygen and are not handled. Cool it slowly first, or let them stay at home."
    ),
    "caution-for": "{fish} for {show}: {why:sentence}",
    "heat-warning": _heat,
    "dose-not-dated": (
        "The {water} is too cold to say when the next dose is due: eggs may lie for months. Ask "
        "the vet, and go by a late scrape."
    ),
    "parasites-stop": (
        "Parasites in the {water} since {since}: every fish of it stays at home and untouched "
        "until a clear check is written down. Ask a vet before you treat."
    ),
    "vat-too-cold": _vat_too_cold,
    "vat-too-warm": (
        "The {water} is too warm to clear fish home from {show}: above {high} heat only hides KHV. "
        "Let it cool to {quickest}."
    ),
    "vat-by-turns": _vat_by_turns,
    "vat-never-enough": (
        "By your own figures no time in the {water} is enough to clear fish home from {show}."
    ),
    "heating-would-clear": "{days:day} at {quickest} instead of never.",
    "law-not-checked": (
        "You have not said that you checked the law, and for which country (touch_up: law_checked "
        "and law_country): every touch-up in this plan is one to ask a vet about."
    ),
    "too-late-for": "{fish} for {show}: {why:sentence}",
    "jobs-are-late": _jobs_late,
    "entered-and-barred": "{fish} is entered in {show} and cannot be shown: {why:sentence}",
    "presumed-entered-and-barred": (
        "{fish} is taken to be entered in {show} and cannot be shown: {why:sentence}"
    ),
    "must-and-barred": ("{fish} is marked as must for {show} and cannot be shown: {why:sentence}"),
}
