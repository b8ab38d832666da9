"""The board of fish by shows, who goes where, and why the others stay at home."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from showprep.planning.plan import (
    VERDICT_ORDER,
    FishLine,
    LeftOut,
    Plan,
    ShowLine,
    Verdict,
    WayOut,
)

MOST_TOLD_WHOLE = 400  # pairs of fish and show


class BoardRow(Struct, frozen=True):
    """One fish: `at` is its place among the plan's fish, a verdict (or None) for each show."""

    fish: FishLine
    at: int
    verdicts: tuple[Verdict | None, ...]
    goes: bool


class ShowEntries(Struct, frozen=True):
    """A show and the fish entered in it, best first."""

    show: ShowLine
    fish: tuple[tuple[FishLine, Verdict | None], ...]


class Why(Struct, frozen=True):
    """Why a fish does not go to some shows: its verdict, or what the choice says."""

    shows: tuple[ShowLine, ...]
    verdict: Verdict
    left_out: LeftOut | None


class Staying(Struct, frozen=True):
    """A fish that goes to no show, and why, show by show."""

    fish: FishLine
    whys: tuple[Why, ...]
    ways_out: tuple[WayOut, ...]


class Board(Struct, frozen=True):
    """Everything said of fish and shows."""

    shows: tuple[ShowLine, ...]
    other_shows: tuple[ShowLine, ...]  # past or cancelled
    rows: tuple[BoardRow, ...]
    going: tuple[ShowEntries, ...]
    staying: tuple[Staying, ...]

    @property
    def large(self) -> bool:
        """So large that only what matters most is said of each fish and show."""
        return len(self.rows) * len(self.shows) > MOST_TOLD_WHOLE


def board_of(plan: Plan) -> Board:
    """Fish that go somewhere first, each list in the plan's own order."""
    shows = tuple(
        sorted((s for s in plan.shows if s.standing == "planned"), key=lambda s: s.departure)
    )
    said = {(verdict.fish, verdict.show): verdict for verdict in plan.verdicts}
    entered = {fish for show in shows for fish in show.entered}
    rows = [
        BoardRow(
            fish, at, tuple(said.get((fish.id, show.id)) for show in shows), fish.id in entered
        )
        for at, fish in enumerate(plan.fish)
        if fish.gone is None
    ]
    return Board(
        shows=shows,
        other_shows=tuple(show for show in plan.shows if show.standing != "planned"),
        rows=tuple(sorted(rows, key=lambda row: (not row.goes, row.at))),
        going=tuple(_going(show, plan, said) for show in shows),
        staying=tuple(_staying(plan, shows, said, entered)),
    )


def _going(show: ShowLine, plan: Plan, said: dict[tuple[str, str], Verdict]) -> ShowEntries:
    fish = {one.id: one for one in plan.fish}
    there = [(fish[one], said.get((one, show.id))) for one in show.entered if one in fish]
    there.sort(key=lambda pair: -((pair[1].merit if pair[1] else None) or 0.0))
    return ShowEntries(show, tuple(there))


def _staying(
    plan: Plan,
    shows: Iterable[ShowLine],
    said: dict[tuple[str, str], Verdict],
    entered: set[str],
) -> Iterable[Staying]:
    left = {(one.fish, one.show): one for one in plan.choice.left_out}
    every = list(shows)
    for fish in plan.fish:
        if fish.gone is not None or fish.id in entered:
            continue
        known = [(show, said[fish.id, show.id]) for show in every if (fish.id, show.id) in said]
        verdicts = [one for _, one in known]
        ways = dict.fromkeys(way for one in verdicts for way in one.ways_out)
        yield Staying(
            fish=fish,
            whys=tuple(_whys(known, left)),
            ways_out=tuple(ways),
        )


def _whys(
    known: Iterable[tuple[ShowLine, Verdict]], left: dict[tuple[str, str], LeftOut]
) -> Iterable[Why]:
    """One reason for every show that it holds for."""
    groups: dict[object, list[tuple[ShowLine, Verdict]]] = {}
    for show, verdict in known:
        left_out = left.get((verdict.fish, show.id))
        cost = (left_out.because, left_out.cost) if left_out is not None else None
        key = (verdict.verdict, verdict.reasons, verdict.first_day, cost)
        groups.setdefault(key, []).append((show, verdict))
    for some in groups.values():
        verdict = some[0][1]
        shows = tuple(show for show, _ in some)
        yield Why(shows, verdict, left.get((verdict.fish, verdict.show)))


def verdicts_used(plan: Plan) -> tuple[str, ...]:
    """The verdicts that the key has to explain, best first."""
    used = {verdict.verdict for verdict in plan.verdicts}
    return tuple(word for word in VERDICT_ORDER if word in used)
