"""Shared fixtures: outside checkers, and season folders written from literal text."""

from __future__ import annotations

import importlib
import importlib.util
import os
import shutil
import time
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
import typer.testing
from xdist.scheduler import LoadScopeScheduling

from tests.storms import UNTIL

# What the test command never starts, though it may be there: a browser and its like are slow, and
# a wrong version of one is no fault of this project. CI has them all, and needs them.
ON_CI_ALONE = {
    "browser": "Chromium, for the page in a browser and on paper",
    "java": "Java, for the checker of HTML",
    "node": "Node and npm packages, for a reader of calendars",
}
CI = bool(os.environ.get("CI"))

# The command line is the same in every test: built once a process, not anew for each call.
typer.testing._get_command = cache(typer.testing._get_command)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Storms come last: where their time ends them, everything else has run."""
    items.sort(key=_in_a_storm)


def _in_a_storm(item: pytest.Item) -> bool:
    return item.get_closest_marker("storm") is not None


def pytest_runtest_setup(item: pytest.Item) -> None:
    """Skip what CI alone starts, and storms whose time is over; the reason is one line a kind."""
    if _in_a_storm(item) and time.time() > UNTIL:
        pytest.skip("this round of a storm did not begin in time: SHOWPREP_STORMS_UNTIL")
    if CI:
        return
    for fixture, what in ON_CI_ALONE.items():
        if fixture in getattr(item, "fixturenames", ()):
            pytest.skip(f"{what}: started with CI=true alone")


# Files whose tests share what is slow to set up: each goes to one process, whole, and begins first.
TOGETHER = (
    *("tests/test_playthrough.py", "tests/planning/test_whole_plan.py"),
    *("tests/outputs/calendar/test_publish.py", "tests/outputs/test_first_screen.py"),
    *("tests/commands/test_check_slips.py", "tests/husbandry/test_carbon_dioxide.py"),
    *("tests/outputs/page/test_browser.py", "tests/outputs/page/test_printed.py"),
)


class Scheduling(LoadScopeScheduling):
    """Every test alone to the next free process, but for the files that stay together."""

    def _split_scope(self, nodeid: str) -> str:
        file = nodeid.partition("::")[0]
        return Path(file).parent.as_posix() if file in TOGETHER else nodeid


def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> LoadScopeScheduling:
    return Scheduling(config, log)


class Outside:
    """Checkers from outside the project: needed on CI, skipped with a reason elsewhere."""

    def module(self, name: str) -> ModuleType:
        try:
            return importlib.import_module(name)
        except ImportError:
            self.missing(f"the Python package {name} is not installed")
            raise

    def data_of(self, package: str) -> Path:
        """Where a package lies whose data alone are read: its code is not run, so cannot warn."""
        spec = importlib.util.find_spec(package)
        if spec is None or spec.origin is None:
            self.missing(f"the Python package {package} is not installed")
            raise AssertionError
        return Path(spec.origin).parent

    def program(self, name: str) -> str:
        path = shutil.which(name)
        if path is None:
            self.missing(f"the program {name} is not installed")
            raise AssertionError
        return path

    def missing(self, reason: str) -> None:
        if CI:
            pytest.fail(f"{reason}; CI needs it")
        pytest.skip(reason, allow_module_level=True)


@pytest.fixture(scope="session")
def outside() -> Outside:
    return Outside()


@pytest.fixture(scope="session")
def java(outside: Outside) -> str:
    return outside.program("java")


@pytest.fixture(scope="session")
def node(outside: Outside) -> str:
    return outside.program("node")


@pytest.fixture
def folder(tmp_path: Path) -> Callable[[Mapping[str, str | bytes]], Path]:
    """Write a season folder from {relative path: text} and return its path."""

    def write(files: Mapping[str, str | bytes]) -> Path:
        root = tmp_path / "season"
        root.mkdir(exist_ok=True)
        for name, text in files.items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            if isinstance(text, bytes):
                path.write_bytes(text)
            else:
                path.write_text(text, encoding="utf-8")
        return root

    return write
