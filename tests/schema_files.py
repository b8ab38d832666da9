"""Write the JSON Schemas for editors from the records that read the keeper's files.

    PYTHONPATH=. python tests/schema_files.py

`tests/season/test_schemas.py` fails when files and records differ. What a key means is taken
from docs/files.md.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, get_args, get_type_hints

from annotated_types import Ge, Gt, Le, Lt
from pydantic import TypeAdapter
from pydantic.fields import FieldInfo

from showprep.husbandry.figures import FIGURES
from showprep.season import records
from showprep.season.checks.journal import NEEDS
from showprep.season.record import Record
from showprep.season.records import PLAIN_NOTE, Did
from showprep.season.values.fields import Id
from showprep.season.values.unit_keys import OF_METRIC, OtherKey
from showprep.season.values.work_days import WorkRule

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "showprep" / "season" / "schemas"
DIALECT = "http://json-schema.org/draft-07/schema#"  # the one that editors know best
SHAPES: dict[str, tuple[Any, str, str]] = {
    "keeper": (records.Keeper, "keeper.yaml", "The yard: hands, waters, vats and settings."),
    "shows": (dict[Id, records.Show], "shows.yaml", "The shows, each under its id."),
    "fish": (records.Fish, "fish/ID.yaml", "One fish; the file's name is its id."),
    "fish-list": (dict[Id, records.Fish], "fish/ID.yaml", "Fish, each under its id."),
    "show-card": (records.ShowCard, "shows.yaml", "One show, as its organiser hands it out."),
    "journal": (list[records.JournalEntry], "journal.yaml", "What was done and seen."),
}
RECORDS: tuple[type[Record], ...] = (
    *(records.Keeper, records.Water, records.Isolation, records.Holding, records.TouchUp),
    *(records.Tub, records.Carrying, records.JourneyPrice, records.ReturnWeeks),
    *(records.Preferences, records.Away, records.KindFigures, records.MilestoneFigures),
    *(records.RationStepRecord, records.Show, records.ShowCard, records.Window, records.Limits),
    *(records.SizeTableRecord, records.Fish, records.Defect, records.Move),
    *(records.JournalEntry, WorkRule),
)
EMPTY_ALLOWED = ("shows", "fish-list", "journal")


def schemas() -> dict[str, str]:
    """The text of each schema by its name."""
    return {
        name: json.dumps(_schema(*shape, empty=name in EMPTY_ALLOWED), indent=1, ensure_ascii=False)
        + "\n"
        for name, shape in SHAPES.items()
    }


def _schema(shape: Any, section: str, words: str, *, empty: bool) -> dict[str, Any]:
    whole = TypeAdapter(shape).json_schema(by_alias=True, ref_template="#/definitions/{model}")
    definitions = whole.pop("$defs", {})
    by_name = {record.__name__: record for record in RECORDS}
    if isinstance(shape, type) and issubclass(shape, Record):
        definitions[shape.__name__] = whole
        whole = {"$ref": f"#/definitions/{shape.__name__}"}
    for name, definition in definitions.items():
        _complete(definition, by_name[name], _meanings(section))
    found = {key: _plain(one) for key, one in sorted(definitions.items())}
    root = _plain(whole)
    if empty:
        root = {"anyOf": [root, {"type": "null"}]}
    return {"$schema": DIALECT, "description": words, **root, "definitions": found}


def _meanings(section: str) -> dict[str, str]:
    """What docs/files.md says of each key, in the tables of a section."""
    page = (ROOT / "docs" / "files.md").read_text("utf-8")
    text = re.search(rf"^## {re.escape(section)}\n(.*?)(?=^## |\Z)", page, re.M | re.S)
    assert text is not None
    found: dict[str, str] = {}
    for keys, meaning, left_out in re.findall(
        r"^\| (`[^|]*?) \| ([^|]*) \| ([^|]*) \|$", text[1], re.M
    ):
        for key in re.findall(r"`([a-z_]+)`", keys):
            plain = meaning.replace("`", "").strip()
            without = left_out.replace("`", "").strip()
            found.setdefault(key, plain + (f". Left out: {without}" if without else ""))
    return found


def _complete(definition: dict[str, Any], record: type[Record], meanings: dict[str, str]) -> None:
    """What the record's own schema lacks: ranges, keys in other units, meanings."""
    hints = get_type_hints(record, include_extras=True)
    properties = definition["properties"]
    needed = definition.pop("required", [])
    conditions = []
    for name, field in record.model_fields.items():
        key = field.alias or name
        one = properties[key]
        for low_or_high, bound in _bounds(hints[name]):
            for number in _numbers(one):
                number[low_or_high] = bound
        if key == "figures":
            one.clear()
            one.update(_figures())
        if key in meanings:
            one["description"] = meanings[key]
        if name not in OF_METRIC:
            continue
        other = OF_METRIC[name]
        properties[other.name] = _in_other_unit(one, other)
        if key in needed:
            needed.remove(key)
            conditions.append({"anyOf": [{"required": [key]}, {"required": [other.name]}]})
        else:
            conditions.append({"not": {"required": [key, other.name]}})
    if needed:
        definition["required"] = needed
    if record is records.JournalEntry:
        conditions += [{"not": {"required": ["did", "saw"]}}, *_needs()]
    if conditions:
        definition["allOf"] = conditions


def _figures() -> dict[str, Any]:
    properties = {name: {"type": ["number", "string"]} for name in sorted(FIGURES)}
    return {"type": "object", "properties": properties, "additionalProperties": False}


def _needs() -> Iterator[dict[str, Any]]:
    """What an entry has to say beside its word, under the metric key or another."""
    for word, needs in NEEDS.items():
        if word == PLAIN_NOTE or not needs:
            continue
        which = "did" if word in get_args(Did) else "saw"
        wanted = [
            {"anyOf": [{"required": [key]} for one in need.split(" or ") for key in _ways(one)]}
            for need in needs
        ]
        said = {"required": [which], "properties": {which: {"const": word}}}
        yield {"if": said, "then": {"allOf": wanted}}


def _ways(key: str) -> tuple[str, ...]:
    return (key, OF_METRIC[key].name) if key in OF_METRIC else (key,)


def _bounds(hint: Any) -> Iterator[tuple[str, float]]:
    """The ranges that a field sets for its numbers."""
    for extra in getattr(hint, "__metadata__", ()):
        for one in extra.metadata if isinstance(extra, FieldInfo) else (extra,):
            for kind, key, value in (
                (Ge, "minimum", "ge"),
                (Gt, "exclusiveMinimum", "gt"),
                (Le, "maximum", "le"),
                (Lt, "exclusiveMaximum", "lt"),
            ):
                if isinstance(one, kind):
                    yield key, getattr(one, value)
    if getattr(hint, "__origin__", None) is not None or getattr(hint, "__args__", None):
        for part in get_args(hint)[:1] if hasattr(hint, "__metadata__") else get_args(hint):
            if part is not type(None) and get_args(hint)[0] is not tuple:
                yield from _bounds(part)


def _numbers(schema: Any) -> Iterator[dict[str, Any]]:
    """Every schema of a number inside, but those of other records."""
    if isinstance(schema, dict):
        if schema.get("type") in ("number", "integer"):
            yield schema
        for key, inner in schema.items():
            if key not in ("properties", "$ref"):
                yield from _numbers(inner)
    elif isinstance(schema, list):
        for inner in schema:
            yield from _numbers(inner)


def _in_other_unit(schema: dict[str, Any], other: OtherKey) -> dict[str, Any]:
    """The schema of the key that names another unit: the same amounts, in that one."""
    copy: dict[str, Any] = json.loads(json.dumps(schema))
    units = ("us gal", "imp gal") if other.unit == "gal" else (other.unit.casefold(),)
    scales = [other.amount.scales[unit] for unit in units]
    for number in _numbers(copy):
        for key, widest in (("minimum", min), ("maximum", max)):
            if key in number:
                bounds = (float(scale.own(Fraction(number[key]))) for scale in scales)
                number[key] = round(widest(bounds), 6)
    _forget_examples(copy)
    copy["description"] = f"{other.metric} in {other.unit}"
    return copy


def _forget_examples(schema: Any) -> None:
    if isinstance(schema, dict):
        schema.pop("examples", None)
        for inner in schema.values():
            _forget_examples(inner)
    elif isinstance(schema, list):
        for inner in schema:
            _forget_examples(inner)


def _plain(schema: Any) -> Any:
    """Without titles, defaults and nulls: an empty value is a fault, and a list is any list."""
    if isinstance(schema, list):
        return [_plain(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    found: dict[str, Any] = {}
    for key, one in schema.items():
        if key in ("title", "default", "prefixItems") or (key == "description" and "\n" in one):
            continue
        inner = {name: _plain(each) for name, each in one.items()} if key in (
            "properties", "definitions", "patternProperties") else _plain(one)  # fmt: skip
        if key in ("anyOf", "oneOf") and isinstance(inner, list):
            inner = [each for each in inner if each != {"type": "null"}]
            if len(inner) == 1:
                found |= inner[0]
                continue
            key = "anyOf"
        found[key] = inner
    if "patternProperties" in found:
        found.setdefault("additionalProperties", False)
    return found


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, text in schemas().items():
        (FOLDER / f"{name}.schema.json").write_text(text, encoding="utf-8")
