"""`schema`: printed, and put where the first line of a season's files names it."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path

import pytest

from showprep.commands.schema import run
from showprep.outputs.failure import Failure
from showprep.season.editors import SCHEMAS, schema_text
from showprep.season.reading import read_season
from showprep.season.starting import start_season
from tests.conftest import Outside

Draft7Validator = Outside().module("jsonschema").Draft7Validator

ON = date(2027, 3, 20)


@pytest.mark.parametrize("name", SCHEMAS)
def test_it_is_printed(name: str, capsys) -> None:
    run(name, None)
    Draft7Validator.check_schema(json.loads(capsys.readouterr().out))


def test_every_file_of_a_new_season_names_a_schema_that_is_there(tmp_path: Path) -> None:
    for path in start_season(tmp_path / "yard", ON):
        first = path.read_text("utf-8").splitlines()[0]
        named = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
        assert named is not None, path
        schema = json.loads((path.parent / named[1]).read_text("utf-8"))
        assert schema["$schema"].startswith("http://json-schema.org/draft-07")
    assert read_season(tmp_path / "yard", ON).warnings == ()


def test_an_older_season_gets_them_and_nothing_of_the_keeper_is_changed(folder, capsys) -> None:
    root = folder({"keeper.yaml": "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\n"})
    run(None, root)
    told = capsys.readouterr().out
    assert "  fish/ID.yaml  # yaml-language-server: $schema=../.showprep/fish.schema.json" in told
    assert (root / "keeper.yaml").read_text() == "time_zone: UTC\nwaters: {pond: {steady_c: 18}}\n"
    for name in SCHEMAS:
        assert (root / ".showprep" / f"{name}.schema.json").read_text("utf-8") == schema_text(name)


def test_what_is_not_there_is_refused(tmp_path: Path) -> None:
    for name, into, words in (
        ("fsh", None, "did you mean fish"),
        (None, None, "keeper, shows, fish, fish-list, journal or show-card"),
        (None, tmp_path, "is no season"),
    ):
        with pytest.raises(Failure, match=words) as failure:
            run(name, into)
        assert failure.value.status == 2
    assert list(tmp_path.iterdir()) == []
