"""Fish from a spreadsheet saved as CSV: any order of columns, names as people write them.

A column's unit may stand in its heading ("Length (in)"), a day too ("Length 2027-03-20"). Days are
year-month-day; another form is read only where it is stated, since 4/10/2027 is two days.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Literal

from msgspec import Struct, field

from showprep.season.values import days
from showprep.season.values.wording import folded, listed, shown, wrong

DayForm = Literal["year-first", "day-first", "month-first"]
COLUMNS: Mapping[str, tuple[str, ...]] = {
    "id": ("id",),
    "name": ("name", "fish", "koi", "fish name", "name of fish"),
    "variety": ("variety", "breed", "type", "class"),
    "sex": ("sex", "gender"),
    "born": ("born", "birth", "birth year", "year born", "year of birth", "hatched"),
    "lives_in": ("lives in", "pond", "water", "tank", "vat", "where"),
    "merit": ("merit", "mark", "points", "score", "rating"),
    "length": ("length", "size", "long"),
    "length_on": ("measured", "measured on", "date measured", "length date", "date"),
    "weight": ("weight",),
    "weight_on": ("weighed", "weighed on", "date weighed"),
    "came": ("came", "bought", "arrived", "joined", "since"),
    "note": ("note", "notes", "remark", "remarks", "comment", "comments"),
}
"""What people call the columns, by what is read from them."""

SEXES = {"f": "female", "♀": "female", "m": "male", "♂": "male", "": "unknown", "?": "unknown"}
_UNIT = re.compile(
    r"(?:[\s_]+|\s*[(\[]\s*)(cm|mm|in|inch|inches|\"|kg|g|lb|lbs|pounds)\s*[)\]]?$", re.IGNORECASE
)
_DAY = re.compile(r"\b(\d{4}-\d{2}-\d{2})\b")
_COMMA = re.compile(r"\d{1,4},\d{1,2}")
_SHORT_UNIT = {"inch": "in", "inches": "in", '"': "in", "lbs": "lb", "pounds": "lb"}
MOST_ROWS = 10_000


class SheetFish(Struct, frozen=True):
    """One row: the line it begins on, and its values as text, amounts with their unit."""

    line: int
    values: Mapping[str, str]


class SheetRead(Struct):
    """What a spreadsheet holds, and every odd row by its line; `left` are columns not read."""

    fish: list[SheetFish] = field(default_factory=list)
    odd: list[tuple[int, str]] = field(default_factory=list)
    left: list[str] = field(default_factory=list)


class _Column(Struct, frozen=True):
    name: str
    unit: str = ""
    day: str = ""


def fish_in(data: bytes, form: DayForm = "year-first") -> SheetRead:
    """Every row of a CSV file; whatever is odd is told with its line, nothing is guessed."""
    read = SheetRead()
    try:
        text = _text(data)
    except UnicodeDecodeError:
        read.odd.append((0, "this is no text in UTF-8: save it as “CSV UTF-8”"))
        return read
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=True)
    columns: list[_Column | None] | None = None
    at = 1
    try:
        for row in rows:
            line, at = at, rows.line_num + 1
            if not any(cell.strip() for cell in row):
                continue
            if columns is None:
                columns = _columns(row, line, read)
                if read.odd:
                    return read
                continue
            if len(read.fish) >= MOST_ROWS:
                read.odd.append((line, f"there are more than {MOST_ROWS} rows"))
                return read
            _take(row, line, columns, form, read)
    except csv.Error as error:
        read.odd.append((at, f"this row cannot be read ({error})"))
    if columns is None and not read.odd:
        read.odd.append((1, "there is nothing in this file"))
    return read


def _text(data: bytes) -> str:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16")
    return data.decode("utf-8-sig")


def _delimiter(text: str) -> str:
    """What parts the cells of the heading: a comma, a semicolon or a tab."""
    heading = next((line for line in text.splitlines() if line.strip()), "")
    return max(",;\t", key=heading.count)


def _columns(row: Sequence[str], line: int, read: SheetRead) -> list[_Column | None]:
    found = [_column(cell) for cell in row]
    read.left += [
        cell.strip() for cell, one in zip(row, found, strict=True) if one is None and cell.strip()
    ]
    names = [one.name for one in found if one is not None]
    if "name" not in names:
        read.odd.append((line, "no column is called Name: the first row names the columns"))
    for name in dict.fromkeys(names):
        if names.count(name) > 1 and name != "length":
            twice = listed((cell for cell, one in zip(row, found, strict=True)
                            if one is not None and one.name == name), "and")  # fmt: skip
            read.odd.append((line, f"{twice} say the same: keep one of them"))
    return found


def _column(heading: str) -> _Column | None:
    text = heading.strip()
    day = _DAY.search(text)
    if day is not None:
        text = (text[: day.start()] + text[day.end() :]).strip()
    unit = _UNIT.search(text)
    plain = folded(text[: unit.start()] if unit is not None else text).strip(" ()[],:")
    for name, words in COLUMNS.items():
        if plain == folded(name) or plain in words:
            said = unit[1].casefold() if unit is not None else ""
            return _Column(name, _SHORT_UNIT.get(said, said), day[1] if day is not None else "")
    return None


def _take(
    row: Sequence[str],
    line: int,
    columns: Sequence[_Column | None],
    form: DayForm,
    read: SheetRead,
) -> None:
    if len(row) > len(columns) and any(cell.strip() for cell in row[len(columns) :]):
        read.odd.append((line, f"{len(row)} cells stand under {len(columns)} headings"))
        return
    values: dict[str, str] = {}
    for column, cell in zip(columns, row, strict=False):
        text = " ".join(cell.split())
        if column is None or not text:
            continue
        try:
            key = f"length {column.day}" if column.day and column.name == "length" else column.name
            values[key] = _value(column, text, form)
        except ValueError as error:
            read.odd.append((line, f"{column.name.replace('_', ' ')}: {error}"))
            return
    if "name" not in values:
        read.odd.append((line, "this row has no name"))
        return
    read.fish.append(SheetFish(line, values))


def _value(column: _Column, text: str, form: DayForm) -> str:
    if column.name in ("length_on", "weight_on", "came"):
        return day_of(text, form).isoformat()
    if column.name == "sex":
        return SEXES.get(text.casefold(), text.casefold())
    if column.name in ("length", "weight", "merit", "born") and _COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if column.unit and re.fullmatch(r"[\d.]+", text):
        return f"{text} {column.unit}"
    return text


def day_of(text: str, form: DayForm) -> date:
    """A day in the stated form, or year-month-day. Raises a fault with both readings."""
    try:
        return days.day(text)
    except ValueError:
        parts = re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})", text)
        if parts is None:
            raise
    first, second, year = (int(one) for one in parts.groups())
    readings: Mapping[str, Callable[[], date]] = {
        "day-first": lambda: days.day(f"{year:04}-{second:02}-{first:02}"),
        "month-first": lambda: days.day(f"{year:04}-{first:02}-{second:02}"),
    }
    if form == "year-first":
        right = "say --dates day-first or --dates month-first, whichever the sheet has"
        raise wrong(f"{shown(text)} may be two days", right)
    return readings[form]()
