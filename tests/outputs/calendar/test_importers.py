"""What calendars in common use do with a second file, re-stated in a few lines each.

The rules are those of their published source: Fossify Calendar updates an event only when the
file's LAST-MODIFIED is newer than the stored one (IcsImporter.kt); ICSx5 takes an event whose
LAST-MODIFIED is absent or newer, and deletes what is no longer in the feed (ProcessEventsTask.kt);
the order of editions is that of RFC 5546 §2.1.4.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from icalendar import Component

from showprep.outputs.calendar.export import export_calendar
from showprep.planning.plan import Plan

Store = dict[str, Component]


def newer_last_modified(store: Store, file: Store) -> None:
    """Fossify Calendar, import by hand: nothing is deleted."""
    for uid, event in file.items():
        if uid not in store or event["LAST-MODIFIED"].dt > store[uid]["LAST-MODIFIED"].dt:
            store[uid] = event


def feed(store: Store, file: Store) -> None:
    """ICSx5: absent or newer, then what vanished is deleted."""
    for uid, event in file.items():
        modified = event.get("LAST-MODIFIED")
        if uid not in store or modified is None or modified.dt > store[uid]["LAST-MODIFIED"].dt:
            store[uid] = event
    for uid in store.keys() - file.keys():
        del store[uid]


def by_sequence(store: Store, file: Store) -> None:
    """RFC 5546 §2.1.4: the higher SEQUENCE, then the later DTSTAMP."""
    for uid, event in file.items():
        old = store.get(uid)
        if old is None or _order(event) > _order(old):
            store[uid] = event


def _order(event: Component) -> tuple[int, Any]:
    return event["SEQUENCE"], event["DTSTAMP"].dt


def shown(store: Store) -> dict[str, tuple[Any, ...]]:
    """What the keeper sees of the jobs that are not cancelled."""
    return {
        uid: (event["DTSTART"].dt, event["DTEND"].dt, event["SUMMARY"], event["DESCRIPTION"])
        for uid, event in store.items()
        if event["STATUS"] != "CANCELLED"
    }


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
