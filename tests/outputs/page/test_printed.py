"""Each sheet is one page, A4 (ISO 216:2007, 210 by 297 mm) and Letter (8.5 by 11 inches)."""

from __future__ import annotations

import base64
import io
import random
import re
import time
import unicodedata
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.commands.loading import load_yard_and_plan
from showprep.commands.page import page_of
from showprep.outputs.page import Sheet, render_page
from showprep.outputs.page.render import render_sheets, sheet_groups
from showprep.outputs.words.speaker import Speaker
from tests.outputs.page import plans
from tests.outputs.page.large import large_plan
from tests.outputs.page.test_page import PLANS, SAMPLE, renamed

Opened = Callable[..., Any]
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}


def printed(browser: Any, paper: str, outside: Any) -> list[str]:
    """The text of each printed page, once the page is where it was sent."""
    there = "return !location.hash || !!document.querySelector(':target')"
    for _ in range(100):
        if browser.execute_script(there):
            break
        time.sleep(0.1)
    width, height = PAPERS[paper]
    settings = {"paperWidth": width, "paperHeight": height, "printBackground": False}
    data = browser.execute_cdp_cmd("Page.printToPDF", settings)["data"]
    reader = outside.module("pypdf").PdfReader(io.BytesIO(base64.b64decode(data)))
    for page in reader.pages:
        box = page.mediabox
        found = float(box.width) / 72, float(box.height) / 72
        lies = "week from" in page.extract_text()  # the wall chart
        assert found == pytest.approx((height, width) if lies else (width, height), abs=0.02)
    return [page.extract_text() for page in reader.pages]


def plain(text: str) -> str:
    """The letters alone, ligatures taken apart."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def printed_group(browser: Any, group: str, paper: str, outside: Any) -> list[str]:
    """The text of each page of one group of sheets, as its link in the page opens it."""
    browser.execute_script("location.hash = arguments[0]", f"print-{group}")
    return printed(browser, paper, outside)


def is_one_page_each(browser: Any, paper: str, outside: Any) -> list[str]:
    """Every sheet of every group is a page of its own; the text of all of them."""
    groups = browser.execute_script(
        "return [...document.querySelectorAll('.group')].map(group => [group.id.slice(6),"
        "[...group.querySelectorAll('.sheet')].map(sheet =>"
        "[sheet.className, sheet.querySelector('h2').textContent])])"
    )
    whole = []
    for group, sheets in groups:
        pages = printed_group(browser, group, paper, outside)
        assert len(pages) == len(sheets), group
        for (kind, title), page in zip(sheets, pages, strict=True):
            if "wall" in kind:
                assert "Locallawandavetcomefirst" in plain(page)
                continue
            assert plain(title)[:30] in plain(page)
            assert "Locallawandavetcomebeforethissheet" in plain(page)
        whole += pages
    return whole


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("make", PLANS)
def test_each_sheet_is_one_page(make: Any, paper: str, opened: Opened, outside: Any) -> None:
    is_one_page_each(opened(render_page(make())), paper, outside)


@pytest.mark.parametrize("paper", PAPERS)
def test_also_with_long_names_and_long_notes(paper: str, opened: Opened, outside: Any) -> None:
    plan = renamed(plans.spring_circuit(), "A name that goes on for rather a long while, " * 2)
    is_one_page_each(opened(render_page(plan)), paper, outside)


@pytest.mark.parametrize("paper", PAPERS)
def test_also_for_many_fish(paper: str, opened: Opened, outside: Any) -> None:
    is_one_page_each(opened(render_page(large_plan(60, 3, 45))), paper, outside)


def test_a_long_worksheet_goes_on_over_a_second_page(opened: Opened, outside: Any) -> None:
    lines = tuple(f"Line {n}: " + "words " * (n % 29) for n in range(90))
    sheet = Sheet("Bath for Saturday", (("Fill the bath", lines[:40]), ("Afterwards", lines[40:])))
    browser = opened(render_page(plans.first_show(), sheets=[sheet]))
    whole = plain("".join(is_one_page_each(browser, "Letter", outside)))
    for number in range(90):
        assert f"Line{number}:" in whole


@pytest.mark.parametrize("paper", PAPERS)
def test_worksheets_of_any_length_stay_on_their_pages(
    paper: str, opened: Opened, outside: Any
) -> None:
    dice = random.Random(3)
    words = ["gills", "MEASURE", "aerated", "15.8", "°C", "[d]", "M", "W", "anaesthesia", "kg"]

    def line() -> str:
        return " ".join(dice.choice(words) for _ in range(dice.randrange(2, 40)))

    sheets = [
        Sheet(
            f"Probe {number}",
            tuple(
                (f"Heading {n}", tuple(line() for _ in range(dice.randrange(1, 9))))
                for n in range(number)
            ),
            always="Stop and look",
            notices=(line(),),
            foot=line(),
        )
        for number in range(2, 18)
    ]
    is_one_page_each(opened(render_page(plans.first_show(), sheets=sheets)), paper, outside)


def test_a_sheet_that_is_open_is_printed_alone(opened: Opened, outside: Any) -> None:
    browser = opened(render_page(plans.spring_circuit()), at="#sheet-card-0")
    pages = printed(browser, "A4", outside)
    assert len(pages) == 1
    assert "Aoi" in pages[0]


def test_a_session_that_is_a_vets_has_no_log_of_a_bath(opened: Opened, outside: Any) -> None:
    plan = plans.first_show()
    tasks = tuple(
        replace(one, kind="ask-a-vet") if one.kind == "touch-up" else one for one in plan.tasks
    )
    browser = opened(render_page(replace(plan, tasks=tasks)))
    page = printed_group(browser, "sessions", "A4", outside)[0]
    assert "To ask the vet" in page
    assert "Only if the vet agrees" in page
    assert "Into the bath" not in page


@pytest.mark.parametrize("make", PLANS)
def test_what_is_printed_first_is_the_season_on_one_sheet(
    make: Any, opened: Opened, outside: Any
) -> None:
    plan = make()
    pages = printed(opened(render_page(plan)), "A4", outside)
    for fish in plan.fish:
        assert plain(fish.name)[:8] in plain(pages[0])
    assert "week from" in pages[0]
    assert all("jobs by month" in page for page in pages[1:])
    jobs = plain("".join(pages[1:]))
    say = Speaker.of(plan).say
    assert all(plain(say(task.title))[:40] in jobs for task in plan.tasks)


def sizes_on(page: Any) -> dict[float, str]:
    """The sizes of type on a printed page [pt], each with some text set in it."""
    found: dict[float, str] = {}

    def seen(text: str, at: Any, of_text: Any, font: Any, size: float) -> None:
        if text.strip():
            scale = abs(at[0] * of_text[0] + at[1] * of_text[2]) or abs(at[0])
            found.setdefault(round(size * scale, 2), text.strip()[:60])

    page.extract_text(visitor_text=seen)
    return found


def pdf_of(browser: Any, paper: str, outside: Any) -> Any:
    width, height = PAPERS[paper]
    settings = {"paperWidth": width, "paperHeight": height, "printBackground": False}
    data = browser.execute_cdp_cmd("Page.printToPDF", settings)["data"]
    return outside.module("pypdf").PdfReader(io.BytesIO(base64.b64decode(data)))


@pytest.mark.parametrize("paper", PAPERS)
def test_no_letter_of_the_chart_is_under_ten_points(
    paper: str, opened: Opened, outside: Any
) -> None:
    """10 pt is 3.53 mm; the sizes are read back from the printed PDF."""
    reader = pdf_of(opened(render_page(plans.spring_circuit())), paper, outside)
    assert min(sizes_on(reader.pages[0])) >= 9.9


def test_what_is_read_with_wet_hands_is_set_in_twelve_points(opened: Opened, outside: Any) -> None:
    """12 pt is 4.23 mm: bath, bags, packing, journey, week and cards of the sample."""
    yard, plan = load_yard_and_plan(SAMPLE, date(2027, 3, 20), costs=True)
    browser = opened(page_of(yard, plan, SAMPLE))
    groups = browser.execute_script(
        "return [...document.querySelectorAll('.group')].map(one => one.id.slice(6))"
    )
    dose = 0.0
    for group in groups:
        if group == "season":
            continue
        browser.execute_script("location.hash = arguments[0]", f"print-{group}")
        for page in pdf_of(browser, "A4", outside).pages:
            sizes = sizes_on(page)
            assert min(sizes) >= 11.9, (group, sizes[min(sizes)])
            dose = max([dose, *(size for size, text in sizes.items() if "MEASURE" in text)])
    assert dose > 20


def test_chosen_sheets_are_a_file_of_their_own(opened: Opened, outside: Any) -> None:
    plan = plans.spring_circuit()
    show = next(one.id for one in plan.shows if one.entered)
    text = render_sheets(plan, [show, "cards"])
    assert set(sheet_groups(plan)) >= {show, "cards", "season"}
    pages = printed(opened(text), "A4", outside)
    titles = re.findall(r"<h2>([^<]*)", text)
    assert len(pages) == len(titles)
    assert any(one.startswith("Packing and journey") for one in titles)
    assert not any("jobs by month" in one for one in titles)
