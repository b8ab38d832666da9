"""Every reason that is made anywhere has words, and no words stand there for nothing."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from datetime import date, datetime
from importlib import import_module
from pathlib import Path

import pytest

import showprep
from showprep.husbandry.reason import (
    Blemish,
    Celsius,
    Centimetres,
    Chance,
    FishId,
    Kelvin,
    Litres,
    Millimetres,
    ShowId,
    reason,
)
from showprep.outputs.words import changes, jobs, kinds, speaker
from showprep.outputs.words.board_words import WORDS as BOARD_WORDS
from showprep.outputs.words.speaker import Speaker
from showprep.outputs.words.verdicts import VERDICTS
from showprep.planning.jobs.of_shows import job_table
from showprep.planning.plan import VERDICT_ORDER
from showprep.season.facts import shipped_facts

PACKAGE = Path(showprep.__file__).parent
WORDS = PACKAGE / "outputs" / "words"
ROOMS = ("husbandry", "selection", "season", "planning")


def made_in(path: Path) -> Iterator[tuple[str, frozenset[str]]]:
    """The code of every `reason("...", ...)` in a file, with the names of its values."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "reason":
            code = node.args[0]
            assert isinstance(code, ast.Constant), f"{path.name}:{node.lineno}: write the code"
            yield str(code.value), frozenset(one.arg for one in node.keywords if one.arg)


MADE = [
    (code, names)
    for room in ROOMS
    for path in sorted((PACKAGE / room).rglob("*.py"))
    for code, names in made_in(path)
]


def titles_in(path: Path) -> Iterator[str]:
    """The codes that name a job, or the day it counts from: no whole sentences."""
    tree = ast.parse(path.read_text("utf-8"))
    named = [node.value for node in ast.walk(tree) if isinstance(node, ast.keyword)
             and node.arg in ("title", "counts_from")]  # fmt: skip
    named += [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)
              and node.name == "_title"]  # fmt: skip
    for one in named:
        for node in ast.walk(one):
            if isinstance(node, ast.Call) and ast.unparse(node.func) == "reason":
                yield str(node.args[0].value)  # type: ignore[attr-defined]


TITLES = {code for path in (PACKAGE / "planning").rglob("*.py") for code in titles_in(path)}
TABLES = {
    name: import_module(f"showprep.outputs.words.{name}").SENTENCES for name in speaker.TABLES
}
SENTENCES = {code: said for table in TABLES.values() for code, said in table.items()}


def test_every_table_is_read() -> None:
    holding = {path.stem for path in WORDS.glob("*.py") if "\nSENTENCES: " in path.read_text()}
    assert holding == set(speaker.TABLES)


def test_no_code_has_two_sentences() -> None:
    assert len(SENTENCES) == sum(map(len, TABLES.values()))


def test_every_code_has_words_and_all_words_are_used() -> None:
    assert {code for code, _ in MADE} == set(SENTENCES)


def test_what_stands_against_an_entry_has_a_word_on_the_board() -> None:
    against = {code for code, _ in made_in(PACKAGE / "planning" / "verdicts" / "eligibility.py")}
    assert len(against) > 20
    assert against - {"step-to-show"} <= set(BOARD_WORDS)  # that one is told within another


def test_a_sentence_names_only_values_that_every_maker_gives() -> None:
    for code, names in MADE:
        said = SENTENCES[code]
        if isinstance(said, str):
            wanted = {name for _, name, _, _ in string.Formatter().parse(said) if name
                      and name.isidentifier()}  # fmt: skip
            assert wanted <= names, code


def test_what_a_phone_is_told_stands_below_what_others_are_told() -> None:
    """In the same module, other than there, and with no more values than are given."""
    for name, table in TABLES.items():
        module = import_module(f"showprep.outputs.words.{name}")
        for code, said in getattr(module, "ON_PHONE", {}).items():
            other = table[code]
            assert isinstance(said, str) and isinstance(other, str) and said != other
            assert said.endswith(".") and not said[0].islower(), code
            here, there = ({part for _, part, _, _ in string.Formatter().parse(text) if part}
                           for text in (said, other))  # fmt: skip
            assert here <= there, code


def test_every_template_is_a_sentence() -> None:
    for code, said in SENTENCES.items():
        if isinstance(said, str) and code not in {*TITLES, "warm-on-day"}:  # parts of others
            assert said.endswith((".", "?", ":sentence}")), code
            assert not said[0].islower(), code


def test_every_job_of_the_table_has_its_words() -> None:
    assert list(jobs.OF_SHOWS) == [row.kind for row in job_table()]
    assert {row.event for row in job_table()} <= set(jobs.EVENTS)
    for words in jobs.OF_SHOWS.values():
        assert list(words) == ["title", "note", "late"]
        assert not words["title"].endswith(".")
        assert words["note"].endswith(".") and words["late"].endswith(".")


def test_every_kind_has_its_words_and_every_verdict() -> None:
    assert set(kinds.KINDS) == set(shipped_facts().kinds)
    assert tuple(VERDICTS) == VERDICT_ORDER


SAID = Speaker("us", date(2027, 5, 1), {"aoi": "Aoi", "ren": "Ren"}, {"lark": "Larkfield"})
AOI, LARK, FLANK = FishId("aoi"), ShowId("lark"), Blemish("net-mark", "left flank")
DAY, LATER = date(2027, 6, 11), date(2027, 6, 14)
WOUND = {"it": FLANK, "milestone": "closed", "usual": DAY, "by": DAY}


@pytest.mark.parametrize(
    ("told", "text"),
    [
        (
            reason("heals-late", **WOUND, days=3),  # type: ignore[arg-type]
            "Net mark or graze, no scale lost, left flank: closed about Fri 11 June, 3 days after "
            "departure on Fri 11 June.",
        ),
        (
            reason("heals-doubtful", it=FLANK, usual=DAY, slow=None, by=DAY, chance=Chance(0.59)),
            "Net mark or graze, no scale lost, left flank: clean about Fri 11 June; benching on "
            "Fri 11 June: chance only 5 in 10.",
        ),
        (
            reason(
                "no-day-is-fit",
                first=DAY,
                last=LATER,
                why=reason("water-too-cold", water=Celsius(9.5), limit=Celsius(10)),
            ),
            "No day from Fri 11 June to Mon 14 June is fit: the water is 49.1 °F, below 50 °F: "
            "too cold to sedate.",
        ),
        (
            reason("no-day-is-fit", first=DAY, last=LATER, why=reason("no-work-day", day=DAY)),
            "No day from Fri 11 June to Mon 14 June is fit: Fri 11 June is no work day.",
        ),
        (
            reason("speck-can-come-off", speck=reason("speck", it=FLANK, more=1), first=DAY,
                   last=DAY, best=DAY, chance=Chance(0.999)),
            "Net mark or graze, no scale lost, left flank and 1 more: can be taken off on Fri 11 "
            "June: chance 9 in 10.",
        ),
        (
            reason("cold-drop", fall=Kelvin(9), days=35, limit=Kelvin(8)),
            "The water fell by 16.2 °F within the last 35 days; after a fall of 14.4 °F a fish "
            "heals badly and is left alone.",
        ),
        (
            reason("speck-too-large", size=Millimetres(5.08), most=Millimetres(3)),
            "At 0.2 in it is larger than the 0.12 in that a keeper may take off.",
        ),
        (
            reason("too-long", length=Centimetres(50.8), most=Centimetres(45.72)),
            "About 20 in on the day; the show takes fish up to 18 in.",
        ),
        (
            reason(
                "verdict-changed",
                fish=AOI,
                show=LARK,
                parts=(
                    reason("verdict-becomes", old="ready-after-touch-up", new="as-it-is"),
                    reason("now-goes"),
                    reason("touch-up-moved", old=DAY, new=LATER),
                ),
            ),
            "Aoi for Larkfield: ready after touch-up becomes as it is, now goes, touch-up moved "
            "from Fri 11 June to Mon 14 June.",
        ),
        (
            reason("jobs-fish-changed", jobs=1, show=LARK, come=(FishId("ren"),), gone=(AOI,)),
            "1 job of Larkfield: now with Ren and without Aoi.",
        ),
        (
            reason("job-moved", title="Leave", old=DAY, new=datetime(2027, 7, 2, 11)),
            "Leave: moved from Fri 11 June to Fri 2 July 11:00.",
        ),
        (
            reason("not-read-of-late", fish=(AOI, FishId("ren")), more=2),
            "it was not read of late, and Aoi, Ren and 2 more heal by its warmth.",
        ),
        (
            reason("jobs-are-late", jobs=4, shown=("A", "B", reason("ring-a-vet", fish=AOI,
                                                                    it=FLANK))),
            "4 jobs are late: A, B, Ring a vet about Aoi: net mark or graze, no scale lost, left "
            "flank and others.",
        ),
        (
            reason("had-no-such", fish=AOI, kind="shimi", where="head", on=DAY),
            "Aoi had no shimi at head on Fri 11 June 2027; note it first with --saw 'new defect'.",
        ),
        (reason("kind-note", kind="bruised-snout"), kinds.KINDS["bruised-snout"].note),
        (
            reason("job-of-show-how", job="warm-for-test", show=LARK, months=None,
                   rate=Kelvin(0.5), untreated=14),
            "0.9 °F a day at most; then 10 to 14 days at about 73.4 °F before the sample is taken.",
        ),
        (
            reason("job-of-show-how", job="last-treatment", show=LARK, months=None,
                   rate=Kelvin(1), untreated=21),
            "From here on no bath treatments unless a vet says so: they change the skin, and "
            "finish on the day is judged. Never in the last 21 days.",
        ),
        (
            reason("reserve-on-form", fish=AOI, rule="not stated"),
            "Ask whether it may name a reserve: Aoi would be the first.",
        ),
        (
            reason("reserve-steps-in", fish=AOI, rule="allowed"),
            "If one stays, Aoi goes in its place, checked in the same way.",
        ),
        (
            reason("with-reserve", how=reason("look-back-how"),
                   reserve=reason("reserve-on-form", fish=AOI, rule="allowed")),
            "Of the touch-up: closed? Clean? Red, fluffy or dark? Write it down. Dark cells round "
            "the wound from day 3 are part of healing. Name Aoi on it as first reserve.",
        ),
        (reason("days-from-event", days=-42, event="home"), "42 days before coming home"),
        (reason("days-from-event", days=0, event="entries_close"),
         "on the day of the close of entries"),
        (reason("days-from-event", days=1, event="judging"), "1 day after judging"),
        (
            reason("days-apart", days=60, vats="shared", below=Celsius(16), above=Celsius(28)),
            "60 days after a show with shared vats. A day below 60.8 °F or above 82.4 °F starts "
            "the count again: KHV hides there.",
        ),
        (
            reason("vat-too-small", fish=2, show=LARK, needed=Litres(2000), water="vat",
                   litres=Litres(400)),
            "2 fish home from Larkfield want about 528 US gal (assumption); the vat has 106 US "
            "gal. More water changes, or fewer fish.",
        ),
        (
            reason("session-how", each=(
                reason("fish-in-session", fish=AOI, specks=(FLANK, Blemish("shimi")),
                       heals_in="vat", rate=Kelvin(1)),
                reason("fish-in-session", fish=FishId("ren"), specks=(), heals_in=None,
                       rate=Kelvin(1)),
            )),
            "2 fish, smallest dose first, one at a time. Aoi: left flank and shimi, then heals in "
            "the vat (warmed 1.8 °F a day). Ren: the speck, if it is back: look before you net "
            "the fish. Write it down afterwards.",
        ),
        (reason("look-if-clean", fish=AOI, kind="net-mark"),
         "Look at Aoi's net mark: clean now?"),
        (reason("event-at-show", event="benching", show=LARK), "Benching: Larkfield"),
    ],
    ids=lambda value: value.code if hasattr(value, "code") else "",
)  # fmt: skip
def test_what_is_told(told: object, text: str) -> None:
    assert SAID.say(told) == text  # type: ignore[arg-type]


def test_the_note_on_a_kind_is_in_the_keepers_units() -> None:
    note = SAID.text(reason("kind-note", kind="red-spots"))
    assert "60.8 °F to 82.4 °F" in note and "°C" not in note
    assert "3 mm or less" in Speaker().text(reason("kind-note", kind="shimi"))


def test_every_word_of_the_journal_is_told_as_a_reason() -> None:
    def noted(word: str) -> str:
        told = reason("noted", word=word, on=DAY, fish=AOI, show=LARK, water="pond", to=LATER,
                      what="salt", kind="net-mark")  # fmt: skip
        return SAID.text(told)

    assert noted("sold") == "Aoi was sold on Fri 11 June."
    assert noted("postponed") == "Larkfield was moved to Mon 14 June; heard on Fri 11 June."
    assert noted("unheard of") == "Aoi: unheard of on Fri 11 June."

    def both(*words: str) -> str:
        return changes.why_text(SAID, [
            reason("noted", word=word, on=DAY, fish=AOI, show=None, water="pond", to=None,
                   what=None, kind=None)
            for word in words
        ])  # fmt: skip

    assert both("sold", "parasites") == (
        "Aoi was sold on Fri 11 June and parasites were found in the pond on Fri 11 June."
    )
    assert both("vet", "sold") == "A vet saw Aoi on Fri 11 June and Aoi was sold on Fri 11 June."
