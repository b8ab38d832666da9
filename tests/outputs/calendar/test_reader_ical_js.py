"""ical.js, the reader of Mozilla's calendar programs, finds in the file what the plan holds."""

from __future__ import annotations

import json
import os
import subprocess
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from showprep.outputs.calendar.export import write_calendar

HERE = Path(__file__).parent
OWN_MODULES = HERE.parents[2] / "node_modules"


def by_ical_js(outside: Any, node: str, build: Any, paths: list[Path]) -> list[dict[str, Any]]:
    """Every file read in one run of Node."""
    modules = Path(os.environ.get("SHOWPREP_NODE_MODULES", OWN_MODULES))
    if not (modules / "ical.js").is_dir():
        outside.missing("the Node package ical.js is not installed")
    command = [node, HERE / "read_calendars.mjs", modules, *paths]
    done = subprocess.run(command, capture_output=True, check=True, text=True, encoding="utf-8")
    return [
        {item["uid"]: _seen(build, item) for item in calendar}
        for calendar in json.loads(done.stdout)
    ]


def _seen(build: Any, item: dict[str, Any]) -> Any:
    return build.seen(
        item["summary"],
        item["description"],
        _moment(item["start"]),
        _moment(item["end"]),
        item["status"],
        item["sequence"],
        tuple(timedelta(seconds=seconds) for seconds in item["alarms"]),
    )


def _moment(value: str | int) -> date:
    if isinstance(value, str):
        return date.fromisoformat(value)
    return datetime.fromtimestamp(value, UTC)


def test_ical_js_agrees_with_the_plan(tmp_path: Path, outside: Any, node: str, build: Any) -> None:
    plans = [build.random_plan(number, 80, hostile=number % 2 == 1) for number in range(8)]
    plans.append(build.plan([]))
    paths = []
    for number, plan in enumerate(plans):
        paths.append(tmp_path / f"{number}.ics")
        paths[-1].write_bytes(write_calendar(plan))
    for plan, seen in zip(plans, by_ical_js(outside, node, build, paths), strict=True):
        assert seen == build.to_be_seen(plan)
