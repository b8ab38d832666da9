"""`bath`: the worksheet of a touch-up session, from a planned day or from options alone."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from showprep.commands.worksheet_values import (
    Given,
    above_nothing,
    amount,
    day_in,
    units_in,
    value,
)
from showprep.husbandry.figures import SHIPPED
from showprep.outputs.failure import Failure
from showprep.outputs.words.bath_sheet import (
    bath_words,
    by_hand,
    refused_text,
    speaker_of,
)
from showprep.outputs.words.plain import listed, spoken
from showprep.outputs.worksheets.bath_json import bath_text, confirmed_text
from showprep.outputs.worksheets.bath_json import refused_text as refused_json
from showprep.outputs.worksheets.paper import paper_text
from showprep.planning.plan import Plan, Task
from showprep.planning.worksheets.bath import bath_sheet
from showprep.planning.worksheets.bath_records import BathAsk, BathFish, BathSheet
from showprep.planning.worksheets.bath_season import bath_ask, session_on, sessions_in
from showprep.planning.worksheets.check_word import check_word, same_word
from showprep.planning.worksheets.litres import litres_question
from showprep.season.problems import SeasonError, problem_at
from showprep.season.reading import Reading, season_name
from showprep.season.records import TouchUp
from showprep.season.values import measures
from showprep.season.values.agents import agent_named
from showprep.season.values.product import product_strength
from showprep.season.values.quantities import Units, show_number, show_volume
from showprep.season.values.unit_keys import key_in

SETTLED_BY = (
    "Give the fish (--fish-kg or --fish-cm), the tub (--tub-length-cm, --tub-width-cm and "
    "--tub-depth-cm), or the same litres a second time with --litres-again; without an answer "
    "nothing is worked out."
)


def run(
    folder: Path | None,
    given: Mapping[str, str],
    on: date,
    *,
    vet_agreed: bool = False,
    as_json: bool = False,
) -> None:
    """Print the sheet of one session; `on` is the day of the plan, or else of the session.

    `given` are the options as text. Raises Failure with status 2 for options that are missing or
    mean nothing sure, 1 for a bath that must not be made (the sheet says why, without a dose);
    SeasonError for faults in the season's files. With `as_json` the JSON is printed in each case.
    """
    try:
        ask = _asked(folder, given, on, vet_agreed)
        sheet = bath_sheet(ask)
    except (Failure, SeasonError) as error:
        if as_json:
            sys.stdout.write(refused_json(str(error)))
        raise
    if as_json:
        sys.stdout.write(bath_text(sheet))
    else:
        words = bath_words(sheet)
        sys.stdout.write(paper_text([words], form_feed=not sys.stdout.isatty()))
    if sheet.refused:
        raise Failure(f"Refused: {refused_text(sheet)}")


def confirm_word(
    folder: Path | None,
    given: Given,
    word: str,
    *,
    vet_agreed: bool = False,
    as_json: bool = False,
) -> None:
    """Check the word on a sheet against what a second person reads off jug and label.

    Raises Failure with status 2 when litres, strength or target are missing, 1 when the word is
    of another bath or the bath must not be made.
    """
    try:
        if folder is not None:
            said = "--confirm takes no SEASON: type what jug and label say, not what the files say."
            raise Failure(said, status=2)
        sheet = read_afresh(given, word, vet_agreed)
    except Failure as error:
        if as_json:
            sys.stdout.write(confirmed_text(None, str(error)))
        raise
    if as_json:
        sys.stdout.write(confirmed_text(sheet, None))
        return
    sys.stdout.write(
        f"The word is right: {_read(sheet.ask)}.\n"
        f"By hand: {by_hand(sheet)}. The two must be the same, or nearly.\n"
        "Is that what stands on the sheet and in the syringe? If not, the bath is not made.\n"
    )


def read_afresh(given: Given, word: str, vet_agreed: bool = False) -> BathSheet:
    """The bath that jug and label say, if it is that of the `word`; raises Failure otherwise."""
    ask = _overridden(BathAsk(figures=SHIPPED), given, vet_agreed)
    if ask.agent == "clove oil" and ask.target_mg_per_l is None:
        said = "--target-mg-per-l is missing: read it from the sheet, where the amount stands."
        raise Failure(said, status=2)
    _nothing_missing(ask)
    assert ask.target_mg_per_l is not None
    if not same_word(word, check_word(ask, ask.target_mg_per_l)):
        raise Failure(_differs(ask))
    sheet = bath_sheet(replace(ask, litres_settled=True))  # else there would be no such word
    if sheet.refused:
        raise Failure(f"Refused: {refused_text(sheet)}")
    return sheet


def _differs(ask: BathAsk) -> str:
    assert ask.litres is not None and ask.target_mg_per_l is not None
    products = f"litres x mg/L = {show_number(ask.litres * ask.target_mg_per_l, 1)} mg"
    if ask.strength is not None:
        products += (
            ", and on the sheet mL x mg/mL, with "
            f"{show_number(ask.strength.oil_mg_per_ml, 1)} mg/mL as you read the label"
        )
    return (
        f"The word is of another bath: make none yet. You read {_read(ask)}. Compare each with the "
        f"sheet: litres, strength, target. By hand: {products}; the two must be the same. Whatever "
        "differs, find out why, and print the sheet again."
    )


def _read(ask: BathAsk) -> str:
    assert ask.litres is not None and ask.target_mg_per_l is not None
    strength = ""
    if ask.strength is not None:
        percent = ask.strength.percent_v_v
        stated = f"{show_number(percent, 2)} %, " if percent is not None else ""
        strength = f", {stated}{show_number(ask.strength.oil_mg_per_ml, 1)} mg/mL"
    litres = f"{show_number(ask.litres, 1)} L"
    if ask.units != "metric":
        litres = f"{show_volume(ask.litres, ask.units)} ({litres})"
    return f"{litres}{strength}, {show_number(ask.target_mg_per_l, 2)} mg/L"


def _asked(folder: Path | None, given: Given, on: date, vet_agreed: bool) -> BathAsk:
    if folder is None:
        base = BathAsk(figures=SHIPPED, day=day_in(given, on) or on)
        ask = _overridden(base, given, vet_agreed)
        _nothing_missing(ask)
        _litres_settled(ask)
        return ask
    return _of_season(folder, given, on, vet_agreed)


def _nothing_missing(ask: BathAsk) -> None:
    if ask.litres is None:
        raise Failure("--litres is missing: how much water the bath holds.", status=2)
    if ask.agent == "ms-222" and ask.target_mg_per_l is None:
        said = "--target-mg-per-l is missing: the vet who agreed to MS-222 says how much."
        raise Failure(said, status=2)
    if ask.agent == "clove oil" and ask.strength is None:
        raise Failure(
            "--strength-percent or --strength-mg-per-ml is missing: read it from the bottle's "
            "label; there is no safe guess, and drops are not a unit.",
            status=2,
        )


def _litres_settled(ask: BathAsk) -> None:
    """Raise Failure while the litres may be a slip."""
    question = litres_question(ask)
    if question is not None:
        raise Failure(f"--litres: {speaker_of(ask).text(question)} {SETTLED_BY}", status=2)


def _overridden(base: BathAsk, given: Given, vet_agreed: bool) -> BathAsk:
    """The session with what the options say put in its place."""
    units = units_in(given) or base.units
    found: dict[str, Any] = {
        "agent": value(given, "agent", lambda words: agent_named(str(words))),
        "litres": amount(given, "litres", measures.litres, units),
        "strength": _strength(given),
        "target_mg_per_l": value(given, "target_mg_per_l", above_nothing),
        "water_c": amount(given, "water_c", measures.temperature_c, units),
        "tub_cm": _tub(given, units),
        "tub_depth_cm": amount(given, "tub_depth_cm", measures.total_cm, units),
        "litres_again": amount(given, "litres_again", measures.litres, units),
        "units": units,
        "fish": _fish(base.fish, given, units),
        "vet_agreed": vet_agreed or None,
    }
    if found["water_c"] is not None:
        base = replace(base, fast_days=None)  # the calendar's was for the water it foresaw
    return replace(base, **{name: one for name, one in found.items() if one is not None})


def _strength(given: Given) -> Any:
    percent, mg_per_ml = given.get("strength_percent"), given.get("strength_mg_per_ml")
    option = "--strength-percent" if mg_per_ml is None else "--strength-mg-per-ml"
    record = TouchUp.model_construct(strength_percent=percent, strength_mg_per_ml=mg_per_ml)
    try:
        return product_strength(record)
    except ValueError as error:
        raise Failure(f"{option}: {error}.", status=2) from None


def _tub(given: Given, units: Units) -> tuple[float, float] | None:
    length = amount(given, "tub_length_cm", measures.total_cm, units)
    width = amount(given, "tub_width_cm", measures.total_cm, units)
    if length is None and width is None:
        if "tub_depth_cm" in given:
            said = "--tub-depth-cm belongs together with --tub-length-cm and --tub-width-cm."
            raise Failure(said, status=2)
        return None
    if length is None or width is None:
        raise Failure("--tub-length-cm and --tub-width-cm belong together.", status=2)
    return length, width


def _fish(planned: tuple[BathFish, ...], given: Given, units: Units) -> tuple[BathFish, ...] | None:
    kg = amount(given, "fish_kg", measures.fish_kilograms, units)
    length = amount(given, "fish_cm", measures.length_cm, units)
    if kg is None and length is None:
        return None
    if len(planned) > 1:
        count = len(planned)
        said = f"--fish-kg and --fish-cm are of one fish, and this session has {count}."
        raise Failure(said, status=2)
    fish = planned[0] if planned else BathFish(name="")
    if length is not None and kg is None:
        from showprep.husbandry.weight import kg_from_length

        return (replace(fish, length_cm=length, kg=kg_from_length(length), kg_estimated=True),)
    return (replace(fish, length_cm=length or fish.length_cm, kg=kg, kg_estimated=False),)


def _of_season(folder: Path, given: Given, on: date, vet_agreed: bool) -> BathAsk:
    from showprep.commands.loading import load
    from showprep.outputs.remembered import remembered
    from showprep.planning.season_plan import worked_out
    from showprep.planning.yard.presumed import yard_as_known

    reading = load(folder, on)
    yard = yard_as_known(reading.season, on, remembered(folder, on))
    yard, plan = worked_out(yard, season_name(folder), costs=False, tells=False)
    session = _session(plan, day_in(given, on))
    try:
        agent_named(yard.keeper.touch_up.agent)
    except ValueError as error:
        raise _fault(
            reading, "agent", str(error), "put it right, or plan this with a vet"
        ) from None
    asked = bath_ask(yard, plan, session)
    if "tub_length_cm" in given:
        asked = replace(asked, tub_depth_cm=None)  # another tub than the one in the files
    ask = _overridden(asked, given, vet_agreed)
    if ask.litres is None:
        key = key_in("bath_litres", yard.keeper.units)
        right = f"write {key} under touch_up, or give --litres"
        raise _fault(reading, "", "the litres of the bath are missing", right)
    if ask.agent == "clove oil" and ask.strength is None:
        what = "the strength of the product is missing, and there is no safe guess"
        right = "write strength_percent under touch_up as on the label, or give --strength-percent"
        raise _fault(reading, "", what, right)
    _nothing_missing(ask)
    if "litres" in given:
        _litres_settled(ask)
    elif question := litres_question(ask):
        keys = ("length_cm", "width_cm", "depth_cm")
        sides = listed([key_in(key, yard.keeper.units) for key in keys])
        right = (
            f"put {key_in('bath_litres', yard.keeper.units)} right, or write the tub's size under "
            f"touch_up (tub: {sides}), or say the litres a second time with --litres-again"
        )
        raise _fault(reading, "bath_litres", speaker_of(ask).phrase(question), right)
    return ask


def _fault(reading: Reading, key: str, what: str, right: str) -> SeasonError:
    place = reading.where("keeper", "touch_up", key) if key else reading.where("keeper", "touch_up")
    return SeasonError([problem_at(place, what, right)])


def _session(plan: Plan, day: date | None) -> Task:
    sessions = sessions_in(plan)
    if not sessions:
        raise Failure(
            "No touch-up is planned in this season. For the figures alone leave SEASON out and "
            "give --litres, the strength and --water-c."
        )
    found = session_on(sessions, day)
    if found is None:
        assert day is not None
        known = listed(dict.fromkeys(spoken(one.first_day) for one in sessions))
        said = f"No touch-up is planned on {spoken(day)}; there is one on {known}."
        raise Failure(said, status=2)
    return found
