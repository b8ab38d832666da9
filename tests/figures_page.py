"""Write docs/figures.md from the tables the program uses.

    python tests/figures_page.py

`tests/test_docs.py` fails when the page and the tables differ.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from showprep.husbandry.figures import FIGURES, SHIPPED
from showprep.husbandry.healing import FIN_FIGURES, DefectKind, Milestone
from showprep.husbandry.thermal_time import CLOCKS
from showprep.planning.jobs.of_shows import job_table
from showprep.season.checks.own_figures import own_range
from showprep.season.facts import shipped_facts

PAGE = Path(__file__).resolve().parent.parent / "docs" / "figures.md"

HEAD = """# Every figure, with its source and grade

Written from the tables the program uses. Grades: *published*, *derived* (worked out from published
figures), *common practice* (of the trade, no source), *assumption* (from memory or a guess; so that
there is a number), *our choice* (a limit we set; beside it what the source carries). A figure can
be changed by its name under `figures:` in `keeper.yaml`; one that guards the fish only to the safer
side. What may be written follows from the spread of the sources; how far beyond is our choice.
Where two sources differ the typical figure is the one that is safer for the fish, and the
source says so. “Read” is the abstract or the first page; “not read again” and “from memory” are
what they say.
"""


def page() -> str:
    """The whole page."""
    return (
        "\n".join([HEAD, *_kinds(), *_clocks(), *_figures(), *_rations(), *_sizes(), *_jobs()])
        + "\n"
    )


def _kinds() -> Iterator[str]:
    yield "## Kinds of defect\n"
    yield (
        "Low / usual / high in degree-days above 8 °C (none counted above 26 °C), least days. A\n"
        "skin-day is a day of the film of skin: one from 8 °C, half from 4 °C, none below.\n"
        "Degree-days hold for anything through the skin, and for colour, scales and fins.\n"
    )
    yield "| kind | may | closed | clean | grade | source |"
    yield "|---|---|---|---|---|---|"
    for kind in shipped_facts().kinds.values():
        yield (
            f"| {kind.id} | {kind.may} | {_need(kind.closed)} | {_clean(kind)} | {kind.grade} "
            f"| {kind.source} |"
        )
    yield ""


def _clean(kind: DefectKind) -> str:
    return "by the share of the fin lost" if kind.by_lost_share else _need(kind.clean)


def _need(milestone: Milestone | None) -> str:
    if milestone is None:
        return "no figure"
    unit = "" if milestone.unit == "degree-days" else f" {milestone.unit}"
    needs = f"{milestone.low:g} / {milestone.usual:g} / {milestone.high:g}{unit}"
    return f"{needs}, {milestone.least_days} d"


def _clocks() -> Iterator[str]:
    yield "## What healing is counted by\n"
    yield "None of these is a setting; an own requirement goes under `defect_kinds`.\n"
    yield "| name | low | typical | high | unit | grade | source |"
    yield "|---|---|---|---|---|---|---|"
    for one in (*CLOCKS.values(), *FIN_FIGURES.values()):
        yield (
            f"| {one.name} | {one.low:.4g} | {one.typical:.4g} | {one.high:.4g} | {one.unit} "
            f"| {one.grade} | {one.source} |"
        )
    yield ""


def _figures() -> Iterator[str]:
    yield "## Figures by name\n"
    yield "| name | low | typical | high | unit | guards | you may write | grade | source |"
    yield "|---|---|---|---|---|---|---|---|---|"
    guards = {"lower": "may be lowered", "higher": "may be raised", "either": ""}
    for one in FIGURES.values():
        least, most = own_range(one)
        yield (
            f"| {one.name} | {one.low:.6g} | {one.typical:.6g} | {one.high:.6g} | {one.unit} "
            f"| {guards[one.safe]} | {least:.4g} to {most:.4g} | {one.grade} | {one.source} |"
        )
    yield ""


def _rations() -> Iterator[str]:
    facts = shipped_facts()
    yield "## Feed by temperature\n"
    mark, source = facts.rations_grade.capitalize(), facts.rations_source
    yield f"Percent of body weight a day. {mark}: {source}.\n"
    yield "| °C | low | typical | high | feeds | diet |"
    yield "|---|---|---|---|---|---|"
    for step in facts.rations:
        yield (
            f"| {step.from_c:g} to {step.below_c:g} | {step.low:g} | {step.typical:g} "
            f"| {step.high:g} | {step.feeds} | {step.diet} |"
        )
    yield ""


def _sizes() -> Iterator[str]:
    yield "## Size tables\n"
    yield "| name | unit | upper bounds | upper end | above the last | grade | source |"
    yield "|---|---|---|---|---|---|---|"
    for name, table in shipped_facts().size_tables.items():
        bounds = ", ".join(f"{bound:g}" for bound in table.upper)
        yield (
            f"| {name} | {table.unit} | {bounds} "
            f"| {'included' if table.upper_included else 'not included'} "
            f"| {'a class' if table.above else 'no class'} | {table.grade} | {table.source} |"
        )
    yield ""


def _jobs() -> Iterator[str]:
    yield "## Jobs that hang on one event\n"
    yield "Days from the event: earliest, ideal, latest. Jobs with hands move to a work day.\n"
    yield "| job | event | window | hands | grade | source |"
    yield "|---|---|---|---|---|---|"
    for row in job_table():
        window = " / ".join(map(str, row.days(SHIPPED)))
        hands = "yes" if row.hands else ""
        event = row.event.replace("_", " ")
        by = f" (by {row.before})" if row.before else ""
        yield f"| {row.kind} | {event} | {window}{by} | {hands} | {row.grade} | {row.source} |"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8", newline="\n")
