"""The answer in short: one word for each fish at each show, and a line where one is owed a reason.

The terminal's grid and the page's say the same words, from here. Days are looked up in the plan,
never worked out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from typing import Literal, cast

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.reason import Reason
from showprep.outputs.words.board_words import WORDS
from showprep.outputs.words.chances import in_ten
from showprep.outputs.words.plain import counted, listed, points, spoken_from
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.follow_up.agenda import agenda_of
from showprep.planning.plan import FishLine, LeftOut, Plan, ShowLine, Task, Verdict

OF_THE_WAY: Mapping[str, str] = {
    "water-changed-on-way": "water changed on the way",
    "goes-in-a-tank": "in a tank",
    "may-be-too-warm-to-bag": "if cooler",
}
FIT = ("ready", "ready-after-touch-up", "tight")
TOUCHED_FOR_ANOTHER = ("altered-fish-excluded", "altered-for-another-show")
# Of the limits that keep a fish at home, what a few words can say of each.
FULL: Mapping[str, str] = {
    "fish": "no place is left",
    "boxes": "the boxes are full",
    "kg": "no more weight can be carried",
    "total-cm": "the length allowed is used up",
    "points": "the points allowed are used up",
    "entries-per-class": "its class is full",
    "fees": "the fees set aside are spent",
    "fish-per-day": "no hands are free on a fit day",
    "touch-ups-per-fish": "it is touched up often enough",
    "vat-places": "the vat is full",
    "vat-cohorts": "the vat is taken",
    "spacing": "it was sedated too lately",
    "bars": "touched up, it is barred",
    "rest": "it rests",
}
# The same beside a fish that is fit, in two words.
KEPT_HOME: Mapping[str, str] = {
    "fish": "no place",
    "boxes": "no box",
    "entries-per-class": "class full",
    "vat-places": "no vat after",
    "vat-cohorts": "no vat after",
}
NO_VAT = "no vat is free to come home to"
# Titles that say only after the fish what is done, and of what is done to one fish alone.
FISH_FIRST = (
    *("touch-up", "touch-up-by-vet", "touch-up-if-vet-agrees"),
    *("vat-match", "ramp", "ring-a-vet", "into-vat"),
    *("look-back", "look-if-clean", "look-if-back"),
)
TO_ONE_FISH = ("touch-up", "touch-up-by-vet", "into-vat")
FEEDING = (
    *("fed", "feed-again-by-steps", "unfed", "unfed-until-shows", "unfed-home-from"),
    "unfed-before-touch-up",
)
NOT_BY_SHOW = (*FISH_FIRST, *FEEDING)  # told by the fish or the water
# A show's own deadlines: what is sent or booked too late is lost, so the show is always named.
SENT_TO_A_SHOW = ("send-entry", "photos-due", "book-vat")
OF_ONE_FISH = ("touch-ups-per-fish", "spacing", "bars", "rest")
MOST_NAMED = 3
CHANCE = "Clean 9 in 10: of 10 such fish about 9 show no blemish at judging."
GRID_KEY = f"{CHANCE} No figure: nearly sure. Tight: it may not be clean in time."
NEARLY_SURE = 0.95  # from here on a chance is not told: no figure means nearly sure

Tone = Literal["go", "care", "no", "faint"]


class Cell(Struct, frozen=True):
    """One fish at one show: a word, and what goes with it; `mark` names a shape."""

    word: str
    detail: str
    tone: Tone
    mark: str
    goes: bool = False
    touch_up: bool = False
    stays: str = ""  # "no box": the part of the detail that says what a ready fish stays for
    vet: str = ""  # "by the vet" or "ask a vet", where the touch-up is not the keeper's


def short_names(names: Mapping[str, str]) -> dict[str, str]:
    """Each name by its first words, as many as tell it from the others."""
    found = {}
    for one, name in names.items():
        words = name.split()
        others = [other.split() for key, other in names.items() if key != one]
        for count in range(1, len(words) + 1):
            start = words[:count]
            told = " ".join(start)
            if len(told) > 3 and all(other[:count] != start for other in others):
                break
        found[one] = " ".join(words[:count]) if words else name
    return found


def leave_text(speaker: Speaker, show: ShowLine) -> str:
    """`leave Fri 11 June 11:00, by 18:00 at the latest`: the latest still makes the arrival."""
    latest = _latest(speaker, show.departure, show.latest_departure)
    return f"leave {speaker.say(show.departure)}{latest}"


def _latest(speaker: Speaker, departure: datetime, latest: datetime) -> str:
    if latest <= departure:
        return ""
    same = latest.date() == departure.date()
    return f", by {speaker.formatted(latest, 'time' if same else '')} at the latest"


def timed_title(speaker: Speaker, task: Task) -> str:
    """A job; a timed one with its time, and leaving with the last time that will do."""
    title = speaker.say(task.title)
    if not isinstance(task.start, datetime):
        return title
    latest = ""
    if task.kind == "departure" and isinstance(task.note, Reason):
        latest = _latest(speaker, task.start, cast("datetime", task.note["latest"]))
    return f"{speaker.formatted(task.start, 'time')} {title}{latest}"


class ShortAnswer:
    """Answers of one plan: what stands in a cell, and why."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        shows = {one.id: one.name for one in plan.shows}
        self.short = short_names(shows)
        self.speaker = replace(Speaker.of(plan), shows=self.short)
        self.shows = tuple(
            sorted((s for s in plan.shows if s.standing == "planned"), key=lambda s: s.departure)
        )
        self._show = {one.id: one for one in plan.shows}
        self._fish = {one.id: one for one in plan.fish}
        self._said = {(one.fish, one.show): one for one in plan.verdicts}
        self._left = {(one.fish, one.show): one for one in plan.choice.left_out}
        self._reserves = {(fish, show) for show, fish in plan.choice.reserves}
        self._entered = {(fish, show.id) for show in plan.shows for fish in show.entered}
        self._by_vet = {
            (one.first_day, fish): one.title.code
            for one in plan.tasks
            if one.kind in ("touch-up", "ask-a-vet") and isinstance(one.title, Reason)
            for fish in one.fish
        }
        self._near = agenda_of(plan).near
        self._vat_taken = [
            (one.first_day, one.show)
            for one in plan.tasks
            if one.kind == "isolation-clear" and one.show in shows
        ]

    @property
    def fish(self) -> tuple[FishLine, ...]:
        """Those that go somewhere first, then by merit, best first."""
        here = [one for one in self.plan.fish if one.gone is None]
        goers = {fish for fish, _ in self._entered}
        return tuple(sorted(here, key=lambda one: (one.id not in goers, -self._best(one), one.id)))

    def goes_somewhere(self, fish: str) -> bool:
        return any(one == fish for one, _ in self._entered)

    def _best(self, fish: FishLine) -> float:
        merits = [one.merit for one in self.plan.verdicts if one.fish == fish.id and one.merit]
        return max(merits, default=fish.merit)

    def day(self, day: date) -> str:
        return spoken_from(day, self.plan.planned_on)

    # One job.

    def _of_no_show(self, task: Task) -> str:
        """`Skin scrape, gill check`, `No food: garden pond`; whole where the fish comes first."""
        title = timed_title(self.speaker, task)
        code = _code(task)
        if code in FISH_FIRST:
            return title
        brief = title.split(": ")[0]
        return f"{brief}: {task.water}" if code in FEEDING and task.water else brief

    def in_brief(self, task: Task) -> str:
        """A job without its show, but where one of the same name that is near is another's."""
        brief = self._of_no_show(task)
        if task.show is None or _code(task) in NOT_BY_SHOW:
            return brief
        others = {one.show for one in self._near if self._of_no_show(one) == brief} - {task.show}
        named = others or task.kind in SENT_TO_A_SHOW
        return f"{brief}: {self.short[task.show]}" if named else brief

    def due(self, task: Task) -> str:
        """`, due 28 April`"""
        return f", due {self.day(task.last_day)[4:]}"

    def late_in_brief(self, tasks: Sequence[Task]) -> list[str]:
        """Late jobs, each once; the show is named before the first where all are of one."""
        # Where a fish or a water is named, another name before it would confuse.
        shows = {None if _code(one) in NOT_BY_SHOW else one.show for one in tasks}
        (only,) = shows if len(shows) == 1 else (None,)
        brief = self.in_brief if only is None else self._of_no_show
        told = [*dict.fromkeys(f"{brief(one)}{self.due(one)}" for one in tasks)]
        return told if only is None else [f"{self.short[only]}: {told[0]}", *told[1:]]

    def all_in_brief(self, tasks: Iterable[Task]) -> list[str]:
        """Jobs in brief, each once: `No food: pond, vat`, `Touch-up, into the vat: Fumi`."""
        found: list[tuple[list[str], list[str]]] = []  # what is done; in which waters, to whom
        for task in tasks:
            brief, fed = self.in_brief(task), _code(task) in FEEDING
            parted = fed or _code(task) in TO_ONE_FISH
            what, _, of = brief.partition(": ") if parted else (brief, "", "")
            for done, whose in found:
                if done == [what]:
                    whose += [of] if of and of not in whose else []
                    break
                if whose == [of] and not fed:
                    done.append(what[:1].lower() + what[1:])
                    break
            else:
                found.append(([what], [of] if of else []))
        return [": ".join(", ".join(one) for one in pair if one) for pair in found]

    # One cell.

    def cell(self, fish: str, show: str) -> Cell | None:
        """What stands where the fish's row meets the show's column; None where nothing is said."""
        verdict = self._said.get((fish, show))
        if verdict is None:
            return None
        tone: Tone = VERDICTS[verdict.verdict].tone
        if (fish, show) in self._entered:
            parts = (
                self._chance(verdict),
                self._on_the_way(verdict) or self._flaw(verdict),
                *(OF_THE_WAY[one.code] for one in verdict.reasons if one.code in OF_THE_WAY),
            )
            detail = ", ".join(one for one in parts if one)
            cut = verdict.touch_up is not None and verdict.touch_up.day is not None
            return Cell(WORDS["goes"], detail, tone, "goes", True, cut, vet=self._vet(verdict))
        if (fish, show) in self._reserves:
            return Cell(WORDS["reserve"], self._in_few(verdict), "go", "reserve")
        rest = self._resting(verdict)
        if rest is not None:
            return rest
        stays = self._stays_for(verdict)
        detail = ", ".join(one for one in (stays, self._detail(verdict)) if one)
        return Cell(self._word(verdict), detail, tone, verdict.verdict, stays=stays)

    def _stays_for(self, verdict: Verdict) -> str:
        """`no box`: what a fish that is ready stays for; nothing where that takes more words."""
        left = self._left.get((verdict.fish, verdict.show))
        if left is None or verdict.verdict != "ready":
            return ""
        return next((KEPT_HOME[one] for one in _limits(left) if one in KEPT_HOME), "")

    def _on_the_way(self, verdict: Verdict) -> str:
        """`touch-up Sat 1 May`, by whom where that is not the keeper."""
        touch_up = verdict.touch_up
        if touch_up is None or touch_up.day is None:
            return ""
        vet = self._vet(verdict)
        return f"touch-up {self.day(touch_up.day)[4:]}" + (f" {vet}" if vet else "")

    def _vet(self, verdict: Verdict) -> str:
        day = verdict.touch_up.day if verdict.touch_up else None
        code = self._by_vet.get((day, verdict.fish), "") if day else ""
        by = {"touch-up-by-vet": "by the vet", "touch-up-if-vet-agrees": "(ask a vet)"}
        return by.get(code, "")

    def _flaw(self, verdict: Verdict) -> str:
        """What will be seen of a fish that goes all the same."""
        if verdict.verdict == "as-it-is":
            return f"with its {self._blemish(verdict)}"
        return ""

    def _in_few(self, verdict: Verdict) -> str:
        """What the verdict itself says, beside another word."""
        if verdict.verdict == "ready-after-touch-up":
            return ", ".join(("after touch-up", self._chance(verdict))).removesuffix(", ")
        word = self._word(verdict)
        return self._chance(verdict) if word == WORDS["ready"] else word

    def _chance(self, verdict: Verdict) -> str:
        """`clean 9 in 10`: of ten such fish so many show no blemish; nothing if nearly sure."""
        chance = verdict.chance_clean
        cut = verdict.touch_up is not None and verdict.touch_up.day is not None
        if chance is None or chance >= NEARLY_SURE or (verdict.verdict not in FIT and not cut):
            return ""
        return f"clean {in_ten(chance)}"

    def _word(self, verdict: Verdict) -> str:
        for told in verdict.reasons[:1]:
            if told.code in WORDS:
                return WORDS[told.code]
        if verdict.verdict in ("as-it-is", "too-late"):
            short = self._short_days(verdict)
            if short:
                return f"{counted(short, 'day')} short"
        if verdict.verdict == "as-it-is":
            return self._blemish(verdict)
        return WORDS[verdict.verdict]

    def _detail(self, verdict: Verdict) -> str:
        for told in verdict.reasons[:1]:
            until = dict(told.values).get("until")
            if isinstance(until, date):
                return f"until {self.day(until)[4:]}"
            if told.code in TOUCHED_FOR_ANOTHER:
                return "touched up"
        return self._chance(verdict)

    def _short_days(self, verdict: Verdict) -> int:
        days = (one.short_days or 0 for one in verdict.healing if verdict.is_planned(one))
        return max(days, default=0)

    def _blemish(self, verdict: Verdict) -> str:
        fish = self._fish.get(verdict.fish)
        kinds = {one.kind for one in fish.defects} if fish else set()
        return WORDS["only-specks" if kinds == {"shimi"} else "other-blemishes"]

    def _resting(self, verdict: Verdict) -> Cell | None:
        """A fish that could go but rests after another show, or is kept for a later one."""
        left = self._left.get((verdict.fish, verdict.show))
        if left is None or "rest" not in _limits(left):
            return None
        if verdict.verdict not in FIT:
            return None
        show = self._show[verdict.show]
        before, after = self._next_to(verdict.fish, show)
        if before is not None and before.free_from is not None:
            until = f"until {self.day(before.free_from)[4:]}"
            return Cell(WORDS["rests"], until, "faint", "not-eligible")
        if after is not None:
            return Cell(WORDS["rests"], f"for {self.short[after.id]}", "faint", "not-eligible")
        return None

    def _next_to(self, fish: str, show: ShowLine) -> tuple[ShowLine | None, ShowLine | None]:
        """The show that the fish still rests from at this one's departure, and its next one."""
        goes = [self._show[where] for one, where in self._entered if one == fish]
        before = [
            one
            for one in goes
            if one.departure < show.departure
            and one.free_from is not None
            and one.free_from > show.departure.date()
        ]
        after = [one for one in goes if one.departure > show.departure]
        return (
            max(before, key=lambda one: one.departure, default=None),
            min(after, key=lambda one: one.departure, default=None),
        )

    # One line.

    def form(self, show: ShowLine, *, short: bool = False) -> str:
        """`form by Sat 22 May`, short `form 22 May`; `form sent`, `entries closed`; or nothing."""
        if show.form_in is not None:
            return "entries closed" if show.form_in == show.entries_close else "form sent"
        if show.entries_close is None:
            return ""
        day = self.day(show.entries_close)
        return f"form {day[4:]}" if short else f"form by {day}"

    def places(self, show: ShowLine) -> str:
        """`3 of 4`: fish that go, of the boxes or places; `3 fish` where no limit is known."""
        used = len(show.entered)
        if not used:
            return "nobody"
        most = {
            str(one["limit"]): one["most"]
            for left in self.plan.choice.left_out
            if left.show == show.id
            for one in _reasons(left)
        }
        stated = [dict(one.values)["most"] for one in show.limits if one.code == "limit-fish"]
        places = next((most[one] for one in ("boxes", "fish") if one in most), (*stated, None)[0])
        if isinstance(places, int | float):
            return f"{used} of {places:g}"
        return counted(used, "fish", "fish")

    def nobody(self, show: ShowLine, *, short: bool = False) -> str:
        """Why a show gets no fish, in a sentence; empty where it gets one.

        `short` leaves out whose fish have the vat.
        """
        if show.entered:
            return ""
        left = [one for one in self.plan.choice.left_out if one.show == show.id]
        fit = [one for one in left if self._fit(one)]
        if not self._fish:
            return ""
        name = self.short[show.id]
        if not fit:
            return f"Nobody to {name}: {self._none_fit(show)}."
        causes = []
        resting = [one.fish for one in fit if self._rests(one)]
        if resting:
            causes.append(f"{self._named(resting)} {'rests' if len(resting) == 1 else 'rest'}")
        others = [one for one in fit if one.fish not in resting]
        limits = list(dict.fromkeys(limit for one in others or fit for limit in _limits(one)))
        if {"vat-cohorts", "vat-places"} & set(limits):
            causes.append(self._vat(show, short))
            limits = [one for one in limits if not one.startswith("vat-")]
        causes += [FULL[one] for one in limits if one in FULL and one != "rest"][:1]
        why = ", and ".join(causes) if causes else "the plan is worth more without it"
        return f"Nobody to {name}: {why}."

    def _none_fit(self, show: ShowLine) -> str:
        """Why no fish is fit for a show: the one cause of all, or how many for each."""
        said = [one for one in self.plan.verdicts if one.show == show.id]
        first = {one.reasons[0] for one in said if one.reasons}
        if len(first) == 1 and len(said) > 1:
            return f"no fish is fit for it; {self.speaker.clause(*first)}"
        words: dict[str, list[str]] = {}
        for one in said:
            words.setdefault(self._word(one), []).append(one.fish)
        causes = sorted(words.items(), key=lambda cause: (-len(cause[1]), cause[0]))
        told = [f"{self._named(fish)} {word}" for word, fish in causes[:MOST_NAMED]]
        left = sum(len(fish) for _, fish in causes[MOST_NAMED:])
        more = [f"{left} more otherwise"] if left else []
        return f"no fish is fit for it ({'; '.join((*told, *more))})" if told else "no fish is fit"

    def least_cost(self, show: ShowLine) -> str:
        """What the cheapest entry would cost a show that gets no fish; empty where it gets one."""
        left = [one for one in self.plan.choice.left_out if one.show == show.id]
        costs = [one for one in left if one.cost]
        if show.entered or not costs:
            return ""
        least = min(costs, key=lambda one: cast("float", one.cost))
        cost = points(cast("float", least.cost))
        if any(one.at_most for one in left):
            return f"Sending a fish there would cost at most {cost}."
        return f"Sending any fish there would cost {cost} or more."

    def stays(self) -> Iterable[tuple[FishLine, str]]:
        """The best fish that goes nowhere, and the others that are fit, best first, and why."""
        for fish in self.fish:
            if self.goes_somewhere(fish.id):
                continue
            left = [one for one in self.plan.choice.left_out if one.fish == fish.id]
            fit = [one for one in left if self._fit(one)]
            if fish is self._best_at_home:
                told = self._stays_best(fish, {one.show: one for one in fit})
            else:
                costly = [one for one in fit if one.cost is not None]
                least = min(costly, key=lambda one: cast("float", one.cost), default=None)
                told = f"{fish.name} stays. {self._left_because(least)}." if least else ""
            if told:
                yield fish, told

    @property
    def _best_at_home(self) -> FishLine | None:
        return next((one for one in self.fish if not self.goes_somewhere(one.id)), None)

    def _stays_best(self, fish: FishLine, fit: Mapping[str, LeftOut]) -> str:
        """`Best at home: Tatsu (merit 62). Larkfield: blemish. Otterby: the boxes are full.`"""
        whys: dict[str, list[str]] = {}
        for show in self.shows:
            cell = self.cell(fish.id, show.id)
            if (show.id in fit and show.entered) or cell is None:
                continue
            why = ", ".join(filter(None, (cell.word, cell.detail)))
            if show.id in fit:
                home = cell.stays == KEPT_HOME["vat-cohorts"]
                why = NO_VAT if home else next(self._full_for(fit[show.id]), "nobody goes")
            whys.setdefault(why, []).append(self.short[show.id])
        told = [f"{listed(shows)}: {why}" for why, shows in whys.items()]
        told += [self._left_because(one) for show, one in fit.items() if self._show[show].entered]
        best = f"Best at home: {fish.name} (merit {self._best(fish):.3g})"
        return f"{'. '.join((best, *told))}." if told else ""

    def _left_because(self, one: LeftOut) -> str:
        """`Otterby: the boxes are full, with it 2 points less`"""
        why = next(self._full_for(one), "the plan is worth more without it")
        cost = "" if one.cost is None else f", {self._cost(one)}"
        return f"{self.short[one.show]}: {why}{cost}"

    def _full_for(self, one: LeftOut) -> Iterator[str]:
        return (FULL[limit] for limit in _limits(one) if limit in FULL)

    def full(self, show: ShowLine) -> str:
        """What is used up at a show, as part of a sentence; empty where nothing is."""
        left = [one for one in self.plan.choice.left_out if one.show == show.id]
        limits = dict.fromkeys(limit for one in left for limit in _limits(one))
        return listed(FULL[one] for one in limits if one in FULL and one not in OF_ONE_FISH)

    def left_out(self, show: ShowLine) -> tuple[tuple[str, str], ...]:
        """Each fish left out of a show, by name, and what entering it would cost."""
        left = [one for one in self.plan.choice.left_out if one.show == show.id]
        left.sort(key=lambda one: (one.cost is None, one.cost or 0, one.fish))
        names = {one.id: one.name for one in self.plan.fish}
        return tuple((names.get(one.fish, one.fish), self._would_cost(one)) for one in left)

    def _would_cost(self, one: LeftOut) -> str:
        if one.cost is None:
            return "stays at home"
        if one.cost <= 0:
            return "at no loss instead of another"
        return f"would cost {'at most ' if one.at_most else ''}{points(one.cost)}"

    @property
    def home(self) -> tuple[tuple[FishLine, str], ...]:
        """The same, all of them."""
        return tuple(self.stays())

    def _cost(self, one: LeftOut) -> str:
        if not one.cost:
            return "it could go instead of another at no loss"
        return f"with it {'at most ' if one.at_most else ''}{points(one.cost)} less"

    def _fit(self, left: LeftOut) -> bool:
        verdict = self._said.get((left.fish, left.show))
        return verdict is not None and verdict.verdict in FIT

    def _rests(self, left: LeftOut) -> bool:
        verdict = self._said.get((left.fish, left.show))
        return verdict is not None and self._resting(verdict) is not None

    def _vat(self, show: ShowLine, short: bool) -> str:
        """Fish that come home go into the vat: until when it is taken, and by whose fish."""
        taken = [
            (day, before)
            for day, before in self._vat_taken
            if day > show.home.date() and self._show[before].home < show.home
        ]
        if not taken:
            return FULL["vat-cohorts"]
        if short:
            return NO_VAT
        day, before = max(taken)
        return f"{NO_VAT} until {self.day(day)[4:]}: fish from {self.short[before]} are in it"

    def _named(self, fish: Iterable[str]) -> str:
        names = [self._fish[one].name for one in fish]
        if len(names) > MOST_NAMED:
            return f"{', '.join(names[:MOST_NAMED])} and {len(names) - MOST_NAMED} more"
        return listed(names)


def _code(task: Task) -> str:
    return task.title.code if isinstance(task.title, Reason) else ""


def _reasons(left: LeftOut) -> tuple[Reason, ...]:
    """The limits that a fish was left out for."""
    because = left.because
    if not isinstance(because, Reason) or because.code != "left-out":
        return ()
    return cast("tuple[Reason, ...]", because["limits"])


def _limits(left: LeftOut) -> tuple[str, ...]:
    return tuple(str(one["limit"]) for one in _reasons(left))
