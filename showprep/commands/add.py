"""`add`: a fish or a show more, from a file, from options, or by a few questions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any, get_args

from showprep.commands.asking import Ask, Check, answer, terminal
from showprep.commands.loading import tell_warnings
from showprep.commands.names import meant, named
from showprep.commands.streams import say
from showprep.outputs.failure import Failure
from showprep.outputs.whole_file import alone_in, kept_before, write_together
from showprep.outputs.words.plain import counted
from showprep.season.additions import fish_values, id_for, read_with, with_fish, with_shows
from showprep.season.entry_text import entry_text, values_of
from showprep.season.problems import Problem, SeasonError
from showprep.season.reading import FISH_FOLDER, SHOWS, Reading, read_season
from showprep.season.records import Fish, Keeper, Season, Show, ShowCard
from showprep.season.spreadsheet import DayForm, SheetFish, SheetRead, fish_in
from showprep.season.typed import card_part, said_of
from showprep.season.values import measures
from showprep.season.values.measures import is_bare
from showprep.season.values.quantities import Units
from showprep.season.values.wording import choose, folded, listed, shown

NOTHING = "Nothing was written."
LARGEST = 4_000_000  # bytes of a file that is added
FISH_NEEDS = ("name", "variety", "merit")
SHOW_NEEDS = ("name", "judging", "travel_hours")
OF_SHOW = ("name", "judging", "travel_hours", "entries_close", "vats", "place", "time_zone")
Given = Mapping[str, str]


def run(
    what: str,
    folder: Path,
    file: Path | None,
    given: Given,
    on: date,
    *,
    ask: Ask | None = None,
) -> None:
    """Add to the season in `folder` what a file, the options or the answers say.

    Raises SeasonError for faults in the season's files, Failure for what is missing or wrong in
    what is added: every odd row or line of it. Then nothing is written.
    """
    ask = ask or terminal()
    reading = read_season(folder, on)
    with alone_in(folder):
        new = ""
        if what == "fish":
            fish = _fish(reading.season, file, given, on, ask)
            texts = with_fish({one: values for one, values, _ in fish})
            of = {f"{FISH_FOLDER}/{one}.yaml": where for one, _, where in fish}
            names = [str(values["name"]) for _, values, _ in fish]
        else:
            show_id, values, where = _show(reading.season, file, given, ask)
            texts, of = with_shows(folder, {show_id: values}), {SHOWS: where}
            names, new = [str(values["name"])], entry_text({show_id: values})
        after = _read(folder, texts, on, of, reading, new)
        kept = kept_before(folder, [folder / name for name in texts if (folder / name).is_file()])
        if what == "fish":
            (folder / FISH_FOLDER).mkdir(exist_ok=True)
        write_together({folder / name: text.encode("utf-8") for name, text in texts.items()})
    known = {problem.told for problem in reading.warnings}
    tell_warnings(one for one in after.warnings if one.told not in known)
    for line in kept:
        say(line)
    files = listed(texts if len(texts) <= 3 else [f"{FISH_FOLDER}/"], "and")
    more = "shows" if what == "show" else "fish"
    say(f"Added {counted(len(names), what, more)} to {files}: {listed(names[:20], 'and')}.")


def _read(
    folder: Path,
    texts: Mapping[str, str],
    on: date,
    of: Mapping[str, str],
    before: Reading,
    new: str,
) -> Reading:
    """The season with what is added; faults are told by where it came from."""
    try:
        return read_with(folder, texts, on)
    except SeasonError as error:
        had = {one.told for one in before.warnings}
        faults = [one for one in error.problems if one.severity == "fault" and one.told not in had]
        lines = [_told(one, of) for one in faults]
        if any(one.file == SHOWS for one in faults) and SHOWS in texts:
            lines.append("If that is no fault of what was added, write it yourself, to its end:")
            lines.append(new)
        raise Failure("\n".join([*dict.fromkeys(lines), NOTHING]), status=2) from None


def _told(problem: Problem, of: Mapping[str, str]) -> str:
    where = of.get(problem.file)
    return str(problem) if where is None else f"{where}: {problem.what}; {problem.right}."


# ---- fish


def _fish(
    season: Season, file: Path | None, given: Given, on: date, ask: Ask | None
) -> list[tuple[str, dict[str, Any], str]]:
    """New fish: their ids, values, and where each came from."""
    taken = dict.fromkeys(season.fish)
    waters = {one: one for one in season.keeper.waters}
    usual = _usual_water(season.keeper)
    if file is None:
        said = dict(given)
        if ask is not None and any(name not in said for name in FISH_NEEDS):
            said |= ask_fish(ask, list(waters), usual, season.keeper.units, said)
        missing = [f"--{name}" for name in FISH_NEEDS if not said.get(name)]
        if missing:
            raise Failure(f"Missing: {listed(missing, 'and')}, or a FILE of fish.", status=2)
        sheet = SheetRead(fish=[SheetFish(0, said)])
        where = "add fish"
    else:
        form: DayForm = _day_form(given)
        sheet = fish_in(_bytes(file), form)
        where = file.name
        for column in sheet.left:
            say(f"{where}: the column {shown(column)} is not read.", err=True)
    added, odd = [], [(line, words) for line, words in sheet.odd]
    names = {folded(one.name): known for known, one in season.fish.items()}
    for one in sheet.fish:
        said = {"lives_in": given.get("lives_in", usual or ""), **_defaults(given), **one.values}
        values, faults = fish_values(said, season.keeper.units, on)
        faults += _fish_faults(values, waters, names, season.keeper.units)
        odd += [(one.line, f"{name}: {words}") for name, words in faults]
        if faults:
            continue
        values["lives_in"] = meant(values["lives_in"], waters)[0]
        fish_id = said.get("id") or id_for(values["name"], taken, "fish")
        if fish_id in taken:
            odd.append((one.line, f"id: there is a fish {fish_id} already"))
            continue
        taken[fish_id] = None
        names[folded(values["name"])] = fish_id
        at = f"{where}, line {one.line}" if one.line else where
        added.append((fish_id, values, f"{at} ({values['name']})"))
    if odd:
        told = [
            f"{where}:{line}: {words}." if line else f"{where}: {words}." for line, words in odd
        ]
        raise Failure("\n".join([*sorted(told, key=_line_of), NOTHING]), status=2)
    if not added:
        raise Failure(f"{where}: there is no fish in it. {NOTHING}", status=2)
    return added


def _line_of(told: str) -> int:
    at = told.split(":")[1:2]
    return int(at[0]) if at and at[0].isdigit() else 0


def _defaults(given: Given) -> dict[str, str]:
    return {name: given[name] for name in ("merit", "variety") if name in given}


def _fish_faults(
    values: Mapping[str, Any], waters: Mapping[str, str], names: Mapping[str, str], units: Units
) -> list[tuple[str, str]]:
    found = [(name, "it is missing") for name in FISH_NEEDS if not values.get(name)]
    found += [
        (name, amiss)
        for name in ("name", "variety", "sex", "born", "came", "merit", "note")
        if name in values and (amiss := said_of(Fish, name, values[name], units)) is not None
    ]
    water = str(values.get("lives_in", ""))
    if len(meant(water, waters)) != 1:
        there = choose(water, waters)
        found.append(("lives in", f"there is no water called {shown(water)}; {there}"))
    known = names.get(folded(str(values.get("name", ""))))
    if known is not None:
        found.append(("name", f"there is a fish called {values['name']} already ({known})"))
    return found


def _usual_water(keeper: Keeper) -> str | None:
    """The one water that is neither for fish kept apart nor for holding; None with several."""
    apart = {one.water for one in (keeper.isolation, keeper.holding) if one is not None}
    ponds = [name for name in keeper.waters if name not in apart]
    return ponds[0] if len(ponds) == 1 else None


def ask_fish(
    ask: Ask, waters: Sequence[str], usual: str | None, units: Units, said: Given
) -> dict[str, str]:
    """The answers about one fish, but for what was said already."""

    def of(name: str) -> Check:
        return lambda text: said_of(Fish, name, text, units)

    unit = "cm" if units == "metric" else "in"
    found: dict[str, str] = {}
    if "name" not in said:
        found["name"] = answer(ask, "The fish's name?", of("name"))
    if "variety" not in said:
        found["variety"] = answer(ask, "Its variety, such as kohaku?", of("variety"))
    if "lives_in" not in said and usual is None:
        by_name = {one: one for one in waters}
        lives_in = answer(
            ask,
            f"In which water ({listed(waters)})?",
            lambda text: None if len(meant(text, by_name)) == 1 else choose(text, waters),
        )
        found["lives_in"] = named("water", lives_in, by_name)
    if "length" not in said:
        length = answer(ask, f"Its length today ({unit}; empty: not measured)?", _length(units), "")
        found["length"] = f"{length} {unit}" if is_bare(length) else length
    if "merit" not in said:
        found["merit"] = answer(ask, "Your own mark for it, 0 to 100?", of("merit"))
    return {name: text for name, text in found.items() if text}


def _length(units: Units) -> Check:
    unit = "cm" if units == "metric" else "in"

    def check(text: str) -> str | None:
        try:
            measures.length_cm(f"{text} {unit}" if is_bare(text) else text, units)
        except ValueError as error:
            return str(error)
        return None

    return check


# ---- shows


def _show(
    season: Season, file: Path | None, given: Given, ask: Ask | None
) -> tuple[str, dict[str, Any], str]:
    """A new show: its id, its values, and where it came from."""
    units = season.keeper.units
    if file is not None:
        values, where = _from_card(file, units), file.name
    else:
        values, where = {}, "add show"
    values |= {name: given[name] for name in OF_SHOW if name in given}
    if ask is not None:
        values |= ask_show(ask, units, values, file is not None)
    missing = [f"--{name.replace('_', '-')}" for name in SHOW_NEEDS if not values.get(name)]
    if missing:
        more = "" if file is not None else ", or a FILE with the show's card"
        raise Failure(f"Missing: {listed(missing, 'and')}{more}.", status=2)
    faults = [
        f"{name.replace('_', ' ')}: {amiss}."
        for name in OF_SHOW
        if name in values and (amiss := said_of(Show, name, values[name], units)) is not None
    ]
    same = [
        one for one, show in season.shows.items() if folded(show.name) == folded(values["name"])
    ]
    day = str(values["judging"])[:10]
    faults += [
        f"there is a show called {values['name']} on {day} already ({one})."
        for one in same
        if season.shows[one].judging.date().isoformat() == day
    ]
    if faults:
        raise Failure("\n".join([*(f"{where}: {one}" for one in faults), NOTHING]), status=2)
    show_id = given.get("id") or id_for(str(values["name"]), season.shows, "show")
    if show_id in season.shows:
        raise Failure(f"There is a show {show_id} already; choose another --id. {NOTHING}", 2)
    return show_id, values, where


def _from_card(file: Path, units: Units) -> dict[str, Any]:
    """What a show's card says, in the keeper's units. Raises SeasonError with its lines."""
    _bytes(file)
    part = card_part((file, file.name))
    card: ShowCard | None = part.records.get("card")
    if card is None:
        raise SeasonError(part.problems)
    values = values_of(card, units)
    values.pop("units", None)
    sizes = values.get("sizes")
    if isinstance(sizes, dict):
        sizes.setdefault("unit", "cm" if card.units == "metric" else "in")
    return values


def ask_show(ask: Ask, units: Units, said: Mapping[str, Any], from_card: bool) -> dict[str, str]:
    """The answers about one show, but for what was said already."""
    questions = {
        "name": ("The show's name?", None),
        "judging": ("Judging begins when, such as 2027-06-12 10:00?", None),
        "travel_hours": ("How many hours at the wheel, one way?", None),
        "entries_close": ("Entries close on which day (empty: not known)?", ""),
    }
    found = {}
    for name, (question, left_out) in questions.items():
        if name in said or (from_card and left_out is not None):
            continue

        def check(text: str, name: str = name) -> str | None:
            return said_of(Show, name, text, units)

        found[name] = answer(ask, question, check, left_out)
    return {name: text for name, text in found.items() if text}


# ---- files


def _bytes(file: Path) -> bytes:
    if not file.is_file():
        raise Failure(f"There is no file {file}.", status=2)
    if file.stat().st_size > LARGEST:
        raise Failure(f"{file} is larger than {LARGEST // 1_000_000} MB: that is no such file.", 2)
    return file.read_bytes()


def _day_form(given: Given) -> DayForm:
    forms: tuple[DayForm, ...] = get_args(DayForm)
    said = given.get("dates", "year-first")
    for form in forms:
        if said == form:
            return form
    raise Failure(f"--dates {shown(said)}: {choose(said, forms)}", status=2)
