"""HTML, inline SVG and CSS checked by the Nu HTML Checker (vnu-jar from npm), offline."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

from showprep.outputs.page import render_page
from tests.outputs.page.test_page import PLANS, renamed

# What it says of a right page: its list of CSS lacks two properties of SVG 2 (sections 13.10 and
# 8.13), and it does not compare the digests of a policy, which the browser does in another test.
KNOWN = (
    "Property “paint-order” doesn't exist",
    "Property “vector-effect” doesn't exist",
    "Inline style violates Content Security Policy",
)


def test_the_page_is_valid(tmp_path: Path, java: str, node_module: Callable[[str], Path]) -> None:
    jar = node_module("vnu-jar/build/dist/vnu.jar")
    for number, make in enumerate(PLANS):
        plan = make()
        (tmp_path / f"{number}.html").write_text(render_page(plan), encoding="utf-8")
        odd = render_page(renamed(plan, "<b>&amp; \"'`\u202e\u05d0\U0001f41f"))
        (tmp_path / f"odd{number}.html").write_text(odd, encoding="utf-8")
    command = [java, "-jar", str(jar), "--format", "json", "--exit-zero-always", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    found = [
        f"{one.get('url', '').rpartition('/')[2]}:{one.get('lastLine')}: {one['message']}"
        for one in json.loads(done.stderr)["messages"]
        if not any(known in one["message"] for known in KNOWN)
    ]
    assert found == []
