"""Take the pictures of docs/ anew: the first screen of the page on a desk, on a phone and dark.

    PYTHONPATH=. python tests/docs_pictures.py

Wants Chromium with its driver, and selenium. Look at each picture before you keep it.
"""

from __future__ import annotations

import base64
import tempfile
from pathlib import Path
from shutil import which

from selenium import webdriver
from selenium.webdriver.chrome.service import Service
from typer.testing import CliRunner

from showprep.cli import app

ROOT = Path(__file__).resolve().parent.parent
SEASON = ("page", str(ROOT / "samples/spring-circuit"), "--on", "2027-03-20")
# Name, width, height, dark, a phone
PICTURES = (
    ("page-desk", 1440, 900, False, False),
    ("page-phone", 360, 740, False, True),
    ("page-dark", 820, 1000, True, False),
)


def main() -> None:
    """Write the pictures of PICTURES into docs/."""
    with tempfile.TemporaryDirectory() as room:
        page = Path(room) / "page.html"
        CliRunner().invoke(app, [*SEASON, "--to", str(page)], catch_exceptions=False)
        for name, width, height, dark, phone in PICTURES:
            options = webdriver.ChromeOptions()
            for one in ("--headless=new", "--no-sandbox", "--hide-scrollbars"):
                options.add_argument(one)
            browser = webdriver.Chrome(options=options, service=Service(which("chromedriver")))
            try:
                size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": phone}
                browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
                scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
                browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [scheme]})
                browser.get(page.as_uri())
                picture = browser.execute_cdp_cmd("Page.captureScreenshot", {"format": "png"})
            finally:
                browser.quit()
            (ROOT / "docs" / f"{name}.png").write_bytes(base64.b64decode(picture["data"]))


if __name__ == "__main__":
    main()
