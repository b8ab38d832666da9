"""The rules of the house: who imports whom, where no clock is read, what is loaded when."""

from __future__ import annotations

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

import showprep

PACKAGE = Path(showprep.__file__).parent
ROOMS = ("husbandry", "selection", "season", "planning", "outputs", "commands")  # lowest first
MODULES = sorted(PACKAGE.rglob("*.py"))
HEAVY = (
    *("icalendar", "highspy", "numpy", "jinja2", "msgspec", "pydantic", "rich", "yaml"),
    *("dateutil", "filelock", "PIL"),
)

# What the calendar counts in is its own format's, not a date of the season: DTSTAMP, the length of
# alarms, the search for a change of clocks, and for how long a cancelled job is kept.
CALENDAR = PACKAGE / "outputs" / "calendar"


def name_of(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def in_room(room: str) -> list[Path]:
    return [path for path in MODULES if name_of(path).startswith(f"{room}/")]


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def imports(path: Path) -> tuple[str, ...]:
    """The full name of everything a module imports, wherever in it."""
    found = []
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            found += [one.name for one in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{name_of(path)}:{node.lineno}: write the full name"
            assert node.module
            found += [f"{node.module}.{one.name}" for one in node.names]
    return tuple(found)


@cache
def calls(path: Path) -> tuple[str, ...]:
    """Every call, as it is written: `print`, `date.today`, `path.open`."""
    return tuple(
        ast.unparse(node.func) for node in ast.walk(tree(path)) if isinstance(node, ast.Call)
    )


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_imports_only_rooms_below_it(room: str) -> None:
    below = ROOMS[: ROOMS.index(room) + 1]
    for path in in_room(room):
        for name in imports(path):
            if name.startswith("showprep."):
                assert name.split(".")[1] in below, f"{name_of(path)} imports {name}"


def test_nothing_below_the_commands_is_outside_the_rooms() -> None:
    outside = {name_of(path) for path in MODULES if path.parent == PACKAGE}
    assert outside == {"__init__.py", "__main__.py", "cli.py"}
    assert {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()} == set(
        ROOMS
    )


@pytest.mark.parametrize("path", in_room("husbandry"), ids=name_of)
def test_husbandry_is_plain_numbers_and_dates(path: Path) -> None:
    never = {"pathlib", "os", "io", "sys", "time", "random", "pydantic", "yaml", "locale"}
    assert not {name.split(".")[0] for name in imports(path)} & never
    for call in calls(path):
        last = call.split(".")[-1]
        assert last not in ("now", "utcnow", "today", "localtime", "time"), call
        assert call not in ("open", "print", "input"), call


@pytest.mark.parametrize("path", in_room("husbandry"), ids=name_of)
def test_what_husbandry_offers_is_explained(path: Path) -> None:
    module = tree(path)
    assert ast.get_docstring(module), name_of(path)
    for node in module.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), f"{name_of(path)}: {node.name}"


def test_the_clock_is_asked_in_one_place() -> None:
    asking = {
        name_of(path)
        for path in MODULES
        for call in calls(path)
        if call.endswith((".today", ".utcnow", "time.time", "datetime.now", "date.now"))
    }
    assert asking == {"commands/options.py"}


def test_no_output_computes_a_date() -> None:
    for path in in_room("outputs"):
        if path.is_relative_to(CALENDAR):
            continue
        found = [
            call for call in calls(path) if call.split(".")[-1] in ("timedelta", "relativedelta")
        ]
        assert not found, f"{name_of(path)} counts days: {found}"
        for name in imports(path):
            assert name != "datetime.timedelta", name_of(path)


def test_selection_knows_no_fish_care() -> None:
    for path in in_room("selection"):
        own = [name for name in imports(path) if name.startswith("showprep.")]
        assert all(name.startswith("showprep.selection.") for name in own), name_of(path)


def test_the_solver_is_loaded_where_it_is_used() -> None:
    for path in in_room("selection"):
        for node in tree(path).body:
            names = [one.name for one in node.names] if isinstance(node, ast.Import) else []
            assert not {"highspy", "numpy"} & set(names), name_of(path)


def test_every_module_says_what_it_is_for() -> None:
    bare = [name_of(path) for path in MODULES if not ast.get_docstring(tree(path))]
    assert bare == []


def test_help_loads_nothing_heavy() -> None:
    program = (
        "import sys\n"
        "sys.argv = ['showprep', '--help']\n"
        "from showprep.cli import main\n"
        "try:\n    main()\n"
        "except SystemExit as end:\n    assert not end.code\n"
        "print(*sorted(sys.modules), file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, timeout=60
    )
    assert "Usage" in done.stdout
    assert not set(HEAVY) & set(done.stderr.split())
