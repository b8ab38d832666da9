"""A headless browser with the network blocked, and where the outside checkers are found."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[3]
sys.path.insert(0, str(ROOT))  # the invented plans beside this file are used by every test here

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--hide-scrollbars",
    "--host-resolver-rules=MAP * ~NOTFOUND",
)
PHONE, DESK = 360, 1600


@pytest.fixture(scope="session")
def node_module(outside: Any) -> Callable[[str], Path]:
    """The path of a file of an npm package."""

    def find(name: str) -> Path:
        places = [os.environ.get("SHOWPREP_NODE_MODULES"), str(ROOT / "node_modules")]
        for place in places:
            if place is not None and (Path(place) / name).exists():
                return Path(place) / name
        outside.missing(f"the npm package file {name} is not installed")
        raise AssertionError

    return find


@pytest.fixture(scope="session")
def browser(outside: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    """Chromium with an empty profile, in which no name resolves."""
    webdriver = outside.module("selenium.webdriver")
    options = outside.module("selenium.webdriver.chrome.options").Options()
    service = outside.module("selenium.webdriver.chrome.service").Service
    options.binary_location = outside.program("chromium")
    for flag in (*FLAGS, f"--user-data-dir={tmp_path_factory.mktemp('profile')}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=service(outside.program("chromedriver")))
    driver.execute_cdp_cmd("Network.enable", {})
    yield driver
    driver.quit()


@pytest.fixture
def opened(browser: Any, tmp_path: Path) -> Callable[..., Any]:
    """Open a page from a file at a width [px], in light or in dark."""

    def open_page(text: str, *, width: int = DESK, scheme: str = "light", at: str = "") -> Any:
        path = tmp_path / "page.html"
        path.write_text(text, encoding="utf-8")
        size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width == PHONE}
        browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        features = [{"name": "prefers-color-scheme", "value": scheme}]
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
        browser.get("about:blank")
        browser.get_log("browser"), browser.get_log("performance")
        browser.get(path.as_uri() + at)
        return browser

    return open_page
