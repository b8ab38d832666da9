"""What another day does to the chance of each fish of a touch-up."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import date
from typing import TYPE_CHECKING

from showprep.outputs.words.chances import in_ten
from showprep.outputs.words.speaker import Speaker

if TYPE_CHECKING:
    from showprep.planning.plan import Plan


def moved_day_lines(
    plan: Plan, fish: Collection[str], show: str | None, planned: date, moved: date
) -> Iterator[str]:
    """`Aoi: clean 9 in 10 becomes 5 in 10.` for each fish, for the show the touch-up is for."""
    speaker = Speaker.of(plan)
    for one in plan.verdicts:
        if one.fish not in fish or one.show != show or one.touch_up is None:
            continue
        by_day = {row.day: row.both for row in one.touch_up.curve}
        name = speaker.fish.get(one.fish, one.fish)
        before, after = by_day.get(planned), by_day.get(moved)
        if before is not None and after is not None:
            yield f"{name}: clean {in_ten(before)} becomes {in_ten(after)}."
        else:
            yield f"{name}: {moved} lies outside the days on which this touch-up can be planned."
