"""A season worked out on one day: the whole way from the keeper's records to the Plan."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date, timedelta
from functools import partial

from msgspec.structs import replace

from showprep.husbandry.reason import Centimetres, Reason, reason
from showprep.planning.chances.chances import Chances
from showprep.planning.entries.answer import Selection, select
from showprep.planning.follow_up.asks import asks_of
from showprep.planning.follow_up.tells_most import tells_most
from showprep.planning.jobs.season_jobs import season_jobs, sendings_of, sessions_planned
from showprep.planning.own_figures import told as own_figures_told
from showprep.planning.plan import (
    FishLine,
    PaceRow,
    Plan,
    ShowLine,
    Span,
    Verdict,
    Warning_,
    WaterLine,
)
from showprep.planning.plan_warnings import warnings_of
from showprep.planning.verdicts.class_points import points_used
from showprep.planning.verdicts.company import declaration
from showprep.planning.verdicts.lengths import length_on, weight_kg
from showprep.planning.verdicts.prospects import Prospect, prospects_of, touch_ups_of
from showprep.planning.verdicts.touch_ups import TouchUps
from showprep.planning.verdicts.verdicts import verdict_of
from showprep.planning.verdicts.ways_out import ways_out
from showprep.planning.verdicts.wounds import blemish
from showprep.planning.yard.apart import apart_after, free_from
from showprep.planning.yard.events import Events
from showprep.planning.yard.last_plan import LastPlan
from showprep.planning.yard.planned import planned_yard
from showprep.planning.yard.presumed import yard_as_known
from showprep.planning.yard.spans import spans_of
from showprep.planning.yard.yard import Yard
from showprep.season.records import Season
from showprep.selection.choose import never

Stop = Callable[[], bool]


def make_plan(
    season: Season,
    on: date,
    name: str = "season",
    stop: Stop = never,
    last: LastPlan | None = None,
    costs: bool = True,
    tells: bool = True,
) -> Plan:
    """Work out a season on the day `on`: verdicts, entries, dated jobs and warnings.

    `last` is a plan of an earlier day, where one is remembered; `costs` and `tells` as
    `worked_out` has them.
    """
    return plan_of(yard_as_known(season, on, last), name, stop, costs=costs, tells=tells)


def plan_of(
    yard: Yard,
    name: str,
    stop: Stop = never,
    asked: tuple[str, str] | None = None,
    costs: bool = True,
    tells: bool = True,
) -> Plan:
    """Work out one yard's season; `name` is the season's, for titles."""
    return worked_out(yard, name, stop, asked, costs, tells)[1]


def worked_out(
    yard: Yard,
    name: str,
    stop: Stop = never,
    asked: tuple[str, str] | None = None,
    costs: bool = True,
    tells: bool = True,
) -> tuple[Yard, Plan]:
    """The yard with the courses the plan gives its fish, and the plan.

    `stop` is asked now and then whether to break off the choice. `asked` is the one fish and show
    whose cost is wanted; else `costs` says whether those of all left out are. `tells` says whether
    the look or reading that would tell most is wanted, which takes as long as much else. What only
    shows once the entries are chosen, and is a STOP, holds them back, and the rest is chosen anew.
    """
    holding: dict[Reason, Warning_] = {}
    chances = Chances(yard)  # what holds an entry back moves no chance
    while True:
        planned, plan, most = _worked_out(yard, name, stop, asked, costs, chances)
        stops = tuple(_stops_on_entries(plan))
        if not stops:
            break
        held = {pair: warning.reason for pair, warning in stops}
        holding |= {warning.reason: warning for _, warning in stops}
        yard = dataclasses.replace(yard, held={**yard.held, **held})
    told = {warning.reason for warning in plan.warnings}
    kept = tuple(warning for why, warning in holding.items() if why not in told)
    told_most = most() if tells else None
    return planned, replace(plan, warnings=(*kept, *plan.warnings), tells_most=told_most)


def _stops_on_entries(plan: Plan) -> Iterator[tuple[tuple[str, str], Warning_]]:
    """The entries that stand beside a STOP about their fish or their show."""
    for warning in plan.warnings:
        if warning.level != "stop" or (warning.fish is None and warning.show is None):
            continue
        for one in plan.verdicts:
            of_it = warning.fish in (None, one.fish) and warning.show in (None, one.show)
            if one.entered and of_it:
                yield (one.fish, one.show), warning


def _worked_out(
    yard: Yard,
    name: str,
    stop: Stop,
    asked: tuple[str, str] | None,
    costs: bool,
    chances: Chances,
) -> tuple[Yard, Plan, Callable[[], Reason | None]]:
    """The yard, its plan but for what would tell most, and what works that out."""
    touch_ups = touch_ups_of(yard, chances)
    prospects = prospects_of(yard, touch_ups)
    selection = select(yard, prospects, touch_ups, stop, asked, costs)
    verdicts = tuple(
        _verdict(yard, one, prospects, touch_ups[one.fish.id], selection)
        for _, one in sorted(prospects.items(), key=lambda item: _board_order(yard, item[0]))
    )
    before, yard = yard, planned_yard(yard, touch_ups, selection.solution)
    tasks = season_jobs(yard, prospects, selection.solution)
    sessions = sessions_planned(yard, selection.solution)
    shows = tuple(_show_line(yard, events, verdicts) for events in yard.events.values())
    fish = tuple(_fish_line(yard, one.id) for one in yard.fish_here())
    spans = spans_of(yard, fish, verdicts, tasks)
    plan = Plan(
        season=name,
        planned_on=yard.on,
        time_zone=yard.keeper.time_zone,
        units=yard.keeper.units,
        shows=shows,
        fish=fish,
        waters=_water_lines(yard, spans),
        verdicts=verdicts,
        tasks=tasks,
        warnings=tuple(warnings_of(yard, verdicts, selection, tasks)),
        choice=selection.choice,
        asks=asks_of(yard, sendings_of(yard), sessions),
        presumed_gone={show: tuple(sorted(gone)) for show, gone in yard.presumed_gone.items()},
        presumed_forms=yard.presumed_forms,
        healed_in=yard.healed_in,
        spans=spans,
        pace=_pace_rows(yard),
        away=tuple((one.from_, one.to) for one in yard.keeper.away),
        cautions=(
            *((reason("chance-means"),) if any(map(_uncertain, verdicts)) else ()),
            reason("healing-unproven"),
            reason("law"),
            *own_figures_told(yard.figures, yard.keeper.defect_kinds),
        ),
        fish_gone=tuple(
            (one.id, one.record.name) for one in yard.state.fish.values() if one.gone is not None
        ),
    )
    return yard, plan, partial(tells_most, before, verdicts, prospects, touch_ups)


def _verdict(
    yard: Yard,
    one: Prospect,
    prospects: Mapping[tuple[str, str], Prospect],
    touch_ups: TouchUps,
    selection: Selection,
) -> Verdict:
    verdict = verdict_of(yard, one, touch_ups, selection.solution)
    ways = ways_out(yard, verdict, prospects, touch_ups, selection.solution)
    return replace(verdict, ways_out=ways)


def _uncertain(one: Verdict) -> bool:
    """Is a chance told of it?"""
    return any(
        chance is not None and 0 < chance < 1
        for chance in (one.chance_clean, one.touch_up.chance if one.touch_up else None)
    )


def _board_order(yard: Yard, pair: tuple[str, str]) -> tuple[str, int]:
    return pair[0], list(yard.events).index(pair[1])


def _show_line(yard: Yard, events: Events, verdicts: Sequence[Verdict]) -> ShowLine:
    record = events.record
    return ShowLine(
        id=events.show,
        name=record.name,
        standing=events.standing,
        time_zone=events.zone,
        judging=events.judging,
        departure=events.departure,
        latest_departure=events.latest_departure,
        arrive_from=events.arrive_from,
        arrive_to=events.arrive_to,
        benching=events.benching,
        check_out=events.check_out,
        home=events.home,
        entries_close=record.entries_close,
        water_c=record.water_c,
        altered_fish=record.altered_fish,
        entered=tuple(one.fish for one in verdicts if one.show == events.show and one.entered),
        limits=_limits(yard, events, verdicts),
        declaration=declaration(yard, events) if events.standing == "planned" else (),
        place=record.place,
        form_in=yard.form_in_since(events),
        free_from=free_from(yard, events),
    )


def _limits(yard: Yard, events: Events, verdicts: Sequence[Verdict]) -> tuple[Reason, ...]:
    """The show's limits, as many as it has."""
    limits, used = events.record.limits, points_used(yard, events, verdicts)
    found = (
        limits.fish is not None and reason("limit-fish", most=limits.fish),
        limits.fish_at_least is not None and reason("limit-fish-least", least=limits.fish_at_least),
        limits.points is not None and used is None and reason("limit-points", most=limits.points),
        limits.points is not None
        and used is not None
        and reason("limit-points-used", most=limits.points, used=used.expected),
        limits.entries_per_class is not None
        and reason("limit-class", most=limits.entries_per_class),
        limits.total_cm is not None and reason("limit-total", most=Centimetres(limits.total_cm)),
        limits.total_cm_at_least is not None
        and reason("limit-total-least", least=Centimetres(limits.total_cm_at_least)),
        limits.longest_cm is not None
        and reason("limit-longest", most=Centimetres(limits.longest_cm)),
        limits.oldest is not None and reason("limit-oldest", oldest=limits.oldest),
        limits.shortest_cm is not None
        and reason("limit-shortest", least=Centimetres(limits.shortest_cm)),
    )
    return tuple(one for one in found if one)


def _fish_line(yard: Yard, fish_id: str) -> FishLine:
    fish = yard.state.fish[fish_id]
    length = length_on(yard, fish, yard.on)
    kg, estimated = weight_kg(yard, fish, length)
    variety = yard.facts.varieties.get(fish.record.variety)
    return FishLine(
        id=fish_id,
        name=fish.record.name,
        variety=variety.name if variety is not None else fish.record.variety,
        lives_in=yard.course(fish).water_before(yard.on),
        merit=fish.record.merit,
        defects=tuple(blemish(defect) for defect in fish.open_defects),
        gone=fish.gone,
        photos=tuple(photo for _, photo in fish.photos),
        length_cm=length.expected if length is not None else None,
        weight_kg=kg,
        weight_estimated=estimated,
    )


FARTHEST = timedelta(days=500)
"""How far ahead a healing without a show may draw the waters on."""


def _water_lines(yard: Yard, spans: Sequence[Span]) -> tuple[WaterLine, ...]:
    """The waters on all the days of a season that are drawn, so that no line has a gap.

    That is from the Monday five weeks back to ten days after the last thing drawn, ten weeks ahead
    at least.
    """
    first = yard.on - timedelta(days=41)
    last = max(
        [yard.on + timedelta(days=60)]
        + [apart_after(yard, events).last for events in yard.planned()]
        + [span.end for span in spans if span.end <= yard.on + FARTHEST]
    )
    days = [first + timedelta(days=number) for number in range((last - first).days + 11)]
    read_from = yard.on - timedelta(days=30)
    return tuple(
        WaterLine(
            name=name,
            start=first,
            means_c=tuple(round(yard.waters.of(name)(day), 2) for day in days),
            readings=tuple(pair for pair in yard.waters.readings[name] if pair[0] >= read_from),
        )
        for name in yard.keeper.waters
    )


def _pace_rows(yard: Yard) -> tuple[PaceRow, ...]:
    return tuple(
        PaceRow(
            kind=line.kind,
            milestone=line.milestone,
            unit=line.unit,
            table=(line.pace.table.low, line.pace.table.usual, line.pace.table.high),
            own=(line.pace.own.low, line.pace.own.usual, line.pace.own.high),
            looks=line.pace.count,
            used=line.used,
        )
        for line in yard.pace.lines
    )
