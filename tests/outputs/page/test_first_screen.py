"""The page's first screen by position: what to do and who goes where, both, at desk and phone."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from showprep.outputs.page import render_page
from showprep.planning.plan import Plan
from tests.outputs.page import large, plans

Opened = Callable[..., Any]
ROOT = Path(__file__).parents[3]
BOXES = """
const box = e => { const r = e.getBoundingClientRect(); return [r.left, r.top, r.right, r.bottom] };
const words = e => {
  const found = [], texts = document.createTreeWalker(e, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    for (const word of texts.currentNode.data.matchAll(/[^\\s-]+-?/g)) {
      const range = document.createRange();
      range.setStart(texts.currentNode, word.index);
      range.setEnd(texts.currentNode, word.index + word[0].length);
      found.push(range);
    }
  }
  return found;
};
const all = q => [...document.querySelectorAll(q)].filter(e => e.getClientRects().length);
return {
  bar: box(document.querySelector('.top')),
  now: all('.now li').map(box),
  goers: all('.cell.filled').map(box),
  rows: all('.grid tbody tr').map(box),
  cells: all('.grid th, .grid td').map(box),
  clipped: all('.answer *').filter(e => getComputedStyle(e).overflow !== 'visible'
    && !e.matches('.scroll, .todo > h2, .where > h2') && e.scrollWidth > e.clientWidth + 1)
    .map(e => e.outerHTML.slice(0, 80)),
  broken: all('.grid th, .grid td').flatMap(words).filter(r => r.getClientRects().length > 1)
    .map(String),
  outside: all('.cell').filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.textContent),
}"""


def sample() -> Plan:
    from showprep.commands.loading import load_yard_and_plan

    return load_yard_and_plan(ROOT / "samples/spring-circuit", date(2027, 3, 20), costs=True)[1]


def measured(browser: Any, width: int, height: int, zoom: int = 1) -> dict[str, Any]:
    size = {"width": width, "height": height, "deviceScaleFactor": zoom, "mobile": width < 500}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    found: dict[str, Any] = browser.execute_script(BOXES)
    return found


@pytest.mark.parametrize(("width", "height"), [(1440, 900), (360, 740)])
def test_the_first_screen_holds_the_jobs_and_who_goes(
    width: int, height: int, opened: Opened
) -> None:
    found = measured(opened(render_page(sample()), width=width), width, height)
    assert found["bar"][3] <= 120
    assert found["now"] and found["goers"]
    assert max(box[3] for box in found["now"]) <= height
    assert max(box[3] for box in found["goers"]) <= height
    rows = found["rows"]
    assert max(box[3] for box in rows) <= height
    assert len(rows) == 8, "every fish of the sample"
    assert all(below[1] >= above[3] - 1 for above, below in pairwise(rows)), "one below the other"


@pytest.mark.parametrize("make", [sample, plans.spring_circuit, plans.first_show, plans.cold_pond])
@pytest.mark.parametrize(
    ("width", "zoom", "scheme"),
    [(1440, 1, "light"), (820, 1, "dark"), (720, 2, "light"), (360, 1, "light")],
)
def test_nothing_overlaps_is_clipped_or_breaks_in_a_word(
    make: Callable[[], Plan], width: int, zoom: int, scheme: str, opened: Opened
) -> None:
    browser = opened(render_page(make()), width=width, scheme=scheme)
    found = measured(browser, width, 900, zoom)
    assert found["clipped"] == []
    assert found["broken"] == []
    assert found["outside"] == []
    boxes = found["cells"]
    for number, one in enumerate(boxes):
        for other in boxes[number + 1 :]:
            across = min(one[2], other[2]) - max(one[0], other[0])
            down = min(one[3], other[3]) - max(one[1], other[1])
            assert across <= 1 or down <= 1


def test_the_bar_stays_in_sight_and_leads_anywhere(opened: Opened) -> None:
    browser = opened(render_page(sample()), width=360)
    browser.execute_script("document.getElementById('board').scrollIntoView()")
    top, bottom = browser.execute_script(
        "const r = document.querySelector('.top').getBoundingClientRect(); return [r.top, r.bottom]"
    )
    assert top == 0 and bottom <= 120
    heading = browser.execute_script(
        "return document.getElementById('board').getBoundingClientRect().top"
    )
    assert heading >= bottom - 1


def test_page_and_terminal_say_the_same_word_of_each_fish() -> None:
    from showprep.outputs.words.answer import ShortAnswer

    plan = sample()
    answer, text = ShortAnswer(plan), render_page(plan)
    grid = text[text.index('<table class="grid">') : text.index("</table>")]
    for fish in answer.fish:
        for show in answer.shows:
            cell = answer.cell(fish.id, show.id)
            assert cell is not None and f"</svg> {cell.word}</span>" in grid


def test_a_large_yard_is_told_by_its_goers_first(opened: Opened) -> None:
    plan = large.large_plan(120, 5, 6)
    found = measured(opened(render_page(plan)), 1440, 900)
    assert len(found["rows"]) == 24


def test_the_board_is_filtered_sorted_and_counted(opened: Opened) -> None:
    plan = large.large_plan(40, 3, 6)
    browser = opened(render_page(plan))

    def chosen(which: str, value: str) -> tuple[str, list[str]]:
        browser.execute_script(
            "const s = document.getElementById(arguments[0]); s.value = arguments[1];"
            "s.dispatchEvent(new Event(s.id === 'find' ? 'input' : 'change'))",
            which,
            value,
        )
        names: list[str] = browser.execute_script(
            "return [...document.querySelectorAll('.board tbody tr')].filter(r => !r.hidden)"
            ".map(r => r.cells[0].firstChild.textContent)"
        )
        return str(browser.find_element("id", "found").text), names

    goers = {fish for show in plan.shows for fish in show.entered}
    told, names = chosen("find-goes", "yes")
    assert told == f"{len(goers)} of 40 fish" and len(names) == len(goers)
    first = sorted(plan.shows, key=lambda one: one.departure)[0]
    _, names = chosen("find-show", "1")
    by_id = {one.id: one.name for one in plan.fish}
    assert sorted(names) == sorted(by_id[one] for one in first.entered)
    _, names = chosen("find-sort", "name")
    assert names == sorted(names)
    told, names = chosen("find", "no such fish")
    assert told == "No fish is like that." and names == []


def test_what_a_large_yard_holds_back_is_drawn_when_opened(opened: Opened, browser: Any) -> None:
    text = render_page(large.large_plan(120, 5, 10))
    page = opened(text)
    count = "return document.querySelectorAll('*').length"
    before = page.execute_script(count)
    assert before < 20_000
    page.execute_script(
        "for (const d of document.querySelectorAll('#board details, #healing details'))"
        " d.open = true"
    )
    page.execute_async_script("setTimeout(arguments[0], 300)")
    assert page.execute_script(count) > before + 2000
    assert page.execute_script("return document.querySelectorAll('main noscript').length") == 0
    assert page.get_log("browser") == []
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        page = opened(text)
        page.find_element("css selector", ".board summary").send_keys("\ue007")
        assert page.find_element("css selector", ".board details ul").is_displayed()
    finally:
        browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
