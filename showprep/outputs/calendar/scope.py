"""Which part of the season a calendar holds: all of it, one show, one fish."""

from __future__ import annotations

from msgspec import Struct

from showprep.outputs.calendar.text import clean_line
from showprep.outputs.failure import Failure
from showprep.planning.plan import Plan, Task


class Scope(Struct, frozen=True):
    """The ids of a show and a fish; None does not narrow."""

    show: str | None = None
    fish: str | None = None

    def check(self, plan: Plan) -> None:
        """Raises Failure (wrong usage) when the season has no such show or fish."""
        if self.show is not None:
            _check("show", self.show, [show.id for show in plan.shows])
        if self.fish is not None:
            _check("fish", self.fish, [fish.id for fish in plan.fish])

    def of(self, plan: Plan) -> tuple[Task, ...]:
        """The tasks of the plan that belong here, in the plan's order."""
        entered = {fish for show in plan.shows if show.id == self.show for fish in show.entered}
        others = tuple(f"{show.id}/" for show in plan.shows if show.id != self.show)
        return tuple(
            task
            for task in plan.tasks
            if self._for_show(task, entered, others)
            and (self.fish is None or self.fish in task.fish)
        )

    def _for_show(self, task: Task, entered: set[str], others: tuple[str, ...]) -> bool:
        """A job that serves several shows stands in the plan under the first of them: a show's
        own calendar holds it too when it is for a fish entered there. The jobs of another
        journey, whose ids begin with that show's, stay out."""
        if self.show is None or task.show == self.show:
            return True
        return not entered.isdisjoint(task.fish) and not task.id.startswith(others)

    def name(self, plan: Plan) -> str:
        """What the calendar is called on the phone."""
        parts = [f"Koi shows: {plan.season}"]
        parts.extend(show.name for show in plan.shows if show.id == self.show)
        parts.extend(fish.name for fish in plan.fish if fish.id == self.fish)
        return ", ".join(clean_line(part) for part in parts)

    def part(self) -> str:
        """The part's name in the identity of a job that gathers others; "" for the whole."""
        return "" if self.show is None and self.fish is None else self.key()

    def key(self) -> str:
        """The scope as the ledger remembers it."""
        return f"show={self.show or ''} fish={self.fish or ''}"


def _check(what: str, wanted: str, known: list[str]) -> None:
    if wanted in known:
        return
    listed = ", ".join(known[:12]) + (" and more" if len(known) > 12 else "")
    raise Failure(
        f"The season has no {what} with the id {wanted!r}."
        + (f" Its ids are: {listed}." if known else f" It has no {what} at all."),
        status=2,
    )
