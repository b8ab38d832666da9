"""Calendars in common use end with the new plan, by the rules of `importers.py`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.calendar.export import export_calendar
from showprep.planning.plan import Plan
from tests.outputs.calendar.importers import (
    Store,
    by_sequence,
    feed,
    newer_last_modified,
    shown,
)

RULES: tuple[tuple[Callable[[Store, Store], None], str], ...] = (
    (newer_last_modified, "import"),
    (by_sequence, "import"),
    (feed, "subscribe"),
    (feed, "import"),
)


@pytest.mark.parametrize(("take", "purpose"), RULES)
@pytest.mark.parametrize("lost", [False, True], ids=["ledger kept", "ledger lost"])
def test_two_plans_after_each_other(
    take: Callable[[Store, Store], None],
    purpose: Any,
    lost: bool,
    two: tuple[Plan, Plan],
    path: Path,
    build: Any,
    now: Any,
) -> None:
    store: Store = {}
    for plan in (two[0], two[1], two[0], two[1]):
        if lost and path.exists():
            path.with_name(path.name + ".ledger.json").unlink()
        export_calendar(plan, path, now=now, purpose=purpose)
        take(store, build.events(path))
        expected = {
            uid: (seen.summary, seen.description) for uid, seen in build.to_be_seen(plan).items()
        }
        left = shown(store)
        if lost and purpose == "import" and take is not feed:
            # Without the ledger nothing is known of vanished jobs; what is planned is right.
            left = {uid: event for uid, event in left.items() if uid in expected}
        assert {uid: event[2:] for uid, event in left.items()} == expected
        assert left.items() <= shown(build.events(path)).items()


@pytest.mark.parametrize(("take", "purpose"), RULES)
def test_the_same_plan_again_updates_nothing(
    take: Callable[[Store, Store], None],
    purpose: Any,
    two: tuple[Plan, Plan],
    path: Path,
    build: Any,
    now: Any,
) -> None:
    store: Store = {}
    export_calendar(two[0], path, now=now, purpose=purpose)
    take(store, build.events(path))
    kept = {uid: id(event) for uid, event in store.items()}
    export_calendar(two[0], path, now=now, purpose=purpose)
    take(store, build.events(path))
    assert {uid: id(event) for uid, event in store.items()} == kept
