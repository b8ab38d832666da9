"""`note`: write down what was done or seen, if it can be true; ask for what is missing."""

from __future__ import annotations

import json
import sys
from collections.abc import Collection, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import get_args

from pydantic import ValidationError

from showprep.commands.asking import TRIES, Ask, terminal
from showprep.commands.day_words import day_asked
from showprep.commands.names import meant, named
from showprep.commands.streams import say
from showprep.husbandry.reason import Reason
from showprep.outputs.failure import Failure
from showprep.outputs.words.speaker import Speaker
from showprep.planning.as_of.note_truth import about, advice, objections
from showprep.season.checks.journal import NEEDS
from showprep.season.journal import Journal, JournalError, JournalFaulty
from showprep.season.journal_text import as_written, block
from showprep.season.reading import read_season
from showprep.season.records import IMPLIED, PLAIN_NOTE, Did, JournalEntry, Saw, Season
from showprep.season.values.kinds import is_lay
from showprep.season.values.measures import NO_UNIT, is_bare
from showprep.season.values.quantities import Units
from showprep.season.values.unit_keys import OF_METRIC, key_found, metric_key, with_metric_keys
from showprep.season.values.wording import choose, folded, listed

FORMAT = 1  # of the JSON
DID: tuple[str, ...] = get_args(Did)
SAW: tuple[str, ...] = get_args(Saw)
# What goes with a value that makes a fact of its own beside --did and --saw.
WITH: dict[str, tuple[str, ...]] = {
    "to": ("ramp_c_per_day",),
    "treatment": ("by_vet", "parasite"),
    "result": ("remarks",),
}
ABOUT = ("fish", "show", "water")
OF_A_BLEMISH = ("defect", "where", "size_mm", "merit_lost")
UNDONE = "It counts no longer; what was written stays in the journal."
QUESTIONS = {
    "fish": "Which fish?",
    "show": "Which show?",
    "water": "Which water?",
    "to": "Moved to which water?",
    "defect": "Which kind of blemish?",
    "measured_cm": "How long",
    "weighed_kg": "How heavy",
    "read_c": "How warm",
    "to_day": "To which day?",
    "touch_up_on": "On which day is the touch-up to be?",
    "job": "Which job (its id)?",
}
OF_ONE_FISH = ("measured_cm", "weighed_kg", "photo", "result")


def facts(given: Mapping[str, str], season: Season, ask: Ask | None) -> list[dict[str, str]]:
    """The entries that `given` makes, the several things of one handling each in its own.

    Raises Failure (wrong usage) that names what is missing, or what did and saw may be.
    """
    found: list[dict[str, str]] = []
    rest = dict(_told(given, ask))
    told = [rest[key] for key in ("did", "saw") if key in rest]
    for key, which, word in IMPLIED:
        if key in rest and told and not _goes_with(key, word, told, rest):
            found.append({which: word, **_taken(rest, (key, *WITH.get(key, ())), NEEDS[word])})
            if key == "read_c" and "fish" in rest:
                rest.pop("water", None)  # it was that of the reading
    if "did" in rest and "saw" in rest:
        of_saw = rest["saw"] == "new defect" or rest["did"] not in ("vet", "touch-up")
        kept = ("saw", "photo", *(OF_A_BLEMISH if of_saw else ()))
        seen = _taken(rest, kept, NEEDS.get(rest["saw"], ()))
        found = [rest, *found, seen]
    else:
        found.insert(0 if "did" in rest else len(found), rest)
    return [completed(one, season, ask) for one in found]


def _goes_with(key: str, word: str, told: Sequence[str], values: Mapping[str, str]) -> bool:
    """Is a value part of what was said to be done or seen, and no fact of its own?"""
    if word in told or key == "job":
        return True
    if key == "parasite":
        return not {"treatment", "parasites"}.isdisjoint(told) or "treatment" in values
    return key == "read_c" and "water" not in values


def _taken(rest: dict[str, str], keys: Sequence[str], needs: Sequence[str]) -> dict[str, str]:
    """What goes into an entry of its own: its keys out of the rest, and what it is about."""
    about = {name for need in needs for name in need.split(" or ")}
    whole = {"on": rest["on"]} | {name: rest[name] for name in ABOUT if name in about & {*rest}}
    return whole | {key: rest.pop(key) for key in keys if key in rest}


def completed(given: dict[str, str], season: Season, ask: Ask | None) -> dict[str, str]:
    """One entry with, where there is somebody to ask, what it lacks."""
    values = dict(given)
    did_or_saw = values.get("did") or values.get("saw") or PLAIN_NOTE
    for need in NEEDS[did_or_saw]:
        names = need.split(" or ")
        if any(values.get(name) for name in names):
            continue
        if ask is None:
            raise Failure(f"{did_or_saw!r}: {_options(names)} is missing.", status=2)
        if names[0] in OF_METRIC:
            values[names[0]] = _amount_asked(names[0], season.keeper.units, ask)
        else:
            values[names[0]] = _asked(QUESTIONS[names[0]], known(season, names[0]), ask)
    return values


def _amount_asked(name: str, units: Units, ask: Ask) -> str:
    """An amount, with the unit that was asked for where the answer has none."""
    amount = OF_METRIC[name].amount
    unit = amount.unit if units == "metric" else amount.asked[units][0]
    shown_unit = {"F": "°F", "C": "°C"}.get(unit, unit)
    answer = _asked(f"{QUESTIONS[name]} ({shown_unit})?", None, ask)
    return f"{answer} {unit}" if is_bare(answer) else answer


def known(season: Season, name: str) -> Mapping[str, str] | None:
    """What may stand for a value, each with its name; None where it is no name."""
    if name == "fish":
        return {one: season.fish[one].name for one in sorted(season.fish)}
    if name == "show":
        return {one: season.shows[one].name for one in sorted(season.shows)}
    return {one: one for one in season.keeper.waters} if name in ("water", "to") else None


def _told(given: Mapping[str, str], ask: Ask | None) -> dict[str, str]:
    """The values with did and saw spelled as the journal does; a plain note has neither."""
    values = {key: value for key, value in given.items() if value or key not in ("did", "saw")}
    for key, words in (("did", DID), ("saw", SAW)):
        if key in values:  # stop-feeding, as a shell completes it, is stop feeding
            alike = (word for word in words if folded(word) == folded(values[key]))
            values[key] = next(alike, values[key])
    if "did" not in values and "saw" not in values:
        for name, key, word in IMPLIED:
            if values.get(name):
                return {**values, key: word}
        if values.get("note") or values.get("photo"):
            return values
        if ask is None:
            raise Failure(
                "Say what was done (--did) or seen (--saw), or --note with your own words.",
                status=2,
            )
        answer = _asked("What was done or seen?", (*DID, *SAW), ask, shown=True)
        values["did" if answer in DID else "saw"] = answer
    for key, words, other, others in (("did", DID, "saw", SAW), ("saw", SAW, "did", DID)):
        said = values.get(key, "")
        if said and said not in words:
            if said in others:
                raise Failure(f"{said!r} goes with --{other}: --{other} {said!r}.", status=2)
            raise Failure(f"--{key} {said!r}: {_choice(said, words)}.", status=2)
    return values


def _choice(word: str, words: Collection[str]) -> str:
    right = choose(word, words)
    return right if right.endswith("?") else f"it may be {listed(words)}"


def _asked(question: str, names: Collection[str] | None, ask: Ask, *, shown: bool = False) -> str:
    few = names is not None and (shown or len(names) <= 12)
    text = f"{question} ({listed(names)})" if names and few else question
    for _ in range(TRIES):
        answer = ask(text).strip()
        if not answer:
            break
        if names is None or answer in names:
            return answer
        if isinstance(names, Mapping) and len(found := meant(answer, names)) == 1:
            return found[0]
        text = f"There is no {answer!r}; {choose(answer, names)}"
    raise Failure("Nothing was noted.", status=2)


def _options(names: Collection[str]) -> str:
    return " or ".join("--" + name.replace("_", "-") for name in names)


def run(
    folder: Path,
    given: Mapping[str, str],
    fish: Sequence[str],
    today: date,
    *,
    as_json: bool = False,
    undo: bool = False,
    ask: Ask | None = None,
    jobs: Collection[str] | None = None,
) -> None:
    """Append what was done and seen, for each of several fish, to the journal of `folder`.

    With `undo` append instead that the last entry with these values is taken back.
    `given` are the values of the entry as text; `today` is the day by the clock; `jobs` are as
    `written` has them. Raises
    SeasonError for faults in the season's files, Failure (wrong usage) for what is missing or
    cannot be true. All entries are written, or none.
    """
    ask = ask or terminal()
    season, entries = written(folder, given, fish, today, undo=undo, ask=ask, jobs=jobs)
    if undo:
        _say_undone(entries, season.keeper.units, as_json=as_json)
    else:
        _say(season, entries, given.get("defect"), as_json=as_json)


def written(
    folder: Path,
    given: Mapping[str, str],
    fish: Sequence[str],
    today: date,
    *,
    undo: bool = False,
    ask: Ask | None = None,
    jobs: Collection[str] | None = None,
) -> tuple[Season, list[JournalEntry]]:
    """Check and append as `run` does, without a word; gives the season before it, and the entries.

    `jobs` are the ids of the planned jobs where they are known; None works the plan out to ask.
    """
    on = _day(given.get("on"), today)
    _allow_ahead(on, today, ask)
    season = read_season(folder, max(on, today)).season
    units = season.keeper.units
    values = {**_one_of_each(given), "on": on.isoformat()}
    fish = [named("fish", one, known(season, "fish") or {}) for one in fish]
    for name in ("show", "water", "to"):
        if name in values:
            noun = "show" if name == "show" else "water"
            values[name] = named(noun, values[name], known(season, name) or {})
    if undo:
        typed = _typed(values, given, units)  # as amounts: 22.0 is what was written as 22
        wanted = {key: getattr(typed, key) for key in values if key != "on" or "on" in given}
        taken = _taken_back(season, wanted, fish, today)
        _append(folder, taken, units)
        return season, taken
    if "photo" in values:
        values["photo"] = _photo(folder, values["photo"])
    told = facts({**values, "fish": fish[0]} if fish else values, season, ask)
    entries = [
        entry
        for one in told
        for entry in _entries(one, fish if "fish" in one else (), given, units)
    ]
    _check(season, entries, folder, on, today, jobs)
    _append(folder, entries, units)
    return season, entries


def _append(folder: Path, entries: Sequence[JournalEntry], units: Units) -> None:
    try:
        journal = Journal(folder)
        journal.append(entries, units)
    except JournalFaulty as error:
        raise Failure(str(error), status=3) from error
    except JournalError as error:
        raise Failure(f"{_begin(str(error))}.", status=1) from error
    if journal.kept is not None:
        say(f"The journal before this note: {journal.kept}", err=True)


def _taken_back(
    season: Season, wanted: Mapping[str, object], fish: Sequence[str], today: date
) -> list[JournalEntry]:
    """The last entries that say what is `wanted`, one, or one of each fish, as they are undone."""
    asked = {key: value for key, value in wanted.items() if key != "fish"}
    found = []
    for one in dict.fromkeys(fish) if fish else (None,):
        same = {**asked, "fish": one} if one is not None else asked
        entry = next(
            (
                entry
                for entry in reversed(season.journal)
                if all(getattr(entry, key) == value for key, value in same.items())
            ),
            None,
        )
        if entry is None:
            said = "The journal holds no such note that still stands."
            raise Failure(said, status=2, codes=("nothing-to-take-back",))
        found.append(entry.model_copy(update={"undone": today}))
    return found


def _say_undone(entries: Sequence[JournalEntry], units: Units, *, as_json: bool) -> None:
    written = [as_written(entry, units) for entry in entries]
    if as_json:
        print(json.dumps({"taken_back": written, "format": FORMAT}, ensure_ascii=False, indent=2))  # noqa: T201
        return
    say("Taken back in journal.yaml:\n" + "".join(map(block, written)) + UNDONE)


def _day(text: str | None, today: date) -> date:
    if text is None:
        return today
    try:
        return day_asked(text, today)
    except ValueError as error:
        raise Failure(f"--on: {error}.", status=2) from None


def _allow_ahead(on: date, today: date, ask: Ask | None) -> None:
    """A day still to come is most likely a slip: ask, or at least say so."""
    if on <= today:
        return
    ahead = f"{on} has not come yet by this computer's clock, which says {today}"
    if ask is None:
        print(f"Note: {ahead}.", file=sys.stderr)  # noqa: T201
    elif ask(f"{ahead}. Is it right? (yes or no)").strip().casefold() not in ("y", "yes"):
        raise Failure("Nothing was noted.", status=2)


def _one_of_each(given: Mapping[str, str]) -> dict[str, str]:
    """The values by their metric names, each with its unit; one amount cannot be given twice."""
    values = with_metric_keys(given, JournalEntry.model_fields)
    for key in values:
        metric = str(metric_key(key))
        if metric != key:
            raise Failure(f"{_option(metric)} and {_option(key)}: give one of the two.", status=2)
    return values


def _entries(
    values: Mapping[str, str], fish: Sequence[str], given: Mapping[str, str], units: Units
) -> list[JournalEntry]:
    if len(fish) > 1:
        for name in OF_ONE_FISH:
            if name in values:
                option = _option(str(key_found(given, name) or name))
                raise Failure(f"{option} is of one fish; write a note for each.", status=2)
    if not fish:
        return [_typed(values, given, units)]
    return [_typed({**values, "fish": one}, given, units) for one in dict.fromkeys(fish)]


def _typed(
    values: Mapping[str, str], given: Mapping[str, str], units: Units = "metric"
) -> JournalEntry:
    try:
        return JournalEntry.model_validate(values, context={"units": units})
    except ValidationError as error:
        raise Failure("\n".join(_faults(error, given)), status=2) from None


def _option(name: str) -> str:
    return "--" + name.replace("_", "-")


def _faults(error: ValidationError, given: Mapping[str, str]) -> list[str]:
    """Each fault as a line that names the option it was given with."""
    lines = []
    for fault in error.errors(include_url=False):
        name = str(fault["loc"][0])
        option = _option(str(key_found(given, name) or name))
        context = fault.get("ctx", {})
        if fault["type"] in ("plain", NO_UNIT):
            lines.append(f"{option}: {context['what']}; {context['right']}.")
        else:
            lines.append(f"{option}: {fault['input']!r} cannot be right ({fault['msg'].lower()}).")
    return lines


def _photo(folder: Path, written: str) -> str:
    """The photo's place inside the season folder, whether named from there or from here."""
    for path in (folder / written, Path(written)):
        if path.is_file():
            inside = path.resolve()
            if not inside.is_relative_to(folder.resolve()):
                raise Failure(f"{written} is not in the season's folder; copy it there first.", 2)
            return inside.relative_to(folder.resolve()).as_posix()
    raise Failure(f"There is no photo {written}.", status=2)


def _check(
    season: Season,
    entries: Sequence[JournalEntry],
    folder: Path,
    on: date,
    today: date,
    jobs: Collection[str] | None,
) -> None:
    against: list[Reason] = []
    for entry in entries:
        against += objections(season, entry, folder, today)
        season = season.model_copy(update={"journal": (*season.journal, entry)})
    if against:
        speaker = _speaker(season)
        lines = [_begin(speaker.text(one)) for one in dict.fromkeys(against)]
        codes = [one.code for one in against]
        raise Failure("\n".join([*lines, "Nothing was noted."]), status=2, codes=codes)
    for job in {entry.job for entry in entries if entry.job is not None} - set(jobs or ()):
        _check_job(season, job, on)


def _check_job(season: Season, job: str, on: date) -> None:
    """A job by a wrong id would go on being late without a word: only planned ones are taken."""
    from showprep.planning.season_plan import make_plan

    others = tuple(entry for entry in season.journal if entry.job != job)
    plan = make_plan(season.model_copy(update={"journal": others}), on, costs=False, tells=False)
    ids = [task.id for task in plan.tasks]
    if job not in ids:
        raise Failure(f"There is no job {job!r} in the plan; {choose(job, ids)}", status=2)


def _say(
    season: Season, entries: Sequence[JournalEntry], kind: str | None, *, as_json: bool
) -> None:
    """What was noted, with the `kind` of defect as it was said, if in other words than its own."""
    units, speaker, figures = season.keeper.units, _speaker(season), season.keeper.figures
    words = speaker.texts(
        dict.fromkeys(word for entry in entries for word in advice(entry, figures))
    )
    if as_json:
        told = {
            "noted": [as_written(entry, units) for entry in entries],
            "advice": list(words),
            "format": FORMAT,
        }
        print(json.dumps(told, ensure_ascii=False, indent=2))  # noqa: T201
        return
    say("Noted in journal.yaml:")
    if kind is not None and is_lay(kind):
        say(f"{kind}: {next(one.defect for one in entries if one.defect)}")
    for entry in entries:
        say(block(as_written(entry, units)).rstrip("\n"))
        for line in about(season, entry):
            say(speaker.text(line))
    for word in words:
        print(word)  # noqa: T201


def _speaker(season: Season) -> Speaker:
    return Speaker(
        units=season.keeper.units,
        fish={name: fish.name for name, fish in season.fish.items()},
        shows={name: show.name for name, show in season.shows.items()},
    )


def _begin(words: str) -> str:
    return words[:1].upper() + words[1:]
