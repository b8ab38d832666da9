"""The tables of facts, as shipped and as the keeper has changed them.

Defect kinds, varieties, size tables and rations come with a source and a grade; what a
keeper changes in their own files is marked as the keeper's own.
"""

from __future__ import annotations

import importlib.resources
import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from showprep.husbandry.feeding import RationStep
from showprep.husbandry.figure_record import OWN, Grade
from showprep.husbandry.healing import DefectKind, Milestone, not_before
from showprep.husbandry.sizes import SizeTable
from showprep.season.records import (
    Keeper,
    KindFigures,
    MilestoneFigures,
    RationStepRecord,
    SizeTableRecord,
)
from showprep.season.values.fields import term

OWN_SOURCE = "the keeper's own figure"


class Variety(Struct, frozen=True):
    """A variety of koi. `darkens`: a scratch may leave a dark blemish for years; `group`: where it
    is most often shown (common practice, no source)."""

    id: str
    name: str
    aliases: tuple[str, ...]
    group: str
    darkens: bool
    scaleless: bool
    grade: Grade
    source: str


class Facts(Struct, frozen=True):
    """The tables in force for one keeper.

    `varieties` answers to aliases as well as ids; the variety found tells its id.
    """

    kinds: dict[str, DefectKind]
    varieties: dict[str, Variety]
    size_tables: dict[str, SizeTable]
    rations: tuple[RationStep, ...]
    rations_grade: Grade
    rations_source: str


def facts_for(keeper: Keeper) -> Facts:
    """The shipped tables with the keeper's changes.

    Raises ValueError if a change is unsound; `checks` finds those first, each with its line.
    """
    shipped = shipped_facts()
    kinds = {
        name: own_kind(shipped.kinds[name], own)
        for name, own in keeper.defect_kinds.items()
        if name in shipped.kinds
    }
    own_rations = keeper.rations is not None
    return Facts(
        kinds=shipped.kinds | kinds,
        varieties=shipped.varieties,
        size_tables=shipped.size_tables
        | {name: size_table(name, own) for name, own in keeper.size_tables.items()},
        rations=shipped.rations if keeper.rations is None else own_steps(keeper.rations),
        rations_grade=OWN if own_rations else shipped.rations_grade,
        rations_source=OWN_SOURCE if own_rations else shipped.rations_source,
    )


def after_what_they_hold(kinds: Mapping[str, DefectKind]) -> dict[str, DefectKind]:
    """The kinds with stitches not out before the cut is closed, also with own figures."""
    found = dict(kinds)
    for name, kind in kinds.items():
        held = kinds[kind.holds].closed if kind.holds is not None else None
        if held is not None and kind.closed is not None and held.unit == kind.closed.unit:
            found[name] = replace(kind, closed=not_before(kind.closed, held))
    return found


@cache
def shipped_facts() -> Facts:
    """The tables as shipped."""
    rations = _table("rations")
    return Facts(
        kinds={row["id"]: _kind(row) for row in _table("defects")["kind"]},
        varieties=_varieties(),
        size_tables={name: _size_table(name, row) for name, row in _table("sizes").items()},
        rations=tuple(RationStep(**_numbers_as_floats(row)) for row in rations["steps"]),
        rations_grade=rations["grade"],
        rations_source=rations["source"],
    )


def _table(name: str) -> dict[str, Any]:
    path = importlib.resources.files("showprep.season").joinpath("tables", f"{name}.toml")
    return tomllib.loads(path.read_text("utf-8"))


def _kind(row: dict[str, Any]) -> DefectKind:
    return DefectKind(
        id=row["id"],
        may=row["may"],
        closed=Milestone(**row["closed"]) if "closed" in row else None,
        clean=Milestone(**row["clean"]) if "clean" in row else None,
        is_wound=row["wound"],
        grade=row["grade"],
        source=row["source"],
        by_lost_share=row.get("by_lost_share", False),
        stitched=row.get("stitched", False),
        holds=row.get("holds"),
    )


def _varieties() -> dict[str, Variety]:
    table = _table("varieties")
    found: dict[str, Variety] = {}
    for row in table["variety"]:
        variety = Variety(
            id=row["id"],
            name=row["name"],
            aliases=tuple(row["aliases"]),
            group=row["group"],
            darkens=row["darkens"],
            scaleless=row.get("scaleless", False),
            grade=row.get("grade", "common practice"),
            source=row.get("source", "common practice, no source"),
        )
        for name in (variety.id, variety.name, *variety.aliases):
            found.setdefault(term(name), variety)
    return found


def _size_table(name: str, row: dict[str, Any]) -> SizeTable:
    upper, labels = tuple(map(float, row["upper"])), tuple(row.get("labels", ()))
    return SizeTable(name=name, **{**row, "upper": upper, "labels": labels})


def _numbers_as_floats(row: dict[str, Any]) -> dict[str, Any]:
    return {key: float(value) if isinstance(value, int) else value for key, value in row.items()}


def own_kind(kind: DefectKind, own: KindFigures) -> DefectKind:
    """A kind of defect with the keeper's requirements. Raises ValueError if they do not rise."""
    closed = own_milestone(kind.closed, own.closed) if own.closed else kind.closed
    clean = own_milestone(kind.clean, own.clean) if own.clean else kind.clean
    by_lost_share = kind.by_lost_share and own.clean is None
    return replace(
        kind,
        closed=closed,
        clean=clean,
        by_lost_share=by_lost_share,
        grade=OWN,
        source=OWN_SOURCE,
    )


def own_milestone(shipped: Milestone | None, own: MilestoneFigures) -> Milestone:
    """A milestone with the keeper's figures. Raises ValueError if unsound.

    Without a unit of their own they are degree-days, as files written before the film of skin was
    counted in days mean them; plain days where the table has those.
    """
    least = own.least_days
    if least is None:
        least = shipped.least_days if shipped is not None else 0
    plain = shipped is not None and shipped.unit == "days"
    unit = own.unit or ("days" if plain else "degree-days")
    return Milestone(own.low, own.usual, own.high, least, unit)


def own_steps(steps: tuple[RationStepRecord, ...]) -> tuple[RationStep, ...]:
    """The keeper's own feeding table."""
    return tuple(RationStep(**step.model_dump()) for step in steps)


def size_table(name: str, own: SizeTableRecord) -> SizeTable:
    """A table of size classes as a keeper wrote it. Raises ValueError if its bounds are unsound."""
    return SizeTable(
        name=name,
        unit=own.unit,
        upper=own.upper,
        upper_included=own.upper_included,
        resolution=own.resolution,
        lowest=own.lowest,
        above=own.above,
        labels=own.labels or (),
        source="as written in the season's files",
        grade=OWN,
    )


def grave_kinds() -> frozenset[str]:
    """The kinds of defect that are, or may be, an illness: no near miss is taken for one."""
    kinds = shipped_facts().kinds
    return frozenset({*(one.id for one in kinds.values() if one.may == "vet"), "red-spots"})
