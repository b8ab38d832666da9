"""Files that no keeper would write, and mutated ones: only faults in words ever come out."""

from __future__ import annotations

import time
from datetime import date

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from showprep.season.problems import SeasonError
from showprep.season.reading import read_season
from showprep.season.yaml.nodes import Document, parse
from tests.storms import storm

ON = date(2027, 4, 1)
BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]\n"
    for before, name in zip("abcdefghi", "bcdefghij", strict=True)
)


# What is written, the line and column of the first fault (0 for the file as such), its words.
HOSTILE: list[tuple[str, str | bytes, str, str]] = [
    ("alias bomb", BOMB, "1:4", "&a gives a value a name"),
    ("undefined alias", "name: *x\n", "1:7", "*x stands for another value"),
    ("emphasis", "name: *Aoi* the red\n", "1:11", "put the whole value in double quotes"),
    ("anchor", "name: &x Aoi\n", "1:7", "&x gives a value a name"),
    ("anchor on a mapping", "a: &x {b: 1}\n", "1:4", "&x gives a value a name"),
    ("merge key", "<<: {name: Aoi}\n", "1:1", "'<<' cannot be a key"),
    ("tag", "name: !!python/object:os.system x\n", "1:7", "python/object:os.system"),
    ("tag of our own", "name: !x Aoi\n", "1:7", "!x says how to read the value"),
    ("tag on a list", "a: !!omap [b: 1]\n", "1:4", "omap says how to read"),
    ("unknown tag handle", "name: !a!b Aoi\n", "1:7", "begins with !"),
    ("deep list", "a: " + "[" * 1000 + "]" * 1000, "1:", "too many levels"),
    ("deep beyond libyaml", "[" * 100_000, "1:", "too many levels"),
    ("deep block", "".join(f"{' ' * at}a:\n" for at in range(30)), "21:21", "20 are enough"),
    ("deep dashes", "- " * 100_000, "1:", "too many levels"),
    ("deep keys", "? " * 100_000, "1:", "too many levels"),
    ("NUL", "name: a\0b\n", "1:8", "control character here (U+0000)"),
    ("escape character", "name: \x1b[31m\n", "1:7", "U+001B"),
    ("control character in quotes", 'name: "a\\0b"\n', "1:7", "cannot be printed"),
    ("not UTF-8", b"name: caf\xe9\n", "1:10", "not UTF-8"),
    ("not UTF-8, second line", b"# \xc3\xa9\nna\xefme: x\n", "2:3", "save the file as UTF-8"),
    ("UTF-16", "name: Aoi\n".encode("utf-16"), "1:1", "UTF-16"),
    ("tab", "a:\n\tb: 1\n", "2:1", "indent with spaces"),
    ("tab in a list", "a:\n- b\n-\tc: 1\n\td: 2\n", "3:2", "indent with spaces"),
    ("tab in a block of text", "note: |\n\ttext\n", "2:1", "begin it with spaces"),
    ("empty", "", "1:1", "there is nothing in this file"),
    ("blank", " \n\n", "1:1", "there is nothing in this file"),
    ("comment alone", "# nothing\n", "1:1", "there is nothing in this file"),
    ("null", "~\n", "1:1", "there is nothing in this file"),
    ("list", "- a\n- b\n", "1:1", "a list stands here"),
    ("text", "hello\n", "1:1", "plain text stands here"),
    ("two documents", "name: A\n---\nname: B\n", "2:1", "a second document begins here"),
    ("document ended", "name: A\n...\nmerit: 1\n", "3:1", "does not belong"),
    ("unclosed quote", "name: 'Aoi\nmerit: 1\n", "1:7", "quotation mark is not closed"),
    ("unclosed list", "a: [1, 2\n", "1:4", "list in brackets is not closed"),
    ("unclosed mapping", "a: {b: 1\n", "1:4", "mapping in braces is not closed"),
    ("colon in text", "name: Aoi: red\n", "1:10", "colon where none can stand"),
    ("no colon", "name: A\nmerit 1\nsex: male\n", "3:1", "line above is neither a key"),
    ("no space in braces", "a: {b:, c: 1}\n", "1:6", "colon with nothing after it"),
    ("indented wrongly", "name: A\n  sex: male\n", "2:6", "colon where none can stand"),
    ("list after keys", "name: A\n- b\n", "2:1", "does not go on from the line above"),
    ("keys after a list", "- a\nb: 1\n", "2:1", "not part of the list above"),
    ("dash in a value", "a: - b\n", "1:4", "a dash where no list can begin"),
    ("at sign", "name: @aoi\n", "1:7", "a value cannot begin with @"),
    ("backtick", "name: `aoi`\n", "1:7", "a value cannot begin with `"),
    ("percent", "%aoi\n", "1:", "the line begins with %"),
    ("YAML of the future", "%YAML 3.0\n---\nname: A\n", "1:1", "the line begins with %"),
    ("backslash", 'photo: "c:\\photos\\q"\n', "1:", "a backslash in double quotes"),
    ("half a surrogate", 'name: "\\ud800"\n', "1:", "a backslash in double quotes"),
    ("bar", "name: |red\n", "1:", "the value begins with | or >"),
    ("quote goes on", "name: 'Aoi' the red\n", "1:", "does not go on"),
    ("key of a list", "? [a]\n: b\n", "1:3", "a list or mapping stands where a key belongs"),
    ("key of nothing", "a: 1\n~ : b\n'': c\n", "3:1", "cannot be a key"),
    ("duplicate keys", "a: 1\n'a ': 2\n", "2:1", "'a' is here twice (first in line 1)"),
    ("numbers as keys", "1: 2\n2.5: 3\n", "1:1", "no such key is known here"),
    ("a huge number", f"merit: {'9' * 100_000}\n", "1:", "merit"),
    ("a huge exponent", "merit: 1e999999999\n", "1:", "merit"),
    ("not a number", "merit: .nan\n", "1:", "merit"),
    ("sexagesimal", "merit: 10:00\n", "1:8", "found where a number belongs"),
    ("a long key", f"{'a' * 1000}: 1\n", "1:1", "no such key"),
    ("mapping for text", "name: {a: b}\n", "1:7", "a mapping found where words belong"),
    (
        "fifty thousand wrong keys",
        "".join(f"k{at}: 1\n" for at in range(50_000)),
        "1:1",
        "no such key",
    ),
]


@pytest.mark.parametrize(
    ("content", "where", "words"), [row[1:] for row in HOSTILE], ids=[row[0] for row in HOSTILE]
)
def test_hostile_files_end_in_plain_words(folder, season_files, content, where, words) -> None:
    season_files["fish/aoi.yaml"] = content
    begun = time.process_time()
    with pytest.raises(SeasonError) as caught:
        read_season(folder(season_files), ON)
    assert time.process_time() - begun < 10
    lines = [str(problem) for problem in caught.value.problems]
    assert any(
        line.startswith(f"fish/aoi.yaml:{where}") and words.lower() in line.lower()
        for line in lines
    ), lines[:5]
    assert all(line.isprintable() and len(line) < 600 for line in lines)


@pytest.mark.parametrize("name", ["keeper.yaml", "shows.yaml", "fish.yaml", "journal.yaml"])
@pytest.mark.parametrize("content", [row[1] for row in HOSTILE[:-1]])
def test_hostile_content_in_any_file(folder, season_files, name, content) -> None:
    season_files[name] = content
    try:
        read_season(folder(season_files), ON)
    except SeasonError as error:
        assert all(problem.file for problem in error.problems)


def test_a_file_over_16_mb_is_refused_unread(folder, season_files) -> None:
    season_files["fish/aoi.yaml"] = b"#" * (17 * 2**20)
    with pytest.raises(SeasonError, match=r"fish/aoi.yaml: the file is too large \(17 MB\)"):
        read_season(folder(season_files), ON)


def test_the_plain_parser_says_the_same(monkeypatch) -> None:
    """Where PyYAML is built without its C parser, the pure one is used."""
    monkeypatch.setattr("showprep.season.yaml.nodes.BaseLoader", yaml.BaseLoader)
    monkeypatch.setattr("showprep.season.yaml.complaints.BaseLoader", yaml.BaseLoader)
    for name, content, where, _ in HOSTILE:
        document = Document("x.yaml")
        if isinstance(content, bytes) or len(content) > 5000:
            continue
        parse(content, document)
        if document.problems:
            first = str(document.problems[0])
            assert "cannot be read" not in first, (name, first)
            if not name.startswith(("un", "deep", "tab in", "bar", "percent")):
                assert first.startswith(f"x.yaml:{where.partition(':')[0]}"), (name, first)


def test_a_deep_file_in_the_plain_parser(monkeypatch) -> None:
    monkeypatch.setattr("showprep.season.yaml.nodes.BaseLoader", yaml.BaseLoader)
    document = Document("x.yaml")
    parse("[" * 5000, document)
    assert "too many levels" in str(document.problems[0])


NASTY = st.sampled_from(
    ["\t", "\r", "\0", "&a ", "*a", "<<: ", "!!str ", "---\n", "...", "{", "}", "[", "]", "'", '"',
     "- ", "? ", ": ", "#", "|\n", "> ", "%", "@", "~", "null", "\x85", "\u2028", "\ufeff", "🐟",
     "\u202e", "nan", "-1", "1e999", "2027-02-30", "0x1", "yes", ",", "  ", "\n", "\\", "9" * 400]
)  # fmt: skip


@given(
    file=st.sampled_from(["keeper.yaml", "shows.yaml", "fish/aoi.yaml", "journal.yaml"]),
    changes=st.lists(
        st.tuples(st.integers(0, 2000), st.integers(0, 12), st.one_of(NASTY, st.text(max_size=3))),
        min_size=1,
        max_size=4,
    ),
)
@settings(
    derandomize=True,
    max_examples=storm(60, 400),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_mutated_files_only_ever_end_in_faults(folder, season_files, file, changes) -> None:
    text = str(season_files[file])
    for at, length, put in changes:
        at %= len(text) + 1
        text = text[:at] + put + text[at + length :]
    mutated = {**season_files, file: text.encode("utf-8", "surrogatepass")}
    try:
        reading = read_season(folder(mutated), ON)
    except SeasonError as error:
        assert error.problems
        for problem in error.problems:
            assert str(problem).isprintable()
            assert "Input should" not in str(problem)
            assert 0 <= problem.line <= text.count("\n") + text.count("\r") + 20
    else:
        assert reading.season.keeper.waters


VALUES = st.recursive(
    st.one_of(NASTY.filter(lambda word: ":" not in word), st.integers().map(str)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(["name", "upper", "unit", "a"]), inner, max_size=3),
    ),
    max_leaves=4,
)


@given(key=st.integers(0, 60), value=VALUES)
@settings(
    derandomize=True,
    max_examples=storm(60, 300),
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
def test_any_value_under_any_key(folder, season_files, key, value) -> None:
    """Every error type of the typing is put in a keeper's words."""
    from showprep.season import records

    every = [
        (file, field.alias or name)
        for file, record in (
            ("keeper.yaml", records.Keeper),
            ("shows.yaml", records.Show),
            ("fish/aoi.yaml", records.Fish),
        )
        for name, field in record.model_fields.items()
    ]
    file, name = every[key % len(every)]
    text = str(season_files[file])
    one = yaml.safe_dump({name: value}, default_flow_style=True, allow_unicode=True, width=10**6)
    inner = one.strip().removeprefix("{").removesuffix("}")
    text += f"  {inner}\n" if file == "shows.yaml" else f"{inner}\n"
    try:
        read_season(folder({**season_files, file: text}), ON)
    except SeasonError as error:
        for problem in error.problems:
            assert str(problem).isprintable()
            assert "Input should" not in str(problem)
