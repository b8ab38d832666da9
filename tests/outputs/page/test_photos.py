"""Photos stand in the page itself, small, in the journal's order, and tell nothing more."""

from __future__ import annotations

import base64
import html
import importlib.util
import io
import shutil
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from showprep.commands import page as command
from showprep.outputs.page import render_page
from showprep.outputs.page.photos import LONGEST_SIDE, album_of
from showprep.planning.plan import Plan
from showprep.season.reading import read_season
from tests.outputs.page import plans

ROOT = Path(__file__).parents[3]


def with_photos(*names: str) -> Plan:
    plan = plans.first_show()
    return replace(plan, fish=(replace(plan.fish[0], photos=names), *plan.fish[1:]))


@pytest.fixture
def image(outside: Any) -> Any:
    return outside.module("PIL.Image")


def a_photo(image: Any, width: int, height: int, **more: Any) -> bytes:
    out = io.BytesIO()
    image.new("RGB", (width, height), "orange").save(out, "JPEG", **more)
    return out.getvalue()


def test_they_are_small_upright_and_in_order(image: Any) -> None:
    files = {"a.jpg": a_photo(image, 2000, 1000), "b.jpg": a_photo(image, 300, 200)}
    photos = album_of(with_photos("b.jpg", "a.jpg"), files).by_fish["aoi"]
    assert [(one.name, one.width, one.height) for one in photos] == [
        ("b.jpg", 300, 200),
        ("a.jpg", LONGEST_SIDE, LONGEST_SIDE // 2),
    ]


def test_where_it_was_taken_does_not_leave_the_house(image: Any) -> None:
    """Exif 2.32 (CIPA DC-008-2019): orientation is tag 0x0112, the place is in IFD 0x8825."""
    exif = image.Exif()
    exif[0x0112] = 6  # turned by a quarter
    exif.get_ifd(0x8825)[1] = "N"
    photo = album_of(with_photos("a.jpg"), {"a.jpg": a_photo(image, 400, 200, exif=exif)})
    (small,) = photo.by_fish["aoi"]
    assert (small.width, small.height) == (LONGEST_SIDE // 2, LONGEST_SIDE)
    data = base64.b64decode(small.address.partition(",")[2])
    assert dict(image.open(io.BytesIO(data)).getexif()) == {}


def test_what_is_no_photo_is_named_and_left_out(image: Any) -> None:
    files = {"a.jpg": b"<svg onload=alert(1)>", "b.jpg": a_photo(image, 9, 9)[:50]}
    album = album_of(with_photos("a.jpg", "b.jpg", "gone.jpg"), files)
    assert album.missing == ("a.jpg", "b.jpg", "gone.jpg")
    text = render_page(with_photos("a.jpg", "b.jpg", "gone.jpg"), files)
    assert "3 photos of the journal are not shown" in text
    assert "onload" not in text


def test_without_the_library_the_page_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    monkeypatch.setitem(sys.modules, "PIL", None)  # import finds nothing
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    album = album_of(with_photos("a.jpg"), {"a.jpg": b"\xff\xd8"})
    assert (album.by_fish["aoi"], album.missing) == ((), ("a.jpg",))
    assert "showprep[photos]" in album.advice
    assert "showprep[photos]" in html.unescape(render_page(with_photos("a.jpg"), {}))
    assert album_of(with_photos(), {}).advice == ""
    season = shutil.copytree(ROOT / "samples" / "first-show", tmp_path / "season")
    command.run(season, tmp_path / "a.html", date(2027, 5, 1))
    assert capsys.readouterr().err == ""
    fish = sorted(read_season(season, date(2027, 5, 1)).season.fish)[0]
    (season / "a.jpg").write_bytes(b"\xff\xd8")
    with (season / "journal.yaml").open("a") as journal:
        journal.write(f"\n- {{on: 2027-04-30, fish: {fish}, saw: clean, photo: a.jpg}}\n")
    command.run(season, tmp_path / "b.html", date(2027, 5, 1))
    assert "showprep[photos]" in capsys.readouterr().err


def test_many_photos_leave_room_for_the_page(image: Any) -> None:
    noise = image.effect_noise((600, 600), 90).convert("RGB")
    out = io.BytesIO()
    noise.save(out, "JPEG")
    plan = plans.spring_circuit()
    fish = tuple(
        replace(one, photos=tuple(f"{one.id}{n}.jpg" for n in range(6))) for one in plan.fish
    )
    files = {name: out.getvalue() for one in fish for name in one.photos}
    text = render_page(replace(plan, fish=fish), files)
    assert "data:image/jpeg;base64," in text
    assert len(text.encode()) < 3_000_000


def test_what_would_fill_the_memory_is_not_unpacked(
    image: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    from showprep.outputs.page import photos

    monkeypatch.setattr(photos, "MOST_UNPACKED", 2_000_000)
    out = io.BytesIO()
    image.new("RGB", (2000, 1500), "orange").save(out, "PNG")
    files = {"a.jpg": a_photo(image, 8000, 4000), "b.png": out.getvalue()}
    album = album_of(with_photos("a.jpg", "b.png"), files)
    assert [one.name for one in album.by_fish["aoi"]] == ["a.jpg"]  # unpacked at a quarter
    assert album.missing == ("b.png",)
