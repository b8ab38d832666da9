"""The board in the terminal: costs are told by their number."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from showprep.outputs.board import print_board
from showprep.planning.plan import LeftOut
from tests.outputs.page.plans import spring_circuit


@pytest.mark.parametrize(
    ("cost", "told"),
    [
        (0.0, "at no loss instead of another."),
        (0.5, "would cost 0.5."),
        (0.05, "would cost 0.05."),
        (10.0, "would cost 10."),
    ],
)
def test_a_cost_is_told_by_its_number(
    cost: float, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = spring_circuit()
    fish, show = plan.fish[0], plan.shows[0]
    left = (LeftOut(fish.id, show.id, cost, "four boxes"),)
    print_board(replace(plan, choice=replace(plan.choice, left_out=left)))
    assert f"  {fish.name}: {show.name} {told}\n" in capsys.readouterr().out
