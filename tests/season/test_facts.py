"""The shipped tables, and what becomes of them when a keeper changes them."""

from __future__ import annotations

import itertools

import pytest

from showprep.husbandry.healing import Milestone
from showprep.season.facts import facts_for, shipped_facts
from showprep.season.records import Keeper, Water
from showprep.season.values.fields import term


def keeper(**settings: object) -> Keeper:
    return Keeper.model_validate(
        {"time_zone": "UTC", "waters": {"pond": Water(steady_c=18)}, **settings}
    )


def test_without_changes_the_tables_are_as_shipped() -> None:
    assert facts_for(keeper()) == shipped_facts()
    assert shipped_facts() is shipped_facts()


def test_every_row_has_a_source_and_a_mark() -> None:
    facts = shipped_facts()
    rows = (*facts.kinds.values(), *facts.varieties.values(), *facts.size_tables.values())
    for row in rows:
        assert row.source
        assert row.grade in ("published", "derived", "common practice", "assumption", "our choice")
    assert facts.rations_source


def test_ids_are_terms_a_keeper_can_write() -> None:
    facts = shipped_facts()
    assert all(term(kind) == kind == row.id for kind, row in facts.kinds.items())
    assert all(term(name) == name for name in facts.varieties)
    assert all(term(name) == name for name in facts.size_tables)


def test_a_variety_answers_to_its_other_names() -> None:
    varieties = shipped_facts().varieties
    assert varieties["sanke"] is varieties["taisho-sanke"]
    assert varieties["sanke"].name == "Taisho Sanke"
    assert varieties["chagoi"].darkens


def test_rations_go_on_where_a_step_ends() -> None:
    for one, two in itertools.pairwise(shipped_facts().rations):
        assert one.below_c == two.from_c


def test_the_keepers_own_requirements() -> None:
    changed = {"shimi": {"clean": {"low": "120", "usual": "200", "high": "340"}}}
    facts = facts_for(keeper(defect_kinds=changed))
    kind, shipped = facts.kinds["shimi"], shipped_facts().kinds["shimi"]
    assert shipped.clean is not None
    assert kind.clean == Milestone(120, 200, 340, shipped.clean.least_days, "degree-days")
    assert kind.closed == shipped.closed
    assert kind.grade == "keeper's own"
    assert facts.kinds["net-mark"] == shipped_facts().kinds["net-mark"]


def test_own_requirements_written_in_degree_days_stay_so() -> None:
    # The shipped figure is in skin-days; files older than that mean degree-days.
    changed = {"shimi": {"closed": {"low": "5", "usual": "15", "high": "40"}}}
    own = facts_for(keeper(defect_kinds=changed)).kinds["shimi"].closed
    assert own == Milestone(5, 15, 40, 1, "degree-days")
    changed = {"stress-flush": {"clean": {"low": "1", "usual": "2", "high": "4"}}}
    own = facts_for(keeper(defect_kinds=changed)).kinds["stress-flush"].clean
    assert own == Milestone(1, 2, 4, 1, "days")


def test_own_requirements_in_a_unit_of_their_own() -> None:
    changed = {"shimi": {"closed": {"low": 2, "usual": 3, "high": 6, "unit": "skin-days"}}}
    own = facts_for(keeper(defect_kinds=changed)).kinds["shimi"].closed
    assert own == Milestone(2, 3, 6, 1, "skin-days")
    changed = {"incision": {"closed": {"low": 20, "usual": 30, "high": 60, "unit": "days"}}}
    own = facts_for(keeper(defect_kinds=changed)).kinds["incision"].closed
    assert own is not None
    assert own.unit == "days"


def test_own_requirements_where_none_are_shipped() -> None:
    changed = {"hikui": {"clean": {"low": 1, "usual": 2, "high": 3, "least_days": 4}}}
    assert facts_for(keeper(defect_kinds=changed)).kinds["hikui"].clean == Milestone(1, 2, 3, 4)
    changed = {"frayed-fin": {"clean": {"low": 1, "usual": 2, "high": 3}}}
    kind = facts_for(keeper(defect_kinds=changed)).kinds["frayed-fin"]
    assert not kind.by_lost_share


def test_own_size_tables_and_rations() -> None:
    step = {"from_c": 0, "below_c": 40, "low": 0, "typical": 1, "high": 2}
    facts = facts_for(
        keeper(
            size_tables={"mine": {"unit": "in", "upper": ["10", "14"], "labels": ["a", "b", "c"]}},
            rations=[{**step, "feeds": "daily", "diet": "any"}],
        )
    )
    assert facts.size_tables["mine"].upper == (10, 14)
    assert facts.size_tables["mine"].grade == "keeper's own"
    assert "uk-long-standing" in facts.size_tables
    assert [row.typical for row in facts.rations] == [1]
    assert facts.rations_grade == "keeper's own"


def test_unsound_changes_are_refused() -> None:
    changed = {"shimi": {"clean": {"low": 9, "usual": 5, "high": 6}}}
    with pytest.raises(ValueError, match="must rise"):
        facts_for(keeper(defect_kinds=changed))


def test_a_published_table_of_sizes() -> None:
    """The bounds of the national combined show of Japan, 52nd, outline of classes, 2021."""
    bu = shipped_facts().size_tables["japan-bu-2021"]
    assert bu.upper == (12, *range(15, 90, 5))
