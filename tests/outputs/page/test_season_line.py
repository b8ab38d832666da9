"""The season line as it is drawn: measured in Chromium, at the widths of phones and desks.

What may be shown on hover and focus, and how it is reached: W3C Web Content Accessibility
Guidelines (WCAG) 2.2, 2023, success criteria 1.4.10 (reflow), 1.4.13 (content on hover or focus),
2.1.1 (keyboard) and 2.4.11 (focus not obscured).
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.commands.loading import load_yard_and_plan
from showprep.outputs.page import render_page
from showprep.outputs.page.season_line import DayScale, Words, season_line, with_room
from showprep.planning.plan import Plan
from tests.outputs.page import large, plans
from tests.outputs.page.making import DAY, pond, show_spans, vat
from tests.outputs.page.making import show as hall
from tests.outputs.page.test_page import SAMPLE

Opened = Callable[..., Any]
ON = date(2027, 3, 20)
WIDTHS = (360, 768, 1024, 1440, 1920)
TOP = "document.querySelector('.season')"

# The boxes of all words that are seen, those of one line or row together, with what they say.
WORDS_SEEN = """
const shown = e => e.checkVisibility() && !e.closest('.season li > span');
const boxes = root => {
  const found = [], texts = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode;
    if (!text.data.trim() || !shown(text.parentElement)) continue;
    const range = document.createRange();
    range.selectNodeContents(text);
    const r = range.getBoundingClientRect();
    found.push([text.data.trim(), r.left, r.top, r.right, r.bottom]);
  }
  for (const mark of root.querySelectorAll('.touch')) {
    const r = mark.getBoundingClientRect();
    found.push(['touch-up', r.left, r.top, r.right, r.bottom]);
  }
  return found;
};
return [...document.querySelectorAll('.season .head .tr, .season .rows > li')].map(boxes);
"""


def sample() -> Plan:
    return load_yard_and_plan(SAMPLE, ON, costs=True)[1]


def twelve_shows() -> Plan:
    """Twelve shows a week or two apart, two of them on one day and one far off; four waters."""
    plan = large.large_plan(8, 12, 3)
    days = [
        date(2027, 4, 23) + timedelta(n) for n in (0, 7, 14, 28, 29, 29, 35, 49, 63, 70, 77, 140)
    ]
    names = ("Alderbrook Open", "Birchmere Koi Weekend", "Cedarholt", "Damsonford Invitation Show")
    shows = tuple(
        hall(one.id, names[n % 4] + " " * (n > 3) + "ABCDEFGHIJKL"[n] * (n > 3), day, one.entered)
        for n, (one, day) in enumerate(zip(plan.shows, days, strict=True))
    )
    kept = [one for one in plan.spans if one.kind not in ("fast", "at-show", "isolation")]
    start, long = plan.planned_on - 40 * DAY, 330
    waters = (
        pond("garden pond", start, long),
        vat("isolation vat", start, long, 21.8),
        vat("koi house of the neighbours", start, long, 22.0),
        pond("raised pool", start, long, colder=0.4),
    )
    spans = (*kept, *(span for one in shows for span in show_spans(one)))
    return replace(plan, shows=shows, spans=spans, waters=waters)


def far_shows() -> Plan:
    """One show this month, one in a year: more days than a screen holds."""
    plan = plans.first_show()
    far = hall("far", "Nettlefield Winter Show", date(2028, 5, 12), ("aoi",))
    return replace(plan, shows=(*plan.shows, far), spans=(*plan.spans, *show_spans(far)))


MADE = (sample, twelve_shows, far_shows, plans.spring_circuit, plans.first_show, plans.cold_pond)


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("make", MADE)
def test_no_word_meets_another_at_any_width(
    make: Callable[[], Plan], width: int, opened: Opened
) -> None:
    browser = opened(render_page(make()), width=width)
    meeting = [
        (one[0], other[0])
        for boxes in browser.execute_script(WORDS_SEEN)
        for number, one in enumerate(boxes)
        for other in boxes[number + 1 :]
        if min(one[3], other[3]) - max(one[1], other[1]) > 1
        and min(one[4], other[4]) - max(one[2], other[2]) > 1
    ]
    assert meeting == []


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("make", MADE)
def test_words_stay_inside_the_drawing_and_the_page_does_not_scroll(
    make: Callable[[], Plan], width: int, opened: Opened
) -> None:
    browser = opened(render_page(make()), width=width)
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width
    left, right = browser.execute_script(
        "const r = document.querySelector('.season .head .tr').getBoundingClientRect();"
        "return [r.left, r.right]"
    )
    boxes = [box for some in browser.execute_script(WORDS_SEEN) for box in some]
    of_names = browser.execute_script(
        "return [...document.querySelectorAll('.season .nm')].map(e => e.textContent.trim())"
    )
    out = [
        box
        for box in boxes
        if not any(box[0] in name for name in of_names)
        and (box[1] < left - 1 or box[3] > right + 14)
    ]
    assert out == []


def test_months_squeeze_before_anything_scrolls(opened: Opened) -> None:
    """175 days and more fit beside the names from a tablet on, and fill the width."""
    text, found = render_page(sample()), []
    for width in WIDTHS:
        browser = opened(text, width=width)
        found.append(
            browser.execute_script(
                f"const s = {TOP}, t = s.querySelector('.rows .tr').getBoundingClientRect();"
                "return [s.scrollWidth - s.clientWidth, t.width, s.getBoundingClientRect().right"
                " - t.right]"
            )
        )
    days = season_line(sample()).scale.days
    assert found[0][0] > 50 and found[0][1] == pytest.approx(days * 2.16, abs=1)
    for over, _, beside in found[1:]:
        assert over <= 0 and beside == pytest.approx(12.8, abs=1)
    wide = [one[1] for one in found]
    assert wide == sorted(wide) and wide[-1] > 2.5 * wide[0]


def test_names_and_degrees_stay_when_it_scrolls(opened: Opened) -> None:
    """A large yard on a phone, scrolled both ways: the days move, names and axis do not."""
    browser = opened(render_page(large.large_plan(30, 12, 6)), width=360)
    places = """
    const box = q => { const r = document.querySelector(q).getBoundingClientRect();
      return [r.left, r.top] };
    return {season: box('.season'), name: box('.rows .nm'), degrees: box('.degrees'),
      month: box('.head .month'), band: box('.band'), day: box('.rows .tr')};
    """
    browser.execute_script(f"{TOP}.scrollIntoView({{block: 'center', behavior: 'instant'}})")
    before = browser.execute_script(places)
    browser.execute_script(f"{TOP}.scrollTo({{left: 150, top: 260, behavior: 'instant'}})")
    after = browser.execute_script(places)
    moved = {
        name: [b - a for a, b in zip(before[name], after[name], strict=True)] for name in after
    }
    assert moved["season"] == moved["degrees"] == [0, 0]
    assert moved["name"] == pytest.approx([0, -260], abs=1)
    assert moved["month"] == pytest.approx([-150, 0], abs=1)
    assert moved["band"] == pytest.approx([-150, 0], abs=1)
    assert moved["day"] == pytest.approx([-150, -260], abs=1)
    over = browser.execute_script(
        "const r = document.querySelector('.degrees text').getBoundingClientRect();"
        "return document.elementFromPoint(r.left + 3, r.top + 3).closest('.nm') !== null"
    )
    assert over  # nothing that is scrolled lies on the axis


@pytest.mark.parametrize("width", [360, 1440])
def test_degrees_stand_at_their_lines(width: int, opened: Opened) -> None:
    browser = opened(render_page(sample()), width=width)
    texts, lines = browser.execute_script(
        "const mid = e => { const r = e.getBoundingClientRect(); return (r.top + r.bottom) / 2 };"
        "return ['.degrees text', '.band .level'].map(q => "
        "[...document.querySelectorAll(q)].map(mid))"
    )
    assert len(texts) == 2 and texts == pytest.approx(lines, abs=2.5)


@pytest.fixture(scope="module")
def four_waters(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The sample with a fourth water, planned by the program."""
    folder = tmp_path_factory.mktemp("waters") / "four"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns(".showprep"))
    keeper = folder / "keeper.yaml"
    before = keeper.read_text(encoding="utf-8")
    pool = "  raised pool:\n    litres: 6000\n    steady_c: 21.6\n"
    after = before.replace("isolation: {water", pool + "isolation: {water", 1)
    assert after != before
    keeper.write_text(after, encoding="utf-8")
    return load_yard_and_plan(folder, ON)[1]


@pytest.mark.parametrize("width", WIDTHS)
def test_four_waters_run_without_a_gap(four_waters: Plan, width: int, opened: Opened) -> None:
    browser = opened(render_page(four_waters), width=width)
    band, lines, names = browser.execute_script(
        "const box = e => { const r = e.getBoundingClientRect(); return [r.left, r.right] };"
        "const all = q => [...document.querySelectorAll(q)];"
        "return [box(document.querySelector('.band')), all('.band .course').slice(0, 4).map(box),"
        "all('.water').map(e => e.childNodes[1].data.trim())]"
    )
    assert sorted(names) == ["garden pond", "isolation vat", "koi house", "raised pool"]
    for line in lines:
        assert line == pytest.approx(band, abs=3)
    assert "more waters" not in browser.find_element("id", "season").text


def test_waters_run_on_where_nothing_is_planned() -> None:
    """Without a show there is a season to draw all the same, and no line may end in it."""
    plan = sample()
    scale = season_line(replace(plan, shows=(), spans=())).scale
    for water in plan.waters:
        last = water.start.toordinal() + len(water.means_c) - 1
        assert water.start.toordinal() <= scale.origin and last >= scale.origin + scale.days


THINGS = "[...document.querySelectorAll('.season [tabindex]')]"


@pytest.mark.parametrize("width", [360, 768, 1440])
@pytest.mark.parametrize("make", [sample, twelve_shows, far_shows])
def test_each_thing_tells_its_days_on_focus_inside_the_screen(
    make: Callable[[], Plan], width: int, opened: Opened
) -> None:
    browser = opened(render_page(make()), width=width)
    browser.execute_cdp_cmd("Emulation.setFocusEmulationEnabled", {"enabled": True})
    found = browser.execute_script(
        f"const s = {TOP}, wide = s.scrollWidth; return {THINGS}.map(e => {{ e.focus();"
        "const r = e.querySelector(':scope > span').getBoundingClientRect();"
        "const own = e.getBoundingClientRect(), names = s.querySelector('.nm')"
        ".getBoundingClientRect();"
        "return [e.textContent.trim(), r.left, r.right, r.height, own.right - names.right,"
        " s.scrollWidth - wide, own.bottom - s.getBoundingClientRect().top] })"
    )
    assert len(found) > 10
    for text, left, right, height, beside, grown, below in found:
        assert re.search(r"\b\d{1,2} [A-Z]|°C|: ", text), text
        assert left >= 0 and right <= width, (text, left, right)
        assert height > 20 and grown == 0, text
        assert beside > 0 and below > 0, text  # not hidden by the names or the head
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width


def tip(browser: Any, thing: Any) -> Any:
    return browser.execute_script("return arguments[0].querySelector(':scope > span')", thing)


def is_told(browser: Any, thing: Any) -> bool:
    return bool(tip(browser, thing).size["height"] > 20)


@pytest.fixture
def unscripted(browser: Any) -> Iterator[None]:
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    yield
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


@pytest.mark.usefixtures("unscripted")
def test_pointing_at_it_tells_it_without_a_script(opened: Opened) -> None:
    from selenium.webdriver.common.action_chains import ActionChains

    browser = opened(render_page(sample()), width=1440)
    for kind in (".touch", ".heal", ".isolation", ".flags li", ".reading"):
        thing = browser.find_element("css selector", f".season {kind}")
        aside = int(thing.size["width"] * 0.3)  # a look may stand over its middle
        chain = ActionChains(browser).scroll_to_element(thing)
        chain.move_to_element_with_offset(thing, aside, 0).perform()
        assert thing.find_element("css selector", "span").size["height"] > 20, kind


def test_the_tab_key_comes_to_one_thing_after_another(opened: Opened) -> None:
    browser = opened(render_page(sample()), width=1440)
    browser.execute_script("document.querySelector('#in-words').focus()")
    passed = []
    for _ in range(12):
        browser.switch_to.active_element.send_keys("\ue004")
        one = browser.switch_to.active_element
        if one.tag_name == "li":
            assert is_told(browser, one)
        passed.append(one.tag_name)
    # the region, three shows, three waters and a reading, the first fish and what it does
    assert passed == ["div", *["li"] * 7, "a", *["li"] * 3]


def test_a_tap_tells_it_at_the_foot_of_a_phone(opened: Opened) -> None:
    from selenium.webdriver.common.actions.action_builder import ActionBuilder
    from selenium.webdriver.common.actions.pointer_input import PointerInput

    browser = opened(render_page(sample()), width=360)
    thing = browser.find_element("css selector", ".rows .touch")
    x, y = browser.execute_script(
        "arguments[0].scrollIntoView({block: 'center', inline: 'center', behavior: 'instant'});"
        "const r = arguments[0].getBoundingClientRect(); return [r.left + 8, r.top + 5]",
        thing,
    )
    assert not is_told(browser, thing)
    finger = ActionBuilder(browser, mouse=PointerInput("touch", "finger"))
    finger.pointer_action.move_to_location(round(x), round(y)).pointer_down().pointer_up()
    finger.perform()
    assert is_told(browser, thing)
    left, right, bottom = browser.execute_script(
        "const r = arguments[0].getBoundingClientRect(); return [r.left, r.right, r.bottom]",
        tip(browser, thing),
    )
    assert (left, right, bottom) == (0, 360, 900)


def test_an_escape_key_puts_the_details_away(opened: Opened) -> None:
    """WCAG 2.2, 1.4.13: what is shown can be dismissed where it stands."""
    browser = opened(render_page(sample()), width=1440)
    browser.execute_cdp_cmd("Emulation.setFocusEmulationEnabled", {"enabled": True})
    thing = browser.find_element("css selector", ".rows .touch")
    browser.execute_script("arguments[0].focus()", thing)
    assert is_told(browser, thing)
    thing.send_keys("\ue00c")
    assert not is_told(browser, thing)


@pytest.mark.usefixtures("unscripted")
def test_the_dates_can_be_had_as_a_list_without_a_script(opened: Opened) -> None:
    plan = sample()
    browser = opened(render_page(plan), width=360)
    season = browser.find_element("css selector", ".season")
    details = browser.find_elements("css selector", ".rows .tr > li > span")
    assert {one.size["height"] for one in details} == {1}
    browser.find_element("id", "in-words").send_keys(" ")
    assert all(one.size["height"] > 15 and one.size["width"] > 100 for one in details)
    told = season.text
    for words in ("touch-up, Sat 15 May", "no food, ", "kept apart, ", "in a slow case"):
        assert words in told
    assert "how to read it" not in told
    assert told.index("Aoi") < told.index("touch-up, Sat 10 July") < told.index("Benkei")
    assert len(re.findall(r"^no food, ", told, re.M)) == sum(
        span.kind == "fast" and span.of == "stop-feeding" for span in plan.spans
    )
    assert browser.find_element("css selector", "html").size["width"] == 360


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_forced_colours_keep_every_shape(scheme: str, opened: Opened, browser: Any) -> None:
    """In forced colours (CSS Color Adjustment Module Level 1, section 3) shapes are still seen."""
    page = opened(render_page(sample()), width=1440, scheme=scheme)
    features = [
        {"name": "forced-colors", "value": "active"},
        {"name": "prefers-color-scheme", "value": scheme},
    ]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
    found = page.execute_script(
        "const bg = q => getComputedStyle(document.querySelector(q)).backgroundColor;"
        "const look = q => getComputedStyle(document.querySelector(q));"
        "return {ground: bg('.season'), usual: bg('.heal .usual'), show: bg('.at-show'),"
        "line: look('.course').stroke, fast: look('.fast').borderTopColor,"
        "beam: look('.beam').borderLeftColor, apart: look('.isolation').borderTopColor,"
        "text: look('.rows b').color}"
    )
    ground = found.pop("ground")
    assert ground not in found.values()
    assert not any(colour.startswith("rgba") for colour in found.values())


@pytest.mark.parametrize("width", WIDTHS)
def test_one_row_is_the_key_and_its_words_stand_at_what_they_name(
    width: int, opened: Opened
) -> None:
    browser = opened(render_page(sample()), width=width)
    found = browser.execute_script(
        "const row = document.querySelector('.legend').previousElementSibling;"
        "const before = !!document.querySelector('.legend .before');"
        "const labels = [...document.querySelectorAll('.legend i')].map(e => "
        "[e.firstChild.data, e.getBoundingClientRect()[before ? 'right' : 'left']]);"
        "const touch = row.querySelector('.touch').getBoundingClientRect();"
        "const heal = row.querySelector('.heal').getBoundingClientRect();"
        "return {before, labels, touch: touch.left + touch.width / 2, slow: heal.right,"
        "usual: heal.left + row.querySelector('.usual').getBoundingClientRect().width}"
    )
    at = dict(found["labels"])
    assert set(at) == {
        "touch-up", "look back", "usual pace", "slow case", "verdict", "no food", "at the show",
        "kept apart",
    }  # fmt: skip
    assert at["touch-up"] == pytest.approx(found["touch"], abs=2)
    assert at["slow case"] == pytest.approx(found["slow"], abs=3)
    assert at["usual pace"] == pytest.approx(found["usual"], abs=3)
    leads = [lead for _, lead in found["labels"]]
    # They step down, so no lead crosses a word, on whichever side of it the words stand.
    assert leads == sorted(leads, reverse=not found["before"])


def test_the_words_of_the_key_do_not_hide_what_it_is_for(opened: Opened) -> None:
    """On a phone with a short season, too, the touch-up has its word, and spaces stay."""
    browser = opened(render_page(plans.first_show()), width=360)
    words = [one.text for one in browser.find_elements("css selector", ".legend i")]
    assert "touch-up" in words and "look back" in words
    browser = opened(render_page(plans.cold_pond()), width=1440)
    label = browser.find_element("css selector", ".legend i:last-child")
    assert label.get_attribute("textContent") == "dark: open wound"
    assert label.value_of_css_property("white-space-collapse") == "preserve"


def test_words_have_room_only_where_they_meet_nothing() -> None:
    scale = DayScale(0, 100)  # 216 px at least, then 570 and 850
    near = [Words(50, ((0, 60),)), Words(60, ((0, 60),)), Words(70, ((0, 60), (-200, -150)))]
    rooms = with_room(scale, near)
    assert [room and (room.tier, room.place) for room in rooms] == [("", 0), ("l", 0), ("m", 0)]
    assert with_room(scale, [Words(99, ((0, 90),))]) == [None]
    assert with_room(scale, [Words(50, ((0, 60),))], [Words(51, ((0, 5),))]) == [None]


def test_every_span_of_a_fish_is_told_once() -> None:
    plan = sample()
    for row in season_line(plan).rows:
        told = [span for one in row.things for span in one.spans]
        mine = [span for span in plan.spans if span.fish == row.fish.id]
        assert {(one.kind, one.start, one.end, one.of) for one in told} == {
            (one.kind, one.start, one.end, one.of) for one in mine
        }
        assert len(told) == len(set(told))
