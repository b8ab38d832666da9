"""The page in a real browser: Chromium, from a file, with no network.

Accessibility: axe-core (npm), rules tagged for WCAG 2.0 to 2.2, levels A and AA.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.page import render_page
from tests.outputs.page import plans
from tests.outputs.page.conftest import DESK, PHONE
from tests.outputs.page.test_page import PLANS, renamed

Opened = Callable[..., Any]
OWNED = "<script>document.title='owned'</script><img src=x onerror=\"document.title='owned'\">"
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def console(browser: Any) -> list[str]:
    return [entry["message"] for entry in browser.get_log("browser")]


def requests(browser: Any) -> list[str]:
    events = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    sent = [one for one in events if one["method"] == "Network.requestWillBeSent"]
    return [one["params"]["request"]["url"] for one in sent]


@pytest.mark.parametrize("make", PLANS)
def test_it_opens_from_a_file_and_asks_for_nothing(make: Any, opened: Opened) -> None:
    browser = opened(render_page(make()))
    assert console(browser) == []
    asked = [url for url in requests(browser) if url not in ("about:blank", "data:,")]
    assert [url.rpartition("/")[2] for url in asked] == ["page.html"]
    assert asked[0].startswith("file:///")


def test_the_policy_stops_what_it_should(opened: Opened) -> None:
    """A style, script and picture put in afterwards are all refused."""
    foreign = '<style>body{color:red}</style><script>document.title="owned"</script>'
    foreign += '<img src="file:///nowhere.png" alt="">'
    browser = opened(render_page(plans.first_show()).replace("</main>", foreign + "</main>"))
    assert browser.title != "owned"
    said = " ".join(console(browser))
    for kind in ("style-src", "script-src", "img-src"):
        assert kind in said


def test_hostile_names_run_nothing(opened: Opened) -> None:
    browser = opened(render_page(renamed(plans.spring_circuit(), OWNED)))
    assert browser.title.startswith("<script>")  # the season's name, as text
    assert console(browser) == []
    assert browser.find_elements("css selector", "img, bdi *") == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [PHONE, DESK])
@pytest.mark.parametrize("make", PLANS)
def test_an_accessibility_engine_finds_nothing(
    make: Any, width: int, scheme: str, opened: Opened, node_module: Callable[[str], Path]
) -> None:
    engine = node_module("axe-core/axe.min.js").read_text(encoding="utf-8")
    browser = opened(render_page(make()), width=width, scheme=scheme)
    browser.execute_script("for (const d of document.querySelectorAll('details')) d.open = true")
    browser.execute_script(engine)
    found = browser.execute_async_script(
        "const done = arguments[arguments.length - 1];"
        "axe.run(document, {runOnly: arguments[0], resultTypes: ['violations']}).then(done)",
        TAGS,
    )
    assert [_told(one) for one in found["violations"]] == []


def _told(violation: dict[str, Any]) -> str:
    nodes = "; ".join(node["html"][:160] for node in violation["nodes"][:3])
    return f"{violation['id']}: {violation['help']}: {nodes}"


@pytest.mark.parametrize("make", PLANS)
def test_a_phone_needs_no_scrolling_sideways(make: Any, opened: Opened) -> None:
    browser = opened(render_page(make()), width=PHONE)
    browser.execute_script("for (const d of document.querySelectorAll('details')) d.open = true")
    assert browser.execute_script("return document.documentElement.scrollWidth") <= PHONE


def test_every_link_leads_somewhere_and_a_sheet_opens(opened: Opened) -> None:
    browser = opened(render_page(plans.spring_circuit()))
    dead = browser.execute_script(
        "return [...document.querySelectorAll('a')].map(a => a.getAttribute('href'))"
        ".filter(h => !document.getElementById(h.slice(1)))"
    )
    assert dead == []
    link = browser.find_element("css selector", "#sheets .sheetlist:not(.groups) a")
    browser.execute_script("arguments[0].click()", link)
    shown = [s for s in browser.find_elements("css selector", ".sheet") if s.is_displayed()]
    assert len(shown) == 1


def test_the_keyboard_reaches_the_board_and_opens_a_verdict(opened: Opened) -> None:
    browser = opened(render_page(plans.first_show()))
    summary = browser.find_element("css selector", ".board summary")
    summary.send_keys("\ue007")
    assert "can be taken off" in browser.find_element("css selector", ".board details ul").text


def test_what_can_be_touched_is_large_enough(opened: Opened) -> None:
    """WCAG 2.2, 2.5.8: targets of at least 24 by 24 CSS pixels."""
    browser = opened(render_page(plans.spring_circuit()), width=PHONE)
    small = browser.execute_script(
        "return [...document.querySelectorAll('nav a, summary, button, .sheetlist a')]"
        ".map(e => [e.textContent, e.getBoundingClientRect()])"
        ".filter(([t, r]) => r.width && (r.width < 24 || r.height < 24)).map(([t]) => t)"
    )
    assert small == []


def test_one_who_reads_the_top_alone_knows_what_to_do(opened: Opened) -> None:
    browser = opened(render_page(plans.spring_circuit()), width=PHONE)
    first = browser.find_element("id", "next").text
    assert first.index("The coming weekend") < first.index("Saturday 10 April")
    assert "Look at Dunmore's net mark" in first
    assert "vet first" in first
    who = browser.find_element("id", "who").text
    stays = who[who.index("Elke stays at home") :]
    assert "a vet first" in stays and "Mon 14 June" in stays


def test_a_fish_is_found_by_name_among_many(opened: Opened) -> None:
    from tests.outputs.page.large import large_plan

    browser = opened(render_page(large_plan(30, 2, 10)))
    box = browser.find_element("id", "find")
    name = large_plan(30, 2, 10).fish[4].name
    box.send_keys(name)
    rows = browser.find_elements("css selector", ".board tbody tr")
    assert [name in row.text for row in rows if row.is_displayed()] == [True]


def test_without_script_everything_can_be_read(opened: Opened, browser: Any) -> None:
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        page = opened(render_page(plans.first_show()))
        assert "Larkfield Spring Show" in page.find_element("id", "who").text
        summary = page.find_element("css selector", ".board summary")
        summary.send_keys("\ue007")
        assert "can be taken off" in page.find_element("css selector", ".board").text
    finally:
        browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
