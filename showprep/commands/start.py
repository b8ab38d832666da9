"""`start`: a new season folder, by a few questions or options, or a worked example to edit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from showprep.commands.add import ask_fish, ask_show
from showprep.commands.asking import Ask, Check, answer, terminal
from showprep.commands.streams import say
from showprep.outputs.failure import Failure
from showprep.season.additions import fish_values, id_for, with_fish
from showprep.season.editors import first_line
from showprep.season.entry_text import entry_text
from showprep.season.journal_text import key_and_text
from showprep.season.problems import SeasonError
from showprep.season.reading import KEEPER, SHOWS, read_season
from showprep.season.records import Fish, Keeper, Show, TouchUp
from showprep.season.starting import start_season, write_season
from showprep.season.typed import said_of
from showprep.season.values import measures
from showprep.season.values.measures import Amount, is_bare
from showprep.season.values.quantities import Units
from showprep.season.values.wording import choose

POND, VAT = "pond", "isolation vat"
NEEDED = {
    "time_zone": "--time-zone",
    "pond": "--pond, the water it holds",
    "monthly": "--monthly with twelve means, or --steady",
}
AGENTS = ("nobody", "vet", "keeper")
HEAD = (
    "# The yard: waters, hands, vats. docs/files.md explains every key.\n"
    "# A value may carry its unit: 68 F, 8 US gal, 8 imp gal, 6 lb, 21 in.\n"
)
LAW = (
    "# Your own statement, for the country you name: yes only if you asked. In some countries\n"
    "# this is for a vet alone; docs/law.md lists what is published, and is no permission.\n"
)
_NUMBERS = re.compile(r"[\s;]+")
Given = Mapping[str, str]


def run(
    folder: Path,
    on: date,
    given: Given | None = None,
    *,
    example: bool = False,
    ask: Ask | None = None,
) -> None:
    """Write the folder and say what to do next.

    Without options, and with nobody to ask, or with `example`, the worked example is written.
    Raises Failure (wrong usage) for a folder in use and for what is missing or wrong: then nothing
    is written.
    """
    ask, given = ask or terminal(), given or {}
    in_use = Failure(
        f"{folder} is there already and not empty; nothing was changed. Name a new folder.",
        status=2,
    )
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise in_use
    try:
        if example or not (given or ask):
            written = start_season(folder, on)
        else:
            written = write_season(folder, _texts(given, on, ask))
    except FileExistsError:
        raise in_use from None
    for path in written:
        say(f"wrote {path}")
    change = "Now change the files to your own waters, shows and fish, and run"
    say(
        f"\n{change if example or not (given or ask) else 'Now run'}\n"
        f"  showprep check {folder}\n  showprep plan {folder}\n\n"
        "Before any touch-up: ask who may sedate or cut a fish where you live. docs/law.md lists\n"
        "what is published, country by country; it is no permission."
    )


def _texts(given: Given, on: date, ask: Ask | None) -> dict[str, str]:
    """The files of a season by what was said; read once before they are written."""
    units = _units(given, ask)
    said = _yard(given, units, ask)
    keeper = _keeper_text(said, units)
    texts = {KEEPER: keeper}
    shows: dict[str, Any] = {}
    fish: dict[str, Any] = {}
    if ask is not None:
        name = answer(ask, "The first show's name (empty: none yet)?", _of(Show, "name", units), "")
        if name:
            told = {"name": name, **ask_show(ask, units, {"name": name}, from_card=False)}
            shows[id_for(name, {}, "show")] = told
        name = answer(ask, "The first fish's name (empty: none yet)?", _of(Fish, "name", units), "")
        if name:
            told = {"name": name, "lives_in": POND}
            told |= ask_fish(ask, [POND], POND, units, told)
            fish[id_for(name, {}, "fish")] = fish_values(told, units, on)[0]
    texts[SHOWS] = first_line(SHOWS) + "# One entry a show; the key is its id.\n"
    texts[SHOWS] += "".join(entry_text({one: told}) for one, told in shows.items())
    texts |= with_fish(fish)
    with TemporaryDirectory() as room:
        copy = Path(room) / "season"
        write_season(copy, texts)
        try:
            read_season(copy, on)
        except SeasonError as error:
            raise Failure(f"{error}\nNothing was written.", status=2) from None
    return texts


def _units(given: Given, ask: Ask | None) -> Units:
    word = given.get("units")
    if word is None and ask is not None:
        question = "Units: metric, us or imperial (empty: metric)?"
        word = answer(ask, question, _of(Keeper, "units", "metric"), "metric")
    known: Mapping[str, Units] = {"metric": "metric", "us": "us", "imperial": "imperial"}
    if word is not None and word not in known:
        raise Failure(f"--units {word!r}: {choose(word, known)}", status=2)
    return known[word or "metric"]


def _of(record: Any, name: str, units: Units) -> Check:
    return lambda text: said_of(record, name, text, units)


def _yard(given: Given, units: Units, ask: Ask | None) -> dict[str, str]:
    """What was said of the yard, each checked; asked for where there is somebody."""
    volume, degree = _unit(measures.litres, units), _unit(measures.temperature_c, units)
    said = dict(given)

    def want(name: str, question: str, check: Check, left_out: str | None = None) -> None:
        if name in given:
            amiss = check(given[name]) if given[name] else None
            if amiss is not None:
                raise Failure(f"--{name.replace('_', '-')}: {amiss}.", status=2)
        elif ask is not None:
            said[name] = answer(ask, question, check, left_out)

    litres, warm = _amount(measures.litres, units), _amount(measures.temperature_c, units)
    place = "Your time zone, or a large city near you, such as Europe/Dublin?"
    want("time_zone", place, _of(Keeper, "time_zone", units))
    want("pond", f"How much water does the pond hold ({volume})?", litres)
    if "monthly" not in given:
        held = f"Is the pond held at one warmth? Then at which ({degree}; empty: it is not)?"
        want("steady", held, warm, "")
    if not said.get("steady"):
        twelve = f"Its mean warmth in each month ({degree}), January first, twelve numbers?"
        want("monthly", twelve, lambda text: _monthly_fault(text, units))
    days = "On which days have you time at the pond (empty: saturday sunday)?"
    want("work_days", days, lambda text: said_of(Keeper, "work_days", text.split(), units), "")
    who = "Who takes a speck off: nobody, vet or keeper (empty: nobody)?"
    want("touch_up_by", who, _of(TouchUp, "by", units), "")
    if said.get("touch_up_by") == "keeper":
        law = "Have you asked whether you may, and for which country (empty: not asked)?"
        want("law_country", law, _of(TouchUp, "law_country", units), "")
    vat = f"How much does your vat for fish home from a show hold ({volume}; empty: none)?"
    want("vat", vat, litres, "")
    if said.get("vat"):
        want("vat_c", f"At what warmth is it held ({degree})?", warm)
        want("vat_holds", "How many fish does it hold at once?", _count)
    want("boxes", "How many boxes, one fish in each, fit into the car (empty: any)?", _count, "")
    missing = [
        words
        for name, words in NEEDED.items()
        if not said.get(name) and not (name == "monthly" and said.get("steady"))
    ]
    if said.get("vat"):
        missing += [f"--{name.replace('_', '-')}" for name in ("vat_c", "vat_holds")
                    if not said.get(name)]  # fmt: skip
    if missing:
        raise Failure(f"Missing: {'; '.join(missing)}. --example writes a worked example.", 2)
    return {name: text for name, text in said.items() if text}


def _unit(amount: Amount, units: Units) -> str:
    unit = amount.unit if units == "metric" else amount.asked[units][0]
    return {"F": "°F", "C": "°C"}.get(unit, unit)


def _with_unit(text: str, amount: Amount, units: Units) -> str:
    """The amount with the unit that was asked for, where it has none."""
    return f"{text} {_unit(amount, units).strip('°')}" if is_bare(text) else text


def _amount(amount: Amount, units: Units) -> Check:
    def check(text: str) -> str | None:
        return _fault(lambda: amount(_with_unit(text, amount, units), units))

    return check


def _fault(read: Callable[[], object]) -> str | None:
    try:
        read()
    except ValueError as error:
        return str(error)
    return None


def _count(text: str) -> str | None:
    def read() -> None:
        if measures.whole(text) < 1:
            raise ValueError("it must be 1 or more")

    return _fault(read)


def _monthly(text: str, units: Units) -> list[str]:
    """The twelve texts, each with its unit; a comma within one is a decimal comma."""
    words = [word.strip(",") for word in _NUMBERS.split(text.strip(" []")) if word.strip(",")]
    if len(words) == 1:
        words = [word for word in words[0].split(",") if word]
    return [_with_unit(word.replace(",", "."), measures.temperature_c, units) for word in words]


def _monthly_fault(text: str, units: Units) -> str | None:
    words = _monthly(text, units)
    if len(words) != 12:
        return f"{len(words)} numbers found: write one for each month, January first"
    check = _amount(measures.temperature_c, units)
    return next((amiss for word in words if (amiss := check(word)) is not None), None)


def _keeper_text(said: Given, units: Units) -> str:
    def metric(name: str, amount: Amount) -> float:
        return amount(_with_unit(said[name], amount, units), units)

    pond = dict([key_and_text("litres", metric("pond", measures.litres), units)])
    warm = measures.temperature_c
    waters: dict[str, Any] = {POND: pond}
    if "steady" in said:
        pond.update([key_and_text("steady_c", metric("steady", warm), units)])
    else:
        means = [
            key_and_text("monthly_c", warm(word, units), units)
            for word in _monthly(said["monthly"], units)
        ]
        pond[means[0][0]] = [text for _, text in means]  # type: ignore[assignment]
    whole: dict[str, Any] = {"time_zone": said["time_zone"], "units": units}
    if "work_days" in said:
        whole["work_days"] = said["work_days"].replace(",", " ").split()
    whole["waters"] = waters
    if "vat" in said:
        waters[VAT] = dict(
            [
                key_and_text("litres", metric("vat", measures.litres), units),
                key_and_text("steady_c", metric("vat_c", warm), units),
            ]
        )
        whole["isolation"] = {"water": VAT, "holds": said["vat_holds"]}
    by = said.get("touch_up_by", "nobody")
    touch_up = {"by": by, "law_checked": "no"}
    if by == "keeper" and "law_country" in said:
        touch_up |= {"law_checked": "yes", "law_country": said["law_country"]}
    rest = {"carrying": {"boxes": said["boxes"]}} if "boxes" in said else {}
    return (
        first_line(KEEPER) + HEAD + entry_text(whole) + LAW + entry_text({"touch_up": touch_up})
    ) + entry_text(rest)
