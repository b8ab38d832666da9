"""Shared fixtures: outside checkers, and season folders written from literal text."""

from __future__ import annotations

import importlib
import os
import shutil
from collections.abc import Callable, Mapping
from pathlib import Path
from types import ModuleType

import pytest


class Outside:
    """Checkers from outside the project: needed on CI, skipped with a reason elsewhere."""

    def module(self, name: str) -> ModuleType:
        try:
            return importlib.import_module(name)
        except ImportError:
            self.missing(f"the Python package {name} is not installed")
            raise

    def program(self, name: str) -> str:
        path = shutil.which(name)
        if path is None:
            self.missing(f"the program {name} is not installed")
            raise AssertionError
        return path

    def missing(self, reason: str) -> None:
        if os.environ.get("CI"):
            pytest.fail(f"{reason}; CI needs it")
        pytest.skip(reason)


@pytest.fixture(scope="session")
def outside() -> Outside:
    return Outside()


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
