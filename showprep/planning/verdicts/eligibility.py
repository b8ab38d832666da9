"""What stands against a fish at a show whatever its wounds: rules, size, papers, time apart."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from typing import TypeAlias

from showprep.husbandry.isolation import clear_on, clearing_window_c, declared_from
from showprep.husbandry.parasites import Level, after_bath_treatment, substance_in
from showprep.husbandry.reason import (
    Celsius,
    Centimetres,
    FishId,
    Kelvin,
    Kilograms,
    Reason,
    ShowId,
    reason,
)
from showprep.husbandry.sizes import class_of, no_class_beyond
from showprep.husbandry.spawning import after_spawning
from showprep.planning.as_of.state import FishState, Treated
from showprep.planning.plan import ExpectedLength
from showprep.planning.verdicts.company import exposed, in_the_vat_with, vat_taken
from showprep.planning.verdicts.lengths import size_table
from showprep.planning.worksheets.bags_season import way_there
from showprep.planning.yard.apart import free_from, never_clear
from showprep.planning.yard.events import Events
from showprep.planning.yard.yard import Yard

Size: TypeAlias = ExpectedLength | None
Check = Callable[[Yard, FishState, Events, Size], Iterator[Reason]]


def against_entry(yard: Yard, fish: FishState, events: Events, length: Size) -> tuple[Reason, ...]:
    """Every reason why the fish may not be entered; none when it may."""
    return tuple(reason for check in CHECKS for reason in check(yard, fish, events, length))


def _keepers_word(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    never = fish.record.never_show
    if never == "all" or events.show in never:
        yield reason("not-to-be-shown")


def _size(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    limits = events.record.limits
    if length is None:
        return
    if limits.longest_cm is not None and length.expected > limits.longest_cm:
        most = Centimetres(limits.longest_cm)
        yield reason("too-long", length=Centimetres(length.expected), most=most)
    if limits.shortest_cm is not None and length.expected < limits.shortest_cm:
        least = Centimetres(limits.shortest_cm)
        yield reason("too-short", length=Centimetres(length.expected), least=least)
    elif (table := size_table(yard, events)) is not None and class_of(
        length.expected, table
    ) is None:
        limit, longer = no_class_beyond(length.expected, table)
        expected, bound = Centimetres(length.expected), Centimetres(limit)
        if longer:
            yield reason("longer-than-any-class", length=expected, limit=bound)
        else:
            yield reason("shorter-than-any-class", length=expected, limit=bound)


def _age(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """A limit of age goes by the year of birth: born in 2025, a fish is 2 all through 2027."""
    oldest, born = events.record.limits.oldest, birth_year(fish)
    if oldest is not None and born is not None and events.judging_day.year - born > oldest:
        first = events.judging_day.year - oldest
        yield reason("too-old", born=str(born), oldest=oldest, first=str(first))


def birth_year(fish: FishState) -> int | None:
    """The year in which the fish was born; None where it is not written down."""
    born = fish.record.born
    return born.year if isinstance(born, date) else born


def _variety(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    allowed = events.record.limits.varieties
    if allowed is None:
        return
    known = yard.facts.varieties

    def same(name: str) -> str:
        return known[name].id if name in known else name

    if same(fish.record.variety) not in {same(name) for name in allowed}:
        yield reason("variety-not-taken", varieties=tuple(allowed))


def _altered(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    if events.record.altered_fish != "excluded":
        return
    touched = [defect.touched for defect in fish.defects if defect.touched is not None]
    if touched:
        yield reason("altered-fish-excluded", on=max(touched))


def _papers(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    months = events.record.declaration_months
    if months is None:
        return
    since = declared_from(events.judging_day, months)
    for other in yard.fish_here():
        came = other.record.came
        if came is None or came < since or other.record.tested:
            continue
        met = yard.courses.meetings.reached_from({other.id: came}).get(fish.id)
        if met is not None and met <= events.departure_day:
            if other.id == fish.id:
                yield reason("came-untested", on=came, months=months)
            else:
                yield reason(
                    "other-untested",
                    fish=FishId(other.id),
                    on=came,
                    months=months,
                    met=met,
                    ahead=int(met > yard.on),
                )


def _new_arrival(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    came = fish.record.came
    if came is None or (events.departure_day - came).days > 366:
        return
    group = yard.courses.group_of_new(fish.id)
    own = clear_on(came, yard.mean_on(fish), "shared", yard.figures)
    clear = own if group is None else group.clear
    if clear is None:
        low, high = map(Celsius, clearing_window_c(yard.figures))
        yield reason("new-never-clear", on=came, low=low, high=high)
    elif clear > events.departure_day:
        yield reason("new-kept-apart", on=came, until=clear)


def _back_from_show(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    for other in yard.been_to(fish):
        earlier = other.show != events.show and other.home_day <= events.departure_day
        if earlier and events.departure_day < (free := free_from(yard, other)):
            show = ShowId(other.show)
            yield reason("rests-after-show", show=show, on=other.home_day, until=free)


def _entries_closed(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """Once the form is in only those entered go; once the car has left, only those in it."""
    if yard.is_entered(fish, events.show) or events in yard.been_to(fish):
        return
    since = yard.form_in_since(events)
    if events.departure_day < yard.on:
        yield reason("left-without-it", on=events.departure_day)
    elif since is None:
        return
    elif (form := yard.presumed_forms.get(events.show)) is not None:
        if fish.id != form.reserve:
            yield reason("not-on-presumed-form", on=since)
    elif any(events.show in other.entered for other in yard.fish_here()):
        if events.show in yard.state.sent:
            yield reason("form-sent", on=since)
        else:
            yield reason("entries-closed", on=since)


def _parasites(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """Nothing is ready before a clean scrape late enough after the last dose, however far the show.

    One that it is still to meet, by a move that is planned, stands against it as well.
    """
    found = yard.parasites_on(fish)
    if found is not None:
        scrape = max(found.scrape_from, yard.on)
        yield reason(
            "parasites-not-cleared",
            water=found.find.water,
            on=found.find.found,
            scrape=scrape,
            too_late=int(scrape > events.departure_day),
        )
    elif (ahead := yard.parasites_ahead(fish, events.departure_day)) is not None:
        yield reason("parasites-ahead", water=ahead.find.water, on=ahead.met)


def _treated(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    for one in fish.treated:
        if treated_level(yard, one, events) == "block":
            until = one.on + yard.days("treatment_stop")
            yield reason("treated-too-near", what=one.what, on=one.on, until=until)


def treated_level(yard: Yard, treated: Treated, events: Events) -> Level:
    """Is a treatment too near a departure? One that comes after it says nothing."""
    days = (events.departure_day - treated.on).days
    if days < 0:
        return "fit"
    substance = substance_in(treated.what)
    return after_bath_treatment(days, substance, yard.figures, by_vet=treated.by_vet)


def _spawned(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    if fish.spawned is None:
        return
    if after_spawning((events.departure_day - fish.spawned).days, yard.figures) == "not ready":
        until = fish.spawned + yard.days("spawned_not_ready")
        yield reason("spawned-not-ready", on=fish.spawned, until=until)


def _never_clear(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    against = never_clear(yard, events)
    if against is not None:
        yield against


def _step_to_show(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """A step too great for a float, where no holding vat can soften it."""
    there = events.record.water_c
    if there is None or yard.keeper.holding is not None:
        return
    leaves = events.departure_day - timedelta(days=1)
    here = yard.mean_on(fish)(events.departure_day)
    if abs(there - here) >= yard.figures["step_block"]:
        yield step_too_great(yard, events.show, yard.course(fish).water_before(leaves), here, there)


def step_too_great(yard: Yard, show: str, water: str, here: float, there: float) -> Reason:
    """Why fish cannot go straight from a water into the show's, both with their warmth [°C]."""
    told = reason(
        "step-to-show", show=ShowId(show), water=water, here=Celsius(here), there=Celsius(there)
    )
    return reason("step-to-show-too-great", step=told, rate=Kelvin(yard.figures["temp_ramp"]))


NOT_TOLD_BY_THE_BAG = frozenset({"weight-not-of-length", "alkalinity-is-nothing"})
"""Slips in the files that say nothing about a journey."""


def _journey(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """A way longer than any bag is good for, and no way round that."""
    sheet = way_there(yard, events, fish.id)
    if sheet is None or sheet.kg is None:
        return
    ways = sheet.ways
    if ways is not None and ways.travels(sheet.ask) is None:
        yield reason(
            "no-way-to-travel",
            fish=Kilograms(sheet.kg),
            hours=sheet.ask.hours,
            longest=ways.good_for_h,
        )
    elif ways is None and sheet.refused and sheet.refused.code not in NOT_TOLD_BY_THE_BAG:
        yield sheet.refused


def _khv(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    for day, water in yard.state.khv_signs:
        yield reason("khv-signs-noted", on=day, water=water)


def _company(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """Whom it has met, and whom it would come home to."""
    for why in (
        exposed(yard, fish, events),
        in_the_vat_with(yard, fish, events),
        vat_taken(yard, events),
    ):
        if why is not None:
            yield why


def _held(yard: Yard, fish: FishState, events: Events, length: Size) -> Iterator[Reason]:
    """A STOP that showed only once the entries had been chosen."""
    if (fish.id, events.show) in yard.held:
        yield yard.held[fish.id, events.show]


CHECKS: tuple[Check, ...] = (
    _keepers_word,
    _khv,
    _held,
    _size,
    _age,
    _variety,
    _altered,
    _papers,
    _new_arrival,
    _back_from_show,
    _company,
    _entries_closed,
    _parasites,
    _treated,
    _spawned,
    _never_clear,
    _step_to_show,
    _journey,
)
