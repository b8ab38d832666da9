"""What calendars in common use do with a second file, re-stated in a few lines each.

The rules are those of their published source: Fossify Calendar updates an event only when the
file's LAST-MODIFIED is newer than the stored one (IcsImporter.kt); ICSx5 takes an event whose
LAST-MODIFIED is absent or newer, and deletes what is no longer in the feed (ProcessEventsTask.kt);
the order of editions is that of RFC 5546 §2.1.4.
"""

from __future__ import annotations

from typing import Any

from icalendar import Component

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
        uid: (
            event["DTSTART"].dt,
            event["DTEND"].dt,
            event["SUMMARY"],
            event.get("DESCRIPTION", ""),
        )
        for uid, event in store.items()
        if event["STATUS"] != "CANCELLED"
    }
