"""One blemish in one water, without a season: how sure it is closed and clean by a day.

The question is put as a yard of one fish in one water, so that chances, rulings and dates are those
of a plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from functools import cached_property

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.chances import chance_healed, chances_of, rounded
from showprep.husbandry.feeding import fast_days
from showprep.husbandry.healing import DefectKind, Healing, May, MilestoneName, healing_days
from showprep.husbandry.healing_base import anchor_of
from showprep.husbandry.reason import Celsius, Chance, Kelvin, Reason, reason
from showprep.husbandry.sedation_fit import water_fit
from showprep.husbandry.thermal_time import MeanOn
from showprep.husbandry.warmth_ahead import Warmth, along_course
from showprep.husbandry.water import ramped, steady
from showprep.planning.chances.needs import Needs, milestones
from showprep.planning.plan import TouchUpChance
from showprep.planning.verdicts.cautions import LAW, NOT_FOOD, SEDATION
from showprep.planning.verdicts.wounds import ruling
from showprep.planning.yard.yard import Yard, yard_on
from showprep.season.facts import shipped_facts
from showprep.season.records import Season
from showprep.season.values.quantities import Units

WARM_C = 22.0  # the water that is tried where warmth may help: healing gains little above it
LATEST = timedelta(days=400)  # no later day is looked for
NO_PLACE = "scaled body"  # where a speck is taken to sit when nothing is said
SHARE_OF_A_FIN = 0.25  # of a frayed fin when nothing is said (assumption)
KIND_WATERS_C = (12.0, 18.0, 24.0)
KIND_WATERS_US_C = tuple((f - 32) / 1.8 for f in (54, 64, 75))  # the same in whole °F, nearly


class HealAsk(Struct, frozen=True):
    """A question about one blemish of one fish.

    `seen` is the day it was first seen, `by` the day of the show, later than `on`; `water_c` [°C]
    is its water, held at that; `warm_to_c` [°C] what that is brought to from `on`. `lost_share`,
    0 to 1, is how much of a fin is gone.
    """

    kind: str
    on: date
    seen: date
    water_c: float
    by: date
    warm_to_c: float | None = None
    where: str = ""
    size_mm: float | None = None
    lost_share: float | None = None
    units: Units = "metric"


class HealedBy(Struct, frozen=True):
    """One milestone: its days, the chance of it by the day asked for (0 to 1), and how many days
    the usual case is late; None when it is in time, or never."""

    name: MilestoneName
    days: Healing
    chance: float
    short_days: int | None


class HealSheet(Struct, frozen=True):
    """The answer. `touch_up` is the best day to take a speck off, `curve` all days that would do;
    `nothing_because` why none is advised. `warned` is what speaks for a second thought."""

    ask: HealAsk
    kind: DefectKind
    may: May
    why: Reason
    healed: tuple[HealedBy, ...]
    unseen: float | None  # the chance that a judge sees nothing of it
    touch_up: TouchUpChance | None
    curve: tuple[TouchUpChance, ...]
    nothing_because: Reason | None
    helps: tuple[Reason, ...]
    cautions: tuple[Reason, ...]


def heal_sheet(ask: HealAsk) -> HealSheet:
    """Answer one question. Raises ValueError unless `seen` <= `on` < `by`."""
    if not ask.seen <= ask.on < ask.by:
        raise ValueError("the blemish is seen by today, and the show is later than today")
    question = _Question(ask)
    rule = ruling(question.defect, question.kind, False, question.yard.figures)
    touch_up, curve, because = question.touch_up() if rule.may == "touch-up" else (None, (), None)
    heals = touch_up is not None or question.kind.may in ("heals", "vet")
    healed = tuple(question.healed(touch_up)) if heals else ()
    clean = next((one.chance for one in healed if one.name == "clean"), None)
    unseen = touch_up.both if touch_up is not None else clean
    return HealSheet(
        ask=ask,
        kind=question.kind,
        may=rule.may,
        why=rule.why,
        healed=healed,
        unseen=unseen,
        touch_up=touch_up,
        curve=curve,
        nothing_because=because,
        helps=tuple(question.helps(unseen)) if rule.may in ("heals", "touch-up") else (),
        cautions=tuple(question.cautions(rule.may, touch_up)),
    )


class _Question:
    """One fish in one water, and what is uncertain of it."""

    def __init__(self, ask: HealAsk) -> None:
        self.ask = ask
        self.yard = _yard(ask)
        self.defect = self.yard.fish_here()[0].open_defects[0]
        self.kind = self.yard.facts.kinds[ask.kind]
        self.needs = Needs(self.yard.state, self.yard.facts.kinds, self.yard.courses)

    @cached_property
    def mean_on(self) -> MeanOn:
        """The water around it, warmed if that is asked for."""
        here = steady(self.ask.water_c)
        if self.ask.warm_to_c is None:
            return here
        ramp = self.yard.figures["temp_ramp"]
        return ramped(here, steady(self.ask.warm_to_c), self.ask.on, ramp)

    @cached_property
    def warmth(self) -> Warmth:
        first = min(self.ask.seen, self.ask.on)
        days = (self.ask.by + LATEST - first).days + 1
        means = [self.mean_on(first + timedelta(days=number)) for number in range(days)]
        return along_course(first, means, [None] * days)

    def healed(self, touch_up: TouchUpChance | None) -> Iterator[HealedBy]:
        """Each milestone; of a speck from the day it is taken off."""
        start = self.defect.heals_from if touch_up is None else touch_up.day
        anchor = anchor_of(self.kind.id)
        for name, milestone in milestones(self.defect, self.kind):
            days = healing_days(
                milestone, start, self.mean_on, milestone_name=name, anchor_c=anchor
            )
            need, by = self.needs.need(self.kind, name, milestone), self.ask.by
            chance = rounded(chance_healed(need, start, by, None, self.warmth))
            late = days.usual_on is not None and days.usual_on > by
            short = (days.usual_on - by).days if late and days.usual_on is not None else None
            yield HealedBy(name, days, chance, short)

    def touch_up(
        self,
    ) -> tuple[TouchUpChance | None, tuple[TouchUpChance, ...], Reason | None]:
        """The best day to take it off; the days that would do; why none is advised."""
        figures, ask = self.yard.figures, self.ask
        first = ask.on + timedelta(days=fast_days(self.mean_on(ask.on), "sedation", figures).days)
        last = ask.by - self.yard.days("sedate_to_show_gap")
        curve: list[TouchUpChance] = []
        against: Reason | None = None
        for number in range((last - first).days + 1):
            day = first + timedelta(days=number)
            fit = water_fit(self.mean_on(day), figures)
            if fit.level == "block":
                against = against or fit.reason
                continue
            wound = self.needs.wound(self.defect, day)
            assert wound is not None  # every speck has its figures
            told = chances_of(wound, ask.by, ask.by, ask.by, self.warmth)
            curve.append(TouchUpChance(day, told.clean, told.not_back, fit=True))
        if not curve:
            return None, (), against or reason("heal-no-time", first=first, last=last)
        best = max(curve, key=lambda one: one.both)
        least = self.yard.keeper.preferences.least_chance
        if best.both < least:
            because = reason(
                "heal-not-likely", day=best.day, chance=Chance(best.both), least=Chance(least)
            )
            return None, tuple(curve), because
        return best, tuple(curve), None

    def helps(self, unseen: float | None) -> Iterator[Reason]:
        """What would raise the chance: warmth, time, a look."""
        ask, sure = self.ask, self.yard.keeper.preferences.sure_enough
        may_warm = ask.warm_to_c is None and not self.kind.stitched and ask.water_c <= WARM_C - 1
        if may_warm and (unseen is None or unseen < sure):
            warm = heal_sheet(replace(ask, warm_to_c=WARM_C))
            if warm.unseen is not None and warm.unseen > (unseen or 0.0) + 0.05:
                ramp = Kelvin(self.yard.figures["temp_ramp"])
                yield reason(
                    "heal-in-warm-water",
                    water=Celsius(WARM_C),
                    on=ask.on,
                    ramp=ramp,
                    chance=Chance(warm.unseen),
                )
        if (unseen is None or unseen < sure) and (day := self._likely_on(sure)) is not None:
            yield reason("heal-later-show", day=day, chance=Chance(sure))
        if unseen is not None and self.defect.touched is None and self.kind.may == "heals":
            yield reason("heal-look", day=ask.by)

    def _likely_on(self, sure: float) -> date | None:
        """The first later day by which it is as sure as the keeper wants it."""
        if self.kind.may == "touch-up":
            return None
        clean = [one for name, one in milestones(self.defect, self.kind) if name == "clean"]
        for milestone in clean:
            need = self.needs.need(self.kind, "clean", milestone)
            for number in range(1, LATEST.days):
                day = self.ask.by + timedelta(days=number)
                if chance_healed(need, self.defect.heals_from, day, None, self.warmth) >= sure:
                    return day
        return None

    def cautions(self, may: May, touch_up: TouchUpChance | None) -> Iterator[Reason]:
        """Those of its kind; of sedation and the law where a touch-up is spoken of."""
        yield reason("kind-note", kind=self.kind.id)
        if may == "touch-up":
            yield from (LAW, *SEDATION, NOT_FOOD)
            if touch_up is not None:
                fit = water_fit(self.mean_on(touch_up.day), self.yard.figures)
                if fit.reason is not None:
                    yield fit.reason
        warm, limit = self.ask.warm_to_c, self.yard.figures["stitched_warm"]
        if self.kind.stitched and max(warm or 0.0, self.ask.water_c) > limit:
            yield reason("heal-stitched", limit=Celsius(limit))
        if warm is not None:
            yield reason("heal-warming", ramp=Kelvin(self.yard.figures["temp_ramp"]))
        yield reason("heal-steady")


def _yard(ask: HealAsk) -> Yard:
    defect = {"kind": ask.kind, "where": ask.where or NO_PLACE, "seen": ask.seen}
    if ask.size_mm is not None:
        defect["size_mm"] = ask.size_mm
    if shipped_facts().kinds[ask.kind].by_lost_share:
        defect["lost_share"] = SHARE_OF_A_FIN if ask.lost_share is None else ask.lost_share
    season = {
        "keeper": {"time_zone": "UTC", "waters": {"water": {"steady_c": ask.water_c}}},
        "shows": {},
        "fish": {
            "fish": {
                "name": "fish",
                "variety": "kohaku",
                "lives_in": "water",
                "merit": 50,
                "defects": [defect],
            }
        },
    }
    return yard_on(Season.model_validate(season, context={"units": "metric"}), ask.on)


class KindLine(Struct, frozen=True):
    """One kind in a list: what is done about it, and its days in each of several waters.

    `days` are (low, usual, high) [d] to each milestone by water; None where it is too slow to plan.
    """

    kind: DefectKind
    days: tuple[tuple[MilestoneName, tuple[tuple[int | None, int | None, int | None], ...]], ...]


def kind_lines(on: date, waters_c: Sequence[float]) -> tuple[KindLine, ...]:
    """Every kind, in the order of the table, a frayed fin with SHARE_OF_A_FIN of it gone.

    `waters_c` [°C] are held; `on` is any day: so the days do not hang on it.
    """
    return tuple(_kind_line(kind, on, waters_c) for kind in shipped_facts().kinds.values())


def _kind_line(kind: DefectKind, on: date, waters_c: Sequence[float]) -> KindLine:
    defect = _Question(HealAsk(kind.id, on, on, waters_c[0], on + timedelta(days=1))).defect
    found = []
    for name, milestone in milestones(defect, kind):
        waters = []
        for water in waters_c:
            anchor = anchor_of(kind.id)
            days = healing_days(milestone, on, steady(water), milestone_name=name, anchor_c=anchor)
            ends = (days.low_on, days.usual_on, days.high_on)
            low, usual, high = (None if day is None else (day - on).days for day in ends)
            waters.append((low, usual, high))
        found.append((name, tuple(waters)))
    return KindLine(kind, tuple(found))
