"""The page as text: one file, nothing fetched, hostile names shown as what they are."""

from __future__ import annotations

from tests.outputs.page import plans

from showprep.outputs.page import render_page


def test_the_same_plan_gives_the_same_page() -> None:
    assert render_page(plans.first_show()) == render_page(plans.first_show())
