"""What a note still lacks: asked for at a terminal, named otherwise."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import get_args

from showprep.outputs.failure import Failure
from showprep.season.check_journal import NEEDS
from showprep.season.measures import is_bare
from showprep.season.quantities import Units
from showprep.season.records import Did, Saw, Season
from showprep.season.unit_keys import OF_METRIC
from showprep.season.wording import choose, listed

Ask = Callable[[str], str]
TRIES = 3
DID: tuple[str, ...] = get_args(Did)
SAW: tuple[str, ...] = get_args(Saw)
# What a value says by itself, when neither did nor saw is given; the first that fits.
IMPLIED = (
    ("to_day", "did", "postponed"),
    ("result", "did", "result"),
    ("to", "did", "move"),
    ("treatment", "did", "treatment"),
    ("measured_cm", "did", "measure"),
    ("weighed_kg", "did", "weigh"),
    ("read_c", "saw", "temperature"),
    ("job", "did", "job"),
)
QUESTIONS = {
    "fish": "Which fish?",
    "show": "Which show?",
    "water": "Which water?",
    "to": "Moved to which water?",
    "defect": "Which kind of mark?",
    "measured_cm": "How long",
    "weighed_kg": "How heavy",
    "read_c": "How warm",
    "to_day": "To which day?",
    "job": "Which job (its id)?",
}


def completed(given: dict[str, str], season: Season, ask: Ask | None) -> dict[str, str]:
    """`given` with what it implies and, where there is somebody to ask, what it lacks.

    Raises Failure (wrong usage) that names what is missing, or what did and saw may be.
    """
    values = dict(given)
    _told(values, ask)
    did_or_saw = values.get("did") or values["saw"]
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


def known(season: Season, name: str) -> Collection[str] | None:
    """The names that may stand for a value; None where it is no name."""
    if name == "fish":
        return sorted(season.fish)
    if name == "show":
        return sorted(season.shows)
    return list(season.keeper.waters) if name in ("water", "to") else None


def _told(values: dict[str, str], ask: Ask | None) -> None:
    """Exactly one of did and saw, spelled as the journal does."""
    if values.get("did") and values.get("saw"):
        raise Failure("One note says one thing: give --did or --saw, not both.", status=2)
    if not values.get("did") and not values.get("saw"):
        for name, key, word in IMPLIED:
            if values.get(name):
                values[key] = word
                return
        if ask is None:
            raise Failure("Say what was done (--did) or what was seen (--saw).", status=2)
        word = _asked("What was done or seen?", (*DID, *SAW), ask, shown=True)
        values["did" if word in DID else "saw"] = word
    for key, words, other, others in (("did", DID, "saw", SAW), ("saw", SAW, "did", DID)):
        word = values.get(key, "")
        if word and word not in words:
            if word in others:
                raise Failure(f"{word!r} goes with --{other}: --{other} {word!r}.", status=2)
            raise Failure(f"--{key} {word!r}: {_choice(word, words)}.", status=2)


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
        text = f"There is no {answer!r}; {choose(answer, names)}"
    raise Failure("Nothing was noted.", status=2)


def _options(names: Collection[str]) -> str:
    return " or ".join("--" + name.replace("_", "-") for name in names)
