"""Each sheet is one page, A4 (ISO 216:2007, 210 by 297 mm) and Letter (8.5 by 11 inches)."""

from __future__ import annotations

import base64
import io
import random
import unicodedata
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from showprep.outputs.page import Sheet, render_page
from tests.outputs.page import plans
from tests.outputs.page.large import large_plan
from tests.outputs.page.test_page import PLANS, renamed

Opened = Callable[..., Any]
PAPERS = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}


def printed(browser: Any, paper: str, outside: Any) -> list[str]:
    """The text of each printed page."""
    width, height = PAPERS[paper]
    settings = {"paperWidth": width, "paperHeight": height, "printBackground": False}
    data = browser.execute_cdp_cmd("Page.printToPDF", settings)["data"]
    reader = outside.module("pypdf").PdfReader(io.BytesIO(base64.b64decode(data)))
    box = reader.pages[0].mediabox
    assert (float(box.width) / 72, float(box.height) / 72) == pytest.approx(
        (width, height), abs=0.02
    )
    return [page.extract_text() for page in reader.pages]


def plain(text: str) -> str:
    """The letters alone, ligatures taken apart."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def is_one_page_each(browser: Any, paper: str, outside: Any) -> None:
    titles = browser.execute_script(
        "return [...document.querySelectorAll('.sheet h2')].map(h => h.textContent)"
    )
    pages = printed(browser, paper, outside)
    assert len(pages) == len(titles)
    for title, page in zip(titles, pages, strict=True):
        assert plain(title)[:30] in plain(page)
        assert "Locallawandavetcomebeforethissheet" in plain(page)


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
    is_one_page_each(browser, "Letter", outside)
    whole = plain("".join(printed(browser, "Letter", outside)))
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
    page = printed(opened(render_page(replace(plan, tasks=tasks))), "A4", outside)[0]
    assert "To ask the vet" in page
    assert "Only if the vet agrees" in page
    assert "Into the bath" not in page
