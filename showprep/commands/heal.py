"""`heal`: one question about one blemish, and `kinds`: what every blemish is called and needs."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Mapping
from datetime import date

from showprep.commands.day_words import day_asked
from showprep.commands.streams import say
from showprep.commands.worksheet_values import Given, amount, units_in, value
from showprep.outputs.failure import Failure
from showprep.outputs.heal import heal_json, heal_text, kinds_json, kinds_text
from showprep.outputs.words.speaker import Speaker
from showprep.planning.worksheets.heal import (
    KIND_WATERS_C,
    KIND_WATERS_US_C,
    HealAsk,
    heal_sheet,
    kind_lines,
)
from showprep.season.facts import grave_kinds, shipped_facts
from showprep.season.values import measures
from showprep.season.values.kinds import is_lay, kind, kind_words, nearest_kind
from showprep.season.values.quantities import Units
from showprep.season.values.wording import choose, shown

NARROWEST, WIDEST = 40, 80
MISSING = {
    "kind": "KIND, what blemish it is (showprep kinds lists them)",
    "seen": "--seen, the day it was first seen",
    "water_c": "--water-c, how warm the water is",
    "by": "--by or --show-in, when the show is",
}


def run(word: str | None, given: Mapping[str, str], on: date, *, as_json: bool = False) -> None:
    """Print how sure a blemish is closed and clean by a day.

    `given` are the options as text. Raises Failure with status 2 for options that are missing,
    all of them at once, or cannot be read.
    """
    units = units_in(given) or "metric"
    one = kind_meant(word) if word is not None else None
    by = _by(given, on)
    speck = one is not None and shipped_facts().kinds[one].may == "touch-up"
    seen = value(given, "seen", lambda words: day_asked(words, on)) or (on if speck else None)
    water_c = amount(given, "water_c", measures.temperature_c, units)
    missing = [
        MISSING[name]
        for name, found in (("kind", one), ("seen", seen), ("water_c", water_c), ("by", by))
        if found is None
    ]
    if word is None or one is None or seen is None or water_c is None or by is None:
        bare = "61 F" if units == "us" else "16"
        told = "; ".join(missing)
        raise Failure(
            f"Missing: {told}. An example: showprep heal {one or 'lost-scale'} --seen 2027-05-01 "
            f'--water-c "{bare}" --show-in "5 weeks"',
            status=2,
        )
    if seen > on:
        raise Failure(f"--seen: {seen} is later than {on}, the day of the question (--on).", 2)
    if by <= on:
        raise Failure(f"--by: {by} is not later than {on}, the day of the question (--on).", 2)
    ask = HealAsk(
        kind=one,
        on=on,
        seen=seen,
        water_c=water_c,
        by=by,
        warm_to_c=_warm_to(given, water_c, units),
        where=given.get("where", ""),
        size_mm=amount(given, "size_mm", measures.size_mm, units),
        lost_share=value(given, "lost_share", measures.share),
        units=units,
    )
    sheet = heal_sheet(ask)
    speaker = Speaker(units=units, on=on)
    if as_json:
        sys.stdout.write(heal_json(speaker, sheet))
        return
    if is_lay(word):
        say(f"{' '.join(word.split())}: {one}")
    sys.stdout.write(heal_text(speaker, sheet, _width()))


def run_kinds(word: str | None, given: Mapping[str, str], on: date, *, as_json: bool) -> None:
    """Print every kind of defect, or the one meant. Raises Failure for a word nobody knows."""
    speaker = Speaker(units=units_in(given) or "metric", on=on)
    waters_c = KIND_WATERS_US_C if speaker.units == "us" else KIND_WATERS_C
    lines = kind_lines(on, waters_c)
    if word is not None:
        one = kind_meant(word)
        lines = tuple(line for line in lines if line.kind.id == one)
    if as_json:
        sys.stdout.write(kinds_json(lines, kind_words(), waters_c))
        return
    sys.stdout.write(kinds_text(speaker, lines, kind_words(), waters_c, _width()))


def kind_meant(word: str) -> str:
    """The kind of defect that is meant. Raises Failure naming the nearest, or all."""
    kinds = shipped_facts().kinds
    try:
        one = kind(word.encode("utf-8", "replace").decode())
    except ValueError as error:
        raise Failure(f"KIND: {error}.", status=2) from None
    if one in kinds:
        return one
    near = nearest_kind(one, grave_kinds())
    right = f"did you mean {near}?" if near else f"{choose('', kinds)}."
    raise Failure(f"There is no kind of defect called {shown(word)}; {right}", status=2)


def _by(given: Given, on: date) -> date | None:
    if "by" in given and "show_in" in given:
        raise Failure("--by and --show-in say the same: give one of them.", status=2)
    if "show_in" in given:
        return value(given, "show_in", lambda words: day_asked(f"+{words}", on))
    return value(given, "by", lambda words: day_asked(words, on))


def _warm_to(given: Given, water_c: float, units: Units) -> float | None:
    warm_to = amount(given, "warm_to", measures.temperature_c, units)
    if warm_to is not None and warm_to <= water_c:
        raise Failure("--warm-to is not warmer than --water-c.", status=2)
    return warm_to


def _width() -> int:
    columns = shutil.get_terminal_size((WIDEST, 24)).columns if sys.stdout.isatty() else WIDEST
    return max(NARROWEST, min(WIDEST, columns))
